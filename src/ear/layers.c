// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/layers.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define BLOCK CW_LAYERS_BLOCK

/// Rows that a layer looks to each side, at most: twice its far dilation, which is twice its own.
static size_t reach(const CwEarLayer *layer)
{
  return 4 * layer->dilation;
}

static size_t window_rows(const CwEarLayer *layer)
{
  return 2 * reach(layer) + BLOCK;
}

CwStatus cw_layers_init(const CwNetwork *network, size_t n, CwLayers *layers)
{
  const size_t width = network->channels;
  memset(layers, 0, sizeof *layers);
  layers->network = network;
  layers->n = n;
  bool good = true;
  for (size_t i = 0; i < network->n_layers; i++) {
    const CwEarLayer *layer = &network->layer[i];
    layers->delay[i + 1] = layers->delay[i] + reach(layer);
    layers->window[i] = cw_new(window_rows(layer) * width, sizeof(float));
    good = good && layers->window[i];
  }
  layers->sum = cw_new((layers->delay[network->n_layers] + BLOCK) * width, sizeof(float));
  layers->pair = cw_new(2 * BLOCK * width, sizeof(float));
  layers->result = cw_new(BLOCK * width, sizeof(float));
  if (good && layers->sum && layers->pair && layers->result) {
    return CW_OK;
  }
  cw_layers_free(layers);
  return CW_ERR_NO_MEM;
}

/// The last BLOCK rows of a layer's window.
static float *newest(const CwLayers *layers, size_t i)
{
  return layers->window[i] + 2 * reach(&layers->network->layer[i]) * layers->network->channels;
}

float *cw_layers_next(CwLayers *layers)
{
  return newest(layers, 0);
}

/// Drop the oldest BLOCK of `rows` rows, and set the newest to 0.
static void slide(float *window, size_t rows, size_t width)
{
  memmove(window, window + BLOCK * width, (rows - BLOCK) * width * sizeof *window);
  memset(window + (rows - BLOCK) * width, 0, BLOCK * width * sizeof *window);
}

/// What layer `i` makes of its window, to `result`, for the BLOCK rows in the window's middle.
static void run_layer(CwLayers *layers, size_t i)
{
  const CwEarLayer *layer = &layers->network->layer[i];
  const size_t width = layers->network->channels;
  const size_t d = layer->dilation;
  const CwRows near = {layers->window[i] + 2 * d * width, width, 5, d * width};
  const CwRows far = {layers->window[i], width, 5, 2 * d * width};
  cw_matrix_apply(&layer->near, &near, BLOCK, layers->pair, 2 * width);
  cw_matrix_apply(&layer->far, &far, BLOCK, layers->pair + width, 2 * width);
  cw_elu(layers->pair, 2 * BLOCK * width);
  const CwRows pair = {layers->pair, 2 * width, 1, 0};
  cw_matrix_apply(&layer->mix, &pair, BLOCK, layers->result, width);
}

/// Add what layer `i` gave to the sum, and hand it on with what it was made from. Outside the recording there is
/// nothing, as in training.
static void pass_on(CwLayers *layers, size_t i)
{
  const CwNetwork *network = layers->network;
  const size_t width = network->channels;
  const float *restrict made_from = layers->window[i] + reach(&network->layer[i]) * width;
  const float *restrict result = layers->result;
  float *restrict sum = layers->sum + (layers->delay[network->n_layers] - layers->delay[i + 1]) * width;
  for (size_t k = 0; k < BLOCK * width; k++) {
    sum[k] += result[k];
  }
  if (i + 1 == network->n_layers) {
    return;
  }
  float *restrict next = newest(layers, i + 1);
  for (size_t row = 0; row < BLOCK; row++) {
    const size_t ahead = layers->given + row; // of the recording's row, by the delay
    const bool inside = ahead >= layers->delay[i + 1] && ahead - layers->delay[i + 1] < layers->n;
    for (size_t k = row * width; inside && k < (row + 1) * width; k++) {
      next[k] = made_from[k] + result[k];
    }
  }
}

void cw_layers_push(CwLayers *layers, float *out, ptrdiff_t *first)
{
  const CwNetwork *network = layers->network;
  const size_t delay = layers->delay[network->n_layers];
  for (size_t i = 0; i < network->n_layers; i++) {
    run_layer(layers, i);
    pass_on(layers, i);
  }
  cw_elu(layers->sum, BLOCK * network->channels);
  const CwRows sum = {layers->sum, network->channels, 1, 0};
  cw_matrix_apply(&network->last, &sum, BLOCK, out, network->n_outputs);
  *first = (ptrdiff_t)layers->given - (ptrdiff_t)delay;
  layers->given += BLOCK;
  for (size_t i = 0; i < network->n_layers; i++) {
    slide(layers->window[i], window_rows(&network->layer[i]), network->channels);
  }
  slide(layers->sum, delay + BLOCK, network->channels);
}

void cw_layers_free(CwLayers *layers)
{
  for (size_t i = 0; i < CW_EAR_MOST_LAYERS; i++) {
    free(layers->window[i]);
  }
  free(layers->sum);
  free(layers->pair);
  free(layers->result);
  memset(layers, 0, sizeof *layers);
}
