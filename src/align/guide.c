// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/guide.h"

#include <stdlib.h>
#include <string.h>

#include "align/curve.h"
#include "base/memory.h"

/// The pace of b against a outside a guide is kept within these.
static const double slowest = 0.3;
static const double fastest = 3.0;

CwStatus cw_evidence_init(size_t n, CwEvidence *evidence)
{
  *evidence = (CwEvidence){cw_new(n, sizeof(double)), cw_new(n, sizeof(double))};
  if (!evidence->b_s || !evidence->weight) {
    cw_evidence_free(evidence);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

void cw_evidence_add(CwEvidence *evidence, size_t i, double b_s, double weight)
{
  if (weight <= 0) {
    return;
  }
  evidence->weight[i] += weight;
  evidence->b_s[i] += (b_s - evidence->b_s[i]) * weight / evidence->weight[i];
}

void cw_evidence_free(CwEvidence *evidence)
{
  free(evidence->b_s);
  free(evidence->weight);
  memset(evidence, 0, sizeof *evidence);
}

CwStatus cw_guide_bend(CwGuide *guide, const CwEvidence *evidence, double stiffness, double outlier_s)
{
  double *difference = cw_new(2 * guide->n, sizeof *difference);
  if (!difference) {
    return CW_ERR_NO_MEM;
  }
  double *curve = difference + guide->n;
  for (size_t i = 0; i < guide->n; i++) {
    difference[i] = evidence->weight[i] > 0 ? evidence->b_s[i] - guide->b_s[i] : 0;
  }
  const CwStatus status = cw_curve_fit(difference, evidence->weight, guide->n, stiffness, outlier_s, curve);
  for (size_t i = 0; i < guide->n && !status; i++) {
    guide->b_s[i] += curve[i];
  }
  free(difference);
  return status;
}

static double clamp(double value, double low, double high)
{
  return value < low ? low : value > high ? high : value;
}

/// Seconds of b to a frame of a, from frame `from` to frame `to`.
static double pace(const CwGuide *guide, size_t from, size_t to)
{
  const double seconds = (guide->b_s[to] - guide->b_s[from]) / (double)(to - from);
  return clamp(seconds * CW_ALIGN_RATE_HZ, slowest, fastest) / CW_ALIGN_RATE_HZ;
}

double cw_guide_at(const CwGuide *guide, double a_s)
{
  const double place = a_s * CW_ALIGN_RATE_HZ - (double)guide->first;
  const size_t last = guide->n - 1;
  const size_t second = last < CW_ALIGN_RATE_HZ ? last : CW_ALIGN_RATE_HZ;
  if (place < 0) {
    return guide->b_s[0] + place * pace(guide, 0, second);
  }
  if (place >= (double)last) {
    return guide->b_s[last] + (place - (double)last) * pace(guide, last - second, last);
  }
  const size_t left = (size_t)place;
  return guide->b_s[left] + (place - (double)left) * (guide->b_s[left + 1] - guide->b_s[left]);
}

double cw_guide_back(const CwGuide *guide, double b_s)
{
  const size_t last = guide->n - 1;
  const size_t second = last < CW_ALIGN_RATE_HZ ? last : CW_ALIGN_RATE_HZ;
  double place = 0;
  if (b_s <= guide->b_s[0]) {
    place = (b_s - guide->b_s[0]) / pace(guide, 0, second);
  } else if (b_s >= guide->b_s[last]) {
    place = (double)last + (b_s - guide->b_s[last]) / pace(guide, last - second, last);
  } else {
    size_t low = 0;
    size_t high = last;
    while (high - low > 1) {
      const size_t middle = low + (high - low) / 2;
      if (guide->b_s[middle] <= b_s) {
        low = middle;
      } else {
        high = middle;
      }
    }
    place = (double)low + (b_s - guide->b_s[low]) / (guide->b_s[high] - guide->b_s[low]);
  }
  return ((double)guide->first + place) / CW_ALIGN_RATE_HZ;
}

void cw_guide_free(CwGuide *guide)
{
  free(guide->b_s);
  memset(guide, 0, sizeof *guide);
}
