// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/expect.h"

#include "unit/cw_test.h"

bool cw_at_most(const char *recording, const char *what, double measured, double required)
{
  if (measured <= required)
    return true;
  print_error("%s: %s: measured %.4g, required at most %.4g\n", recording, what, measured, required);
  return false;
}

bool cw_at_least(const char *recording, const char *what, double measured, double required)
{
  if (measured >= required)
    return true;
  print_error("%s: %s: measured %.4g, required at least %.4g\n", recording, what, measured, required);
  return false;
}
