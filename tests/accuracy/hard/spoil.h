// SPDX-License-Identifier: GPL-3.0-or-later
/// What spoils a recording in a studio: each leaves every beat where it is.
#ifndef CW_TEST_HARD_SPOIL_H
#define CW_TEST_HARD_SPOIL_H

#include "accuracy/hard/play.h"

typedef struct {
  const char *name;
  void (*spoil)(Sound *sound, const CwHardTruth *truth);
} CwSpoil;

extern const CwSpoil cw_spoils[];
extern const size_t cw_n_spoils;

/// Root mean square of the samples.
double cw_sound_rms(const Sound *sound);

/// Read speech to be talked over the music, once for all. @return false when the file cannot be read.
bool cw_spoil_read_speech(const char *path);

void cw_spoil_forget_speech(void);

#endif
