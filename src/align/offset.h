// SPDX-License-Identifier: GPL-3.0-or-later
/// How much later notes are heard in one recording than in the other though they begin together: bowed strings swell
/// where a piano strikes.
#ifndef CW_ALIGN_OFFSET_H
#define CW_ALIGN_OFFSET_H

#include "align/guide.h"

/// What unequal swelling does.
typedef struct {
  double late_s;  ///< how much later b's attacks are found than a's, though the notes begin together
  double heard_s; ///< how much later b's notes come to half their strength
} CwOffset;

/// Compare the swells of paired attacks.
/// @param[out] offset Zero when there are too few pairs, or next to no difference.
void cw_offset_estimate(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, const CwGuide *guide,
                        size_t n, CwOffset *offset);

#endif
