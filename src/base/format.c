// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/format.h"

#include <math.h>
#include <stdio.h>

const char *cw_format_fixed(char *out, size_t size, double value, int decimals)
{
  if (!(fabs(value) < 1e9)) {
    snprintf(out, size, "nan");
    return out;
  }
  long long unit = 1;
  for (int i = 0; i < decimals; i++) {
    unit *= 10;
  }
  const long long scaled = llround(fabs(value) * (double)unit);
  const char *sign = value < 0 && scaled ? "-" : "";
  if (decimals == 0) {
    snprintf(out, size, "%s%lld", sign, scaled);
  } else {
    snprintf(out, size, "%s%lld.%0*lld", sign, scaled / unit, decimals, scaled % unit);
  }
  return out;
}
