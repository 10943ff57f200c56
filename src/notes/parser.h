// SPDX-License-Identifier: GPL-3.0-or-later
/// What the files of this part share while a notebook is being read.
#ifndef CW_NOTES_PARSER_H
#define CW_NOTES_PARSER_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/notebook.h"
#include "notes/line_text.h"
#include "notes/names.h"

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

/// Roles side by side in one phrase, at most: a line more begins a phrase of its own.
#define CW_PARTS_MOST 64u

/// Lines whose bytes are told of, of one kind; more would be noise.
#define CW_BYTES_TOLD 20u

/// The phrases of the line above, with which the next line may be danced at the same time.
typedef struct {
  size_t first;
  size_t end;  ///< also the number of phrases: nothing comes after them yet
  size_t line; ///< the line right below it continues the group
  bool roles;  ///< its first line is for a role
} CwGroup;

/// A heading.
typedef struct {
  size_t first;  ///< its first phrase
  size_t before; ///< the last heading of the same words before it, or CW_NO_NAME
} CwSection;

/// Endings of a section that is danced several times.
enum { CW_ENDINGS_MOST = 4 };
typedef struct {
  size_t section;
  size_t body_first; ///< what comes before the first ending
  size_t body_end;
  size_t first[CW_ENDINGS_MOST]; ///< the phrases of each ending
  size_t end[CW_ENDINGS_MOST];
  unsigned n;   ///< endings so far
  bool open;    ///< the phrases being read belong to the last of them
  bool written; ///< what comes before has been repeated by hand since the last of them began
  bool line;    ///< the last of them is over with its line
} CwEndings;

/// "same as 7" above phrase 7: it waits for the end of the notes.
typedef struct {
  size_t phrase;
  size_t target;
  size_t line;
  size_t column;
  bool other_side;
  bool counts_given;
  char *words; ///< as written
} CwLater;

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
  char *remark;        ///< waits for its phrase; NULL when none
  unsigned bytes_told; ///< lines with bytes that are not UTF-8
  unsigned controls_told;
  bool told_bars;
  bool spread;      ///< steps without marks are spread
  size_t over_line; ///< the last step that runs over its phrase's end, and where it is written; 0 when none
  size_t over_column;
  unsigned line_diagnostics;

  unsigned within;      ///< counts of the phrase above while a line is read that may be danced with it; 0 else
  bool meanwhile;       ///< and that it is danced with it is said
  unsigned said_counts; ///< the number of counts that the line at hand gives; 0 when none
  CwGroup group;
  CwSection *sections; ///< as many as the notebook's
  CwNames section_names;
  CwEndings *endings;
  size_t n_endings;
  CwLater *later;
  size_t n_later;
  size_t fine; ///< phrases before "fine"; 0 when not given
  size_t copied_bytes;

  size_t line_capacity;
  size_t section_capacity;
  size_t sections_capacity;
  size_t endings_capacity;
  size_t later_capacity;
  size_t move_capacity;
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

/// The number of counts that a phrase on this line has when it does not say.
unsigned cw_usual_counts(const CwParser *parser);

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

/// Release what a phrase, or a part of one, holds, and set it to empty.
void cw_note_phrase_free(CwNotePhrase *phrase);
void cw_note_part_free(CwNotePart *part);

/// Copy a text that may be NULL. @return false when memory runs out, which the parser is then told.
bool cw_copy_to(CwParser *parser, const char *from, char **to);

/// Copy `n` steps, each `later` counts later.
/// @param most Steps that begin after this count are left out, and those that go on are cut; 0: all as they are.
/// @return How many; the array is NULL when memory ran out, which the parser is then told.
size_t cw_copy_steps(CwParser *parser, const CwStep *step, size_t n, unsigned later, unsigned most, CwStep **copy);

/// Give a phrase, which has none, what is danced beside phrase `k`.
void cw_copy_parts(CwParser *parser, size_t k, bool mirrored, CwNotePhrase *to);

/// The kinds of line. Each reads the line at hand when it is of that kind, and says whether it was.
bool cw_read_head_line(CwParser *parser);
bool cw_read_hold_line(CwParser *parser);
bool cw_read_count_in_line(CwParser *parser);

/// Any line may be a phrase. Tells apart phrases and repeats, too.
/// @return CW_LINE_PHRASE, CW_LINE_REPEAT, CW_LINE_PART or CW_LINE_ENDING.
CwLineKind cw_read_phrase_line(CwParser *parser);

/// Say which pins go backwards in time, once all lines are read.
void cw_check_pins(CwParser *parser);

/// Fill in what is the same as a later phrase, once all lines are read; say what cannot be.
void cw_settle_later(CwParser *parser);

/// Say which steps run over the end of the last phrase, once all lines are read.
void cw_check_ends(CwParser *parser);

/// Find who comes on and goes off, once all lines are read.
void cw_find_moves(CwParser *parser);

#endif
