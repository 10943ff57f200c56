// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/pieces.h"

#include <stddef.h>

#define FERRY_1 "g4:1.5 a4:.5 b4:1 d5 | c5:1 b4:.5 a4 b4:1 g4 | e4:1.5 f#4:.5 g4:1 b4 | a4:3 d4:1 |"
#define FERRY_2                                                                                                        \
  "g4:1.5 a4:.5 b4:1 d5 | e5:1 d5:.5 c5 d5:1 b4 | c5:1 b4:.5 a4 g4:1 f#4 | g4:3 r:1 |"                                 \
  "e5:1.5 d5:.5 c5:1 b4 | a4:.5 b4 c5 d5 e5:2 | d5:1.5 c5:.5 b4:1 a4 | g4:.5 a4 b4 c5 d5:2 |"                          \
  "e5:1 c5:.5 e5 d5:1 b4:.5 d5 | c5:1 a4:.5 c5 b4:1 g4 | a4:.5 b4 c5 a4 b4:1 a4:.5 f#4 | g4:3 r:1"
#define FERRY_CHORDS_1 "G | C G | Em C | D7 |"
#define FERRY_CHORDS_2 "G | C G | Am D7 | G | C G | Am C | G D7 | G | C G | Am Em | D7 | G"

const CwPiece cw_ferry_song = {.name = "ferry song",
                               .metres = "4/4*16",
                               .beat = 1,
                               .melody = FERRY_1 FERRY_2,
                               .harmony = FERRY_CHORDS_1 FERRY_CHORDS_2};

const CwPiece cw_ferry_pick_up = {.name = "ferry song with a pick-up",
                                  .metres = "4/4*16",
                                  .beat = 1,
                                  .pick_up = "d4:.5 f#4",
                                  .melody = FERRY_1 FERRY_2,
                                  .harmony = FERRY_CHORDS_1 FERRY_CHORDS_2};

const CwPiece cw_ferry_short_bar = {.name = "ferry song with a short bar",
                                    .metres = "4/4*4 2/4 4/4*12",
                                    .beat = 1,
                                    .melody = FERRY_1 "d5:.5 c5 b4 a4 |" FERRY_2,
                                    .harmony = FERRY_CHORDS_1 "D7 |" FERRY_CHORDS_2};

#define LANTERN_MELODY                                                                                                 \
  "f#5:2 e5:1 | d5:1 e5 f#5 | a5:2 g5:1 | f#5:3 | e5:2 f#5:1 | g5:1 f#5 e5 | b4:2 c#5:1 | d5:3 |"                      \
  "f#5:2 e5:1 | d5:1 e5 f#5 | a5:2 b5:1 | a5:3 | g5:1 f#5 e5 | f#5:1 e5 d5 | e5:2 a4:1 | d5:3 |"                       \
  "c#5:1.5 d5:.5 e5:1 | a4:1 c#5 e5 | d5:1.5 e5:.5 f#5:1 | b4:1 d5 f#5 |"                                              \
  "e5:1.5 f#5:.5 g5:1 | c#5:1 e5 g5 | f#5:2 e5:1 | e5:3 |"                                                             \
  "f#5:2 e5:1 | d5:1 e5 f#5 | a5:2 b5:1 | a5:1 g5 f#5 | g5:2 e5:1 | f#5:1 d5 b4 | c#5:1 e5 c#5 | d5:3"
#define LANTERN_CHORDS                                                                                                 \
  "D | Bm | D | D | A7 | A7 | G:2 A7:1 | D | D | Bm | D | D | Em | Bm | A7 | D |"                                      \
  "A | A | Bm | Bm | Em | A7 | D | A7 | D | Bm | D | D | Em | Bm | A7 | D"

const CwPiece cw_lantern_waltz = {
    .name = "lantern waltz", .metres = "3/4*32", .beat = 1, .melody = LANTERN_MELODY, .harmony = LANTERN_CHORDS};

const CwPiece cw_lantern_pick_up = {.name = "lantern waltz with a pick-up",
                                    .metres = "3/4*32",
                                    .beat = 1,
                                    .pick_up = "a4:1",
                                    .melody = LANTERN_MELODY,
                                    .harmony = LANTERN_CHORDS};

