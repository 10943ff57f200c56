// SPDX-License-Identifier: GPL-3.0-or-later
/// The look of everything printed: words, sizes, greys. Change it here and nowhere else.
///
/// Lengths on paper are in points (1/72 inch). Nothing is told by grey or colour alone.
#ifndef CW_PRINT_LOOK_H
#define CW_PRINT_LOOK_H

#include <stdbool.h>

#include "print/label.h"

// Words, looked up in the language of the sheet by cw_label()
#define CW_SAY_MIRRORED CW_MSG("mirrored for the other side")
#define CW_SAY_PLAN_SIGN "\u25CB \u2192 \u25CF"
#define CW_SAY_PLAN                                                                                                    \
  CW_MSG("on the plan: from where to where; squares and dashes are others. The audience is at its foot, stage left "   \
         "on its "                                                                                                     \
         "right")
#define CW_SAY_UNTITLED CW_MSG("Count sheet")
#define CW_SAY_DOES_NOT_ADD_UP CW_MSG("Does not add up")
#define CW_SAY_CHECK CW_MSG("check by ear")
#define CW_SAY_PINNED CW_MSG("pinned")
#define CW_SAY_PER_MIN CW_MSG("/min")
#define CW_SAY_NOT_TIMED CW_MSG("no place in the recording")
#define CW_SAY_LEGEND CW_MSG("How to read this sheet")
#define CW_SAY_NO_PHRASES CW_MSG("No phrases.")
#define CW_SAY_CONTINUED CW_MSG("%u, continued")
#define CW_SAY_GOES_ON "\u2022" ///< behind a count that has a mark but no words in the notes
#define CW_SAY_SAME_TIME CW_MSG("at the same time")
#define CW_SAY_OTHER_SIDE CW_MSG("other side")
#define CW_SAY_OTHERS CW_MSG("others dance")
#define CW_SAY_OFF CW_MSG("off stage")
#define CW_SAY_CAST CW_MSG("On and off stage")
#define CW_SAY_ON_TO CW_MSG("(on to %s)") ///< behind a step that runs over the phrase's end
#define CW_SAY_DRIFT "Tempo drift of B against A"
#define CW_SAY_DRIFT_OF_MANY "Tempo drift against A"
#define CW_SAY_NOT_IN "not in "
#define CW_SAY_NOT_IN_B CW_SAY_NOT_IN "B"
#define CW_SAY_SAME CW_MSG("same")
#define CW_SAY_FASTER_SIGN "\u25B2"
#define CW_SAY_SLOWER_SIGN "\u25BC"
#define CW_SAY_OTHER "B" ///< the recording that a sheet is held against, as in a table of drift
#define CW_SAY_ENTRANCE_SIGN "\u25B6"
#define CW_SAY_DOUBT_SIGN "\u25AC"
#define CW_SAY_ENTRANCE CW_MSG("in the strip at the top: someone comes on")
#define CW_SAY_DOUBT CW_MSG("in the strip at the top: check by ear")
#define CW_SAY_ALL "all"
#define CW_SAY_SEASON "Tempo over all these recordings, counts a minute (of: how many have the phrase)"
#define CW_SAY_PHRASE "phrase"
#define CW_SAY_CHART_TEMPO "Tempo, counts a minute"
#define CW_SAY_CHART_AHEAD "Seconds that B is ahead of A at the phrase's one (under 0: behind)"
#define CW_SAY_CHART_AHEAD_OF_MANY "Seconds ahead of A at the phrase's one (under 0: behind)"
#define CW_SAY_CHART_SMOOTH "Each value is the mean over a phrase; no other smoothing."
#define CW_SAY_CHART_SAME "grey band: within 2.5 % of A, hardly to be heard"
#define CW_SAY_CHART_RANGE "grey band: slowest to fastest of all recordings"
#define CW_SAY_CHART_MEDIAN "median of all recordings"
#define CW_SAY_DRIFT_TEMPO                                                                                             \
  CW_SAY_PER_MIN ": counts a minute. same: under 2.5 %, about the least change of tempo that is heard; "               \
                 "a little: up to 5 %."
#define CW_SAY_DRIFT_AHEAD                                                                                             \
  "ahead: B comes to the phrase's one so much sooner than A, both counted from the first phrase that both have."
