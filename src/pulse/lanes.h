// SPDX-License-Identifier: GPL-3.0-or-later
/// Lanes: the places in a bar of every metre, side by side, so that one loop treats them all.
#ifndef CW_PULSE_LANES_H
#define CW_PULSE_LANES_H

#define CW_LANES 20 ///< 2 + 3 + 4 + 5 + 6 places
#define CW_N_METRES 5

/// Beats in a bar of each metre. Its lanes are cw_metre_first[m] and on.
static const unsigned char cw_metre_beats[CW_N_METRES] = {2, 3, 4, 5, 6};
static const unsigned char cw_metre_first[CW_N_METRES] = {0, 2, 5, 9, 14};

/// What a bar of each metre costs: how rare it is.
static const float cw_metre_rarity[CW_N_METRES] = {0.0F, 0.0F, 0.0F, 0.4F, 0.2F};

/// Metre (index) of each lane, and its place in the bar from 0.
static const unsigned char cw_lane_metre[CW_LANES] = {0, 0, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4};
static const unsigned char cw_lane_place[CW_LANES] = {0, 1, 0, 1, 2, 0, 1, 2, 3, 0, 1, 2, 3, 4, 0, 1, 2, 3, 4, 5};

#define CW_ACCENT_FIRST 0.45F
#define CW_ACCENT_MIDDLE 0.1F
#define CW_ACCENT_WEAK (-0.22F)
#define CW_ACCENT_EITHER (-0.06F) ///< middle of 2 + 3 or of 3 + 2, and weak in the other: what lies between

/// How accented a beat of each lane usually is, in spreads: the first most; the middle of a bar of four or six a little.
// clang-format off
static const float cw_lane_accent[CW_LANES] = {
    CW_ACCENT_FIRST, CW_ACCENT_WEAK,                                                                      // 2
    CW_ACCENT_FIRST, CW_ACCENT_WEAK, CW_ACCENT_WEAK,                                                      // 3
    CW_ACCENT_FIRST, CW_ACCENT_WEAK, CW_ACCENT_MIDDLE, CW_ACCENT_WEAK,                                    // 4
    CW_ACCENT_FIRST, CW_ACCENT_WEAK, CW_ACCENT_EITHER, CW_ACCENT_EITHER, CW_ACCENT_WEAK,                  // 5
    CW_ACCENT_FIRST, CW_ACCENT_WEAK, CW_ACCENT_WEAK, CW_ACCENT_MIDDLE, CW_ACCENT_WEAK, CW_ACCENT_WEAK}; // 6
// clang-format on

#endif
