// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "countwright/beats.h"

#ifdef CW_HAVE_AUBIO

#include <aubio/aubio.h>

#include "base/memory.h"
#include "countwright/audio.h"

// the tracker's own defaults (aubio 0.4.9, examples/aubiotrack.c)
enum { WINDOW = 1024, HOP = 512, RATE_HZ = 44100 };

typedef struct {
  aubio_tempo_t *tempo;
  fvec_t *in, *out;
  size_t n_in;
  CwBeats *beats;
  size_t capacity;
} Tracker;

static CwStatus track(Tracker *t)
{
  aubio_tempo_do(t->tempo, t->in, t->out);
  t->n_in = 0;
  if (fvec_get_sample(t->out, 0) == 0) {
    return CW_OK;
  }
  const double time_s = (double)aubio_tempo_get_last_s(t->tempo);
  if (!cw_grow(&t->beats->beat, &t->capacity, t->beats->n, sizeof *t->beats->beat)) {
    return CW_ERR_NO_MEM;
  }
  if (t->beats->n > 0 && time_s <= t->beats->beat[t->beats->n - 1].time_s) {
    return CW_OK;
  }
  t->beats->beat[t->beats->n] = (CwBeat){.time_s = time_s,
                                         .position = 1,
                                         .metre = 1,
                                         .confidence = (float)aubio_tempo_get_confidence(t->tempo),
                                         .run_start = t->beats->n == 0};
  t->beats->n++;
  return CW_OK;
}

static CwStatus push(void *user, const float *samples, size_t n)
{
  Tracker *t = user;
  for (size_t i = 0; i < n; i++) {
    fvec_set_sample(t->in, samples[i], (uint_t)t->n_in++);
    if (t->n_in == HOP) {
      const CwStatus status = track(t);
      if (status != CW_OK) {
        return status;
      }
    }
  }
  return CW_OK;
}

CwStatus cw_beats_by_aubio(const char *path, const CwReport *report, CwBeats *beats)
{
  memset(beats, 0, sizeof *beats);
  Tracker t = {new_aubio_tempo("default", WINDOW, HOP, RATE_HZ), new_fvec(HOP), new_fvec(1), 0, beats, 0};
  CwStatus status = CW_ERR_NO_MEM;
  if (t.tempo && t.in && t.out) {
    status = cw_audio_stream(path, RATE_HZ, report, push, &t, NULL);
  }
  if (status == CW_OK) {
    beats->metre = 1;
    beats->bpm =
        beats->n > 1 ? 60.0 * (double)(beats->n - 1) / (beats->beat[beats->n - 1].time_s - beats->beat[0].time_s) : 0.0;
    status = beats->n > 0 ? CW_OK : CW_ERR_NO_PULSE;
  }
  if (t.tempo) {
    del_aubio_tempo(t.tempo);
  }
  if (t.in) {
    del_fvec(t.in);
  }
  if (t.out) {
    del_fvec(t.out);
  }
  if (status != CW_OK) {
    cw_beats_free(beats);
  }
  return status;
}

#else

CwStatus cw_beats_by_aubio(const char *path, const CwReport *report, CwBeats *beats)
{
  (void)path;
  (void)report;
  memset(beats, 0, sizeof *beats);
  return CW_ERR_UNSUPPORTED;
}

#endif
