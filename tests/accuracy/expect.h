// SPDX-License-Identifier: GPL-3.0-or-later
/// A measured figure against the figure that is required of it.
#ifndef CW_TEST_EXPECT_H
#define CW_TEST_EXPECT_H

#include <stdbool.h>

/// Whether `measured` is at most `required`; says both if not. NaN is not.
bool cw_at_most(const char *recording, const char *what, double measured, double required);

/// Whether `measured` is at least `required`; says both if not. NaN is not.
bool cw_at_least(const char *recording, const char *what, double measured, double required);

#endif
