// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/axis.h"

#include <math.h>

/// The least of 1, 2, 5, 10 times a power of ten that is not below `size`.
static double round_step(double size)
{
  const double power = pow(10, floor(log10(size)));
  const double times[] = {1, 2, 5};
  for (int i = 0; i < 3; i++) {
    if (times[i] * power >= size * (1 - 1e-9)) {
      return times[i] * power;
    }
  }
  return 10 * power;
}

static CwAxis axis_from_step(double low, double high, double step)
{
  const double digits = ceil(-log10(step) - 1e-9);
  return (CwAxis){floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step, step,
                  digits > 0 ? (int)fmin(digits, 9) : 0};
}

CwAxis cw_axis(double low, double high, unsigned most)
{
  if (!isfinite(low) || !isfinite(high)) {
    low = 0;
    high = 1;
  }
  if (!(high - low > 1e-6)) {
    low -= 1;
    high += 1;
  }
  return axis_from_step(low, high, round_step((high - low) / most));
}

CwAxis cw_axis_whole(double low, double high, unsigned most)
{
  CwAxis axis = cw_axis(low, high, most);
  return axis.step < 1 ? axis_from_step(low, high, 1) : axis;
}
