// SPDX-License-Identifier: GPL-3.0-or-later
#include "ear/ear.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "ear/front.h"
#include "ear/hint.h"
#include "ear/layers.h"

#define FRAMES_A_ROW (CW_FEATURE_RATE_HZ / CW_HEARD_RATE_HZ)
_Static_assert(FRAMES_A_ROW == 2, "frames lie on a row or half-way between two");

struct CwEar {
  CwNetwork network;
  CwFront work;
  const unsigned char *heard; ///< the features' n rows, read while there is no `front`
  float *front;               ///< n rows of the network's channels; NULL: worked out each time
  size_t n;
  size_t n_frames;
};

/// Of a recording that would take more, the first half of the network is worked out each time: over about 2 h 45 min.
#define MOST_KEPT ((size_t)96 << 20)

/// What the first half of the network makes of rows `from` to `from + n`.
static void hear_front(CwEar *ear, size_t from, size_t n, float *out)
{
  const size_t width = ear->network.channels;
  for (size_t done = 0; done < n; done += CW_FRONT_BLOCK) {
    const size_t now = n - done < CW_FRONT_BLOCK ? n - done : CW_FRONT_BLOCK;
    cw_front_hear(&ear->work, &ear->network, ear->heard, ear->n, from + done, now, out + done * width);
  }
}

/// Work the first half of the network out once and for all.
static CwStatus keep_front(const CwReport *report, CwEar *ear)
{
  const size_t width = ear->network.channels;
  CwStatus status = CW_OK;
  float *front = cw_new(ear->n * width, sizeof *front);
  for (size_t from = 0; front && from < ear->n && status == CW_OK; from += CW_LAYERS_BLOCK) {
    const size_t n = ear->n - from < CW_LAYERS_BLOCK ? ear->n - from : CW_LAYERS_BLOCK;
    hear_front(ear, from, n, front + from * width);
    status = cw_report_progress(report, "listening", 0.5 * (double)from / (double)ear->n);
  }
  ear->front = front;
  return front ? status : CW_ERR_NO_MEM;
}

/// @param keep Whether to keep the first half, for several listenings.
static CwStatus make_ear(const unsigned char *network, size_t size, const CwFeatures *features, bool keep,
                         const CwReport *report, CwEar **ear)
{
  *ear = NULL;
  if (features->n_heard == 0) {
    return CW_ERR_BAD_ARG;
  }
  CwEar *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  made->heard = features->heard;
  made->n = features->n_heard;
  made->n_frames = features->n_frames;
  CwStatus status = cw_network_read(network, size, &made->network);
  if (status == CW_OK) {
    status = cw_front_init(&made->network, &made->work);
  }
  if (status == CW_OK && keep && made->n * made->network.channels * sizeof *made->front <= MOST_KEPT) {
    status = keep_front(report, made);
  }
  if (status != CW_OK) {
    cw_ear_free(made);
    return status;
  }
  *ear = made;
  return CW_OK;
}

CwStatus cw_ear_new_from(const unsigned char *network, size_t size, const CwFeatures *features, const CwReport *report,
                         CwEar **ear)
{
  return make_ear(network, size, features, true, report, ear);
}

CwStatus cw_ear_new(const CwFeatures *features, const CwReport *report, CwEar **ear)
{
  return cw_ear_new_from(cw_network_file, cw_network_file_size(), features, report, ear);
}

size_t cw_ear_rows(const CwEar *ear)
{
  return ear->n;
}

bool cw_ear_takes_hints(const CwEar *ear)
{
  return ear->network.n_hints > 0;
}

/// Add what a hint comes to in the network to a row.
static void add_hint(const CwNetwork *network, CwEarHint hint, float *row)
{
  float values[CW_EAR_HINTS];
  cw_hint_values(hint, values);
  for (size_t i = 0; i < network->n_hints; i++) {
    for (size_t o = 0; o < network->channels; o++) {
      row[o] += values[i] * network->hint.weight[i * network->channels + o];
    }
  }
}

/// Give the layers the next block of the front, and of nothing after its end.
static void give(CwEar *ear, const CwEarHint *hint, CwLayers *layers)
{
  const size_t width = ear->network.channels;
  float *next = cw_layers_next(layers);
  const size_t from = layers->given;
  const size_t left = from < ear->n ? ear->n - from : 0;
  const size_t n = left < CW_LAYERS_BLOCK ? left : CW_LAYERS_BLOCK;
  if (n > 0 && ear->front) {
    memcpy(next, ear->front + from * width, n * width * sizeof *next);
  } else {
    hear_front(ear, from, n, next);
  }
  for (size_t i = 0; hint && i < n; i++) {
    add_hint(&ear->network, hint[from + i], next + i * width);
  }
}

