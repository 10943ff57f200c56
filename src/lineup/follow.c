// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/follow.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

#define NEVER (-1e9F)
#define SLOWEST_BPM 14.0
#define QUICKEST_BPM 300.0
#define CHANGE_COST 12.0    // of a change of tempo by a factor e between two counts
#define JUMP_COST 6.0       // of any change at all ...
#define SECTION_COST 1.0    // ... and where a section begins
#define OFFBEAT_WEIGHT 0.5F // of a count that lies between two beats
#define INNER_WEIGHT 0.6F   // of the beats within a count
#define ACCENT_WEIGHT 1.0F
#define UNUSED_COST 0.5  // of a second of music before the first count, after the last, or in a hold
#define END_COST 8.0     // of music that ends before the notes ...
#define MISSING_COST 0.5 // ... and of each count that then has none

enum { MAX_TEMPOS = 192 };

typedef struct {
  const CwPlan *plan;
  const CwSight *sight;
  const CwBands *bands;
  size_t n_tempos;
  double beat_frames[MAX_TEMPOS]; ///< frames of a beat at each tempo, ascending
  float step;                     ///< cost between neighbouring tempos
  float *now;                     ///< by tempo and place in the band: best score with the count there
  float *before;                  ///< the same of the count before, spread over all tempos
  uint8_t *from;                  ///< by count, next tempo, place: tempo before
  uint16_t **waited;              ///< by count after a hold: frames waited, by tempo and place of the count before
  float *best;                    ///< work space, one band
  int32_t *best_from;
} Search;

/// The end of a path.
typedef struct {
  float score;
  size_t count; ///< index of its last count
  size_t tempo;
  size_t place;
} End;

static CwStatus search_init(Search *s, const CwPlan *plan, const CwSight *sight, const CwBands *bands)
{
  memset(s, 0, sizeof *s);
  s->plan = plan;
  s->sight = sight;
  s->bands = bands;
  s->step = (float)(CHANGE_COST * log(bands->tempo_ratio));
  for (double bpm = QUICKEST_BPM; bpm >= SLOWEST_BPM && s->n_tempos < MAX_TEMPOS; bpm /= bands->tempo_ratio) {
    s->beat_frames[s->n_tempos++] = 60.0 * sight->rate_hz / bpm;
  }
  const size_t cells = s->n_tempos * bands->width;
  s->now = cw_new(cells, sizeof *s->now);
  s->before = cw_new(cells, sizeof *s->before);
  s->from = cw_new(plan->n * cells, sizeof *s->from);
  s->waited = cw_new(plan->n, sizeof *s->waited);
  s->best = cw_new(bands->width, sizeof *s->best);
  s->best_from = cw_new(bands->width, sizeof *s->best_from);
  return s->now && s->before && s->from && s->waited && s->best && s->best_from ? CW_OK : CW_ERR_NO_MEM;
}

static void search_free(Search *s)
{
  for (size_t i = 0; s->waited && i < s->plan->n; i++) {
    free(s->waited[i]);
  }
  free(s->now);
  free(s->before);
  free(s->from);
  free(s->waited);
  free(s->best);
  free(s->best_from);
}

static size_t frames_of(const Search *s, size_t count, size_t tempo)
{
  const size_t frames = (size_t)lround(s->beat_frames[tempo] * s->plan->count[count].beats);
  return frames > 0 ? frames : 1;
}

/// What a count is worth at a frame.
static float seen(const Search *s, const CwPlanCount *count, size_t frame)
{
  const float beat = s->sight->beat[frame];
  if (!count->on_beat) {
    return OFFBEAT_WEIGHT * fmaxf(beat, 0.0F);
  }
  const float a = count->accent;
  return beat + ACCENT_WEIGHT * a * (s->sight->accent[frame] - 0.5F * a);
}

/// What the beats within the count that ends at `frame` after `frames` are worth.
static float within(const Search *s, const CwPlanCount *count, size_t frame, size_t frames)
{
  const float *beat = s->sight->beat;
  const size_t beats = (size_t)lround(count->beats);
  if (beats < 2) { // onsets between beats belong to them
    const float half = beat[frame - frames / 2];
    const float thirds = 0.5F * (beat[frame - frames / 3] + beat[frame - 2 * frames / 3]);
    return count->beats >= 1.0 ? OFFBEAT_WEIGHT * fmaxf(0.0F, fmaxf(half, thirds)) : 0.0F;
  }
  float sum = 0;
  for (size_t k = 1; k < beats; k++) {
    sum += beat[frame - k * frames / beats];
  }
  return INNER_WEIGHT * sum;
}

