// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/spectrum.h"

#include <fftw3.h>
#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/// One real transform with its window.
typedef struct {
  size_t size;
  float *window;
  float *in;
  fftwf_complex *out;
  float *bins;
  fftwf_plan plan;
} Transform;

struct CwSpectrum {
  Transform longer;
  Transform shorter;
};

static CwStatus transform_init(Transform *t, size_t size)
{
  const double pi = 3.14159265358979323846;
  t->size = size;
  t->window = cw_new(size, sizeof *t->window);
  t->bins = cw_new(size / 2 + 1, sizeof *t->bins);
  t->in = fftwf_alloc_real(size);
  t->out = fftwf_alloc_complex(size / 2 + 1);
  if (!t->window || !t->bins || !t->in || !t->out) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < size; i++) {
    // the mean of a Hann window is a half, and a real sine has half its amplitude in each of two bins
    t->window[i] = (float)((0.5 - 0.5 * cos(2.0 * pi * (double)i / (double)size)) * 4.0 / (double)size);
  }
  t->plan = fftwf_plan_dft_r2c_1d((int)size, t->in, t->out, FFTW_ESTIMATE);
  return t->plan ? CW_OK : CW_ERR_NO_MEM;
}

static void transform_run(Transform *t, const float *samples)
{
  for (size_t i = 0; i < t->size; i++) {
    t->in[i] = samples[i] * t->window[i];
  }
  fftwf_execute(t->plan);
  for (size_t i = 0; i <= t->size / 2; i++) {
    t->bins[i] = sqrtf(t->out[i][0] * t->out[i][0] + t->out[i][1] * t->out[i][1]);
  }
}

static void transform_free(Transform *t)
{
  free(t->window);
  free(t->bins);
  fftwf_free(t->in);
  fftwf_free(t->out);
  if (t->plan) {
    fftwf_destroy_plan(t->plan);
  }
}

CwStatus cw_spectrum_new(CwSpectrum **spectrum)
{
  CwSpectrum *made = cw_new(1, sizeof *made);
  *spectrum = NULL;
  if (!made || transform_init(&made->longer, CW_LONG_WINDOW) != CW_OK ||
      transform_init(&made->shorter, CW_SHORT_WINDOW) != CW_OK) {
    cw_spectrum_free(made);
    return CW_ERR_NO_MEM;
  }
  *spectrum = made;
  return CW_OK;
}

void cw_spectrum_measure(CwSpectrum *spectrum, const float *samples, const float **long_bins, const float **short_bins)
{
  transform_run(&spectrum->longer, samples);
  transform_run(&spectrum->shorter, samples + (CW_LONG_WINDOW - CW_SHORT_WINDOW) / 2);
  *long_bins = spectrum->longer.bins;
  *short_bins = spectrum->shorter.bins;
}

void cw_spectrum_free(CwSpectrum *spectrum)
{
  if (!spectrum) {
    return;
  }
  transform_free(&spectrum->longer);
  transform_free(&spectrum->shorter);
  free(spectrum);
}
