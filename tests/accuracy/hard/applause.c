// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/applause.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "accuracy/hard/written.h"
#include "countwright/audio.h"
#include "unit/random.h"

// our own choice: a hall of 40 people near enough to be heard singly, 2.5 to 4.5 claps a second each
enum { PEOPLE = 40 };

/// A clap: noise through one resonance, dying away in a few milliseconds.
static void add_clap(float *sample, size_t n, size_t first, double loudness, double hz, uint64_t *seed)
{
  const double rate_hz = CW_ANALYSIS_RATE_HZ, turn = 2 * 3.14159265358979323846 * hz / rate_hz;
  const double shrink = exp(-1 / (0.004 * rate_hz));
  double one = 0, two = 0;
  for (size_t i = first; i < n && i < first + 600; i++) {
    const double push = i < first + 60 ? random_between(seed, -1, 1) : 0;
    const double out = push + 2 * shrink * cos(turn) * one - shrink * shrink * two;
    two = one;
    one = out;
    sample[i] += (float)(loudness * out);
  }
}

/// How many of the people clap, 0 to 1, at the part `x` of the applause.
static double share_clapping(double x, double length_s)
{
  return fmin(fmin(1, x * length_s), (1 - x) * 3);
}

void cw_applause_add(Sound *sound, double rms, double from_s)
{
  const double rate_hz = CW_ANALYSIS_RATE_HZ, length_s = (double)sound->n / rate_hz - from_s;
  float *sample = cw_must_new(sound->n, sizeof *sample);
  uint64_t seed = 31;
  for (int person = 0; person < PEOPLE; person++) {
    const double interval_s = 1 / random_between(&seed, 2.5, 4.5), near = random_between(&seed, 0.2, 1);
    const double hz = random_between(&seed, 700, 2600), patience = random_share(&seed);
    for (double t = random_share(&seed); t < length_s; t += interval_s * random_between(&seed, 0.9, 1.1))
      if (patience < share_clapping(t / length_s, length_s))
        add_clap(sample, sound->n, (size_t)((from_s + t) * rate_hz), near, hz, &seed);
  }
  double power = 0;
  for (size_t i = 0; i < sound->n; i++)
    power += (double)sample[i] * (double)sample[i];
  const double gain = rms / sqrt(power / (length_s * rate_hz));
  for (size_t i = 0; i < sound->n; i++)
    sound->sample[i] += (float)(gain * (double)sample[i]);
  free(sample);
}
