// SPDX-License-Identifier: GPL-3.0-or-later
/// Change of sample rate for one channel, with no delay: what was at t seconds stays at t seconds.
///
/// libswresample where built with FFmpeg (0.05 s for ten minutes at 44.1 kHz), else libsamplerate (1.2 s). Flat to 7 kHz,
/// 0.2 dB down at 8 kHz at most, and free of what folds back there, from 44.1 to 22.05 kHz.
#ifndef CW_AUDIO_RESAMPLE_H
#define CW_AUDIO_RESAMPLE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

typedef struct CwResampler CwResampler;

/// @param[out] resampler Release with cw_resampler_free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_resampler_new(unsigned from_hz, unsigned to_hz, CwResampler **resampler);

/// Room that cw_resampler_run() needs for the result of `n` samples.
size_t cw_resampler_room(const CwResampler *resampler, size_t n);

/// Convert `n` samples; all are taken.
/// @param last There are no more: what is still held back comes out. Nothing may be run afterwards.
/// @param[out] out Room for cw_resampler_room(n) samples. @param[out] n_out Samples written.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_resampler_run(CwResampler *resampler, const float *in, size_t n, bool last, float *out,
                                       size_t *n_out);

/// Release. NULL is accepted.
void cw_resampler_free(CwResampler *resampler);

#endif
