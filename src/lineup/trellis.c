// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/trellis.h"

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
#define LEAD_COST 1.0     // of a second of music before the first count ...
#define LATE_COST 5.0     // ... and of any: notes mostly begin where the music does
#define LEAD_LEAST_S 0.12 // of music before the first count is none
#define UNUSED_COST 0.5   // of a second of music after the last count, or in a hold
#define HOLD_COST 1.0     // of a second by which a hold is longer or shorter than the notes say
#define END_COST 8.0      // of music that ends before the notes ...
#define MISSING_COST 0.5  // ... and of each count that then has none

CwStatus cw_trellis_init(CwTrellis *t, const CwPlan *plan, const CwSight *sight, const CwBands *bands)
{
  memset(t, 0, sizeof *t);
  t->plan = plan;
  t->sight = sight;
  t->bands = bands;
  t->step = (float)(CHANGE_COST * log(bands->tempo_ratio));
  for (double bpm = QUICKEST_BPM; bpm >= SLOWEST_BPM && t->n_tempos < CW_MOST_TEMPOS; bpm /= bands->tempo_ratio) {
    t->beat_frames[t->n_tempos++] = 60.0 * sight->rate_hz / bpm;
  }
  const size_t cells = t->n_tempos * bands->width;
  t->now = cw_new(cells, sizeof *t->now);
  t->before = cw_new(cells, sizeof *t->before);
  t->best = cw_new(bands->width, sizeof *t->best);
  t->best_from = cw_new(bands->width, sizeof *t->best_from);
  return t->now && t->before && t->best && t->best_from ? CW_OK : CW_ERR_NO_MEM;
}

void cw_trellis_free(CwTrellis *t)
{
  free(t->now);
  free(t->before);
  free(t->best);
  free(t->best_from);
}

/// Frame of a count that must lie somewhere.
static size_t pinned_frame(const CwTrellis *t, size_t count)
{
  const double frame = round(t->plan->count[count].pin_s * t->sight->rate_hz);
  return (size_t)fmin(fmax(frame, 0.0), (double)t->sight->n - 1.0);
}

static bool is_pinned(const CwTrellis *t, size_t count)
{
  return !isnan(t->plan->count[count].pin_s);
}

/// Whether pins say how long a count is, whatever the tempo.
static bool is_fixed(const CwTrellis *t, size_t count)
{
  return is_pinned(t, count) && count + 1 < t->plan->n && is_pinned(t, count + 1) &&
         !t->plan->count[count + 1].after_hold;
}

static size_t frames_at(const CwTrellis *t, size_t count, size_t tempo)
{
  const size_t frames = (size_t)lround(t->beat_frames[tempo] * t->plan->count[count].beats);
  return frames > 0 ? frames : 1;
}

size_t cw_trellis_frames(const CwTrellis *t, size_t count, size_t tempo)
{
  return is_fixed(t, count) ? pinned_frame(t, count + 1) - pinned_frame(t, count) : frames_at(t, count, tempo);
}

/// What a count is worth at a frame.
static float seen(const CwTrellis *t, const CwPlanCount *count, size_t frame)
{
  const float beat = t->sight->beat[frame];
  if (!count->on_beat) {
    return OFFBEAT_WEIGHT * fmaxf(beat, 0.0F);
  }
  const float a = count->accent;
  return beat + ACCENT_WEIGHT * a * (t->sight->accent[frame] - 0.5F * a);
}

/// What the beats within the count that ends at `frame` after `frames` are worth.
static float within(const CwTrellis *t, const CwPlanCount *count, size_t frame, size_t frames)
{
  const float *beat = t->sight->beat;
  if (count->beats < 1.5 - 1e-9) { // onsets between beats belong to them
    const float half = beat[frame - frames / 2];
    const float thirds = 0.5F * (beat[frame - frames / 3] + beat[frame - 2 * frames / 3]);
    return count->beats >= 1.0 ? t->sight->offbeat_weight * fmaxf(0.0F, fmaxf(half, thirds)) : 0.0F;
  }
  float sum = 0;
  for (double left = count->beats - count->to_beat; left > 0.02; left -= 1.0) {
    sum += beat[frame - (size_t)((double)frames * left / count->beats + 1e-6)];
  }
  return INNER_WEIGHT * sum;
}

/// Frames that a count may lie beside its pin: tempos are told apart no better than that.
static double slack(const CwTrellis *t, size_t frames)
{
  return 0.5 + 0.5 * (t->bands->tempo_ratio - 1.0) * (double)frames;
}

/// What a pinned count is worth at a frame, reached after `frames`; NEVER when it is too far from the pin.
static float seen_pinned(const CwTrellis *t, size_t count, size_t frame, size_t frames)
{
  const double off = fabs((double)frame - (double)pinned_frame(t, count));
  return off <= slack(t, frames) ? (float)-off : NEVER;
}

