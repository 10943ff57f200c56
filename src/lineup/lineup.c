// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/lineup.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/adds_up.h"
#include "lineup/follow.h"
#include "lineup/plan.h"
#include "pulse/look.h"
#include "pulse/refine.h"

#define SHORTEST_S 2.0
#define QUIET_DB 45.0 // this far below the loudest moment nothing sounds
#define COARSE_STEP 5 // frames put together for the first search
#define COARSE_RATIO 1.09
#define COARSE_REACH_S 90.0
#define COARSE_CELLS 2.2e6 // counts times frames of the band: keeps the first search under 80 MB
#define TEMPO_SPREAD 0.4   // of ln(seconds of a count) within a piece
#define FINE_RATIO 1.02
#define FINE_REACH_S 0.6

/// What is worked out on the way.
typedef struct {
  const CwFeatures *features;
  CwPlan plan;
  CwLook look;
  float *beat, *accent; ///< of the coarse sight
  double *sounding;     ///< seconds of sound before each frame, by fine frame
  double *coarse_sounding;
  size_t *first;  ///< of the bands, by count
  double *time_s; ///< of the counts, and the end of the last
  size_t n_found;
} Work;

static void work_free(Work *w)
{
  cw_plan_free(&w->plan);
  cw_look_free(&w->look);
  free(w->beat);
  free(w->accent);
  free(w->sounding);
  free(w->coarse_sounding);
  free(w->first);
  free(w->time_s);
}

static CwStatus work_init(Work *w)
{
  const size_t n = w->features->n_frames;
  const size_t n_coarse = n / COARSE_STEP + 1;
  w->beat = cw_new(n_coarse, sizeof *w->beat);
  w->accent = cw_new(n_coarse, sizeof *w->accent);
  w->sounding = cw_new(n + 1, sizeof *w->sounding);
  w->coarse_sounding = cw_new(n_coarse + 1, sizeof *w->coarse_sounding);
  w->first = cw_new(w->plan.n, sizeof *w->first);
  w->time_s = cw_new(w->plan.n + 1, sizeof *w->time_s);
  return w->beat && w->accent && w->sounding && w->coarse_sounding && w->first && w->time_s ? CW_OK : CW_ERR_NO_MEM;
}

/// Share of the recording's sound in which notes are held.
static double tonal_share(const CwFeatures *f)
{
  size_t tonal = 0;
  size_t sounding = 0;
  for (size_t i = 0; i < f->n_slow; i++) {
    sounding += f->level_db[i * CW_SLOW_STEP] > -70.0F;
    tonal += f->steadiness[i] > 0.3F;
  }
  return sounding > 0 ? (double)tonal / (double)sounding : 0.0;
}

/// Where something sounds that may be music.
static void measure_sound(Work *w)
{
  const CwFeatures *f = w->features;
  float loudest = -120.0F;
  for (size_t i = 0; i < f->n_frames; i++) {
    loudest = fmaxf(loudest, f->level_db[i]);
  }
  for (size_t i = 0; i < f->n_frames; i++) {
    const bool sounds = f->level_db[i] > loudest - (float)QUIET_DB && w->look.activation.beat[i] > CW_NO_BEAT;
    w->sounding[i + 1] = w->sounding[i] + (sounds ? 1.0 / CW_FEATURE_RATE_HZ : 0.0);
  }
}

/// Where the last sound ends.
static double music_end(const Work *w)
{
  size_t n = w->features->n_frames;
  while (n > 0 && w->sounding[n] - w->sounding[n - 1] <= 0) {
    n--;
  }
  return (double)n / CW_FEATURE_RATE_HZ;
}

static double music_begin(const Work *w)
{
  size_t i = 0;
  while (i < w->features->n_frames && w->sounding[i + 1] <= 0) {
    i++;
  }
  return (double)i / CW_FEATURE_RATE_HZ;
}

static CwSight coarse_sight(Work *w)
{
  const CwActivation *a = &w->look.activation;
  const size_t n = a->n / COARSE_STEP;
  for (size_t i = 0; i < n; i++) {
    w->beat[i] = a->beat[i * COARSE_STEP];
    w->accent[i] = a->downbeat[i * COARSE_STEP];
    for (size_t k = 1; k < COARSE_STEP; k++) {
      w->beat[i] = fmaxf(w->beat[i], a->beat[i * COARSE_STEP + k]);
      w->accent[i] = fmaxf(w->accent[i], a->downbeat[i * COARSE_STEP + k]);
    }
    w->coarse_sounding[i + 1] = w->sounding[(i + 1) * COARSE_STEP];
  }
  return (CwSight){(double)CW_FEATURE_RATE_HZ / COARSE_STEP, n, w->beat, w->accent, w->coarse_sounding};
}

