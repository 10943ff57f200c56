// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/demo.h"

#include "unit/cw_test.h"

bool cw_demo_align(CwTimeMap *map)
{
  CwAlignFeatures *a = NULL, *b = NULL;
  bool good = cw_align_features_read(CW_DEMO_REHEARSAL, NULL, &a) == CW_OK &&
              cw_align_features_read(CW_DEMO_PERFORMANCE, NULL, &b) == CW_OK && cw_align(a, b, NULL, map) == CW_OK;
  cw_align_features_free(a);
  cw_align_features_free(b);
  return good;
}

double cw_demo_count_error(const char *what, const CwCountLine *line, const CwCountLine *truth)
{
  if (line->n_counts != truth->n_counts) {
    print_error("%s: %zu counts, wanted %zu\n", what, line->n_counts, truth->n_counts);
    return NAN;
  }
  double sum = 0, shift = 0, greatest = 0;
  for (size_t i = 0; i < line->n_counts; i++) {
    double error = line->count_s[i] - truth->count_s[i];
    sum += fabs(error);
    shift += error;
    greatest = fmax(greatest, fabs(error));
  }
  double n = (double)line->n_counts;
  print_message("%s: mean error %.1f ms, mean shift %.1f ms, greatest error %.1f ms\n", what, 1000 * sum / n,
                1000 * shift / n, 1000 * greatest);
  return sum / n;
}