/// What it costs that a count lasts as long as it does; for one between two pins, that the tempo is another.
static float length_cost(const CwTrellis *t, size_t count, size_t tempo, size_t frames)
{
  if (is_fixed(t, count)) {
    const double off = log((double)(frames > 0 ? frames : 1) / (double)frames_at(t, count, tempo));
    return (float)fmin(CHANGE_COST * fabs(off), JUMP_COST);
  }
  const double count_s = (double)frames / t->sight->rate_hz;
  const double ln_slow = t->plan->count[count].ln_pace + t->plan->count[count].ln_stretch;
  const double away = (log(count_s / t->bands->likely_s) - ln_slow) / t->bands->spread;
  return (float)(0.5 * away * away);
}

/// Add what else speaks for count `i`.
static void add_worth(CwTrellis *t, size_t i)
{
  const float *worth = t->plan->count[i].worth;
  for (size_t tempo = 0; worth && tempo < t->n_tempos; tempo++) {
    for (size_t place = 0; place < t->bands->width; place++) {
      t->now[tempo * t->bands->width + place] += worth[place];
    }
  }
}

/// What music costs before the first count.
static double lead_cost(double lead_s)
{
  return LEAD_COST * lead_s + (lead_s > LEAD_LEAST_S ? LATE_COST : 0.0);
}

void cw_trellis_begin(CwTrellis *t)
{
  const size_t first = t->bands->first[0];
  for (size_t place = 0; place < t->bands->width; place++) {
    const size_t frame = first + place;
    float score = NEVER;
    if (frame < t->sight->n) {
      score = is_pinned(t, 0) ? seen_pinned(t, 0, frame, 0) : seen(t, &t->plan->count[0], frame);
      score -= (float)lead_cost(t->sight->sounding[frame]);
    }
    for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
      t->now[tempo * t->bands->width + place] = score;
    }
  }
  add_worth(t, 0);
}

void cw_trellis_arrive(CwTrellis *t, size_t i)
{
  const size_t width = t->bands->width;
  const size_t first = t->bands->first[i];
  const CwPlanCount *count = &t->plan->count[i];
  const bool pinned = is_pinned(t, i);
  for (size_t place = 0; place < width; place++) {
    t->best[place] = first + place < t->sight->n && !pinned ? seen(t, count, first + place) : 0.0F;
  }
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    const size_t frames = cw_trellis_frames(t, i - 1, tempo);
    // after a hold the scores before are already where this count may lie
    const size_t first_before = count->after_hold ? first - frames : t->bands->first[i - 1];
    const float cost = length_cost(t, i - 1, tempo, frames);
    float *now = t->now + tempo * width;
    const float *before = t->before + tempo * width;
    for (size_t place = 0; place < width; place++) {
      const size_t frame = first + place;
      const size_t at = frame - frames - first_before; // wraps when outside
      const bool good = frame < t->sight->n && frame >= frames && at < width && before[at] > NEVER / 2;
      now[place] = NEVER;
      if (good) {
        const float here = pinned ? seen_pinned(t, i, frame, frames) : t->best[place];
        now[place] = here > NEVER ? before[at] + here + within(t, count - 1, frame, frames) - cost : NEVER;
      }
    }
  }
  add_worth(t, i);
}

/// Take the better of what is there, less `cost`, and one tempo's scores, over the band.
static void sweep(CwTrellis *t, const float *candidate, int32_t tempo, float cost)
{
  for (size_t place = 0; place < t->bands->width; place++) {
    const float kept = t->best[place] - cost;
    const bool better = candidate[place] > kept;
    t->best[place] = better ? candidate[place] : kept;
    t->best_from[place] = better ? tempo : t->best_from[place];
  }
}

static void clear_best(CwTrellis *t)
{
  for (size_t place = 0; place < t->bands->width; place++) {
    t->best[place] = 2 * NEVER;
    t->best_from[place] = 0;
  }
}

/// Keep what is better than what stands in row `tempo` of `before`, less `cost`.
static void improve(CwTrellis *t, uint8_t *from, size_t tempo, float cost)
{
  float *row = t->before + tempo * t->bands->width;
  uint8_t *row_from = from + tempo * t->bands->width;
  for (size_t place = 0; place < t->bands->width; place++) {
    const float score = t->best[place] - cost;
    if (score > row[place]) {
      row[place] = score;
      row_from[place] = (uint8_t)t->best_from[place];
    }
  }
}

/// Spread the scores of count `i` over all tempos of what follows it.
static void change_tempo(CwTrellis *t, size_t i, uint8_t *from)
{
  const size_t width = t->bands->width;
  const bool free_change = t->plan->count[i].new_section || t->plan->count[i].after_hold;
  for (size_t k = 0; k < t->n_tempos * width; k++) {
    t->before[k] = 2 * NEVER;
  }
  clear_best(t);
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    sweep(t, t->now + tempo * width, (int32_t)tempo, t->step);
    improve(t, from, tempo, 0.0F);
  }
  clear_best(t);
  for (size_t tempo = t->n_tempos; tempo-- > 0;) {
    sweep(t, t->now + tempo * width, (int32_t)tempo, t->step);
    improve(t, from, tempo, 0.0F);
  }
  clear_best(t);
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    sweep(t, t->now + tempo * width, (int32_t)tempo, 0.0F);
  }
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    improve(t, from, tempo, (float)(free_change ? SECTION_COST : JUMP_COST));
  }
}

