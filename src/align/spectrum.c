// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/spectrum.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double pi = 3.14159265358979323846;

static void fill_window(float *shape, size_t n)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    const double value = 0.5 - 0.5 * cos(2 * pi * (double)i / (double)n);
    shape[i] = (float)value;
    sum += value;
  }
  for (size_t i = 0; i < n; i++) {
    shape[i] *= (float)(2.0 / sum);
  }
}

CwStatus cw_align_spectrum_init(CwAlignSpectrum *spectrum, size_t window, size_t length)
{
  *spectrum = (CwAlignSpectrum){.window = window, .n_bins = length / 2 + 1};
  spectrum->shape = cw_new(window, sizeof *spectrum->shape);
  spectrum->in = cw_new(length, sizeof *spectrum->in);
  spectrum->out = cw_new(spectrum->n_bins, sizeof *spectrum->out);
  spectrum->power = cw_new(spectrum->n_bins, sizeof *spectrum->power);
  const bool room = spectrum->shape && spectrum->in && spectrum->out && spectrum->power;
  if (room) {
    spectrum->plan = fftwf_plan_dft_r2c_1d((int)length, spectrum->in, spectrum->out, FFTW_ESTIMATE);
  }
  if (!room || !spectrum->plan) {
    cw_align_spectrum_free(spectrum);
    return CW_ERR_NO_MEM;
  }
  fill_window(spectrum->shape, window);
  memset(spectrum->in, 0, length * sizeof *spectrum->in);
  return CW_OK;
}

void cw_align_spectrum_take(CwAlignSpectrum *spectrum, const float *centre)
{
  const float *samples = centre - spectrum->window / 2;
  for (size_t i = 0; i < spectrum->window; i++) {
    spectrum->in[i] = samples[i] * spectrum->shape[i];
  }
  fftwf_execute(spectrum->plan);
  const float *out = (const float *)spectrum->out;
  for (size_t k = 0; k < spectrum->n_bins; k++) {
    spectrum->power[k] = out[2 * k] * out[2 * k] + out[2 * k + 1] * out[2 * k + 1];
  }
}

void cw_align_spectrum_free(CwAlignSpectrum *spectrum)
{
  if (spectrum->plan) {
    fftwf_destroy_plan(spectrum->plan);
  }
  free(spectrum->shape);
  free(spectrum->in);
  free(spectrum->out);
  free(spectrum->power);
  memset(spectrum, 0, sizeof *spectrum);
}
