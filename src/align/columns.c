// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/columns.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { PAD = 4 };

CwStatus cw_columns_init(const CwFrames *a, const CwFrames *b, CwColumns *columns)
{
  *columns = (CwColumns){.a = a, .b = b};
  bool ok = true;
  for (size_t l = 0; l < CW_LAYERS; l++) {
    columns->score[l] = cw_new(a->n, sizeof *columns->score[l]);
    columns->next[l] = cw_new(a->n, sizeof *columns->next[l]);
    ok = ok && columns->score[l] && columns->next[l];
  }
  columns->best_score = cw_new(a->n + PAD, sizeof *columns->best_score);
  columns->likeness = cw_new(a->n, sizeof *columns->likeness);
  columns->nothing_score = cw_new(b->n, sizeof *columns->nothing_score);
  columns->best = cw_new(b->n, sizeof *columns->best);
  ok = ok && columns->best_score && columns->likeness && columns->nothing_score && columns->best;
  for (size_t k = 0; k < PAD && ok; k++) {
    columns->best_score[k] = -INFINITY;
  }
  return ok ? CW_OK : CW_ERR_NO_MEM;
}

void cw_columns_free(CwColumns *columns)
{
  for (size_t l = 0; l < CW_LAYERS; l++) {
    free(columns->score[l]);
    free(columns->next[l]);
  }
  free(columns->best_score);
  free(columns->likeness);
  free(columns->nothing_score);
  free(columns->best);
  memset(columns, 0, sizeof *columns);
}

/// The best of each frame's layers.
static void merge_layers(CwColumns *columns)
{
  float *best = columns->best_score + PAD;
  for (size_t i = 0; i < columns->a->n; i++) {
    float score = columns->score[0][i];
    score = columns->score[1][i] > score ? columns->score[1][i] : score;
    score = columns->score[2][i] > score ? columns->score[2][i] : score;
    score = columns->score[3][i] > score ? columns->score[3][i] : score;
    best[i] = score;
  }
}

float cw_columns_margin(const CwColumns *columns, size_t frames)
{
  const size_t most = columns->price.margin_frames;
  return columns->price.margin * (float)(frames < most ? frames : most) / (float)most;
}

/// What frame `i` of a costs that is entered by a jump or out of nothing, after column `j`.
static float fresh_score(const CwColumns *columns, size_t j, size_t i)
{
  return fmaxf(-columns->price.jump, columns->nothing_score[j] - cw_columns_margin(columns, i));
}

/// The first layer of column `j + 1`; no branches, so that it is done many frames at once.
static void advance(CwColumns *columns, size_t j)
{
  const size_t n = columns->a->n;
  const float *from = columns->best_score + PAD;
  const float *likeness = columns->likeness;
  float *to = columns->next[0];
  const float fresh = fresh_score(columns, j, n);
  const float skip = columns->price.skip;
  const float leap = 2 * skip;
  const float threshold = columns->price.threshold;
  for (size_t i = 0; i < n; i++) {
    float score = from[(ptrdiff_t)i - 1];
    const float skipped = from[(ptrdiff_t)i - 2] - skip;
    const float leapt = from[(ptrdiff_t)i - 3] - leap;
    score = skipped > score ? skipped : score;
    score = leapt > score ? leapt : score;
    score = fresh > score ? fresh : score;
    to[i] = score + (likeness[i] - threshold);
  }
  for (size_t i = 0; i < n && i < columns->price.margin_frames; i++) { // where it costs less to come in
    to[i] = fmaxf(to[i], fresh_score(columns, j, i) + (likeness[i] - threshold));
  }
}

void cw_columns_explain(const CwColumns *columns, size_t j, uint8_t *how)
{
  const float *from = columns->best_score + PAD;
  const float *paused = columns->score[CW_PAUSED];
  const float skip = columns->price.skip;
  const float late = fresh_score(columns, j - 1, columns->a->n);
  for (size_t i = 0; i < columns->a->n; i++) {
    float score = from[(ptrdiff_t)i - 1];
    uint8_t by = CW_STEP;
    const float fresh = i < columns->price.margin_frames ? fresh_score(columns, j - 1, i) : late;
    const float way[3] = {from[(ptrdiff_t)i - 2] - skip, from[(ptrdiff_t)i - 3] - 2 * skip, fresh};
    for (uint8_t w = 0; w < 3; w++) {
      if (way[w] > score) {
        score = way[w];
        by = (uint8_t)(w + CW_SKIP);
      }
    }
    how[i] = (uint8_t)(by | (from[i] - columns->price.pause > paused[i] ? CW_PAUSE_BEGINS : 0));
  }
}

