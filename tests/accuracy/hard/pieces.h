// SPDX-License-Identifier: GPL-3.0-or-later
/// The pieces of the hard cases, composed for them.
#ifndef CW_TEST_HARD_PIECES_H
#define CW_TEST_HARD_PIECES_H

#include "accuracy/hard/written.h"

extern const CwPiece cw_ferry_song;      ///< 4/4, G major, 16 bars
extern const CwPiece cw_ferry_pick_up;   ///< the same with a pick-up of a beat
extern const CwPiece cw_ferry_short_bar; ///< the same with a bar of two beats after the fourth
extern const CwPiece cw_lantern_waltz;   ///< 3/4, D major, 32 bars
extern const CwPiece cw_lantern_pick_up; ///< the same with a pick-up of a beat
extern const CwPiece cw_mill_march;      ///< 2/4, F major, 32 bars
extern const CwPiece cw_slow_air;        ///< 4/4, B flat major, 16 bars
extern const CwPiece cw_barcarolle;      ///< 6/8 counted in two, A minor, 16 bars
extern const CwPiece cw_five_steps;      ///< 5/4 (3 + 2), E minor, 16 bars
extern const CwPiece cw_clockmaker;      ///< 4/4, C major, 16 bars, syncopated throughout
extern const CwPiece cw_hemiola_dance;   ///< 3/4, G minor, 24 bars, every eighth bar ends a hemiola
extern const CwPiece cw_crooked_reel;    ///< 4/4 and 3/4 in turn, D minor, 16 bars
extern const CwPiece cw_sunken_bells;    ///< 4/4, E flat major, 16 bars, few notes begin on a beat

#endif
