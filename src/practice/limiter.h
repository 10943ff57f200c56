// SPDX-License-Identifier: GPL-3.0-or-later
/// Keeps peaks, those between samples too, under a ceiling, by turning down what is around them for a moment.
#ifndef CW_PRACTICE_LIMITER_H
#define CW_PRACTICE_LIMITER_H

#include <stddef.h>

#include "countwright/status.h"

typedef struct CwLimiter CwLimiter;

/// @param gain Applied first. @param ceiling Highest true peak that comes out, 1 is full scale.
/// @param[out] limiter Release with cw_limiter_free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_limiter_new(unsigned rate_hz, double gain, double ceiling, CwLimiter **limiter);

/// Samples by which what comes out is late.
size_t cw_limiter_delay(const CwLimiter *limiter);

/// Run `n` samples through, in place.
void cw_limiter_run(CwLimiter *limiter, float *sample, size_t n);

/// The lowest gain so far, without that of cw_limiter_new(): 1 where nothing had to be turned down.
double cw_limiter_least(const CwLimiter *limiter);

/// Release. NULL is accepted.
void cw_limiter_free(CwLimiter *limiter);

#endif
