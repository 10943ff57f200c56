// SPDX-License-Identifier: GPL-3.0-or-later
/// Music slower or faster at the same pitch, along a curve: what lies at a time of the source comes out at the time that
/// the curve gives it.
#ifndef CW_PRACTICE_STRETCH_H
#define CW_PRACTICE_STRETCH_H

#include <stddef.h>

#include "countwright/status.h"
#include "practice/pace.h"

/// Hands out the source. @param from First sample, which may lie before its beginning or past its end: silence.
typedef CwStatus (*CwSourceRead)(void *user, long long from, float *out, size_t n);

typedef struct CwStretch CwStretch;

/// @param pace Must outlive the stretch. @param from_s Where in the source to begin.
/// @param[out] stretch Release with cw_stretch_free(); NULL on error.
/// @return CW_OK, CW_ERR_UNSUPPORTED (built without a stretcher) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_stretch_new(unsigned rate_hz, const CwPaceCurve *pace, double from_s, CwSourceRead read,
                                     void *user, CwStretch **stretch);

/// The next `n` samples. @return CW_OK, CW_ERR_NO_MEM or what the source returned.
CW_NODISCARD CwStatus cw_stretch_read(CwStretch *stretch, float *out, size_t n);

/// Release. NULL is accepted.
void cw_stretch_free(CwStretch *stretch);

#endif