#define CW_SAY_DRIFT_AHEAD_OF_MANY                                                                                     \
  "ahead: it comes to the phrase's one so much sooner than A (under 0: later), both counted from the first phrase "    \
  "that both have."

/// Up to so many percent of tempo, a difference is "a little".
#define CW_A_LITTLE_PERCENT 5.0

// Text sheet, in columns
#define CW_TEXT_NARROWEST 40
#define CW_TEXT_WIDEST_GRID 160 ///< wider, the eye loses the count
#define CW_TEXT_WIDEST_LABEL 12 ///< counts of a step in a list; longer ones have a line to themselves
#define CW_TEXT_GAP 2           ///< least space between two steps side by side
/// A step may wrap to so many lines under its count before the phrase is set in shorter lines, or as a list.
#define CW_TEXT_TALLEST_CELL 4
#define CW_TEXT_RULE "\u2500"
#define CW_TEXT_TITLE_RULE "\u2550"

/// A phrase of more counts is a slip of the pen; its steps are set as a list.
#define CW_MOST_COUNTS_IN_GRID 512

/// Counts in one line of the grid at most.
#define CW_COUNTS_PER_LINE 8

// Paper, in points
#define CW_A4_WIDTH 595.28
#define CW_A4_HEIGHT 841.89
#define CW_A5_WIDTH 419.53
#define CW_A5_HEIGHT 595.28
#define CW_LETTER_WIDTH 612.0
#define CW_LETTER_HEIGHT 792.0
#define CW_MARGIN 36.0
#define CW_SMALL_MARGIN 24.0      ///< of A5
#define CW_BIG 1.5                ///< steps are then in 17 points
#define CW_SQUEEZE 0.95           ///< steps can still be read at arm's length
#define CW_NEXT_TO_NOTHING 0.3    ///< of a page
#define CW_PAGE_PIXELS 3.0        ///< of a page as PNG, to a point
#define CW_NARROWEST_COLUMN 190.0 ///< of steps beside a plan of the stage; where less is left, the plan stands below
#define CW_FOOT_HEIGHT 18.0       ///< kept free above the lower margin for the page number
#define CW_LEADING 3.0            ///< between paragraphs of the head
#define CW_SPACE 10.0             ///< between parts of the page
#define CW_ROW_PAD 5.0            ///< above and below a phrase
#define CW_LIST_LABEL_PART 0.25   ///< of a list's width that the counts of a step may take
#define CW_ROW_START 90.0         ///< least room for the beginning of a phrase that no page can hold
#define CW_GUTTER 8.0             ///< between number, time and grid
#define CW_BAND_HEIGHT 16.0       ///< the band of count numbers
#define CW_BAND_BASELINE 12.0     ///< from the top of the band to the foot of its numbers
#define CW_BAND_OVERHANG 4.0      ///< of the band, left of the first count
#define CW_BAND_GREY 0.90
#define CW_STEP_GAP 5.0  ///< least space between two steps side by side
#define CW_LABEL_GAP 2.0 ///< least space between two count numbers
#define CW_STEP_DROP 2.0 ///< from the band to the steps
#define CW_TIE_WIDTH 1.6 ///< line under the counts that one step takes
#define CW_WRITE_IN 26.0 ///< room left to write a step in by hand
#define CW_HAIRLINE 0.5
#define CW_RULE_GREY 0.45
#define CW_SECTION_RULE 1.6
#define CW_HOLD_HEIGHT 15.0
#define CW_HATCH 5.0              ///< from line to line of the hatching of a hold
#define CW_MARK_RADIUS 6.0        ///< of the round mark before "check by ear"
#define CW_STAGE_WIDTH 85.0       ///< of the plan of the stage beside a phrase: 30 mm
#define CW_LEGEND_NARROWEST 170.0 ///< of two columns of the legend; below, there is one
#define CW_LEGEND_SIGN_PART 0.4   ///< of its column that a sign may take
#define CW_STRIP_HEIGHT 18.0      ///< of the overview
#define CW_STRIP_DOUBT 3.0        ///< of the bar that marks a doubtful phrase in it
#define CW_STRIP_ENTRANCE 5.0     ///< of the mark of an entrance under it
#define CW_STRIP_LANE 6.0         ///< room for these marks
#define CW_STRIP_TIME_ROOM 48.0   ///< from one time under it to the next, at least
#define CW_NUMBER_RISE 5.0        ///< a phrase number stands so much higher than its band, so that their tops agree
#define CW_STRIP_GREY 0.84
/// Setting a phrase in shorter lines must save at least this part of its height.
#define CW_WORTH_SPLITTING 0.8