static void first_column(CwColumns *columns)
{
  for (size_t i = 0; i < columns->a->n; i++) {
    columns->next[0][i] = columns->likeness[i] - columns->price.threshold - cw_columns_margin(columns, i);
    for (size_t l = 1; l < CW_LAYERS; l++) {
      columns->next[l][i] = -INFINITY;
    }
  }
}

static void stay(const float *from, const float *likeness, size_t n, float price, float *to)
{
  for (size_t i = 0; i < n; i++) {
    to[i] = from[i] + (likeness[i] - price);
  }
}

/// Begin to wait, or wait on.
static void wait(CwColumns *columns)
{
  const float *best = columns->best_score + PAD;
  const float *paused = columns->score[CW_PAUSED];
  const float price = columns->price.pause;
  float *to = columns->next[CW_PAUSED];
  for (size_t i = 0; i < columns->a->n; i++) {
    const float begun = best[i] - price;
    to[i] = begun > paused[i] ? begun : paused[i];
  }
}

/// Take the best of the new column from all of it. @return The best.
static float level(CwColumns *columns, size_t j)
{
  const size_t n = columns->a->n;
  const float *best_score = columns->best_score + PAD;
  size_t best = 0;
  for (size_t i = 1; i < n; i++) {
    best = best_score[i] > best_score[best] ? i : best;
  }
  const float highest = best_score[best];
  for (size_t l = 0; l < CW_LAYERS; l++) {
    for (size_t i = 0; i < n; i++) {
      columns->score[l][i] -= highest;
    }
  }
  merge_layers(columns);
  columns->best[j] = (int32_t)best;
  return highest;
}

void cw_columns_next(CwColumns *columns, size_t j)
{
  const size_t n = columns->a->n;
  cw_frames_likeness(columns->b, j, columns->a, 0, n, columns->likeness);
  if (j == 0) {
    first_column(columns);
  } else {
    advance(columns, j - 1);
    for (size_t l = 1; l <= CW_STAYS; l++) {
      stay(columns->score[l - 1], columns->likeness, n, columns->price.threshold + columns->price.stay,
           columns->next[l]);
    }
    wait(columns);
  }
  for (size_t l = 0; l < CW_LAYERS; l++) {
    float *swap = columns->score[l];
    columns->score[l] = columns->next[l];
    columns->next[l] = swap;
  }
  merge_layers(columns);
  const float highest = level(columns, j);
  const float nothing = j == 0 ? 0.0F : fmaxf(columns->nothing_score[j - 1], -columns->price.nothing);
  columns->nothing_score[j] = nothing - highest;
  columns->total += (double)highest;
}

uint8_t cw_columns_best_layer(const CwColumns *columns, size_t i)
{
  size_t best = 0;
  for (size_t l = 1; l < CW_LAYERS; l++) {
    best = columns->score[l][i] > columns->score[best][i] ? l : best;
  }
  return (uint8_t)best;
}

void cw_columns_note_layers(const CwColumns *columns, uint8_t *how)
{
  for (size_t i = 0; i < columns->a->n; i++) {
    how[i] |= (uint8_t)(cw_columns_best_layer(columns, i) << CW_LAYER_SHIFT);
  }
}

const float *cw_columns_best(const CwColumns *columns)
{
  return columns->best_score + PAD;
}

void cw_columns_save(const CwColumns *columns, float *to)
{
  const size_t n = columns->a->n;
  for (size_t l = 0; l < CW_LAYERS; l++) {
    memcpy(to + l * n, columns->score[l], n * sizeof *to);
  }
}

void cw_columns_restore(CwColumns *columns, const float *from)
{
  const size_t n = columns->a->n;
  for (size_t l = 0; l < CW_LAYERS; l++) {
    memcpy(columns->score[l], from + l * n, n * sizeof *from);
  }
  merge_layers(columns);
}
