// SPDX-License-Identifier: GPL-3.0-or-later
/// Music whose counts are known, and notes lined up with it.
#ifndef CW_TEST_LINEUP_MUSIC_H
#define CW_TEST_LINEUP_MUSIC_H

#include <stddef.h>

#include "countwright/lineup.h"

enum { MOST_BEATS = 1024 };

/// A piece of music being written: struck notes on the beats, a low one with the first of each bar, chords that change
/// with the bar.
typedef struct {
  double beat_s[MOST_BEATS];
  unsigned place[MOST_BEATS]; ///< in the bar, from 0
  size_t n;
  double now_s; ///< where the next beat goes
} Music;

/// Write `n` beats, every one `interval_s` long, in bars of `metre`.
void write_beats(Music *music, size_t n, double interval_s, unsigned metre);

/// Measure the music, with silence to `length_s`. Release with cw_features_free().
CwFeatures play(const Music *music, double length_s);

/// Notes lined up. Release with lined_free().
typedef struct {
  CwNotebook notebook;
  CwCountLine line;
  CwMessages messages;
  CwStatus status;
} Lined;

Lined line_up(const CwFeatures *features, const char *notes, const CwLineupOptions *options);
void lined_free(Lined *lined);

/// Fail with all messages unless one of them holds `text`.
void assert_says(const CwMessages *messages, const char *text);
/// Fail unless there are no messages.
void assert_silent(const CwMessages *messages);

/// Fail unless count `i` of the line is at beat first + i * step of the music, within `tolerance_s`, for all counts.
void assert_on_beats(const CwCountLine *line, const Music *music, size_t first, size_t step, double tolerance_s);

/// Fail unless the line is what count_line.h promises, with all its times over 0.
void assert_sound(const CwCountLine *line);

#endif
