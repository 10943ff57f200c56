// SPDX-License-Identifier: GPL-3.0-or-later
/// @file ear.h
/// What beats and bars are heard with.
#ifndef COUNTWRIGHT_EAR_H
#define COUNTWRIGHT_EAR_H

/// Ears. Zero is the usual one.
typedef enum {
  CW_EAR_USUAL,  ///< CW_EAR_LEARNED
  CW_EAR_PLAIN,  ///< onsets, accents and changes of harmony, weighed by hand
  CW_EAR_LEARNED ///< a small trained network; where features were not measured from sound, CW_EAR_PLAIN
} CwEarChoice;

#endif
