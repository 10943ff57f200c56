// SPDX-License-Identifier: GPL-3.0-or-later
/// No meter, in a build without libebur128: levels stay as they are mixed.
#include <math.h>

#include "practice/meter.h"

CwStatus cw_meter_new(unsigned rate_hz, CwMeter **meter)
{
  (void)rate_hz;
  *meter = NULL;
  return CW_OK;
}

CwStatus cw_meter_add(CwMeter *meter, const float *sample, size_t n)
{
  (void)meter;
  (void)sample;
  (void)n;
  return CW_OK;
}

double cw_meter_lufs(const CwMeter *meter)
{
  (void)meter;
  return NAN;
}

double cw_meter_peak_dbtp(const CwMeter *meter)
{
  (void)meter;
  return NAN;
}

void cw_meter_free(CwMeter *meter)
{
  (void)meter;
}
