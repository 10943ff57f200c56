// SPDX-License-Identifier: GPL-3.0-or-later
/// Lanes: the places in a bar of every metre, side by side, so that one loop treats them all.
#ifndef CW_PULSE_LANES_H
#define CW_PULSE_LANES_H

#define CW_LANES 16 ///< 2 + 3 + 4 + 6 places, and one that is not used
#define CW_N_METRES 4

/// Beats in a bar of each metre. Its lanes are cw_metre_first[m] and on.
static const unsigned char cw_metre_beats[CW_N_METRES] = {2, 3, 4, 6};
static const unsigned char cw_metre_first[CW_N_METRES] = {0, 2, 5, 9};

/// Metre (index) of each lane, and its place in the bar from 0; the unused lane has metre CW_N_METRES.
static const unsigned char cw_lane_metre[CW_LANES] = {0, 0, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, CW_N_METRES};
static const unsigned char cw_lane_place[CW_LANES] = {0, 1, 0, 1, 2, 0, 1, 2, 3, 0, 1, 2, 3, 4, 5, 0};

#endif
