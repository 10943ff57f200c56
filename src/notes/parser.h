// SPDX-License-Identifier: GPL-3.0-or-later
/// What the files of this part share while a notebook is being read.
#ifndef CW_NOTES_PARSER_H
#define CW_NOTES_PARSER_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/notebook.h"
#include "notes/line_text.h"

/// Counts of a phrase when nothing says otherwise, and the most that a bare number at a line's start may give.
#define CW_COUNTS_USUAL 8u
#define CW_COUNTS_MOST 64u

/// The most that "100 counts" may give.
#define CW_COUNTS_MOST_SAID 999u

/// Where repeats are cut: phrases in all, and bytes that repeats copy in all.
#define CW_REPEAT_PHRASES 100000u
#define CW_REPEAT_BYTES ((size_t)64 << 20)

/// Diagnostics kept of one line; the rest would be noise.
#define CW_DIAGNOSTICS_A_LINE 20u

/// The state of reading. When memory runs out `full` is set, whatever was under way is dropped and the reading ends.
typedef struct {
  CwNotebook *notebook;
  CwLineText text; ///< the line at hand
  size_t begin;    ///< its first character that is no blank
  size_t end;      ///< where it ends: before a private remark, without blanks
  size_t line;     ///< its number, from 1
  bool full;

  bool head_over;             ///< a phrase, a repeat, a hold or a count-in has been read
  unsigned counts_per_phrase; ///< in force from here on, as the three below
  unsigned metre;
  unsigned metre_unit;
  double beats_per_count;
  CwNotedTempo tempo;         ///< as last given in a line of its own
  CwNotedTempo section_tempo; ///< of the last heading; zeros when it gives none

  size_t phrase_lines; ///< lines of one phrase so far
  size_t led_lines;    ///< those that began with their number of counts
  CwPin first_one;     ///< of the head; its line is 0 when not given
  unsigned count_in;   ///< waits for its phrase; 0 when none
  size_t count_in_line;
  char *remark; ///< waits for its phrase; NULL when none
  bool told_bytes;
  unsigned line_diagnostics;
  size_t copied_bytes;

  size_t line_capacity;
  size_t section_capacity;
  size_t phrase_capacity;
  size_t diagnostic_capacity;
} CwParser;

/// A phrase that grows.
typedef struct {
  CwNotePhrase phrase;
  size_t step_capacity;
  size_t pin_capacity;
} CwDraft;

/// Say something of character `i` of the line at hand; `i` counts from 0.
void cw_diagnose(CwParser *parser, size_t i, const char *format, ...) CW_PRINTF(3, 4);

/// The same of any place. Does not count among the line's diagnostics.
void cw_diagnose_at(CwParser *parser, size_t line, size_t column, const char *format, ...) CW_PRINTF(4, 5);

/// Say "expected `wanted`, found '...'", quoting [i, end) of the line at hand, or the line's end when that is empty.
void cw_diagnose_found(CwParser *parser, size_t i, size_t end, const char *wanted);

/// Set out on a phrase with what is in force at this line.
void cw_draft_begin(CwParser *parser, CwDraft *draft);

/// Add a step; its text is empty.
void cw_draft_step(CwParser *parser, CwDraft *draft, double count, double until);

/// Add a pin written at character `i` of the line at hand.
void cw_draft_pin(CwParser *parser, CwDraft *draft, double count, double time_s, size_t i);

/// Add [from, to) of the line at hand to a remark, after "; " when there is one already. Blanks alone add nothing.
void cw_remark_add(CwParser *parser, char **remark, size_t from, size_t to);

/// Put the phrase at the end of the notebook, with the count-in and the remark that wait for it. The draft is then
/// empty, on failure too.
void cw_draft_end(CwParser *parser, CwDraft *draft);

/// Release a phrase's parts.
void cw_note_phrase_free(CwNotePhrase *phrase);

/// The kinds of line. Each reads the line at hand when it is of that kind, and says whether it was.
bool cw_read_head_line(CwParser *parser);
bool cw_read_hold_line(CwParser *parser);
bool cw_read_count_in_line(CwParser *parser);

/// Any line may be a phrase. Tells apart phrases and repeats, too.
/// @return CW_LINE_PHRASE or CW_LINE_REPEAT.
CwLineKind cw_read_phrase_line(CwParser *parser);

/// Say which pins go backwards in time, once all lines are read.
void cw_check_pins(CwParser *parser);

#endif
