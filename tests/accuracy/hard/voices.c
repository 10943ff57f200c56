// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/voices.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "accuracy/hard/written.h"
#include "countwright/audio.h"
#include "unit/random.h"

static const double pi = 3.14159265358979323846;
static const double rate_hz = CW_ANALYSIS_RATE_HZ;

/// Where a note's samples lie.
typedef struct {
  size_t first, end;
  double from_s, to_s; ///< begun, let go
} Span;

static Span span_of(const Sound *sound, double from_s, double to_s, double after_s)
{
  Span span = {(size_t)ceil(fmax(from_s, 0) * rate_hz), (size_t)(fmax(to_s + after_s, 0) * rate_hz), from_s, to_s};
  if (span.end > sound->n)
    span.end = sound->n;
  return span;
}

/// One partial that dies away: a turning pointer, a multiplication a sample.
static void add_dying_partial(Sound *sound, const Span *span, double hz, double amplitude, double decay_s, double phase,
                              double release_s)
{
  const double turn = 2 * pi * hz / rate_hz, shrink = exp(-1 / (decay_s * rate_hz));
  const double released = exp(-1 / (release_s * rate_hz));
  const size_t let_go = (size_t)(span->to_s * rate_hz);
  double re = amplitude * cos(phase), im = amplitude * sin(phase);
  const double c = cos(turn), s = sin(turn);
  double level = amplitude;
  for (size_t i = span->first; i < span->end && level > 1e-4 * amplitude; i++) {
    const double factor = i < let_go ? shrink : released;
    const double t = (double)i / rate_hz - span->from_s;
    sound->sample[i] += (float)(im * fmin(1, t / 0.002));
    const double turned = (re * c - im * s) * factor;
    im = (re * s + im * c) * factor;
    re = turned;
    level *= factor;
  }
}

/// The knock of hammer or finger.
static void add_knock(Sound *sound, double loudness, double from_s, uint64_t *seed)
{
  Span span = span_of(sound, from_s, from_s + 0.03, 0);
  double smooth = 0;
  for (size_t i = span.first; i < span.end; i++) {
    smooth += 0.3 * (random_between(seed, -1, 1) - smooth);
    sound->sample[i] += (float)(loudness * smooth * exp(-((double)i / rate_hz - from_s) / 0.006));
  }
}

static void play_struck(Sound *sound, double hz, double loudness, const Span *span, uint64_t *seed)
{
  const double stretch = 0.0004, longest_s = 1.8 * pow(hz / 261.6, -0.6);
  for (int k = 1; k <= 14; k++) {
    const double partial_hz = k * hz * sqrt(1 + stretch * k * k);
    if (partial_hz > 0.45 * rate_hz)
      break;
    // struck at an eighth of the string; louder is brighter
    const double amplitude = loudness * pow(k, -1.1 + 0.3 * fmin(loudness, 1)) * fabs(sin(pi * k / 8.3)) * 2.5;
    add_dying_partial(sound, span, partial_hz, amplitude, longest_s / (1 + 0.35 * k), 2 * pi * random_share(seed),
                      0.05);
  }
  add_knock(sound, 0.25 * loudness, span->from_s, seed);
}

static void play_plucked(Sound *sound, double hz, double loudness, const Span *span, uint64_t *seed)
{
  const double longest_s = 0.28 * pow(hz / 196, -0.5);
  for (int k = 1; k <= 8 && k * hz < 0.45 * rate_hz; k++)
    add_dying_partial(sound, span, k * hz, loudness * pow(k, -1.4), longest_s / k, 2 * pi * random_share(seed), 0.03);
  add_knock(sound, 0.12 * loudness, span->from_s, seed);
}

/// What a held tone is like.
typedef struct {
  double attack_s, release_s;
  double vibrato_hz, vibrato; ///< a part of the frequency
  double noise;               ///< of bow or breath
  double partial[12];
} Tone;

/// Rise, dip a little, hold, fall.
static double swell(const Tone *tone, double since_s, double past_s)
{
  double level = since_s < tone->attack_s ? 0.5 - 0.5 * cos(pi * since_s / tone->attack_s) : 1;
  if (past_s > 0)
    level *= past_s < tone->release_s ? 0.5 + 0.5 * cos(pi * past_s / tone->release_s) : 0;
  return level;
}

enum { TABLE = 2048 };

static void fill_table(const Tone *tone, double hz, float table[TABLE + 1])
{
  for (int i = 0; i <= TABLE; i++) {
    double value = 0;
    for (int k = 1; k <= 12 && k * hz < 0.43 * rate_hz; k++)
      value += tone->partial[k - 1] * sin(2 * pi * k * i / TABLE + 1.7 * k * k);
    table[i] = (float)value;
  }
}