/// Whether a count may lie at a frame: pinned ones only at their pins.
static bool allowed(const Search *s, const CwPlanCount *count, size_t frame)
{
  return isnan(count->pin_s) || fabs((double)frame - count->pin_s * s->sight->rate_hz) <= 0.5 + 1e-9;
}

static void begin(Search *s)
{
  const size_t first = s->bands->first[0];
  for (size_t place = 0; place < s->bands->width; place++) {
    const size_t frame = first + place;
    const bool good = frame < s->sight->n && allowed(s, &s->plan->count[0], frame);
    const double unused = good ? UNUSED_COST * s->sight->sounding[frame] : 0.0;
    const float score = good ? seen(s, &s->plan->count[0], frame) - (float)unused : NEVER;
    for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
      s->now[tempo * s->bands->width + place] = score;
    }
  }
}

/// Scores of count `i` from those of the count before it.
static void arrive(Search *s, size_t i)
{
  const size_t width = s->bands->width;
  const size_t first = s->bands->first[i];
  const size_t first_before = s->bands->first[i - 1];
  const CwPlanCount *count = &s->plan->count[i];
  for (size_t place = 0; place < width; place++) {
    const size_t frame = first + place;
    const bool good = frame < s->sight->n && allowed(s, count, frame);
    s->best[place] = good ? seen(s, count, frame) : NEVER;
  }
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    const size_t frames = frames_of(s, i - 1, tempo);
    const double count_s = (double)frames / s->sight->rate_hz;
    const double away = log(count_s / s->bands->likely_s) / s->bands->spread;
    const float prior = (float)(-0.5 * away * away);
    float *now = s->now + tempo * width;
    const float *before = s->before + tempo * width;
    for (size_t place = 0; place < width; place++) {
      const size_t frame = first + place;
      const size_t at = frame - frames - first_before; // wraps when outside
      const bool good =
          s->best[place] > NEVER && frame >= frames + first_before && at < width && before[at] > NEVER / 2;
      now[place] = good ? before[at] + s->best[place] + within(s, count - 1, frame, frames) + prior : NEVER;
    }
  }
}

/// Take the better of what is there, less `cost`, and one tempo's scores, over the band.
static void sweep(Search *s, const float *candidate, int32_t tempo, float cost)
{
  for (size_t place = 0; place < s->bands->width; place++) {
    const float kept = s->best[place] - cost;
    const bool better = candidate[place] > kept;
    s->best[place] = better ? candidate[place] : kept;
    s->best_from[place] = better ? tempo : s->best_from[place];
  }
}

static void clear_best(Search *s)
{
  for (size_t place = 0; place < s->bands->width; place++) {
    s->best[place] = 2 * NEVER;
    s->best_from[place] = 0;
  }
}

/// Keep what is better than what stands in row `tempo` of `before`, less `cost`.
static void improve(Search *s, uint8_t *from, size_t tempo, float cost)
{
  float *row = s->before + tempo * s->bands->width;
  uint8_t *row_from = from + tempo * s->bands->width;
  for (size_t place = 0; place < s->bands->width; place++) {
    const float score = s->best[place] - cost;
    if (score > row[place]) {
      row[place] = score;
      row_from[place] = (uint8_t)s->best_from[place];
    }
  }
}

/// Spread the scores of count `i` over all tempos of what follows it.
static void change_tempo(Search *s, size_t i)
{
  const size_t width = s->bands->width;
  uint8_t *from = s->from + i * s->n_tempos * width;
  const bool free_change =
      i + 1 < s->plan->n && (s->plan->count[i + 1].new_section || s->plan->count[i + 1].after_hold);
  for (size_t k = 0; k < s->n_tempos * width; k++) {
    s->before[k] = 2 * NEVER;
  }
  clear_best(s);
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    sweep(s, s->now + tempo * width, (int32_t)tempo, s->step);
    improve(s, from, tempo, 0.0F);
  }
  clear_best(s);
  for (size_t tempo = s->n_tempos; tempo-- > 0;) {
    sweep(s, s->now + tempo * width, (int32_t)tempo, s->step);
    improve(s, from, tempo, 0.0F);
  }
  clear_best(s);
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    sweep(s, s->now + tempo * width, (int32_t)tempo, 0.0F);
  }
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    improve(s, from, tempo, (float)(free_change ? SECTION_COST : JUMP_COST));
  }
}

