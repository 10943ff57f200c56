// SPDX-License-Identifier: GPL-3.0-or-later
/// Harmony by the names of its chords, and the accompaniment made from it. Inside of written.h.
#ifndef CW_TEST_HARD_HARMONY_H
#define CW_TEST_HARD_HARMONY_H

#include "accuracy/hard/written.h"

/// Write the accompaniment of a piece whose bars are set. @return false when the harmony is wrong, having said where.
bool cw_accompany(const CwPiece *piece, const char *style, CwWritten *written);

/// "C", "f#", "Bb" as 0 to 11; moves `at` on. NaN when there is none.
double cw_read_pitch_class(const char **at);

/// ":1.5" at `*at`, or `before` when there is none.
double cw_read_length(const char **at, double before);

/// Step from the end of a bar in `text` to the next bar, or back to the start where the piece ends.
/// @return false when the text ends before the piece does, or goes on after it.
bool cw_next_bar(const char *text, const char **at, size_t bar, const CwWritten *written);

/// Append a note. @return false when memory ran out.
bool cw_written_add(CwWritten *written, CwWrittenNote note);

#endif