/// Expected times: straight in beats between the pins, the first sound and the last.
static void expect_times(const Work *w, double *time_s)
{
  const CwPlan *plan = &w->plan;
  double total = 0;
  for (size_t i = 0; i < plan->n; i++) {
    total += plan->count[i].beats;
  }
  double left_beats = 0;
  double left_s = music_begin(w);
  double beats = 0;
  size_t done = 0;
  for (size_t i = 0; i <= plan->n; i++) {
    const bool end = i == plan->n;
    if (!end && isnan(plan->count[i].pin_s)) {
      beats += plan->count[i].beats;
      continue;
    }
    const double right_s = end ? fmax(music_end(w), left_s + 0.2 * (total - left_beats)) : plan->count[i].pin_s;
    const double rate = beats > left_beats ? (right_s - left_s) / (beats - left_beats) : 0.0;
    for (double at = left_beats; done < i; at += plan->count[done].beats, done++) {
      time_s[done] = left_s + rate * (at - left_beats);
    }
    left_beats = beats;
    left_s = right_s;
    beats += end ? 0.0 : plan->count[i].beats;
  }
}

/// Bands of `width` frames around the times in `time_s`.
static void set_bands(Work *w, double rate_hz, size_t width)
{
  for (size_t i = 0; i < w->plan.n; i++) {
    const double middle = isnan(w->plan.count[i].pin_s) ? w->time_s[i] : w->plan.count[i].pin_s;
    const double first = round(middle * rate_hz) - (double)width / 2.0;
    w->first[i] = first > 0 ? (size_t)first : 0;
  }
}

/// Seconds that a count lasts on the whole, if the notes fill the music.
static double likely_count(const Work *w)
{
  return fmax(w->sounding[w->features->n_frames], 1.0) / (double)w->plan.n;
}

static CwStatus follow(Work *w, const CwReport *report)
{
  const CwSight coarse = coarse_sight(w);
  const double most = COARSE_CELLS / (double)w->plan.n;
  const double reach = fmin(2.0 * COARSE_REACH_S * coarse.rate_hz, fmax(most, 40.0));
  CwBands bands = {w->first, (size_t)fmin(reach, (double)coarse.n + 1), COARSE_RATIO, likely_count(w), TEMPO_SPREAD};
  expect_times(w, w->time_s);
  set_bands(w, coarse.rate_hz, bands.width);
  CwStatus status = cw_follow(&w->plan, &coarse, &bands, report, w->time_s, &w->n_found);
  if (status != CW_OK) {
    return status;
  }
  w->plan.n = w->n_found; // what has no music needs no finer search
  const CwActivation *a = &w->look.activation;
  const CwSight fine = {CW_FEATURE_RATE_HZ, a->n, a->beat, a->downbeat, w->sounding};
  bands.width = (size_t)(2 * FINE_REACH_S * CW_FEATURE_RATE_HZ);
  bands.tempo_ratio = FINE_RATIO;
  set_bands(w, fine.rate_hz, bands.width);
  return cw_follow(&w->plan, &fine, &bands, report, w->time_s, &w->n_found);
}

/// Put counts on attacks and on their pins, and the end of the last where the tempo leads.
static void place_finely(Work *w)
{
  const size_t n = w->n_found;
  for (size_t i = 0; i < n; i++) {
    const double pin_s = w->plan.count[i].pin_s;
    if (!isnan(pin_s)) {
      w->time_s[i] = pin_s;
      continue;
    }
    const double refined = w->plan.count[i].on_beat ? cw_refine_time(w->features, w->time_s[i]) : w->time_s[i];
    const bool after = i == 0 || refined > w->time_s[i - 1] + 0.02;
    const bool before = i + 1 >= n || isnan(w->plan.count[i + 1].pin_s) || refined < w->plan.count[i + 1].pin_s - 0.02;
    w->time_s[i] = after && before ? refined : w->time_s[i];
  }
  const size_t back = n >= 3 ? 2 : n - 1;
  const double interval = n >= 2 ? (w->time_s[n - 1] - w->time_s[n - 1 - back]) / (double)back : 1.0;
  w->time_s[n] = fmax(fmin(w->time_s[n - 1] + interval, w->features->duration_s), w->time_s[n - 1] + 0.05);
}

