// SPDX-License-Identifier: GPL-3.0-or-later
/// From a piece of sound to the power in each semitone, for the harmony and for the attacks.
///
/// Long windows tell low notes apart; short ones tell when a note begins. The lowest notes are taken from the sound at
/// a twenty-first of the rate, where a long window costs little.
#ifndef CW_ALIGN_SEMITONES_H
#define CW_ALIGN_SEMITONES_H

#include <stddef.h>

#include "align/spectrum.h"

/// Lowest note, as MIDI counts them (C1, 32.7 Hz), and how many semitones are measured (up to F#7).
#define CW_LOWEST_NOTE 24
#define CW_N_SEMITONES 79
/// Samples of the full rate that one sample of the slow sound stands for.
#define CW_DEEP_STEP 21
/// Samples of the slow sound needed on each side of a frame's centre.
#define CW_DEEP_REACH 195
/// Samples of the full rate needed on each side of a frame's centre.
#define CW_SEMITONES_REACH 2048

/// Triangular weights over the bins of one spectrum, one triangle a semitone.
typedef struct {
  size_t first_band;
  size_t n_bands;
  size_t first_bin[CW_N_SEMITONES];
  size_t n_bins[CW_N_SEMITONES];
  size_t offset[CW_N_SEMITONES]; ///< of its first weight
  float *weight;
} CwSemitoneBank;

/// The spectra and banks of one recording.
typedef struct {
  CwAlignSpectrum slow, middle, quick;
  CwSemitoneBank slow_tone, middle_tone, middle_attack, quick_attack;
} CwSemitones;

/// Set up, tuned to A = 440 Hz. @return CW_OK or CW_ERR_NO_MEM (nothing then needs releasing).
CW_NODISCARD CwStatus cw_semitones_init(CwSemitones *bands);

/// Move every band up by `cents`.
void cw_semitones_tune(CwSemitones *bands, double cents);

/// Measure the harmony about one moment, with long windows.
/// @param centre Sound at CW_ANALYSIS_RATE_HZ, readable CW_SEMITONES_REACH samples to either side.
/// @param slow_centre The slow sound about the same moment, readable CW_DEEP_REACH samples to either side.
/// @param[out] power Of each semitone; a full-scale sine has about 1.
void cw_semitones_tone(CwSemitones *bands, const float *centre, const float *slow_centre, float power[CW_N_SEMITONES]);

/// The same with short windows, for attacks.
void cw_semitones_attack(CwSemitones *bands, const float *centre, float power[CW_N_SEMITONES]);

/// Release. Safe on a zeroed CwSemitones.
void cw_semitones_free(CwSemitones *bands);

#endif
