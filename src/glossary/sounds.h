// SPDX-License-Identifier: GPL-3.0-or-later
/// How words sound, roughly: French as English ears write it down ("booray", "bourrée").
#ifndef CW_GLOSSARY_SOUNDS_H
#define CW_GLOSSARY_SOUNDS_H

#include <stddef.h>

enum { CW_MOST_SOUNDS = 64 };

/// Sounds of one or several words. Small letters and signs are sounds as sounds.c names them.
typedef struct {
  char sound[CW_MOST_SOUNDS];
  size_t n;
} CwSounds;

/// Add the sounds of a word of folded letters (words.h). What has no room is left out.
void cw_sounds_add(const unsigned char *letter, size_t n, CwSounds *sounds);

enum { CW_N_SOUNDS = 128 };

/// What it costs to leave a sound out, and to take one for another.
typedef struct {
  float out[CW_N_SOUNDS];
  float change[CW_N_SOUNDS][CW_N_SOUNDS];
} CwSoundCosts;

void cw_sound_costs_make(CwSoundCosts *costs);

/// What it costs to leave all of them out.
float cw_sounds_weight(const CwSoundCosts *costs, const CwSounds *sounds);

/// Least cost of making one of the other. @param limit When it is over this, anything over it is returned.
float cw_sounds_distance(const CwSoundCosts *costs, const CwSounds *left, const CwSounds *right, float limit);

#endif
