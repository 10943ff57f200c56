// SPDX-License-Identifier: GPL-3.0-or-later
/// The decoding under the notes: when each count of a plan falls, given how the music looks.
///
/// The same model as in pulse/decode.h, but the notes say how many counts there are and which beat of the bar each one
/// is; so the states are (count, frame, tempo), each count within a band of frames, and the number of counts settles
/// double and half tempo.
#ifndef CW_LINEUP_FOLLOW_H
#define CW_LINEUP_FOLLOW_H

#include "countwright/report.h"
#include "countwright/status.h"
#include "lineup/plan.h"

/// How the music looks at one rate of frames.
typedef struct {
  double rate_hz;
  size_t n;
  const float *beat;      ///< log-odds of a beat at each frame
  const float *accent;    ///< how accented each frame is, in spreads
  const double *sounding; ///< n + 1 values: seconds of sound before each frame
  float offbeat_weight;   ///< what an onset within a beat counts for
} CwSight;

/// Where each count may lie, and how finely tempo is told apart.
typedef struct {
  const size_t *first; ///< by count: first frame of its band
  size_t width;        ///< frames of every band
  double tempo_ratio;  ///< between neighbouring tempos, over 1
  double likely_s;     ///< seconds that a count lasts on the whole; the search keeps near
  double spread;       ///< standard deviation of ln(seconds of a count) around that
} CwBands;

// The fine search: of the whole line-up, and of a session near a pin.
#define CW_FINE_RATIO 1.02  ///< between neighbouring tempos
#define CW_FINE_REACH_S 0.6 ///< on each side of where a count was found roughly
#define CW_TEMPO_SPREAD 0.4 ///< of ln(seconds of a count) within a piece

/// Find the times of the counts.
/// @param[out] time_s plan->n values; NaN for those after the last phrase for which there is music.
/// @param[out] n_found Counts that have a time: all, or up to the end of a phrase.
/// @return CW_OK, CW_ERR_NO_PULSE when no path fits the bands, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_follow(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const CwReport *report,
                                double *time_s, size_t *n_found);

/// The same. @param[out] score Of the path: the logarithm of how much likelier it is than none, but for a constant.
CW_NODISCARD CwStatus cw_follow_scored(const CwPlan *plan, const CwSight *sight, const CwBands *bands,
                                       const CwReport *report, double *time_s, size_t *n_found, double *score);

#endif
