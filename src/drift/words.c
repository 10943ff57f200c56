// SPDX-License-Identifier: GPL-3.0-or-later
#include "drift/words.h"

#include <stdio.h>

#include "countwright/time_text.h"

void cw_drift_phrases(const CwDrift *drift, size_t first, size_t last, char out[CW_WORDS])
{
  if (first == last) {
    snprintf(out, CW_WORDS, "phrase %u", drift->row[first].number);
  } else {
    snprintf(out, CW_WORDS, "phrases %u-%u", drift->row[first].number, drift->row[last].number);
  }
}

void cw_drift_span(double from_s, double to_s, char out[CW_WORDS])
{
  char from[24];
  char to[24];
  cw_format_time(from_s, from);
  cw_format_time(to_s, to);
  snprintf(out, CW_WORDS, "%s to %s", from, to);
}
