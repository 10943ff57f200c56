// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase/boundaries.h"

#include <stdlib.h>

#include "countwright/phrases.h"
#include "phrase/rows.h"

enum { KERNEL_COUNTS = 8 };

CwStatus cw_boundaries_measure(const CwFeatures *features, const CwCount *count, size_t n, double *novelty)
{
  float *row = cw_rows_make(features, count, n);
  if (!row) {
    return CW_ERR_NO_MEM;
  }
  cw_novelty(row, n, CW_ROW_WIDTH, KERNEL_COUNTS, true, novelty);
  cw_standardise(novelty, n);
  free(row);
  return CW_OK;
}
