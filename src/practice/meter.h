// SPDX-License-Identifier: GPL-3.0-or-later
/// Loudness by EBU R 128 (ITU-R BS.1770) and true peak, of one channel.
#ifndef CW_PRACTICE_METER_H
#define CW_PRACTICE_METER_H

#include <stddef.h>

#include "countwright/status.h"

typedef struct CwMeter CwMeter;

/// @param[out] meter Release with cw_meter_free(); NULL on error, and in a build without a meter.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_meter_new(unsigned rate_hz, CwMeter **meter);

/// @param meter NULL measures nothing. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_meter_add(CwMeter *meter, const float *sample, size_t n);

/// Integrated loudness in LUFS; NaN where there is nothing to be measured.
double cw_meter_lufs(const CwMeter *meter);

/// Highest true peak in dBTP; NaN where there is nothing to be measured.
double cw_meter_peak_dbtp(const CwMeter *meter);

/// Release. NULL is accepted.
void cw_meter_free(CwMeter *meter);

#endif
