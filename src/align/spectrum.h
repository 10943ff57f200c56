// SPDX-License-Identifier: GPL-3.0-or-later
/// Power spectra of Hann-windowed pieces of sound.
#ifndef CW_ALIGN_SPECTRUM_H
#define CW_ALIGN_SPECTRUM_H

#include <stddef.h>

#include <fftw3.h>

#include "countwright/status.h"

/// One length of window with its plan. Not for use by two threads at once.
typedef struct {
  size_t window;      ///< samples under the window
  size_t n_bins;      ///< bins of `power`: transform length / 2 + 1
  float *shape;       ///< the window, scaled so that a full-scale sine has power 1 at its peak
  float *in;          ///< windowed samples, followed by zeros when the transform is longer than the window
  fftwf_complex *out; ///< the transform
  fftwf_plan plan;
  float *power; ///< squared magnitudes of the last piece taken
} CwAlignSpectrum;

/// Set up for windows of `window` samples and transforms of `length` (at least `window`) points.
/// @return CW_OK or CW_ERR_NO_MEM (nothing then needs releasing).
CW_NODISCARD CwStatus cw_align_spectrum_init(CwAlignSpectrum *spectrum, size_t window, size_t length);

/// Fill `power` from the window whose middle is at `centre`: window / 2 samples before it and as many from it on.
void cw_align_spectrum_take(CwAlignSpectrum *spectrum, const float *centre);

/// Release. Safe on a zeroed CwAlignSpectrum.
void cw_align_spectrum_free(CwAlignSpectrum *spectrum);

#endif