/// Drop what does not pass through the pin within count `i`, if there is one.
static void pass_part_pin(CwTrellis *t, size_t i)
{
  const CwPlanCount *count = &t->plan->count[i];
  if (count->part <= 0 || is_pinned(t, i)) {
    return;
  }
  const double pin = count->part_s * t->sight->rate_hz - (double)t->bands->first[i];
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    const size_t frames = cw_trellis_frames(t, i, tempo);
    float *row = t->before + tempo * t->bands->width;
    for (size_t place = 0; place < t->bands->width; place++) {
      const double off = fabs((double)place + count->part * (double)frames - pin);
      row[place] = off <= 2.0 * slack(t, frames) ? row[place] : 2 * NEVER;
    }
  }
}

void cw_trellis_leave(CwTrellis *t, size_t i, uint8_t *from)
{
  change_tempo(t, i, from);
  pass_part_pin(t, i);
}

/// What a hold is worth that begins at `place`, by when it should.
static float held_worth(const float *worth, long place, long wish, float away_cost)
{
  return worth[place] - away_cost * (float)labs(place - wish);
}

/// Let one tempo's scores wait. A hold that ends at a place began at the best of the places up to it: of those from the
/// wished one on, `late` keeps the ones that none after them beats; of those before it, `early` is the best.
static void hold_row(CwTrellis *t, size_t i, size_t tempo, float away_cost, long hold, uint16_t *from)
{
  const long width = (long)t->bands->width;
  const long first = (long)t->bands->first[i];
  const long shift = (long)t->bands->first[i + 1] - (long)frames_at(t, i, tempo) - first;
  float *row = t->before + tempo * t->bands->width;
  int32_t *late = t->best_from;
  long head = 0;
  long tail = 0;
  long entered = 0;
  long early = -1;
  for (long place = 0; place < width; place++) {
    const long until = shift + place; // as if the count itself came so late
    const long wish = until - hold;
    for (; entered <= until && entered < width; entered++) {
      while (tail > head && t->best[late[tail - 1]] <= held_worth(t->best, entered, late[tail - 1], away_cost)) {
        tail--;
      }
      late[tail++] = (int32_t)entered;
    }
    for (; head < tail && late[head] <= wish; head++) {
      const long one = late[head];
      early = early < 0 || t->best[one] >= held_worth(t->best, early, one, away_cost) ? one : early;
    }
    long begun = early;
    if (head < tail &&
        (early < 0 || held_worth(t->best, late[head], wish, away_cost) > held_worth(t->best, early, wish, away_cost))) {
      begun = late[head];
    }
    const bool good = begun >= 0 && first + until <= (long)t->sight->n && t->best[begun] > NEVER / 2;
    const double sound = good ? t->sight->sounding[first + until] - t->sight->sounding[first] : 0.0;
    row[place] = good ? held_worth(t->best, begun, wish, away_cost) - (float)(UNUSED_COST * sound) : 2 * NEVER;
    from[place] = (uint16_t)(good ? begun : 0);
  }
}

void cw_trellis_hold(CwTrellis *t, size_t i, uint16_t *from)
{
  const size_t width = t->bands->width;
  const size_t first = t->bands->first[i];
  const double hold_s = t->plan->count[i + 1].hold_s;
  const float away_cost = hold_s > 0 ? (float)(HOLD_COST / t->sight->rate_hz) : 0.0F;
  const long hold = lround(fmin(hold_s, 1e6) * t->sight->rate_hz);
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    const float *row = t->before + tempo * width;
    for (size_t place = 0; place < width; place++) {
      const bool inside = first + place < t->sight->n;
      const double sound = inside ? t->sight->sounding[first + place] - t->sight->sounding[first] : 0.0;
      t->best[place] = inside ? row[place] + (float)(UNUSED_COST * sound) : 2 * NEVER;
    }
    hold_row(t, i, tempo, away_cost, hold, from + tempo * width);
  }
}

void cw_trellis_consider_end(const CwTrellis *t, size_t i, CwTrellisEnd *end)
{
  const double missing = (double)(t->plan->n - 1 - i);
  const float cost = missing > 0 ? (float)(END_COST + MISSING_COST * missing) : 0.0F;
  const double all = t->sight->sounding[t->sight->n];
  for (size_t tempo = 0; tempo < t->n_tempos; tempo++) {
    const size_t frames = cw_trellis_frames(t, i, tempo);
    for (size_t place = 0; place < t->bands->width; place++) {
      const float score = t->before[tempo * t->bands->width + place];
      if (score < NEVER / 2) {
        continue;
      }
      const size_t frame = t->bands->first[i] + place + frames;
      const double left = frame < t->sight->n ? all - t->sight->sounding[frame] : 0.0;
      // the last count should have its time
      const double beyond = frame > t->sight->n ? (double)(frame - t->sight->n) / t->sight->rate_hz : 0.0;
      const float total = score - cost - (float)(UNUSED_COST * left + 2.0 * beyond);
      if (total > end->score) {
        *end = (CwTrellisEnd){total, i, tempo, place};
      }
    }
  }
}
