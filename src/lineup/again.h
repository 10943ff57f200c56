// SPDX-License-Identifier: GPL-3.0-or-later
/// Other notes lined up with music that was looked at already, to see how well they fit.
#ifndef CW_LINEUP_AGAIN_H
#define CW_LINEUP_AGAIN_H

#include "countwright/features.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "lineup/kept.h"
#include "lineup/plan.h"

/// The music, as it was looked at. Release with cw_again_free().
typedef struct {
  const CwFeatures *features;
  const CwReport *report;
  CwKept kept;
  double beats_per_count; ///< 0: as the notes say
  bool without_pins;
  float *beat, *accent; ///< of the coarse sight
  double *sounding;
  size_t n; ///< frames of it
} CwAgain;

/// Where notes fall. Release with cw_fall_free().
typedef struct {
  CwPlan plan;
  double *time_s; ///< of the plan's counts
  size_t n_found; ///< counts that have a time
  double score;   ///< ln of how much likelier the music is with these counts than without any, but for a constant
} CwFall;

/// Take over what was kept and prepare the coarse sight. @param kept Emptied.
CW_NODISCARD CwStatus cw_again_init(CwAgain *again, const CwFeatures *features, CwKept *kept);

/// Line notes up. @param fine Also search finely around what is found coarsely.
/// @param[out] fall Empty on error. @return CW_OK, CW_ERR_NO_PULSE, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_again_follow(const CwAgain *again, const CwNotebook *notebook, bool fine, CwFall *fall);

void cw_fall_free(CwFall *fall);
void cw_again_free(CwAgain *again);

#endif