/// Move the counts on both sides of a pin between them, as far as they are not pinned, so that it is obeyed.
static void obey_part_pins(Work *w)
{
  for (size_t k = 0; k < w->plan.n_part_pins; k++) {
    const CwPartPin *pin = &w->plan.part_pin[k];
    if (pin->count >= w->n_found) {
      continue;
    }
    double *left = &w->time_s[pin->count];
    double *right = left + 1;
    const bool left_free = isnan(w->plan.count[pin->count].pin_s);
    const bool right_free = pin->count + 1 >= w->n_found || isnan(w->plan.count[pin->count + 1].pin_s);
    const double miss = pin->time_s - (*left + pin->part * (*right - *left));
    if (left_free && right_free) {
      *left += miss;
      *right += miss;
    } else if (right_free) {
      *right += miss / pin->part;
    } else if (left_free) {
      *left += miss / (1.0 - pin->part);
    }
  }
}

/// Where the phrase that ends before count `next` ends: the next one, or before a hold where its tempo leads.
static double phrase_end(const Work *w, size_t begin, size_t next)
{
  const double *t = w->time_s;
  if (next >= w->n_found || !w->plan.count[next].after_hold) {
    return t[next];
  }
  const double usual =
      next - begin >= 2 ? (t[next - 1] - t[begin]) / (double)(next - 1 - begin) : t[next] - t[next - 1];
  return fmin(t[next - 1] + usual, t[next]);
}

/// Probability that a one is right, from the mean certainty of the beats in its phrase: that is certain of a pulse, not
/// of which beat of it is the one, so only near-certainty says much. Rough: by eye from rubato piano music.
static double sureness(double certainty)
{
  return 0.1 + 0.75 * pow(certainty, 5.0);
}

static CwStatus make_line(const Work *w, const CwNotebook *notebook, CwCountLine *line)
{
  line->metre = notebook->head.metre;
  line->beats_per_count = w->plan.count[0].beats;
  for (size_t begin = 0, next = 0; begin < w->n_found; begin = next) {
    double near = 0;
    for (next = begin; next < w->n_found && w->plan.count[next].phrase == w->plan.count[begin].phrase; next++) {
      near += (double)cw_look_near(&w->look, w->time_s[next]);
    }
    const bool pinned = !isnan(w->plan.count[begin].pin_s);
    const double confidence = pinned ? 1.0 : sureness(near / (double)(next - begin));
    const CwStatus status =
        cw_count_line_add(line, w->time_s + begin, (unsigned)(next - begin), phrase_end(w, begin, next), confidence);
    if (status != CW_OK) {
      return status;
    }
  }
  return CW_OK;
}

static CwStatus line_up(Work *w, const CwNotebook *notebook, const CwReport *report, CwCountLine *line,
                        CwMessages *messages)
{
  CwModel model = cw_model_default();
  CwStatus status = cw_look(w->features, &model, tonal_share(w->features) > 0.2, &w->look);
  if (status == CW_OK) {
    status = work_init(w);
  }
  if (status != CW_OK) {
    return status;
  }
  measure_sound(w);
  status = follow(w, report);
  if (status != CW_OK) {
    return status;
  }
  place_finely(w);
  obey_part_pins(w);
  status = make_line(w, notebook, line);
  return status == CW_OK ? cw_adds_up(notebook, line, music_end(w), messages) : status;
}

CwStatus cw_lineup(const CwFeatures *features, const CwNotebook *notebook, const CwLineupOptions *options,
                   const CwReport *report, CwCountLine *line, CwMessages *messages)
{
  Work work = {.features = features};
  cw_count_line_init(line, features->duration_s);
  if (features->duration_s < SHORTEST_S) {
    return CW_ERR_TOO_SHORT;
  }
  CwStatus status = cw_plan_make(notebook, options ? options->beats_per_count : 0.0, !options || !options->without_pins,
                                 &work.plan, messages);
  if (status == CW_OK && work.plan.n > 0) {
    status = line_up(&work, notebook, report, line, messages);
  }
  work_free(&work);
  if (status != CW_OK) {
    cw_count_line_free(line);
  }
  return status;
}
