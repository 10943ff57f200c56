// SPDX-License-Identifier: GPL-3.0-or-later
/// @file beats.h
/// Beats and bars of a recording.
///
/// Tempo, beat phase, bar position and metre are decoded together in a bar-pointer hidden Markov model (Whiteley,
/// Cemgil, Godsill 2006; Krebs, Böck, Widmer 2015).
#ifndef COUNTWRIGHT_BEATS_H
#define COUNTWRIGHT_BEATS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/cues.h"
#include "countwright/ear.h"
#include "countwright/features.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Slowest and fastest pulse looked for, in beats a minute.
#define CW_BEATS_MIN_BPM 30.0
#define CW_BEATS_MAX_BPM 240.0

/// One beat.
typedef struct {
  double time_s;
  unsigned position; ///< place in the bar from 1 (the downbeat)
  unsigned metre;    ///< beats in its bar
  float confidence;  ///< 0 to 1: probability by the model that there is a beat within 70 ms
  bool run_start;    ///< true where a run of beats begins, after a stretch with no pulse
} CwBeat;

/// The beats of a recording, ascending in time. Release with cw_beats_free().
typedef struct {
  CwBeat *beat;
  size_t n;
  unsigned metre; ///< most common number of beats in a bar; 0 when there are no beats
  double bpm;     ///< median tempo over stretches of 8 beats; 0 when there are fewer than two beats
} CwBeats;

/// "Here is a beat": a time that the decoding must pass through, to the millisecond.
typedef struct {
  double time_s;
  bool downbeat; ///< it is also the first of a bar
} CwBeatPin;

/// What is known beforehand. Zero everything for the defaults.
typedef struct {
  double min_bpm;    ///< 0: CW_BEATS_MIN_BPM
  double max_bpm;    ///< 0: CW_BEATS_MAX_BPM
  double likely_bpm; ///< most likely tempo; 0: no opinion beyond the general one
  unsigned metre;    ///< 2 to 6 when known; 0: find it
  bool dotted;       ///< each beat divides in three, as in 6/8 counted in two: `metre` and tempos are of such beats
  unsigned left_out; ///< bits of CwCue: what the beats are to be found without
  CwEarChoice ear;   ///< what they are heard with
  const CwBeatPin
      *pin; ///< ascending in time; of two that no beats could be so near, one is left out and both are told in a notice
  size_t n_pins;
} CwBeatOptions;

/// Find beats and bars. Where there is no pulse there are no beats.
/// @param options NULL for the defaults.
/// @param[out] beats Release with cw_beats_free(); empty on error.
/// @return CW_OK, CW_ERR_TOO_SHORT (under 2 s), CW_ERR_NO_PULSE (no beat anywhere), CW_ERR_BAD_ARG, CW_ERR_CANCELLED or
/// CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_beats_find(const CwFeatures *features, const CwBeatOptions *options,
                                           const CwReport *report, CwBeats *beats);

/// Beats by aubio's tracker, as a second opinion. Bars are not found: every beat has position 1, metre 1.
/// @return As cw_audio_stream(), CW_ERR_UNSUPPORTED when built without aubio, or CW_ERR_NO_PULSE.
CW_API CW_NODISCARD CwStatus cw_beats_by_aubio(const char *path, const CwReport *report, CwBeats *beats);

/// Release and set to empty. NULL is accepted.
CW_API void cw_beats_free(CwBeats *beats);

CW_END

#endif