const CwPiece cw_mill_march = {
    .name = "mill march",
    .metres = "2/4*32",
    .beat = 1,
    .melody =
        "c5:.5 f5 f5 e5 | f5:1 a5 | g5:.5 f5 e5 d5 | c5:2 | d5:.5 d5 e5 f5 | c5:1 a4 | bb4:.5 a4 g4 a4 | g4:2 |"
        "c5:.5 f5 f5 e5 | f5:1 a5 | g5:.5 a5 bb5 g5 | a5:1 f5 |"
        "d5:.5 f5 e5 d5 | c5:.5 bb4 a4 g4 | a4:.5 c5 bb4 g4 | f4:2 |"
        "a4:.5 a4 bb4 c5 | d5:1 c5 | bb4:.5 bb4 c5 d5 | c5:2 | a4:.5 bb4 c5 d5 | e5:1 f5 | g5:.5 e5 c5 e5 | g5:2 |"
        "c5:.5 f5 f5 e5 | f5:1 a5 | g5:.5 a5 bb5 g5 | a5:1 f5 |"
        "bb5:.5 a5 g5 f5 | e5:.5 d5 c5 bb4 | a4:.5 g4 a4 e4 | f4:2",
    .harmony = "F | F | C7 | F | Bb | F | Gm | C7 | F | F | C7 | F | Bb | F | C7 | F |"
               "F | Bb | Gm | F | F | C | C | C7 | F | F | C7 | F | Bb | C7 | C7 | F"};

const CwPiece cw_slow_air = {
    .name = "slow air",
    .metres = "4/4*16",
    .beat = 1,
    .melody = "bb4:3 c5:1 | d5:3 bb4:1 | eb5:2 d5 | c5:4 | d5:3 eb5:1 | f5:3 d5:1 | g5:2 f5:1 eb5 | d5:4 |"
              "g4:2 bb4 | a4:3 f4:1 | g4:2 c5 | bb4:1 a4 bb4 c5 | d5:3 eb5:1 | f5:2 bb5 | c5:3 a4:1 | bb4:4",
    .harmony = "Bb | Gm | Eb Bb | F | Bb | Bb Gm | Eb F | Bb | Gm | F | Eb C | F7 | Gm | Bb Eb | F7 | Bb"};

const CwPiece cw_barcarolle = {
    .name = "barcarolle",
    .metres = "6/8*16",
    .beat = 1.5,
    .melody = "a4:1 b4:.5 c5:1 e5:.5 | d5:1 c5:.5 b4:1.5 | c5:1 b4:.5 a4:1 g#4:.5 | a4:2.5 e4:.5 |"
              "a4:1 b4:.5 c5:1 e5:.5 | f5:1 e5:.5 d5:1 c5:.5 | b4:.5 c5 d5 b4:1 g#4:.5 | a4:3 |"
              "e5:1 e5:.5 f5:1 e5:.5 | d5:1.5 b4 | c5:1 d5:.5 e5:1 c5:.5 | b4:2.5 g4:.5 |"
              "c5:.5 d5 e5 g5:1 e5:.5 | f5:.5 e5 d5 c5:1 a4:.5 | b4:1 c5:.5 b4:1 g#4:.5 | a4:3",
    .harmony = "Am | Dm E7 | Am | Am | Am | Dm | E7 | Am | C | G | C Am | G | C | Dm Am | E7 | Am"};

const CwPiece cw_five_steps = {.name = "five steps",
                               .metres = "5/4*16",
                               .beat = 1,
                               .melody =
                                   "e4:1 g4 b4 e5:1.5 d5:.5 | b4:1 a4 g4 a4:2 | c5:1 b4 a4 g4:1.5 a4:.5 | b4:3 f#4:2 |"
                                   "e4:1 g4 b4 e5:1.5 f#5:.5 | g5:1 f#5 e5 d5:2 | c5:1 b4 a4 b4:1 d#4 | e4:3 r:2 |"
                                   "g4:1 a4 b4 d5:1.5 c5:.5 | b4:1 a4 g4 d4:2 | e4:1 f#4 g4 a4:1.5 b4:.5 | a4:3 f#4:2 |"
                                   "g4:1 b4 d5 g5:1.5 f#5:.5 | e5:1 d5 c5 b4:2 | a4:1 c5 b4 f#4:1 d#4 | e4:3 r:2",
                               .harmony = "Em | Em:3 D:2 | Am | B7 | Em | C:3 D:2 | Am:3 B7:2 | Em |"
                                          "G | G:3 D:2 | C | D | G | C:3 G:2 | Am:3 B7:2 | Em"};

