// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/attacks.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "base/memory.h"

/// Frames over which a rise is taken, and by how many frames the rise's middle lies before the later one.
enum { SPAN = 4, MIDDLE = 2 };

/// Loudness is compressed so strongly that the first beginning of a slow attack counts, not its middle.
static const float compression = 20000.0F;
/// The room's noise is taken to rise by an eighth of a decibel a second until it is heard to be less, and counts so
/// much: attacks below it are none.
static const float floor_rise = 1.0003F;
static const float noise_share = 1.5F;
static const float least_floor = 1e-12F;
/// A peak counts above this share of the highest rise within half a second to either side.
static const float weakest_share = 0.1F;
static const float weakest_rise = 0.2F;

/// Frames to either side whose highest rise sets what counts; also bins of attacks, and those farther away whose
/// strongest counts half (in power), so that the trembling of a held chord does not.
enum { NEAR = 50, FAR = 500 };
static const float far_share = 0.5F;

/// Frames after an attack within which its note comes to its strength; soon; at once; and frames before it.
enum { SWELL = 25, SOON = 15, PROMINENT = 8, BEFORE = 8 };
/// An attack's time is when its note crosses this share of the power it soon has (-10 dB).
static const float crossed_share = 0.1F;
static const float prominence_scale = 1e5F;
/// What share of its power it may have then.
static const float already_there = 0.01F;

/// Attacks within a fiftieth of a second count as one in how strong they are.
static const double bins_per_s = 50.0;

static size_t bin_of(const CwAttack *attack)
{
  return (size_t)(fmax(0.0, attack->time_s) * bins_per_s);
}

static float *rise_at(CwRises *rises, size_t frame)
{
  return rises->rise[frame % CW_RISES_KEPT];
}

static void track_floor(CwRises *rises, const float *power)
{
  const bool settling = rises->n < NEAR;
  const float part = settling ? 1.0F / (float)(rises->n + 1) : 1.0F / NEAR;
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    rises->mean[i] += part * (power[i] - rises->mean[i]);
    const float risen = rises->floor[i] * floor_rise;
    const float floor = settling || rises->mean[i] < risen ? rises->mean[i] : risen;
    rises->floor[i] = fmaxf(floor, least_floor);
  }
}

/// The rise across the frame MIDDLE before the newest.
static void put_in(CwRises *rises, const float *power, float reference)
{
  track_floor(rises, power);
  const size_t n = rises->n++;
  float *oldest = rises->loudness[n % SPAN];
  float *rise = rise_at(rises, n + CW_RISES_KEPT - MIDDLE);
  float highest = 0;
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    const float loudness = log1pf(power[i] / (reference / compression + noise_share * rises->floor[i]));
    rise[i] = n < SPAN ? 0.0F : fmaxf(0.0F, loudness - oldest[i]);
    highest = fmaxf(highest, rise[i]);
    oldest[i] = loudness;
    rises->power[n % CW_RISES_KEPT][i] = power[i];
  }
  rises->highest[(n + CW_RISES_KEPT - MIDDLE) % CW_RISES_KEPT] = highest;
}

static float power_at(const CwRises *rises, size_t frame, size_t semitone)
{
  return rises->power[frame % CW_RISES_KEPT][semitone];
}

/// The highest power of a semitone in `n` frames from `frame` on.
static float highest_power(const CwRises *rises, size_t frame, size_t n, size_t semitone)
{
  float highest = 0;
  for (size_t k = 0; k < n; k++) {
    highest = fmaxf(highest, power_at(rises, frame + k, semitone));
  }
  return highest;
}

/// When a semitone comes up to a set share of the power that it soon has, or half-way in decibels from what it had
/// before, whichever is more: the same for loud and soft notes. In frames.
static double crossing(const CwRises *rises, size_t frame, size_t semitone)
{
  const size_t start = frame + CW_RISES_KEPT - BEFORE;
  const float highest = highest_power(rises, frame, SOON, semitone);
  float last = fmaxf(power_at(rises, start, semitone), FLT_MIN);
  const float wanted = fmaxf(crossed_share * highest, sqrtf(last) * sqrtf(highest));
  for (size_t k = 1; k < BEFORE + SOON; k++) {
    const float power = fmaxf(power_at(rises, start + k, semitone), FLT_MIN);
    if (power >= wanted) {
      const double past = last < wanted ? (double)(logf(power / wanted) / logf(power / last)) : 0.0;
      return (double)frame + (double)k - BEFORE - past;
    }
    last = power;
  }
  return (double)frame;
}

