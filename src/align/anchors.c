// SPDX-License-Identifier: GPL-3.0-or-later
// The last step: attacks that belong together by the guide say to a millisecond or two where it should run.
#include <math.h>

#include "align/refine.h"

static const double outlier_s = 0.04;
/// What the guide so far says about each frame, against attacks' strengths of up to 1.
static const double guide_weight = 1e-4;

/// Let the attacks of b near `attack` say where its frame lies.
static void add_partners(const CwAttack *attack, const CwAlignFeatures *b, int transpose, double reach_s,
                         const CwGuide *guide, CwEvidence *evidence)
{
  const double wanted_s = cw_guide_at(guide, attack->time_s);
  const size_t i = (size_t)lround(attack->time_s * CW_ALIGN_RATE_HZ) - guide->first;
  const double to_frame_s = guide->b_s[i] - wanted_s;
  for (size_t k = cw_attacks_from(&b->attacks, wanted_s - reach_s); k < b->attacks.n; k++) {
    const CwAttack *other = &b->attacks.attack[k];
    const double distance = (other->time_s - wanted_s) / reach_s;
    if (distance >= 2) {
      break;
    }
    if (fabs(distance) < 1 && other->semitone - transpose == attack->semitone) {
      const double nearness = (1 - distance * distance) * (1 - distance * distance);
      cw_evidence_add(evidence, i, other->time_s + to_frame_s, nearness * (double)(attack->strength * other->strength));
    }
  }
}

CwStatus cw_refine_by_attacks(const CwAlignFeatures *a, const CwAlignFeatures *b, int transpose, double reach_s,
                              double stiffness, CwGuide *guide)
{
  CwEvidence evidence;
  if (cw_evidence_init(guide->n, &evidence)) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < guide->n; i++) {
    cw_evidence_add(&evidence, i, guide->b_s[i], guide_weight);
  }
  const double start_s = (double)guide->first / CW_ALIGN_RATE_HZ;
  const double end_s = (double)(guide->first + guide->n - 1) / CW_ALIGN_RATE_HZ;
  for (size_t k = cw_attacks_from(&a->attacks, start_s); k < a->attacks.n; k++) {
    const CwAttack *attack = &a->attacks.attack[k];
    if (attack->time_s >= start_s && attack->time_s <= end_s) {
      add_partners(attack, b, transpose, reach_s, guide, &evidence);
    }
  }
  const CwStatus status = cw_guide_bend(guide, &evidence, stiffness, outlier_s);
  cw_evidence_free(&evidence);
  return status;
}
