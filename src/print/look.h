// SPDX-License-Identifier: GPL-3.0-or-later
/// The look of everything printed: words, sizes, greys. Change it here and nowhere else.
///
/// Lengths on paper are in points (1/72 inch). Nothing is told by grey or colour alone.
#ifndef CW_PRINT_LOOK_H
#define CW_PRINT_LOOK_H

// Words
#define CW_SAY_UNTITLED "Count sheet"
#define CW_SAY_DOES_NOT_ADD_UP "Does not add up"
#define CW_SAY_CHECK "check by ear"
#define CW_SAY_PINNED "pinned"
#define CW_SAY_PER_MIN "/min"
#define CW_SAY_NOT_TIMED "no place in the recording"
#define CW_SAY_LEGEND "How to read this sheet"
#define CW_SAY_NO_PHRASES "No phrases."
#define CW_SAY_CONTINUED "continued"
#define CW_SAY_WITHOUT_WORDS "\u2022" ///< a count marked in the notes with no words to it
#define CW_SAY_DRIFT "Tempo drift of B against A"
#define CW_SAY_NOT_IN_B "not in B"
#define CW_SAY_DRIFT_TEMPO                                                                                             \
  CW_SAY_PER_MIN ": counts a minute. same: under 2.5 %, about the least change of tempo that is heard; "               \
                 "a little: up to 5 %."
#define CW_SAY_DRIFT_AHEAD                                                                                             \
  "ahead: B comes to the phrase's one so much sooner than A, both counted from the first phrase that both have."

/// Up to so many percent of tempo, a difference is "a little".
#define CW_A_LITTLE_PERCENT 5.0

// Text sheet, in columns
#define CW_TEXT_NARROWEST 40
#define CW_TEXT_WIDEST_GRID 160 ///< wider, the eye loses the count
#define CW_TEXT_GAP 2           ///< least space between two steps side by side
/// A step may wrap to so many lines under its count before the phrase is set in shorter lines, or as a list.
#define CW_TEXT_TALLEST_CELL 4
#define CW_TEXT_RULE "\u2500"
#define CW_TEXT_TITLE_RULE "\u2550"

/// Counts in one line of the grid at most.
#define CW_COUNTS_PER_LINE 8

#endif
