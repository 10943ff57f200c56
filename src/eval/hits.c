// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "eval/scores.h"

/// Pairing in order gives the most pairs, since the windows of later times neither begin nor end earlier. The window's
/// edges are computed as mir_eval does, so that times just at an edge fall on the same side.
CwHits cw_eval_hits(CwTimes truth, CwTimes found, double window_s)
{
  CwHits hits = {.n_true = truth.n, .n_found = found.n};
  double offsets_s = 0;
  double errors_s = 0;
  for (size_t i = 0, j = 0; i < truth.n && j < found.n;) {
    const double true_s = truth.time_s[i];
    const double found_s = found.time_s[j];
    if (true_s < found_s - window_s) {
      i++;
    } else if (true_s > found_s + window_s) {
      j++;
    } else {
      const double offset_s = found_s - true_s;
      offsets_s += offset_s;
      errors_s += fabs(offset_s);
      hits.worst_error_s = fmax(hits.worst_error_s, fabs(offset_s));
      hits.n_hit++;
      i++;
      j++;
    }
  }
  const double n = (double)hits.n_hit;
  hits.precision = found.n > 0 ? n / (double)found.n : 0;
  hits.recall = truth.n > 0 ? n / (double)truth.n : 0;
  hits.f = hits.n_hit > 0 ? 2 * hits.precision * hits.recall / (hits.precision + hits.recall) : 0;
  hits.mean_offset_s = hits.n_hit > 0 ? offsets_s / n : (double)NAN;
  hits.mean_error_s = hits.n_hit > 0 ? errors_s / n : (double)NAN;
  hits.worst_error_s = hits.n_hit > 0 ? hits.worst_error_s : (double)NAN;
  return hits;
}
