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

/// Values a second of the attack envelope.
#define CW_ATTACK_RATE_HZ 400

/// Frames between rows of chroma and timbre (10 rows a second).
#define CW_SLOW_STEP 10

/// Columns of a timbre row: log energy in log-spaced bands.
#define CW_TIMBRE_BANDS 12

/// Columns, rows a second and steps of 1 of what the learned ear hears.
#define CW_HEARD_BANDS 63
#define CW_HEARD_RATE_HZ 50
#define CW_HEARD_SCALE 24.0F

/// The features of one recording. Arrays have `n_frames` values unless stated. Release with cw_features_free().
typedef struct {
  size_t n_frames;
  double duration_s;  ///< length of the recording
  float *onset;       ///< flux over all bands, not negative
  float *onset_slow;  ///< rise between means over 50 ms, for slow attacks such as those of strings
  float *onset_low;   ///< flux below about 250 Hz (bass), not negative
  float *onset_high;  ///< flux above about 2 kHz, not negative
  float *harmonic;    ///< how much harmony changes here: 0 (the same) to 1; chroma before against chroma after
  float *bass_change; ///< the same for the notes below about 250 Hz
  float *level_db;    ///< level in dB of full scale, at least -120
  float *attack;      ///< n_attack values: root mean square of the brightened signal, for placing beats finely
  size_t n_attack;    ///< CW_ATTACK_RATE_HZ a second; value i covers the time from i / rate to (i + 1) / rate
  float *chroma;      ///< n_slow rows of 12 (C first), each of length 1, or all zero in silence
  float *timbre;      ///< n_slow rows of CW_TIMBRE_BANDS
  float *steadiness;  ///< n_slow values, 0 to 1: share of the spectral peaks that stay in place for 100 ms
  size_t n_slow;
  unsigned char *heard; ///< n_heard rows of CW_HEARD_BANDS, for the learned ear: compressed bands times CW_HEARD_SCALE
  size_t n_heard;       ///< CW_HEARD_RATE_HZ a second, row i centred on i / rate s; 0 when not measured from sound
} CwFeatures;

/// Measure a recording. Reads it once, in blocks; memory grows by about 87 bytes a frame (31 MB an hour).
/// @return What cw_audio_stream() returns, or CW_ERR_NO_MEM; on error `features` is empty.
CW_API CW_NODISCARD CwStatus cw_features_read(const char *path, const CwReport *report, CwFeatures *features);

/// Measure `n` mono samples at CW_ANALYSIS_RATE_HZ that are already in memory.
CW_API CW_NODISCARD CwStatus cw_features_measure(const float *samples, size_t n, CwFeatures *features);

/// Release and set to empty. NULL is accepted.
CW_API void cw_features_free(CwFeatures *features);

CW_END

#endif
