// SPDX-License-Identifier: GPL-3.0-or-later
/// Music whose beats are known, measured.
#ifndef CW_TEST_PIECES_H
#define CW_TEST_PIECES_H

#include "countwright/beats.h"
#include "unit/dsp/tones.h"

/// Chords struck on every beat, a bass note on each first, a melody above. The first beat is at `lead_s`.
Sound piece_play(double bpm, unsigned metre, size_t n_beats, double lead_s);

/// When beat `i` of piece_play() falls.
double piece_beat_s(double bpm, double lead_s, size_t i);

/// Measure; the test fails where that fails.
CwFeatures piece_measure(const Sound *sound);

/// The same with what the learned ear needs.
CwFeatures piece_measure_heard(const Sound *sound);

/// Find beats; the test fails where there are none.
CwBeats piece_find(const CwFeatures *features, const CwBeatOptions *options);

#endif