static void play_tone(Sound *sound, const Tone *tone, double hz, double loudness, const Span *span, uint64_t *seed)
{
  float table[TABLE + 1];
  fill_table(tone, hz, table);
  double phase = random_share(seed), vibrato_phase = 2 * pi * random_share(seed), breath = 0;
  const double vibrato_hz = tone->vibrato_hz * random_between(seed, 0.93, 1.07);
  for (size_t i = span->first; i < span->end; i++) {
    const double t = (double)i / rate_hz, since_s = t - span->from_s;
    const double depth = tone->vibrato * fmin(1, fmax(0, since_s - 0.1) / 0.3); // comes after the attack
    phase += hz * (1 + depth * sin(2 * pi * vibrato_hz * since_s + vibrato_phase)) / rate_hz;
    phase -= floor(phase);
    breath += 0.25 * (random_between(seed, -1, 1) - breath);
    const double value = (double)table[(size_t)(phase * TABLE)] + tone->noise * breath;
    sound->sample[i] += (float)(loudness * swell(tone, since_s, t - span->to_s) * value);
  }
}

static void play_bowed(Sound *sound, double hz, double loudness, const Span *span, uint64_t *seed)
{
  Tone tone = {.release_s = 0.14, .vibrato_hz = 5.6, .noise = 0.12};
  for (int k = 1; k <= 12; k++) // a body with a broad hump near 1 kHz
    tone.partial[k - 1] = pow(k, -1.0) * (0.6 + exp(-pow(log2(k * hz / 1000), 2))) * 0.8;
  for (int player = 0; player < 3; player++) {
    // shorter notes are begun with more bow
    tone.attack_s = fmin(random_between(seed, 0.05, 0.11), 0.6 * (span->to_s - span->from_s));
    tone.vibrato = random_between(seed, 0.006, 0.012);
    play_tone(sound, &tone, hz * random_between(seed, 0.998, 1.002), 0.5 * loudness, span, seed);
  }
}

static void play_wind(Sound *sound, double hz, double loudness, const Span *span, uint64_t *seed)
{
  const Tone tone = {.attack_s = 0.04,
                     .release_s = 0.06,
                     .vibrato_hz = 4.8,
                     .vibrato = 0.002,
                     .noise = 0.10,
                     .partial = {1, 0.12, 0.55, 0.10, 0.30, 0.10, 0.16, 0.06, 0.08, 0.03, 0.03, 0.01}};
  play_tone(sound, &tone, hz, loudness, span, seed);
}

void cw_voice_play(Sound *sound, CwVoice voice, double pitch, double loudness, double from_s, double to_s,
                   unsigned seed)
{
  static const double after_s[] = {[CW_STRUCK] = 0.3, [CW_PLUCKED] = 0.2, [CW_BOWED] = 0.14, [CW_WIND] = 0.06};
  uint64_t chance = seed;
  const double hz = note_hz(pitch);
  const Span span = span_of(sound, from_s, to_s, after_s[voice]);
  switch (voice) {
  case CW_STRUCK:
    play_struck(sound, hz, loudness, &span, &chance);
    break;
  case CW_PLUCKED:
    play_plucked(sound, hz, loudness, &span, &chance);
    break;
  case CW_BOWED:
    play_bowed(sound, hz, loudness, &span, &chance);
    break;
  case CW_WIND:
    play_wind(sound, hz, loudness, &span, &chance);
    break;
  }
}

/// Echoes of a comb filter: every `delay` samples, weaker by `feedback`, duller each time.
static void add_comb(const Sound *dry, float *wet, size_t delay, double feedback)
{
  float *line = cw_must_new(delay, sizeof *line);
  double dull = 0;
  for (size_t i = 0, at = 0; i < dry->n; i++, at = at + 1 == delay ? 0 : at + 1) {
    const double out = (double)line[at];
    dull += 0.6 * (out - dull);
    line[at] = (float)((double)dry->sample[i] + feedback * dull);
    wet[i] += (float)out;
  }
  free(line);
}

void cw_voice_room(Sound *sound, double decay_s, double wet)
{
  // four combs after Schroeder (1962), with lengths that share no factor
  static const size_t delay[] = {655, 817, 911, 1051};
  float *echo = cw_must_new(sound->n, sizeof *echo);
  for (size_t k = 0; k < sizeof delay / sizeof *delay; k++)
    add_comb(sound, echo, delay[k], pow(10, -3 * (double)delay[k] / rate_hz / decay_s));
  for (size_t i = 0; i < sound->n; i++)
    sound->sample[i] += (float)(0.25 * wet * (double)echo[i]);
  free(echo);
}