const CwPiece cw_clockmaker = {
    .name = "clockmaker",
    .metres = "4/4*16",
    .beat = 1,
    .melody = "r:.5 g4:1 c5 e5 d5:.5 | ~:.5 c5:1 a4 c5 g4:.5 | ~:.5 a4:1 b4 c5 d5:.5 | ~:1 e5 d5:.5 b4:1 g4:.5 |"
              "~:.5 g4:1 c5 e5 g5:.5 | ~:.5 f5:1 e5 d5 c5:.5 | ~:.5 a4:1 d5 c5 b4:.5 | c5:1.5 g4:.5 c5:1 r |"
              "e5:.5 d5:1 c5:.5 e5 d5:1 c5:.5 | a4:.5 c5:1 a4:.5 g4:1 r |"
              "d5:.5 c5:1 b4:.5 d5 c5:1 b4:.5 | g4:.5 b4:1 d5:.5 f5:1 r:.5 e5 |"
              "~:.5 g4:1 c5 e5 g5:.5 | ~:.5 a5:1 g5 f5 e5:.5 | ~:.5 d5:1 c5 a4 b4:.5 | c5:1 g4:.5 e4 c4:1 r",
    .harmony = "C | F | Am | G7 | C | F | Dm G7 | C | C | F | G7 | G7 | C | F | Dm G7 | C"};

const CwPiece cw_hemiola_dance = {
    .name = "hemiola dance",
    .metres = "3/4*24",
    .beat = 1,
    .melody = "g4:1 bb4 d5 | c5:1.5 bb4:.5 a4:1 | bb4:1 c5 d5 | a4:2 f4:1 |"
              "bb4:1 d5 f5 | eb5:1.5 d5:.5 c5:1 | d5:2 c5:1 | ~:1 bb4:2 |"
              "d5:1 eb5 f5 | g5:1.5 f5:.5 eb5:1 | f5:1 d5 bb4 | c5:2 f4:1 |"
              "g4:1 a4 bb4 | c5:1.5 d5:.5 eb5:1 | d5:2 a4:1 | ~:1 d5:2 |"
              "d5:1 c5 bb4 | a4:1.5 bb4:.5 c5:1 | bb4:1 a4 g4 | f#4:2 d4:1 |"
              "g4:1 bb4 d5 | g5:1.5 f5:.5 eb5:1 | d5:2 f#4:1 | ~:1 g4:2",
    .harmony = "Gm | F | Gm | F | Bb | Cm | Bb:2 F:1 | ~:1 Bb:2 | Bb | Eb | Bb | F | Gm | Cm | Gm:2 A7:1 | ~:1 D:2 |"
               "Gm | F | Gm | D7 | Gm | Cm | Gm:2 D7:1 | ~:1 Gm:2"};

const CwPiece cw_crooked_reel = {.name = "crooked reel",
                                 .metres = "4/4 3/4 4/4 3/4 4/4 3/4 4/4 3/4 4/4 3/4 4/4 3/4 4/4 3/4 4/4 3/4",
                                 .beat = 1,
                                 .melody = "d4:1 f4 a4 d5 | c5:1.5 a4:.5 g4:1 | f4:1 g4 a4 c5 | a4:2 d4:1 |"
                                           "d4:1 f4 a4 d5 | e5:1.5 d5:.5 c5:1 | d5:1 c5 a4 g4 | a4:3 |"
                                           "f5:1 e5 d5 c5 | d5:1.5 c5:.5 a4:1 | g4:1 a4 c5 d5 | a4:2 g4:1 |"
                                           "f4:1 g4 a4 c5 | d5:1.5 e5:.5 c5:1 | a4:1 g4 f4 e4 | d4:3",
                                 .harmony = "Dm | C | F | Dm | Dm | Am | Dm | Am | F | Dm | C | F | F | C | Am | Dm"};

const CwPiece cw_sunken_bells = {.name = "sunken bells",
                                 .metres = "4/4*16",
                                 .beat = 1,
                                 .melody = "r:1.5 g4:2.5 | ~:.5 bb4:3.5 | r:1.5 c5:1 ab4:1.5 | ~:.5 g4:3.5 |"
                                           "r:.5 f4:1 ab4:2.5 | ~:1.5 g4:2.5 | r:.5 eb4:1 f4 d4:1.5 | ~:.5 eb4:3.5 |"
                                           "r:1.5 bb4:2.5 | ~:.5 c5:3.5 | r:1.5 d5:1 bb4:1.5 | ~:.5 c5:3.5 |"
                                           "r:.5 ab4:1 c5:2.5 | ~:1.5 bb4:2.5 | r:.5 g4:1 f4 d4:1.5 | ~:.5 eb4:3.5",
                                 .harmony =
                                     "Eb | ~ | Ab | Eb | Fm | Eb | Bb7 | Eb | Cm | ~ | Gm | Ab | Fm | Eb | Bb7 | Eb"};
