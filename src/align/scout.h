// SPDX-License-Identifier: GPL-3.0-or-later
/// What must be known of a recording ahead of measuring it: how it is tuned and how loud it is.
///
/// The scout looks at a piece of sound five times a second and keeps running sums, so that it can run some way ahead of
/// the measuring and neither needs the whole recording.
#ifndef CW_ALIGN_SCOUT_H
#define CW_ALIGN_SCOUT_H

#include <stddef.h>

#include "align/spectrum.h"

/// Samples between looks, at CW_ANALYSIS_RATE_HZ.
#define CW_SCOUT_STEP 4410
/// Samples needed on each side of a look's centre.
#define CW_SCOUT_REACH 4096

enum { CW_SCOUT_LEVELS = 160 };

/// Sums over the looks so far.
typedef struct {
  CwAlignSpectrum spectrum;
  double tuning_re, tuning_im;   ///< magnitude-weighted sum of the peaks' cents as angles
  double level[CW_SCOUT_LEVELS]; ///< how many looks had their maximum that many dB below full scale
  double looks;
} CwScout;

/// Set up. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_scout_init(CwScout *scout);

/// Look at the sound about `centre`.
void cw_scout_look(CwScout *scout, const float *centre);

/// How far the tuning lies above A = 440 Hz, in cents, -50 to 50; 0 when nothing was heard.
double cw_scout_tuning(const CwScout *scout);

/// The power that the loudest twentieth of the looks reach at their maximum; above 0 even in silence.
float cw_scout_reference(const CwScout *scout);

/// Release. Safe on a zeroed CwScout.
void cw_scout_free(CwScout *scout);

#endif
