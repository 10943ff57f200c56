// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/pulse/pieces.h"

#include "unit/cw_test.h"

double piece_beat_s(double bpm, double lead_s, size_t i)
{
  return lead_s + 60.0 / bpm * (double)i;
}

Sound piece_play(double bpm, unsigned metre, size_t n_beats, double lead_s)
{
  static const double root[] = {48, 53, 55, 48, 45, 50, 55, 48};
  static const double melody[] = {76, 74, 77, 72, 79, 76, 74, 71, 72, 77, 76};
  const double beat_s = 60.0 / bpm;
  Sound sound = sound_new(piece_beat_s(bpm, lead_s, n_beats) + 1.0);
  for (size_t i = 0; i < n_beats; i++) {
    const double at_s = piece_beat_s(bpm, lead_s, i);
    const double chord = root[i / metre % 8];
    if (i % metre == 0) {
      add_struck_note(&sound, chord - 12, 0.25, at_s, at_s + metre * beat_s);
    } else {
      add_struck_note(&sound, chord + 12, 0.08, at_s, at_s + 0.9 * beat_s);
      add_struck_note(&sound, chord + 19, 0.08, at_s, at_s + 0.9 * beat_s);
    }
    add_struck_note(&sound, melody[i % 11], 0.1, at_s, at_s + 0.9 * beat_s);
  }
  return sound;
}

CwFeatures piece_measure_heard(const Sound *sound)
{
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound->sample, sound->n, &features), CW_OK);
  return features;
}

CwFeatures piece_measure(const Sound *sound)
{
  CwFeatures features = piece_measure_heard(sound);
  features.n_heard = 0; // plain tones: nothing for the learned ear
  return features;
}

CwBeats piece_find(const CwFeatures *features, const CwBeatOptions *options)
{
  CwBeats beats;
  assert_int_equal(cw_beats_find(features, options, NULL, &beats), CW_OK);
  assert_true(beats.n > 0);
  return beats;
}
