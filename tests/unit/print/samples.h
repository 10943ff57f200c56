// SPDX-License-Identifier: GPL-3.0-or-later
/// Sheets, a count line and drift made by hand, for the tests of every printed form. The pieces are invented.
#ifndef CW_TEST_SAMPLES_H
#define CW_TEST_SAMPLES_H

#include <stddef.h>

#include "countwright/count_line.h"
#include "countwright/drift.h"
#include "countwright/print.h"
#include "countwright/sheet.h"

/// A sheet and its name. All of it is static; do not release it.
typedef struct {
  const char *name;
  CwSheet sheet;
} SampleSheet;

/// Every sample sheet. @return How many.
size_t sample_sheets(const SampleSheet **samples);

/// The sample sheet of that name.
const CwSheet *sample_sheet(const char *name);

/// A sheet of `n` phrases with steps in each, for sizes. One at a time.
const CwSheet *sample_of_phrases(size_t n);

/// A sheet drawn by chance, the same for the same seed: phrases of any length, every word of their steps another.
const CwSheet *sample_random(unsigned seed);

/// A sheet with a phrase that no page can hold.
const CwSheet *sample_tall(void);

/// Two phrases and a hold between.
CwCountLine sample_line(void);

/// Drift of seven phrases, the fifth missing in b, under two headings.
const CwDriftTable *sample_drift(void);

/// Drift of 120 phrases with gaps.
const CwDriftTable *sample_long_drift(void);

/// Drift of seven phrases in `n` recordings beside the first, up to 30. One at a time.
const CwDriftTable *sample_many(size_t n);

/// Drift without phrases, summary or names.
const CwDriftTable *sample_no_drift(void);

#endif
