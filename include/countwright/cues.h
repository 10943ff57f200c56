// SPDX-License-Identifier: GPL-3.0-or-later
/// @file cues.h
/// What the beats are found by, one by one: each can be left out, to measure what it is worth.
#ifndef COUNTWRIGHT_CUES_H
#define COUNTWRIGHT_CUES_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"

CW_BEGIN

/// Cues, as bits that can be joined. The weights of those that stay grow in proportion.
typedef enum {
  CW_CUE_ALL = 1 << 0,      ///< attacks over all bands
  CW_CUE_SLOW = 1 << 1,     ///< slow attacks; that they tell where a change of harmony sounds stays
  CW_CUE_LOW = 1 << 2,      ///< attacks in the bass, of beats and of downbeats
  CW_CUE_HARMONIC = 1 << 3, ///< changes of harmony, of beats and of downbeats
  CW_CUE_BASS = 1 << 4,     ///< changes of the bass note, of downbeats
  CW_CUE_ACCENT = 1 << 5,   ///< how loud what begins is against what is around it, of downbeats
  CW_CUE_STEADY = 1 << 6,   ///< whether notes are held: what speaks against beats in talk, noise and applause
  CW_CUE_OFFBEATS = 1 << 7, ///< attacks between beats, at the half and the thirds
  CW_CUE_TEMPO = 1 << 8,    ///< which tempos are likely beforehand
  CW_CUE_LENGTH = 1 << 9    ///< how long what begins lasts
} CwCue;

/// Name of the `i`-th cue from 0, a lower-case word; its bit is 1 << i. NULL beyond the last. The text is static.
CW_API const char *cw_cue_name(size_t i);

/// Cues by name, divided by commas, as in "slow,bass".
/// @param[out] cues Bits of CwCue; 0 when a name is unknown.
/// @return false when a name is unknown or empty.
CW_API bool cw_cues_parse(const char *names, unsigned *cues);

CW_END

#endif