/// Seconds from `frame`, at which an attack was found, until a semitone has a quarter of the power that it soon comes to;
/// negative when it sounded before.
static float swell(const CwRises *rises, size_t frame, size_t semitone)
{
  const float highest = highest_power(rises, frame, SWELL, semitone);
  if (power_at(rises, frame + CW_RISES_KEPT - BEFORE, semitone) > already_there * highest) {
    return -1.0F;
  }
  size_t k = 0;
  while (power_at(rises, frame + k, semitone) < 0.25F * highest) {
    k++;
  }
  return (float)k / CW_ALIGN_ATTACK_RATE_HZ;
}

/// How far a semitone comes up to full loudness within a tenth of a second, on a logarithmic scale: 0 to 1. Weak
/// attacks are mostly what is left of others' in a neighbouring band.
static float prominence(const CwRises *rises, size_t frame, size_t semitone, float reference)
{
  const float highest = highest_power(rises, frame, PROMINENT, semitone);
  return fminf(1.0F, log1pf(prominence_scale * highest / reference) / log1pf(prominence_scale));
}

static CwStatus take_peaks(CwRises *rises, size_t frame, float reference, float threshold, CwAttacks *attacks)
{
  const float *before = rise_at(rises, frame + CW_RISES_KEPT - 1);
  const float *here = rise_at(rises, frame);
  const float *after = rise_at(rises, frame + 1);
  for (size_t i = 0; i < CW_N_SEMITONES; i++) {
    if (!(here[i] > threshold && here[i] > before[i] && here[i] >= after[i])) {
      continue;
    }
    if (!cw_grow(&attacks->attack, &attacks->room, attacks->n, sizeof *attacks->attack)) {
      return CW_ERR_NO_MEM;
    }
    const double time_s = fmax(0.0, crossing(rises, frame, i)) / CW_ALIGN_ATTACK_RATE_HZ;
    const float strength = here[i] * prominence(rises, frame, i, reference);
    attacks->attack[attacks->n++] = (CwAttack){time_s, strength, swell(rises, frame, i), (int)i};
  }
  return CW_OK;
}

static CwStatus take_out(CwRises *rises, size_t frame, float reference, CwAttacks *attacks)
{
  float highest = 0;
  for (size_t i = 0; i <= 2 * NEAR; i++) {
    // frames before the first were never written and are zero
    highest = fmaxf(highest, rises->highest[(frame + CW_RISES_KEPT - NEAR + i) % CW_RISES_KEPT]);
  }
  return take_peaks(rises, frame, reference, fmaxf(weakest_share * highest, weakest_rise), attacks);
}

CwStatus cw_rises_next(CwRises *rises, const float *power, float reference, CwAttacks *attacks)
{
  const float nothing[CW_N_SEMITONES] = {0};
  const size_t lag = NEAR + MIDDLE;
  for (size_t k = 0; k < (power ? 1 : lag); k++) {
    put_in(rises, power ? power : nothing, reference);
    if (rises->n > lag && take_out(rises, rises->n - 1 - lag, reference, attacks)) {
      return CW_ERR_NO_MEM;
    }
  }
  return CW_OK;
}

static int by_time(const void *left, const void *right)
{
  const CwAttack *l = left;
  const CwAttack *r = right;
  if (l->time_s != r->time_s) {
    return l->time_s < r->time_s ? -1 : 1;
  }
  return l->semitone - r->semitone;
}

static float highest_about(const float *value, size_t n, size_t i, size_t reach)
{
  float highest = 0;
  for (size_t k = i > reach ? i - reach : 0; k <= i + reach && k < n; k++) {
    highest = fmaxf(highest, value[k]);
  }
  return highest;
}

CwStatus cw_attacks_settle(CwAttacks *attacks)
{
  if (attacks->n == 0) {
    return CW_OK;
  }
  qsort(attacks->attack, attacks->n, sizeof *attacks->attack, by_time);
  const size_t n_bins = bin_of(&attacks->attack[attacks->n - 1]) + 1;
  float *square = cw_new(n_bins, sizeof *square);
  if (!square) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < attacks->n; i++) {
    const CwAttack *attack = &attacks->attack[i];
    square[bin_of(attack)] += attack->strength * attack->strength;
  }
  for (size_t i = 0; i < attacks->n; i++) {
    CwAttack *attack = &attacks->attack[i];
    const size_t bin = bin_of(attack);
    const float near = highest_about(square, n_bins, bin, NEAR);
    const float far = far_share * highest_about(square, n_bins, bin, FAR);
    attack->strength /= sqrtf(fmaxf(near, far));
  }
  free(square);
  return CW_OK;
}

size_t cw_attacks_from(const CwAttacks *attacks, double time_s)
{
  size_t low = 0;
  size_t high = attacks->n;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (attacks->attack[middle].time_s < time_s) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}
