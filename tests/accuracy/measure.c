// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/measure.h"

#include <math.h>
/// Pair the times off in order. For ascending times and one tolerance this finds the most pairs.
CwScore cw_score(const double *truth_s, size_t n_true, const double *found_s, size_t n_found, double tolerance_s)
{
  CwScore score = {.n_true = n_true, .n_found = n_found};
  double sum = 0;
  for (size_t i = 0, j = 0; i < n_true && j < n_found;) {
    double error = found_s[j] - truth_s[i];
    if (error < -tolerance_s) {
      j++;
    } else if (error > tolerance_s) {
      i++;
    } else {
      sum += fabs(error);
      score.greatest_error_s = fmax(score.greatest_error_s, fabs(error));
      score.n_hit++;
      i++;
      j++;
    }
  }
  double hits = (double)score.n_hit;
  score.recall = n_true > 0 ? hits / (double)n_true : 1;
  score.precision = n_found > 0 ? hits / (double)n_found : 1;
  score.f = n_true + n_found > 0 ? 2 * hits / (double)(n_true + n_found) : 1;
  score.mean_error_s = hits > 0 ? sum / hits : 0;
  return score;
}
