// SPDX-License-Identifier: GPL-3.0-or-later
/// The meter of libebur128.
#include <ebur128.h>
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "practice/meter.h"

struct CwMeter {
  ebur128_state *state;
};

CwStatus cw_meter_new(unsigned rate_hz, CwMeter **meter)
{
  *meter = NULL;
  CwMeter *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  // with a histogram, memory does not grow with length
  made->state = ebur128_init(1, rate_hz, EBUR128_MODE_I | EBUR128_MODE_TRUE_PEAK | EBUR128_MODE_HISTOGRAM);
  if (!made->state) {
    free(made);
    return CW_ERR_NO_MEM;
  }
  *meter = made;
  return CW_OK;
}

CwStatus cw_meter_add(CwMeter *meter, const float *sample, size_t n)
{
  return !meter || ebur128_add_frames_float(meter->state, sample, n) == EBUR128_SUCCESS ? CW_OK : CW_ERR_NO_MEM;
}

double cw_meter_lufs(const CwMeter *meter)
{
  double lufs = NAN;
  if (!meter || ebur128_loudness_global(meter->state, &lufs) != EBUR128_SUCCESS || !isfinite(lufs)) {
    return NAN;
  }
  return lufs;
}

double cw_meter_peak_dbtp(const CwMeter *meter)
{
  double peak = 0;
  if (!meter || ebur128_true_peak(meter->state, 0, &peak) != EBUR128_SUCCESS || !(peak > 0)) {
    return NAN;
  }
  return 20 * log10(peak);
}

void cw_meter_free(CwMeter *meter)
{
  if (meter) {
    ebur128_destroy(&meter->state);
    free(meter);
  }
}
