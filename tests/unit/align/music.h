// SPDX-License-Identifier: GPL-3.0-or-later
/// Music made up for the tests: a seeded melody over chords, played as decaying harmonics, at any tempo.
#ifndef CW_TEST_MUSIC_H
#define CW_TEST_MUSIC_H

#include <stddef.h>
#include <stdint.h>

#include "align/features.h"

/// One note of a piece.
typedef struct {
  double beat;   ///< when it begins
  double beats;  ///< how long it is held
  int pitch;     ///< as MIDI counts
  double weight; ///< loudness, 0 to 1
} TestNote;

/// A piece in 4/4. Release with test_piece_free().
typedef struct {
  TestNote *note;
  size_t n;
  double beats;
} TestPiece;

/// Make up `bars` bars. Other seeds give other music.
TestPiece test_piece_make(uint32_t seed, unsigned bars);
/// The bars from `first` on (from 0), `n` of them, as a piece of their own.
TestPiece test_piece_bars(const TestPiece *piece, unsigned first, unsigned n);
/// `left` and then, after `gap_beats` of rest, `right`.
TestPiece test_piece_join(const TestPiece *left, double gap_beats, const TestPiece *right);
void test_piece_free(TestPiece *piece);

/// How a piece is played. Zero everything but `bpm` for the plainest way.
typedef struct {
  double bpm;      ///< mean tempo
  double sway;     ///< how far the tempo sways about it, as a share
  double lead_s;   ///< silence before the first beat
  double cents;    ///< tuning
  double noise;    ///< noise, as a share of the loudest sample
  double attack_s; ///< how long a note swells; 0: 5 ms
  double spread_s; ///< notes come early or late by up to this
  uint32_t seed;   ///< of sway, noise and spread
} TestPlaying;

/// Sound at CW_ANALYSIS_RATE_HZ.
typedef struct {
  float *sample;
  size_t n;
} TestSound;

/// When a beat falls, in seconds.
double test_beat_time(const TestPlaying *playing, double beat);
/// Play, with two seconds after the last note. Release with free(sound.sample).
TestSound test_play(const TestPiece *piece, const TestPlaying *playing);
/// Play and measure, handing the sound over in blocks of `block` samples.
CwAlignFeatures *test_measure(const TestPiece *piece, const TestPlaying *playing, size_t block);

#endif
