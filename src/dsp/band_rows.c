// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/band_rows.h"

#include <string.h>

#define MERGE_HZ 1000.0

size_t cw_merge_bands(const CwFilterBank *bank, const float *bands, float *merged)
{
  size_t n = 0;
  size_t b = 0;
  memset(merged, 0, CW_HEARD_BANDS * sizeof *merged);
  for (; b < bank->n_bands && bank->band[b].centre_hz < MERGE_HZ && n < CW_HEARD_BANDS; b++) {
    merged[n++] = bands[b];
  }
  for (; b < bank->n_bands && n < CW_HEARD_BANDS; b += 2) {
    merged[n++] = b + 1 < bank->n_bands ? 0.5F * (bands[b] + bands[b + 1]) : bands[b];
  }
  return n;
}

static void make_row(const CwBandRows *rows, const float *after, unsigned char *row)
{
  for (size_t b = 0; b < CW_HEARD_BANDS; b++) {
    const float mean = 0.25F * rows->before[b] + 0.5F * rows->here[b] + 0.25F * after[b];
    row[b] = (unsigned char)(CW_HEARD_SCALE * mean + 0.5F);
  }
}

bool cw_band_rows_push(CwBandRows *rows, const CwFilterBank *bank, const float *bands, unsigned char *row)
{
  float merged[CW_HEARD_BANDS];
  cw_merge_bands(bank, bands, merged);
  const size_t i = rows->n++;
  if (i == 0) {
    memcpy(rows->before, merged, sizeof merged);
  }
  if (i % 2 == 0) {
    memcpy(rows->here, merged, sizeof merged);
    return false;
  }
  make_row(rows, merged, row);
  memcpy(rows->before, merged, sizeof merged);
  return true;
}

bool cw_band_rows_finish(CwBandRows *rows, unsigned char *row)
{
  if (rows->n % 2 == 0) {
    return false;
  }
  make_row(rows, rows->here, row);
  rows->n++;
  return true;
}
