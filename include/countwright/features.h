// SPDX-License-Identifier: GPL-3.0-or-later
/// @file features.h
/// What is measured in a recording before any beat is looked for: onset strength and harmonic change, 100 times a
/// second, on a log-filtered spectrogram.
///
/// Onset strength follows the vibrato-tolerant flux of Böck and Widmer (Maximum filter vibrato suppression for onset
/// detection, DAFx 2013).
#ifndef COUNTWRIGHT_FEATURES_H
#define COUNTWRIGHT_FEATURES_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Frames a second of every feature. Frame `i` is centred on i / CW_FEATURE_RATE_HZ seconds.
#define CW_FEATURE_RATE_HZ 100

/// Number of log-spaced bands kept for timbre (novelty of sections).
#define CW_TIMBRE_BANDS 12

/// The features of one recording. Every array has `n_frames` rows. Release with cw_features_free().
typedef struct {
  size_t n_frames;
  double duration_s; ///< length of the recording
  float *onset;      ///< flux over all bands, not negative
  float *onset_low;  ///< flux below about 250 Hz (bass), not negative
  float *onset_high; ///< flux above about 2 kHz, not negative
  float *harmonic;   ///< change of chroma over about a third of a second, 0 to 1
  float *level_db;   ///< level of the frame in dB of full scale, at least -120
  float *chroma;     ///< n_frames / CW_CHROMA_STEP rows of 12 (C first), each of length 1 or all zero in silence
  float *timbre;     ///< as chroma, with CW_TIMBRE_BANDS columns: log band energies
  size_t n_slow;     ///< rows of chroma and timbre
} CwFeatures;

/// Frames between rows of chroma and timbre (10 a second).
#define CW_CHROMA_STEP 10

/// Measure a recording. Reads it once, in blocks; memory grows by about 70 bytes a frame.
/// @return What cw_audio_stream() returns, or CW_ERR_NO_MEM; on error `features` is empty.
CW_API CW_NODISCARD CwStatus cw_features_read(const char *path, const CwReport *report, CwFeatures *features);

/// Measure `n` mono samples at CW_ANALYSIS_RATE_HZ that are already in memory.
CW_API CW_NODISCARD CwStatus cw_features_measure(const float *samples, size_t n, CwFeatures *features);

/// Release and set to empty. NULL is accepted.
CW_API void cw_features_free(CwFeatures *features);

CW_END

#endif
