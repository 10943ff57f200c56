// SPDX-License-Identifier: GPL-3.0-or-later
/// Attacks: moments at which the power of a semitone leaps up.
#ifndef CW_ALIGN_ATTACKS_H
#define CW_ALIGN_ATTACKS_H

#include <stddef.h>

#include "align/semitones.h"
#include "countwright/status.h"

/// Frames a second in which attacks are sought. Frame `i` is centred on i / 100 s.
#define CW_ALIGN_ATTACK_RATE_HZ 100

/// One attack.
typedef struct {
  double time_s;
  float strength; ///< rise of loudness; once settled, at most 1
  float swell_s;  ///< from then until half of the amplitude is reached that the note has soon after
  int semitone;   ///< 0 is CW_LOWEST_NOTE
} CwAttack;

/// Attacks, in order of time once cw_attacks_settle() has been called.
typedef struct {
  CwAttack *attack;
  size_t n, room;
} CwAttacks;

enum { CW_RISES_KEPT = 128 }; // a power of two above a second

/// What attacks are found from: the last second and a bit. Zero everything to start.
typedef struct {
  float mean[CW_N_SEMITONES];                 ///< power over the last half second or so
  float floor[CW_N_SEMITONES];                ///< the least that the mean has come to lately: the room's noise
  float loudness[4][CW_N_SEMITONES];          ///< of the last frames, a ring
  float power[CW_RISES_KEPT][CW_N_SEMITONES]; ///< of each frame, a ring
  float rise[CW_RISES_KEPT][CW_N_SEMITONES];  ///< across each frame, a ring
  float highest[CW_RISES_KEPT];               ///< highest rise in each frame, a ring
  size_t n;                                   ///< frames put in
} CwRises;

/// Put in the next frame; attacks come out half a second later.
/// @param power As by cw_semitones_attack(), or NULL after the last frame: then the rest comes out.
/// @param reference What counts as loud. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_rises_next(CwRises *rises, const float *power, float reference, CwAttacks *attacks);

/// Put the attacks in order and divide each one's strength by the strongest (of all within a fiftieth of a second
/// together) within a second to either side. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_attacks_settle(CwAttacks *attacks);

/// Index of the first attack at or after a time; the number of attacks when there is none.
size_t cw_attacks_from(const CwAttacks *attacks, double time_s);

#endif
