// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/align/music.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "unit/cw_test.h"

#include "countwright/audio.h"

static const double pi = 3.14159265358979323846;

/// Numerical Recipes' linear congruential generator: the same everywhere. @return 0 up to, not including, 1.
static double next_random(uint32_t *seed)
{
  *seed = *seed * 1664525U + 1013904223U;
  return (double)(*seed >> 8) / 16777216.0;
}

static int next_below(uint32_t *seed, int limit)
{
  return (int)(next_random(seed) * limit);
}

static void add_note(TestPiece *piece, double beat, double beats, int pitch, double weight)
{
  piece->note = realloc(piece->note, (piece->n + 1) * sizeof *piece->note);
  assert_non_null(piece->note);
  piece->note[piece->n++] = (TestNote){beat, beats, pitch, weight};
}

static const int scale[7] = {0, 2, 4, 5, 7, 9, 11};

static int scale_pitch(int key, int degree)
{
  return key + 12 * (degree / 7) + scale[degree % 7];
}

TestPiece test_piece_make(uint32_t seed, unsigned bars)
{
  TestPiece piece = {.beats = 4.0 * bars};
  uint32_t random = seed * 2654435761U + 1;
  next_random(&random);
  const int key = 48 + next_below(&random, 12);
  int degree = 7;
  for (unsigned bar = 0; bar < bars; bar++) {
    const int root = next_below(&random, 6);
    add_note(&piece, 4.0 * bar, 4, scale_pitch(key - 12, root), 0.9);
    for (int third = 0; third < 3; third++) {
      add_note(&piece, 4.0 * bar, 2, scale_pitch(key, root + 2 * third), 0.5);
      add_note(&piece, 4.0 * bar + 2, 2, scale_pitch(key, root + 2 * third), 0.4);
    }
    for (double beat = 0; beat < 4;) {
      const double length = next_random(&random) < 0.4 ? 0.5 : 1.0;
      degree += next_below(&random, 5) - 2;
      degree = degree < 5 ? 5 : degree > 16 ? 16 : degree;
      add_note(&piece, 4.0 * bar + beat, length, scale_pitch(key, degree), 0.7);
      beat += length;
    }
  }
  return piece;
}

TestPiece test_piece_bars(const TestPiece *piece, unsigned first, unsigned n)
{
  TestPiece part = {.beats = 4.0 * n};
  for (size_t i = 0; i < piece->n; i++) {
    const TestNote *note = &piece->note[i];
    if (note->beat >= 4.0 * first && note->beat < 4.0 * (first + n)) {
      add_note(&part, note->beat - 4.0 * first, note->beats, note->pitch, note->weight);
    }
  }
  return part;
}

TestPiece test_piece_join(const TestPiece *left, double gap_beats, const TestPiece *right)
{
  TestPiece joined = {.beats = left->beats + gap_beats + right->beats};
  for (size_t i = 0; i < left->n; i++) {
    add_note(&joined, left->note[i].beat, left->note[i].beats, left->note[i].pitch, left->note[i].weight);
  }
  for (size_t i = 0; i < right->n; i++) {
    const TestNote *note = &right->note[i];
    add_note(&joined, left->beats + gap_beats + note->beat, note->beats, note->pitch, note->weight);
  }
  return joined;
}

void test_piece_free(TestPiece *piece)
{
  free(piece->note);
  *piece = (TestPiece){0};
}

double test_beat_time(const TestPlaying *playing, double beat)
{
  // the tempo sways once in about 23 and once in about 61 beats; this is its exact integral
  const double beat_s = 60.0 / playing->bpm;
  const double phase = (double)playing->seed;
  double sway = 0;
  const double period[2] = {23.0, 61.0};
  for (int k = 0; k < 2; k++) {
    const double w = 2 * pi / period[k];
    sway += 0.5 * playing->sway * (cos(phase) - cos(w * beat + phase)) / w;
  }
  return playing->lead_s + beat_s * (beat + sway);
}

/// Add one note: eight harmonics, each a rotating phasor, fading the faster the higher.
static void sound_note(TestSound *sound, const TestPlaying *playing, double start_s, double hz, double length_s,
                       double weight)
{
  const double rate = CW_ANALYSIS_RATE_HZ;
  const double attack_s = playing->attack_s > 0 ? playing->attack_s : 0.005;
  const size_t first = (size_t)(fmax(0.0, start_s) * rate) + 1;
  const size_t end = (size_t)((start_s + length_s + 0.3) * rate);
  for (int h = 1; h <= 8 && h * hz < 0.45 * rate; h++) {
    const double w = 2 * pi * h * hz / rate;
    const double fade = exp(-(0.7 + 0.4 * h) / rate);
    double level = weight / (h * sqrt(h));
    double re = 1;
    double im = 0;
    for (size_t i = first; i < end && i < sound->n; i++) {
      const double t = (double)i / rate - start_s;
      const double swell = t < attack_s ? t / attack_s : 1.0;
      const double release = t > length_s ? fmax(0.0, 1.0 - (t - length_s) / 0.1) : 1.0;
      sound->sample[i] += (float)(0.05 * level * swell * release * im);
      const double turned = re * cos(w) - im * sin(w);
      im = re * sin(w) + im * cos(w);
      re = turned;
      level *= fade;
    }
  }
}

static void add_noise(TestSound *sound, double share, uint32_t seed)
{
  float highest = 0;
  for (size_t i = 0; i < sound->n; i++) {
    highest = fmaxf(highest, fabsf(sound->sample[i]));
  }
  for (size_t i = 0; i < sound->n; i++) {
    sound->sample[i] += (float)(share * (double)highest * (2 * next_random(&seed) - 1));
  }
}

TestSound test_play(const TestPiece *piece, const TestPlaying *playing)
{
  TestSound sound = {.n = (size_t)((test_beat_time(playing, piece->beats) + 2) * CW_ANALYSIS_RATE_HZ)};
  sound.sample = calloc(sound.n, sizeof *sound.sample);
  assert_non_null(sound.sample);
  uint32_t random = playing->seed + 77;
  for (size_t i = 0; i < piece->n; i++) {
    const TestNote *note = &piece->note[i];
    const double late_s = playing->spread_s * (2 * next_random(&random) - 1);
    const double start_s = test_beat_time(playing, note->beat) + late_s;
    const double end_s = test_beat_time(playing, note->beat + note->beats);
    const double hz = 440.0 * exp2((note->pitch - 69.0 + playing->cents / 100.0) / 12.0);
    sound_note(&sound, playing, start_s, hz, end_s - start_s, note->weight);
  }
  if (playing->noise > 0) {
    add_noise(&sound, playing->noise, playing->seed + 5);
  }
  return sound;
}

CwAlignFeatures *test_measure(const TestPiece *piece, const TestPlaying *playing, size_t block)
{
  TestSound sound = test_play(piece, playing);
  CwAlignStream *stream = NULL;
  CwAlignFeatures *features = NULL;
  assert_int_equal(cw_align_stream_new(&stream), CW_OK);
  for (size_t at = 0; at < sound.n; at += block) {
    const size_t n = sound.n - at < block ? sound.n - at : block;
    assert_int_equal(cw_align_stream_push(stream, sound.sample + at, n), CW_OK);
  }
  assert_int_equal(cw_align_stream_finish(stream, &features), CW_OK);
  cw_align_stream_free(stream);
  free(sound.sample);
  return features;
}