/// Put what came out where its rows are, on every second frame.
static void take(const CwNetwork *network, const float *out, ptrdiff_t first, CwHeard *heard)
{
  float *const curve[CW_EAR_MOST_OUTPUTS] = {heard->beat, heard->downbeat, heard->phrase};
  for (size_t o = 0; o < CW_EAR_MOST_OUTPUTS && curve[o]; o++) {
    for (ptrdiff_t i = 0; i < CW_LAYERS_BLOCK; i++) {
      const ptrdiff_t frame = (first + i) * FRAMES_A_ROW;
      if (frame >= 0 && frame < (ptrdiff_t)heard->n) {
        curve[o][frame] = out[(size_t)i * network->n_outputs + o];
      }
    }
  }
}

/// Half-way between rows lies their mean; after the last row, the last.
static void fill_between(float *curve, size_t n)
{
  for (size_t i = 1; curve && i < n; i += FRAMES_A_ROW) {
    curve[i] = i + 1 < n ? 0.5F * (curve[i - 1] + curve[i + 1]) : curve[i - 1];
  }
}

static bool heard_init(const CwEar *ear, CwHeard *heard)
{
  const bool phrases = ear->network.n_outputs > 2;
  const size_t n = ear->n_frames;
  *heard = (CwHeard){.beat = cw_new(n, sizeof(float)), .downbeat = cw_new(n, sizeof(float)), .n = n};
  heard->phrase = phrases ? cw_new(n, sizeof(float)) : NULL;
  return heard->beat && heard->downbeat && (heard->phrase || !phrases);
}

CwStatus cw_ear_listen(CwEar *ear, const CwEarHint *hint, const CwReport *report, CwHeard *heard)
{
  CwLayers layers;
  CwStatus status = cw_layers_init(&ear->network, ear->n, &layers);
  memset(heard, 0, sizeof *heard);
  if (status == CW_OK && !heard_init(ear, heard)) {
    status = CW_ERR_NO_MEM;
  }
  float out[CW_LAYERS_BLOCK * CW_EAR_MOST_OUTPUTS];
  const size_t end = ear->n + layers.delay[ear->network.n_layers];
  while (status == CW_OK && layers.given < end) {
    ptrdiff_t first = 0;
    give(ear, hint, &layers);
    cw_layers_push(&layers, out, &first);
    take(&ear->network, out, first, heard);
    const double done = (double)layers.given / (double)(end + CW_LAYERS_BLOCK);
    status = cw_report_progress(report, "listening", ear->front ? 0.5 + 0.5 * done : done);
  }
  cw_layers_free(&layers);
  if (status != CW_OK) {
    cw_heard_free(heard);
    return status;
  }
  fill_between(heard->beat, heard->n);
  fill_between(heard->downbeat, heard->n);
  fill_between(heard->phrase, heard->n);
  return CW_OK;
}

/// Whether the choice is the learned ear, and there is something for it to hear.
static bool is_learned(CwEarChoice choice, const CwFeatures *features)
{
  return (choice == CW_EAR_USUAL ? CW_USUAL_EAR : choice) == CW_EAR_LEARNED && features->n_heard > 0;
}

CwStatus cw_ear_open(CwEarChoice choice, const CwFeatures *features, const CwReport *report, CwEar **ear)
{
  *ear = NULL;
  return is_learned(choice, features) ? cw_ear_new(features, report, ear) : CW_OK;
}

CwStatus cw_ear_hear(CwEarChoice choice, const CwFeatures *features, const CwReport *report, CwHeard *heard)
{
  memset(heard, 0, sizeof *heard);
  if (!is_learned(choice, features)) {
    return CW_OK;
  }
  CwEar *ear = NULL;
  CwStatus status = make_ear(cw_network_file, cw_network_file_size(), features, false, report, &ear);
  if (status == CW_OK) {
    status = cw_ear_listen(ear, NULL, report, heard);
  }
  cw_ear_free(ear);
  return status;
}

void cw_ear_free(CwEar *ear)
{
  if (!ear) {
    return;
  }
  cw_network_free(&ear->network);
  cw_front_free(&ear->work);
  free(ear->front);
  free(ear);
}

void cw_heard_free(CwHeard *heard)
{
  free(heard->beat);
  free(heard->downbeat);
  free(heard->phrase);
  memset(heard, 0, sizeof *heard);
}
