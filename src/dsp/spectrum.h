// SPDX-License-Identifier: GPL-3.0-or-later
/// Magnitudes of a long and a short windowed Fourier transform with one centre.
#ifndef CW_DSP_SPECTRUM_H
#define CW_DSP_SPECTRUM_H

#include "countwright/status.h"
#include "dsp/filter_bank.h"

/// Work space of the transforms. One thread at a time.
typedef struct CwSpectrum CwSpectrum;

/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_spectrum_new(CwSpectrum **spectrum);

/// Transform CW_LONG_WINDOW samples (Hann windows; the short one in the middle). A sine of amplitude 1 gives 1.
/// @param[out] long_bins CW_LONG_WINDOW / 2 + 1 magnitudes, valid until the next call. @param[out] short_bins likewise.
void cw_spectrum_measure(CwSpectrum *spectrum, const float *samples, const float **long_bins, const float **short_bins);

/// NULL is accepted.
void cw_spectrum_free(CwSpectrum *spectrum);

#endif
