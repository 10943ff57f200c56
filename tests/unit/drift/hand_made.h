// SPDX-License-Identifier: GPL-3.0-or-later
/// Count lines and time maps made by hand.
#ifndef CW_TEST_HAND_MADE_H
#define CW_TEST_HAND_MADE_H

#include "countwright/drift.h"
#include "unit/cw_test.h"

/// `n` phrases of eight counts, half a second a count, from 10 s on.
static inline CwCountLine even_line(unsigned n)
{
  CwCountLine line;
  cw_count_line_init(&line, 10.0 + 4.0 * n + 5.0);
  line.metre = 4;
  line.beats_per_count = 2.0;
  for (unsigned p = 0; p < n; p++) {
    double count_s[8];
    for (unsigned c = 0; c < 8; c++) {
      count_s[c] = 10.0 + 4.0 * p + 0.5 * c;
    }
    assert_int_equal(cw_count_line_add(&line, count_s, 8, 10.0 + 4.0 * (p + 1), 0.75), CW_OK);
  }
  return line;
}

/// A time map from lists of points; a segment for each list.
#define MAP(...)                                                                                                       \
  (CwTimeMap)                                                                                                          \
  {                                                                                                                    \
    .segment = (CwMapSegment[]){__VA_ARGS__},                                                                          \
    .n_segments = sizeof((CwMapSegment[]){__VA_ARGS__}) / sizeof(CwMapSegment), .a_duration_s = 60,                    \
    .b_duration_s = 100                                                                                                \
  }
#define SEGMENT(...)                                                                                                   \
  {                                                                                                                    \
    .point = (CwMapPoint[]){__VA_ARGS__}, .n = sizeof((CwMapPoint[]){__VA_ARGS__}) / sizeof(CwMapPoint)                \
  }

#endif
