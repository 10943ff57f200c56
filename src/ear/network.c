// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/network.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define TAG "CWEARNET"
#define MOST_WIDE 256 // of a convolution: beyond it sizes are taken for nonsense
enum { TAG_SIZE = 8, CHECKED_FROM = 16, N_SIZES = 6, HEAD_SIZE = CHECKED_FROM + 4 * N_SIZES };

static uint32_t read_u32(const unsigned char *at)
{
  return at[0] | (uint32_t)at[1] << 8 | (uint32_t)at[2] << 16 | (uint32_t)at[3] << 24;
}

static uint32_t checksum(const unsigned char *bytes, size_t n)
{
  uint32_t table[256];
  for (uint32_t i = 0; i < 256; i++) {
    table[i] = i;
    for (int bit = 0; bit < 8; bit++) {
      table[i] = table[i] >> 1 ^ (table[i] & 1 ? 0xEDB88320U : 0U);
    }
  }
  uint32_t sum = 0xFFFFFFFFU;
  for (size_t i = 0; i < n; i++) {
    sum = sum >> 8 ^ table[(sum ^ bytes[i]) & 0xFFU];
  }
  return ~sum;
}

/// An IEEE 754 half.
static float read_half(const unsigned char *at)
{
  const unsigned bits = at[0] | (unsigned)at[1] << 8;
  const int exponent = (int)(bits >> 10 & 31U);
  const float fraction = (float)(bits & 1023U);
  const float sign = bits & 0x8000U ? -1.0F : 1.0F;
  if (exponent == 31) {
    return NAN;
  }
  return sign * (exponent ? ldexpf(1024.0F + fraction, exponent - 25) : ldexpf(fraction, -24));
}

/// Cuts matrices out of the values, one after another.
typedef struct {
  const float *values; ///< NULL while sizes are only added up
  size_t used;
} Cutter;

static CwMatrix cut(Cutter *cutter, size_t n_in, size_t n_out, bool biased)
{
  const size_t n_weights = n_in * n_out;
  CwMatrix m = {.n_in = n_in, .n_out = n_out};
  if (cutter->values) {
    m.weight = cutter->values + cutter->used;
    m.bias = biased ? m.weight + n_weights : NULL;
  }
  cutter->used += n_weights + (biased ? n_out : 0);
  return m;
}

/// Set the matrices. @return How many values they take.
static size_t cut_all(const float *values, CwNetwork *net)
{
  Cutter cutter = {.values = values};
  const size_t width = net->width;
  const size_t channels = net->channels;
  net->first = cut(&cutter, 3 * CW_EAR_FIRST_BANDS, width, true);
  net->second = cut(&cutter, CW_EAR_SECOND_BANDS * width, width, true);
  net->third = cut(&cutter, 3 * CW_EAR_THIRD_BANDS * width, channels, true);
  net->hint = cut(&cutter, net->n_hints, channels, false);
  for (size_t i = 0; i < net->n_layers; i++) {
    CwEarLayer *layer = &net->layer[i];
    layer->dilation = (size_t)1 << i;
    layer->near = cut(&cutter, 5 * channels, channels, true);
    layer->far = cut(&cutter, 5 * channels, channels, true);
    layer->mix = cut(&cutter, 2 * channels, channels, true);
  }
  net->last = cut(&cutter, channels, net->n_outputs, true);
  return cutter.used;
}

static bool read_sizes(const unsigned char *at, CwNetwork *net)
{
  const size_t bands = read_u32(at);
  net->width = read_u32(at + 4);
  net->channels = read_u32(at + 8);
  net->n_layers = read_u32(at + 12);
  net->n_outputs = read_u32(at + 16);
  net->n_hints = read_u32(at + 20);
  return bands == CW_HEARD_BANDS && net->width >= 1 && net->width <= MOST_WIDE && net->channels >= 1 &&
         net->channels <= MOST_WIDE && net->n_layers >= 1 && net->n_layers <= CW_EAR_MOST_LAYERS &&
         net->n_outputs >= 2 && net->n_outputs <= CW_EAR_MOST_OUTPUTS &&
         (net->n_hints == 0 || net->n_hints == CW_EAR_HINTS);
}

static bool read_halves(const unsigned char *at, size_t n, float *values)
{
  for (size_t i = 0; i < n; i++) {
    values[i] = read_half(at + 2 * i);
    if (isnan(values[i])) {
      return false;
    }
  }
  return true;
}

CwStatus cw_network_read(const unsigned char *file, size_t size, CwNetwork *network)
{
  CwNetwork net = {0};
  memset(network, 0, sizeof *network);
  if (size < HEAD_SIZE || memcmp(file, TAG, TAG_SIZE) != 0 || read_u32(file + TAG_SIZE) != CW_EAR_VERSION ||
      read_u32(file + TAG_SIZE + 4) != checksum(file + CHECKED_FROM, size - CHECKED_FROM) ||
      !read_sizes(file + CHECKED_FROM, &net)) {
    return CW_ERR_SYNTAX;
  }
  const size_t n = cut_all(NULL, &net);
  if (size != HEAD_SIZE + 2 * n) {
    return CW_ERR_SYNTAX;
  }
  net.values = cw_new(n, sizeof *net.values);
  if (!net.values) {
    return CW_ERR_NO_MEM;
  }
  if (!read_halves(file + HEAD_SIZE, n, net.values)) {
    cw_network_free(&net);
    return CW_ERR_SYNTAX;
  }
  cut_all(net.values, &net);
  *network = net;
  return CW_OK;
}

void cw_network_free(CwNetwork *network)
{
  free(network->values);
  memset(network, 0, sizeof *network);
}
