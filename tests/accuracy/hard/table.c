// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/table.h"

#include <string.h>

const double cw_wanted_fall = 0.05;

// To set what is held anew after a change of the finding: tests/accuracy/hard/set-held BUILD
// Figures that went down are a loss to be explained, not a table to be reset.

// clang-format off
const CwHardLine cw_hard_table[] = {
    // case, mode, wanted: beats, downbeats, counts, ones; held: the same
    {"rubato-wave", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"rubato-wave", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-wave", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-wave", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-arch", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.38, 0.60, 0.38, 0.00}},
    {"rubato-arch", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"rubato-arch", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-arch", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"cadences", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.92, 0.68, 0.92, 0.30}},
    {"cadences", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.92, 0.79}},
    {"cadences", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.85}},
    {"cadences", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"final-ritardando", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"final-ritardando", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"final-ritardando", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"final-ritardando", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"accelerando", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"accelerando", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"accelerando", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"accelerando", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"tempo-doubles", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.80, 0.60, 0.80, 0.00}},
    {"tempo-doubles", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"tempo-doubles", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"tempo-doubles", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"new-tempo", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"new-tempo", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"new-tempo", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"new-tempo", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-free", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.64, 0.60, 0.64, 0.00}},
    {"rubato-free", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"rubato-free", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-free", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-free-waltz", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.80, 0.60, 0.80, 0.00}},
    {"rubato-free-waltz", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"rubato-free-waltz", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.92, 0.91}},
    {"rubato-free-waltz", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-free-strings", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.80, 0.60, 0.80, 0.00}},
    {"rubato-free-strings", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"rubato-free-strings", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rubato-free-strings", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hemiola", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.27}},
    {"hemiola", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hemiola", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hemiola", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"syncopation", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation-bare", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.00, 0.95, 0.00}},
    {"syncopation-bare", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation-bare", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"syncopation-bare", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"long-notes", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.80, 0.60, 0.80, 0.00}},
    {"long-notes", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"long-notes", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"long-notes", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"long-notes-strings", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.37, 0.60, 0.37, 0.00}},
    {"long-notes-strings", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.90, 0.85}},
    {"long-notes-strings", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"long-notes-strings", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"melody-alone", CW_ALONE, {0.80, 0.60, 0.80, 0.00}, {0.80, 0.60, 0.80, 0.00}},
    {"melody-alone", CW_NOTES, {0.00, 0.00, 0.90, 0.85}, {0.00, 0.00, 0.87, 0.48}},
    {"melody-alone", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"melody-alone", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"pick-up", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up-waltz", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.26}},
    {"pick-up-waltz", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up-waltz", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"pick-up-waltz", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"bar-of-two", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.65, 0.95, 0.46}},
    {"bar-of-two", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"bar-of-two", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"bar-of-two", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rest-in-time", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"rest-in-time", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.91, 0.41}},
    {"rest-in-time", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"rest-in-time", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"stop", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"stop", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"stop", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"stop", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hold", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.92, 0.61, 0.92, 0.56}},
    {"hold", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hold", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hold", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"hold-inside-a-phrase", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.33}},
    {"hold-inside-a-phrase", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.48}},
    {"hold-inside-a-phrase", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.60}},
    {"hold-inside-a-phrase", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"introduction", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"introduction", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"introduction", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"introduction", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"applause", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"applause", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"applause", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"applause", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-2-4", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.70}},
    {"metre-2-4", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-2-4", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-2-4", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-3-4", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.90, 0.95, 0.30}},
    {"metre-3-4", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-3-4", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-3-4", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-4-4", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.64, 0.95, 0.70}},
    {"metre-4-4", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-4-4", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-4-4", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-6-8", CW_ALONE, {0.00, 0.90, 0.95, 0.70}, {0.00, 0.64, 0.95, 0.70}},
    {"metre-6-8", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-6-8", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-6-8", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-5-4", CW_ALONE, {0.95, 0.90, 0.95, 0.70}, {0.95, 0.00, 0.95, 0.23}},
    {"metre-5-4", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-5-4", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-5-4", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-mixed", CW_ALONE, {0.95, 0.60, 0.95, 0.70}, {0.95, 0.24, 0.95, 0.11}},
    {"metre-mixed", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-mixed", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"metre-mixed", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"waltz-in-one", CW_ALONE, {0.00, 0.90, 0.95, 0.70}, {0.00, 0.90, 0.95, 0.70}},
    {"waltz-in-one", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"waltz-in-one", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"waltz-in-one", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"adagio-by-half-bars", CW_ALONE, {0.95, 0.90, 0.00, 0.00}, {0.95, 0.64, 0.00, 0.00}},
    {"adagio-by-half-bars", CW_NOTES, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"adagio-by-half-bars", CW_PINS, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
    {"adagio-by-half-bars", CW_TAPPED, {0.00, 0.00, 0.95, 0.95}, {0.00, 0.00, 0.95, 0.95}},
};
const size_t cw_n_hard_lines = sizeof cw_hard_table / sizeof *cw_hard_table;

const CwSpoilLine cw_spoil_table[] = {
    // what spoils, mode, mean fall held: beats, downbeats, counts, ones
    {"room noise", CW_ALONE, {0.05, 0.05, 0.05, 0.05}},
    {"room noise", CW_NOTES, {0.05, 0.05, 0.05, 0.05}},
    {"talk", CW_ALONE, {0.20, 0.10, 0.18, 0.24}},
    {"talk", CW_NOTES, {0.05, 0.05, 0.06, 0.32}},
    {"footfalls", CW_ALONE, {0.22, 0.19, 0.22, 0.24}},
    {"footfalls", CW_NOTES, {0.05, 0.05, 0.13, 0.20}},
    {"far phone", CW_ALONE, {0.05, 0.10, 0.05, 0.05}},
    {"far phone", CW_NOTES, {0.05, 0.05, 0.05, 0.05}},
    {"clipping", CW_ALONE, {0.05, 0.05, 0.05, 0.05}},
    {"clipping", CW_NOTES, {0.05, 0.05, 0.05, 0.05}},
    {"hum of 50 Hz", CW_ALONE, {0.05, 0.05, 0.05, 0.05}},
    {"hum of 50 Hz", CW_NOTES, {0.05, 0.05, 0.05, 0.05}},
    {"hum of 60 Hz", CW_ALONE, {0.05, 0.05, 0.05, 0.05}},
    {"hum of 60 Hz", CW_NOTES, {0.05, 0.05, 0.05, 0.05}},
    {"class", CW_ALONE, {0.05, 0.12, 0.05, 0.22}},
    {"class", CW_NOTES, {0.05, 0.05, 0.05, 0.32}},
};
// clang-format on
const size_t cw_n_spoil_lines = sizeof cw_spoil_table / sizeof *cw_spoil_table;

const CwHardLine *cw_hard_line(const char *name, CwMode mode)
{
  for (size_t i = 0; i < cw_n_hard_lines; i++)
    if (cw_hard_table[i].mode == mode && strcmp(cw_hard_table[i].name, name) == 0)
      return &cw_hard_table[i];
  return NULL;
}

const CwSpoilLine *cw_spoil_line(const char *spoil, CwMode mode)
{
  for (size_t i = 0; i < cw_n_spoil_lines; i++)
    if (cw_spoil_table[i].mode == mode && strcmp(cw_spoil_table[i].spoil, spoil) == 0)
      return &cw_spoil_table[i];
  return NULL;
}
