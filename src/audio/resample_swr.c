// SPDX-License-Identifier: GPL-3.0-or-later
#include "audio/resample.h"

#include <stdlib.h>

#include <libavutil/channel_layout.h>
#include <libavutil/opt.h>
#include <libswresample/swresample.h>

#include "base/memory.h"

// Taps at the lower of the two rates. From 44.1 to 22.05 kHz the pass band then ends at about 8.7 kHz and what folds
// back stays above 9.4 kHz.
enum { FILTER_TAPS = 32 };

struct CwResampler {
  SwrContext *swr;
  unsigned from_hz;
  unsigned to_hz;
};

static bool set_up(SwrContext *swr, unsigned from_hz, unsigned to_hz)
{
  const AVChannelLayout mono = AV_CHANNEL_LAYOUT_MONO;
  return av_opt_set_chlayout(swr, "in_chlayout", &mono, 0) == 0 &&
         av_opt_set_chlayout(swr, "out_chlayout", &mono, 0) == 0 &&
         av_opt_set_int(swr, "in_sample_rate", from_hz, 0) == 0 &&
         av_opt_set_int(swr, "out_sample_rate", to_hz, 0) == 0 &&
         av_opt_set_sample_fmt(swr, "in_sample_fmt", AV_SAMPLE_FMT_FLTP, 0) == 0 &&
         av_opt_set_sample_fmt(swr, "out_sample_fmt", AV_SAMPLE_FMT_FLTP, 0) == 0 &&
         av_opt_set_int(swr, "filter_size", FILTER_TAPS, 0) == 0 &&
         // exact where the ratio is a small fraction, and between filter phases where it is not
         av_opt_set_int(swr, "exact_rational", 1, 0) == 0 && av_opt_set_int(swr, "linear_interp", 1, 0) == 0 &&
         swr_init(swr) == 0;
}

CwStatus cw_resampler_new(unsigned from_hz, unsigned to_hz, CwResampler **resampler)
{
  *resampler = NULL;
  CwResampler *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  *made = (CwResampler){.swr = swr_alloc(), .from_hz = from_hz, .to_hz = to_hz};
  if (!made->swr || !set_up(made->swr, from_hz, to_hz)) {
    cw_resampler_free(made);
    return CW_ERR_NO_MEM;
  }
  *resampler = made;
  return CW_OK;
}

size_t cw_resampler_room(const CwResampler *resampler, size_t n)
{
  // what the filter holds back is at most its length in samples of the lower rate
  return (n + FILTER_TAPS) * resampler->to_hz / resampler->from_hz + 4 * (size_t)FILTER_TAPS;
}

CwStatus cw_resampler_run(CwResampler *resampler, const float *in, size_t n, bool last, float *out, size_t *n_out)
{
  *n_out = 0;
  const int room = (int)cw_resampler_room(resampler, n);
  if (n > 0) {
    const uint8_t *from = (const uint8_t *)in;
    uint8_t *to = (uint8_t *)out;
    const int made = swr_convert(resampler->swr, &to, room, &from, (int)n);
    if (made < 0) {
      return CW_ERR_NO_MEM;
    }
    *n_out = (size_t)made;
  }
  if (last) {
    uint8_t *to = (uint8_t *)(out + *n_out);
    const int made = swr_convert(resampler->swr, &to, room - (int)*n_out, NULL, 0);
    if (made < 0) {
      return CW_ERR_NO_MEM;
    }
    *n_out += (size_t)made;
  }
  return CW_OK;
}

void cw_resampler_free(CwResampler *resampler)
{
  if (resampler) {
    swr_free(&resampler->swr);
    free(resampler);
  }
}
