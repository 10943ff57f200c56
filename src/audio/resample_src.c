// SPDX-License-Identifier: GPL-3.0-or-later
#include "audio/resample.h"

#include <stdlib.h>

#include <samplerate.h>

#include "base/memory.h"

struct CwResampler {
  SRC_STATE *src;
  double ratio;
  double held; ///< samples of the result that may still be held back
};

// Longest half filter of SRC_SINC_FASTEST in samples of the lower rate, rounded up.
enum { HALF_FILTER = 64 };

CwStatus cw_resampler_new(unsigned from_hz, unsigned to_hz, CwResampler **resampler)
{
  *resampler = NULL;
  CwResampler *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  int error = 0;
  *made = (CwResampler){.src = src_new(SRC_SINC_FASTEST, 1, &error), .ratio = (double)to_hz / from_hz};
  if (!made->src) {
    cw_resampler_free(made);
    return CW_ERR_NO_MEM;
  }
  *resampler = made;
  return CW_OK;
}

size_t cw_resampler_room(const CwResampler *resampler, size_t n)
{
  // libsamplerate may sit on input for a while: room is made for all that went in and has not come out
  return (size_t)(((double)n + HALF_FILTER) * resampler->ratio + resampler->held) + 2 * (size_t)HALF_FILTER;
}

CwStatus cw_resampler_run(CwResampler *resampler, const float *in, size_t n, bool last, float *out, size_t *n_out)
{
  *n_out = 0;
  const size_t room = cw_resampler_room(resampler, n);
  SRC_DATA data = {.src_ratio = resampler->ratio, .end_of_input = last};
  size_t taken = 0;
  do {
    data.data_in = in + taken;
    data.input_frames = (long)(n - taken);
    data.data_out = out + *n_out;
    data.output_frames = (long)(room - *n_out);
    if (src_process(resampler->src, &data) != 0) {
      return CW_ERR_NO_MEM;
    }
    taken += (size_t)data.input_frames_used;
    *n_out += (size_t)data.output_frames_gen;
  } while (data.output_frames_gen > 0 || data.input_frames_used > 0);
  resampler->held += (double)n * resampler->ratio - (double)*n_out;
  return CW_OK;
}

void cw_resampler_free(CwResampler *resampler)
{
  if (resampler) {
    src_delete(resampler->src);
    free(resampler);
  }
}