// Chart, in points
#define CW_CHART_WIDTH 720.0
#define CW_CHART_HEIGHT 540.0
#define CW_CHART_PIXELS 2.0 ///< of a chart as PNG, to a point
#define CW_CHART_LEFT 52.0
#define CW_CHART_RIGHT 20.0
#define CW_CHART_LOWER_PART 0.38 ///< of the room for both panels that the lower one takes
#define CW_CHART_TICKS 6
#define CW_CHART_MARK 3.0       ///< half the size of a mark
#define CW_CHART_MARK_ROOM 10.0 ///< marks are drawn where phrases are at least so far apart
#define CW_GRID_GREY 0.8
#define CW_CHART_BAND_GREY 0.9
#define CW_CHART_MOST_LINES 5 ///< other recordings drawn each for itself; more are drawn as a range
#define CW_KEY_COLUMNS 2
#define CW_KEY_WIDTH 40.0
#define CW_DASH 6.0
#define CW_DASH_GAP 3.0

/// Tried from left to right; what a family lacks comes from any other font that has it.
#define CW_FONTS "DejaVu Sans Condensed, Noto Sans, Sans"

/// What text is for.
typedef enum {
  CW_FACE_TITLE,
  CW_FACE_SUBTITLE,
  CW_FACE_FACTS,
  CW_FACE_ALERT, ///< heading of what does not add up
  CW_FACE_SECTION,
  CW_FACE_NUMBER, ///< of the phrase
  CW_FACE_START,
  CW_FACE_TEMPO,
  CW_FACE_COUNT,     ///< a count that a step begins on
  CW_FACE_IDLE,      ///< another count
  CW_FACE_SUB_COUNT, ///< 3&
  CW_FACE_STEP,
  CW_FACE_REPEAT,
  CW_FACE_TAG,
  CW_FACE_MARK, ///< white, on the round mark
  CW_FACE_REMARK,
  CW_FACE_HOLD,
  CW_FACE_STRIP,
  CW_FACE_LEGEND,
  CW_FACE_SIGN, ///< before the words of the legend
  CW_FACE_FOOT,
  CW_FACE_AXIS, ///< numbers and words at the axes of a chart
  CW_FACE_PANEL,
  CW_N_FACES
} CwFace;

/// How it looks.
typedef struct {
  double size; ///< points
  bool bold;
  bool italic;
  double grey; ///< 0 is black
} CwFaceLook;

static const CwFaceLook cw_face_look[CW_N_FACES] = {
    [CW_FACE_TITLE] = {24, true, false, 0},      [CW_FACE_SUBTITLE] = {15, false, false, 0},
    [CW_FACE_FACTS] = {10.5, false, false, 0},   [CW_FACE_ALERT] = {11, true, false, 0},
    [CW_FACE_SECTION] = {14, true, false, 0},    [CW_FACE_NUMBER] = {22, true, false, 0},
    [CW_FACE_START] = {12, true, false, 0},      [CW_FACE_TEMPO] = {10, false, false, 0},
    [CW_FACE_COUNT] = {11.5, true, false, 0},    [CW_FACE_IDLE] = {10, false, false, 0.3},
    [CW_FACE_SUB_COUNT] = {9.5, true, false, 0}, [CW_FACE_STEP] = {11.5, false, false, 0},
    [CW_FACE_REPEAT] = {13, true, false, 0},     [CW_FACE_TAG] = {10.5, true, false, 0},
    [CW_FACE_MARK] = {9.5, true, false, 1},      [CW_FACE_REMARK] = {10.5, false, true, 0},
    [CW_FACE_HOLD] = {11, true, false, 0},       [CW_FACE_STRIP] = {8.5, false, false, 0},
    [CW_FACE_LEGEND] = {9.5, false, false, 0},   [CW_FACE_SIGN] = {9.5, true, false, 0},
    [CW_FACE_FOOT] = {9, false, false, 0.2},     [CW_FACE_AXIS] = {10, false, false, 0},
    [CW_FACE_PANEL] = {11, true, false, 0},
};

#endif