/// Let music out of tempo pass after count `i`: as if the count itself came later.
static CwStatus wait(Search *s, size_t i)
{
  const size_t width = s->bands->width;
  uint16_t *waited = cw_new(s->n_tempos * width, sizeof *waited);
  if (!waited) {
    return CW_ERR_NO_MEM;
  }
  s->waited[i + 1] = waited;
  const size_t first = s->bands->first[i];
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    float *row = s->before + tempo * width;
    uint16_t *row_waited = waited + tempo * width;
    for (size_t place = 1; place < width && first + place <= s->sight->n; place++) {
      const double sound = s->sight->sounding[first + place] - s->sight->sounding[first + place - 1];
      const float waiting = row[place - 1] - (float)(UNUSED_COST * sound);
      if (waiting > row[place] && row_waited[place - 1] < UINT16_MAX) {
        row[place] = waiting;
        row_waited[place] = (uint16_t)(row_waited[place - 1] + 1);
      }
    }
  }
  return CW_OK;
}

/// Whether a path that ends with count `i` beats the best end so far.
static void consider_end(const Search *s, size_t i, End *end)
{
  const double missing = (double)(s->plan->n - 1 - i);
  const float cost = missing > 0 ? (float)(END_COST + MISSING_COST * missing) : 0.0F;
  const double all = s->sight->sounding[s->sight->n];
  for (size_t tempo = 0; tempo < s->n_tempos; tempo++) {
    const size_t frames = frames_of(s, i, tempo);
    for (size_t place = 0; place < s->bands->width; place++) {
      const float score = s->before[tempo * s->bands->width + place];
      if (score < NEVER / 2) {
        continue;
      }
      const size_t frame = s->bands->first[i] + place + frames;
      const double left = frame < s->sight->n ? all - s->sight->sounding[frame] : 0.0;
      // the last count should have its time
      const double beyond = frame > s->sight->n ? (double)(frame - s->sight->n) / s->sight->rate_hz : 0.0;
      const float total = score - cost - (float)(UNUSED_COST * left + 2.0 * beyond);
      if (total > end->score) {
        *end = (End){total, i, tempo, place};
      }
    }
  }
}

static void trace(const Search *s, const End *end, double *time_s)
{
  const size_t width = s->bands->width;
  for (size_t i = end->count + 1; i < s->plan->n; i++) {
    time_s[i] = NAN;
  }
  size_t place = end->place;
  size_t tempo = s->from[end->count * s->n_tempos * width + end->tempo * width + place];
  for (size_t i = end->count;; i--) {
    const size_t frame = s->bands->first[i] + place;
    time_s[i] = (double)frame / s->sight->rate_hz;
    if (i == 0) {
      return;
    }
    place = frame - frames_of(s, i - 1, tempo) - s->bands->first[i - 1];
    if (s->waited[i]) {
      place -= s->waited[i][tempo * width + place];
    }
    tempo = s->from[(i - 1) * s->n_tempos * width + tempo * width + place];
  }
}

static CwStatus search(Search *s, const CwReport *report, double *time_s, size_t *n_found)
{
  End end = {NEVER / 2, 0, 0, 0};
  for (size_t i = 0; i < s->plan->n; i++) {
    if (i == 0) {
      begin(s);
    } else {
      arrive(s, i);
    }
    change_tempo(s, i);
    const bool last = i + 1 == s->plan->n;
    if (last || s->plan->count[i + 1].phrase != s->plan->count[i].phrase) {
      consider_end(s, i, &end);
    }
    CwStatus status = CW_OK;
    if (!last && s->plan->count[i + 1].after_hold) {
      status = wait(s, i);
    }
    if (status == CW_OK && i % 16 == 0) {
      status = cw_report_progress(report, "lining up", (double)i / (double)s->plan->n);
    }
    if (status != CW_OK) {
      return status;
    }
  }
  if (end.score <= NEVER / 2) {
    return CW_ERR_NO_PULSE;
  }
  trace(s, &end, time_s);
  *n_found = end.count + 1;
  return CW_OK;
}

CwStatus cw_follow(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const CwReport *report,
                   double *time_s, size_t *n_found)
{
  Search s;
  *n_found = 0;
  CwStatus status = search_init(&s, plan, sight, bands);
  if (status == CW_OK) {
    status = search(&s, report, time_s, n_found);
  }
  search_free(&s);
  return status;
}
