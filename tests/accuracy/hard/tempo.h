// SPDX-License-Identifier: GPL-3.0-or-later
/// Tempo curves of known shape: from beats to seconds.
#ifndef CW_TEST_HARD_TEMPO_H
#define CW_TEST_HARD_TEMPO_H

#include <stddef.h>

/// How the tempo runs. What is 0 is left out; shapes multiply. Places are in beats from the first bar line.
typedef struct {
  double bpm;           ///< beats a minute
  double end_bpm;       ///< the tempo changes evenly to this by the end; 0: it does not
  double wave;          ///< a sine: by this part up and down ...
  double wave_beats;    ///< ... in so many beats
  double arch;          ///< a parabola over each phrase: slower by this part at its ends than in its middle
  double arch_beats;    ///< beats of the phrase
  double cadence;       ///< a final ritardando over the last beats of each stretch, down to this part of the tempo
  double cadence_beats; ///< how many last beats ...
  double cadence_every; ///< ... of how many; 0: only at the end of the piece
  double change_at;     ///< from here on ...
  double change;        ///< ... the tempo is multiplied by this
  double looseness;     ///< standard deviation of single beats' lengths as a part of them: nobody plays like a clock
  double wander;        ///< the tempo also strays by about this part, over some beats and back
} CwTempo;

/// A stretch without counts: the music waits before the beat `at`.
typedef struct {
  double at;       ///< in beats
  double length_s; ///< 0: no hold
} CwHold;

/// The tempo's part of its start at `x` of a final ritardando, 0 to 1, that ends at the part `end` (Friberg and
/// Sundberg 1999, "Does music performance allude to locomotion?", with q = 3; from memory).
double cw_final_ritardando(double x, double end);

/// Tempo in beats a minute at a place, single beats' looseness left out. @param beats Length of the piece.
double cw_tempo_at(const CwTempo *tempo, double beats, double at);

/// A map from beats to seconds. Release with cw_beat_map_free().
typedef struct {
  double *time_s; ///< at every part of a beat from `from` on
  size_t n;
  double from;
} CwBeatMap;

/// @param from First place, at most 0 (the pick-up). @param from_s When that is. @param holds Ends with length 0.
void cw_beat_map_make(const CwTempo *tempo, const CwHold *holds, double from, double beats, double from_s,
                      CwBeatMap *map);

/// When the place `at` comes; at a hold, when the wait is over.
double cw_beat_map_time(const CwBeatMap *map, double at);

/// The same, but before the wait of a hold at `at`: when a note that ends there ends.
double cw_beat_map_end(const CwBeatMap *map, double at);

void cw_beat_map_free(CwBeatMap *map);

#endif
