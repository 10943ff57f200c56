// SPDX-License-Identifier: GPL-3.0-or-later
/// What the tests of the demo dance share.
#ifndef CW_TEST_DEMO_H
#define CW_TEST_DEMO_H

#include <stdbool.h>

#include "countwright/align.h"
#include "countwright/count_line.h"

#define CW_DEMO_REHEARSAL CW_FIXTURES "/demo-rehearsal.ogg"
#define CW_DEMO_PERFORMANCE CW_FIXTURES "/demo-performance.ogg"
#define CW_DEMO_NOTES CW_FIXTURES "/demo.txt"

/// Align the performance to the rehearsal. @return false when it fails.
bool cw_demo_align(CwTimeMap *map);

/// Mean distance in seconds between the counts of `line` and those of `truth`, which must be as many; NaN if not.
double cw_demo_count_error(const char *what, const CwCountLine *line, const CwCountLine *truth);

#endif
