// SPDX-License-Identifier: GPL-3.0-or-later
/// The joint decoding of tempo, beat phase, bar position and metre.
///
/// The model is the bar-pointer model (Whiteley, Cemgil, Godsill 2006; Krebs, Böck, Widmer 2015) with tempo free to
/// change at beats only. Between beats it then runs on without choice, so it is decoded as a semi-Markov chain over
/// beats: a state is (frame of the beat, interval before it, metre and place in the bar), and the cost of a change of
/// tempo, proportional to its logarithm, is spread over all intervals by two sweeps instead of all pairs.
#ifndef CW_PULSE_DECODE_H
#define CW_PULSE_DECODE_H

#include "countwright/beats.h"
#include "countwright/report.h"
#include "countwright/status.h"
#include "ear/ear.h"
#include "pulse/activation.h"

/// A stretch without pulse lasts at least this many frames: a shorter gap is a long beat.
#define CW_QUIET_FRAMES 100

/// What the model believes beforehand. Costs are in natural-log units.
typedef struct {
  double min_bpm;
  double max_bpm;
  double likely_bpm;     ///< middle of the tempo prior
  double tempo_spread;   ///< its standard deviation in ln(bpm)
  double tempo_weight;   ///< how much a second at an unlikely tempo costs
  double change_cost;    ///< cost of a change of tempo by a factor e between two beats
  double jump_cost;      ///< cost of a change to any tempo at all
  double metre_cost;     ///< cost of a change of metre at a bar line
  double enter_cost;     ///< cost of a pulse beginning
  double offbeat_weight; ///< what an onset half-way between beats counts for
  double thirds_weight;  ///< what onsets at both thirds between beats count for
  unsigned metre;        ///< the one metre allowed, or 0
  unsigned left_out;     ///< bits of CwCue: what the evidence is made without
  const CwHeard *heard;  ///< what the learned ear hears, of as many frames as the features; NULL: the plain ear
} CwModel;

/// The model used unless something is known. It leaves out CW_CUE_LENGTH, which is for music alone
/// (cw_beats_find()).
CwModel cw_model_default(void);

/// The same for what the learned ear hears. @param heard Must outlive the model; without frames: the plain ear.
CwModel cw_model_for(const CwHeard *heard);

/// Decode.
/// @param pin Beats that must be passed through, ascending; NULL with 0.
/// @param[out] beats Times are frame times, unrefined; confidence is not set. Release with cw_beats_free().
/// @return CW_OK (with no beats where there is no pulse), CW_ERR_CANCELLED, CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_decode(const CwActivation *activation, const CwModel *model, const CwBeatPin *pin,
                                size_t n_pins, const CwReport *report, CwBeats *beats);

#endif
