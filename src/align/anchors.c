// SPDX-License-Identifier: GPL-3.0-or-later
// The last step: attacks that belong together by the guide say to a millisecond or two where it should run.
#include <math.h>
#include <stdbool.h>

#include "align/refine.h"

static const double outlier_s = 0.04;
/// What the guide so far says about each frame, against attacks' strengths of up to 1.
static const double guide_weight = 1e-4;

/// How near two attacks are by the guide: 1 where they meet, 0 from the reach on.
static double nearness(double apart_s, double reach_s)
{
  const double distance = apart_s / reach_s;
  return fabs(distance) < 1 ? (1 - distance * distance) * (1 - distance * distance) : 0;
}

/// The attacks of b that may be one of a: of its semitone and near it by the guide.
typedef struct {
  const CwAlignFeatures *b;
  int semitone;
  double wanted_s;
  double reach_s;
} Partners;

/// The next partner from index `k` on; `n` when there is none.
static size_t next_partner(const Partners *partners, size_t k)
{
  const CwAttacks *attacks = &partners->b->attacks;
  while (k < attacks->n && attacks->attack[k].semitone != partners->semitone) {
    k++;
  }
  const bool near = k < attacks->n && attacks->attack[k].time_s < partners->wanted_s + partners->reach_s;
  return near ? k : attacks->n;
}

/// Let the attacks of b near `attack` say where its frame lies. Of several, as in a trill, the nearest say most.
static void add_partners(const CwAttack *attack, const CwAlignFeatures *b, int transpose, double reach_s,
                         const CwGuide *guide, CwEvidence *evidence)
{
  const double wanted_s = cw_guide_at(guide, attack->time_s);
  const size_t i = (size_t)lround(attack->time_s * CW_ALIGN_RATE_HZ) - guide->first;
  const double to_frame_s = guide->b_s[i] - wanted_s;
  const Partners partners = {b, attack->semitone + transpose, wanted_s, reach_s};
  const size_t first = next_partner(&partners, cw_attacks_from(&b->attacks, wanted_s - reach_s));
  double sum = 0;
  for (size_t k = first; k < b->attacks.n; k = next_partner(&partners, k + 1)) {
    sum += nearness(b->attacks.attack[k].time_s - wanted_s, reach_s);
  }
  for (size_t k = first; k < b->attacks.n; k = next_partner(&partners, k + 1)) {
    const CwAttack *other = &b->attacks.attack[k];
    const double near = nearness(other->time_s - wanted_s, reach_s);
    const double share = sum > 0 ? near / sum : 0;
    cw_evidence_add(evidence, i, other->time_s + to_frame_s,
                    near * share * (double)(attack->strength * other->strength));
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
