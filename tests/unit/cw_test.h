// SPDX-License-Identifier: GPL-3.0-or-later
/// cmocka with the headers that it needs before it.
#ifndef CW_TEST_H
#define CW_TEST_H

// IWYU pragma: begin_exports
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
// IWYU pragma: end_exports

#include <math.h>

#define assert_near(actual, wanted, tolerance) cw_assert_near((actual), (wanted), (tolerance), __FILE__, __LINE__)

static inline void cw_assert_near(double actual, double wanted, double tolerance, const char *file, int line)
{
  if (!(fabs(actual - wanted) <= tolerance)) {
    print_error("%s:%d: %.9g is not within %.3g of %.9g\n", file, line, actual, tolerance, wanted);
    _fail(file, line);
  }
}

#endif
