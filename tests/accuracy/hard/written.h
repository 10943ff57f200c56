// SPDX-License-Identifier: GPL-3.0-or-later
/// Written music: a small text form of melody and harmony, read to notes and bars.
///
/// Text of a melody: bars parted by "|", in each bar notes parted by blanks. A note is a pitch ("c4", "f#4", "bb3";
/// c4 is middle C), several joined by "+", "r" for a rest, or "~" to hold the note before it on. ":1.5" after it is
/// its length in crotchets, which holds until the next length. Harmony is written the same way with the names of
/// chords ("C", "F#m", "Bb7", "Edim"); a bar that gives no length is shared out evenly.
#ifndef CW_TEST_HARD_WRITTEN_H
#define CW_TEST_HARD_WRITTEN_H

#include <stdbool.h>
#include <stddef.h>

/// Who plays a note.
typedef enum { CW_MELODY, CW_CHORDS, CW_BASS, CW_N_PARTS } CwPart;

/// A piece, as text.
typedef struct {
  const char *name;
  const char *metres;  ///< "4/4*8 2/4 4/4*7": every bar
  double beat;         ///< crotchets in a beat: 1.5 in 6/8 counted in two
  const char *pick_up; ///< melody before the first bar line; NULL: none
  const char *melody;
  const char *harmony;
} CwPiece;

/// A note. Times in crotchets from the first bar line; those of the pick-up lie before 0.
typedef struct {
  double at, length;
  double pitch; ///< as MIDI numbers it: 60 is middle C
  CwPart part;
} CwWrittenNote;

typedef struct {
  double at, length; ///< in crotchets
} CwWrittenBar;

/// Release with cw_written_free().
typedef struct {
  CwWrittenNote *note; ///< in no order
  size_t n_notes, capacity;
  CwWrittenBar *bar;
  size_t n_bars;
  size_t n_bars_once;           ///< of the piece played once
  double beat, length, pick_up; ///< in crotchets
} CwWritten;

/// Read a piece played `times` times in a row, with an accompaniment.
/// @param style "stride" (bass and after-beats), "broken" (broken chords), "pad" (a chord to the bar), "half" (every
/// two crotchets), or NULL for the melody alone. Where a chord is tied over a bar line, the accompaniment moves with
/// the chords, whatever the style.
/// @return false when the text is wrong, having said where on stderr.
bool cw_written_read(const CwPiece *piece, unsigned times, const char *style, CwWritten *written);

void cw_written_free(CwWritten *written);

/// Zeroed memory for a test; ends the program when there is none.
void *cw_must_new(size_t n, size_t size);

#endif
