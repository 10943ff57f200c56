// SPDX-License-Identifier: GPL-3.0-or-later
/// @file notebook.h
/// The dancer's notebook: plain UTF-8 text, read without ever refusing a line. The grammar, with an example for each
/// rule, is in src/notes/GRAMMAR.md.
#ifndef COUNTWRIGHT_NOTEBOOK_H
#define COUNTWRIGHT_NOTEBOOK_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// What a line of the notebook is.
typedef enum {
  CW_LINE_BLANK,
  CW_LINE_HEAD,     ///< "key: value"
  CW_LINE_HEADING,  ///< "# text"
  CW_LINE_PHRASE,   ///< one phrase (or several, by "x2")
  CW_LINE_PART,     ///< what another role does in the phrase above: "+ [girls] 1-4 run"
  CW_LINE_REPEAT,   ///< "repeat 3-6", "same as 5"
  CW_LINE_HOLD,     ///< a hold on a line of its own
  CW_LINE_COUNT_IN, ///< "in 4", "count-in 5-8"
  CW_LINE_ENDING,   ///< "1st ending" or "fine" alone on its line
  CW_LINE_PRIVATE   ///< "; text"
} CwLineKind;

/// One line of the text, kept word for word.
typedef struct {
  CwLineKind kind;
  size_t offset; ///< first byte in CwNotebook.text
  size_t length; ///< bytes, line end included
} CwNoteLine;

/// How the bytes of a notebook were read.
typedef enum {
  CW_NOTES_UTF_8,     ///< with stray bytes read as Windows-1252
  CW_NOTES_UTF_16_LE, ///< by its byte order mark
  CW_NOTES_UTF_16_BE
} CwNoteEncoding;

/// Something `check` should say. Line and column count from 1; columns count characters (code points), not bytes.
typedef struct {
  size_t line;
  size_t column;
  char *text; ///< such as "expected a count, found 'x'"
} CwDiagnostic;

/// A step placed on a count. Counts are written 1, 2, ... with fractions for sub-counts: "3&" is 3.5; "e" and "a" are
/// the quarters 3.25 and 3.75, or in a bar of three counted in one the 2 and 3 of the bar: 3 1/3 and 3 2/3 ("&a" are
/// these too). "&1" is 0.5, before the phrase's one. A step on several counts that are no range has its words on the first
/// and empty texts on the others: "3&4 hop" is 3 "hop", 3.5 "" and 4 "".
///
/// Counts past the phrase's last are those of the next: in a phrase of 8, until 10 is "7-2", over the phrase's end. A step
/// begins past it only in a canon.
typedef struct {
  double count;
  double until; ///< last count of a range "1-4" (4); equal to `count` for a single one
  char *text;   ///< valid UTF-8 without control characters; may be empty, never NULL
} CwStep;

/// "This count is at this time."
typedef struct {
  double count;  ///< in its phrase, 1 is the one
  double time_s; ///< seconds in the recording
  size_t line;
  size_t column;
} CwPin;

/// A tempo in beats a minute, as a range; zeros when not given.
typedef struct {
  double low_bpm;
  double high_bpm;
} CwNotedTempo;

/// No reference, no section.
#define CW_NONE ((size_t)-1)

/// What another role does while the phrase is danced.
typedef struct {
  char *role; ///< NULL when the line names none
  size_t line;
  CwStep *step; ///< by the phrase's counts, as its own steps; ascending
  size_t n_steps;
  size_t like;     ///< index of the phrase whose steps these are ("same as 5"), or CW_NONE
  bool other_side; ///< its steps are danced on the other side than they are written
  unsigned delay;  ///< canon: begins so many counts after the phrase's one; its steps are so much later. 0 without
  unsigned after;  ///< canon: so many counts after the one it follows
  char *leader;    ///< canon: the role it follows; NULL when that has no name
  char *remark;    ///< NULL when none
} CwNotePart;

/// A phrase after repeats have been written out: what is danced, in order.
typedef struct {
  size_t line;       ///< line it was written on (for a repeat, the line of the repeat), from 1
  unsigned counts;   ///< number of counts, at least 1
  bool counts_given; ///< false when taken from the head or the default of 8
  size_t section;    ///< index into CwNotebook.section, or CW_NONE
  size_t like;       ///< index of the earlier phrase that it repeats ("x2", "repeat", "same as"), or CW_NONE
  bool other_side;   ///< danced on the other side than `like`
  CwStep *step;      ///< `n_steps` of them, ascending by count as written
  size_t n_steps;
  CwPin *pin;
  size_t n_pins;
  double hold_s;       ///< hold after the phrase, in seconds; 0 when none or unknown length
  bool hold_after;     ///< a hold follows the phrase
  double hold_until_s; ///< recording time at which that hold ends; NaN when not given
  unsigned count_in;   ///< counts counted in before the phrase, 0 when none
  char *remark;        ///< what is no step: entrances, text not understood; may be NULL
  char *role;          ///< "[role]" at its start, or NULL
  CwNotePart *part;    ///< what others do at the same time; `n_parts` of them
  size_t n_parts;
  unsigned canon_apart;   ///< danced in canon, so many counts apart; 0 when not
  unsigned metre;         ///< beats in a bar as last given above it, 0 when never given
  unsigned metre_unit;    ///< 4 in "3/4"; 0 when not given
  double beats_per_count; ///< as last given above it, 0 when never given
  CwNotedTempo tempo;     ///< of its section's heading, else as last given above it
} CwNotePhrase;

/// Someone comes on or goes off.
typedef struct {
  size_t phrase; ///< index
  double count;  ///< of the phrase; who exits on "7-8" is off at 9
  bool on;       ///< comes on
  char *role;    ///< who; NULL: everyone the line is for, which without a role is the whole cast
  size_t line;
} CwNoteMove;

/// The head: what "key: value" lines say before the first phrase. Strings are NULL and numbers 0 (times NaN) when not given.
typedef struct {
  char *piece;
  char *dance;
  char *role;
  char *recording;     ///< file name as written
  char *carried_from;  ///< file of the notes whose counts this is a copy of, for another recording
  unsigned metre;      ///< beats in a bar: 3 in "3/4", 6 in "6/8"
  unsigned metre_unit; ///< 4 in "3/4", 8 in "6/8"; 0 when only a number was given
  double beats_per_count;
  double first_one_s; ///< "first one: 0:12.4"; NaN when not given
  unsigned counts_per_phrase;
  char *language;
  char *glossary;           ///< file of the terms of its style of dance
  char *cast;               ///< "cast: Ferryman, Girls": the roles, as written
  bool spread;              ///< "spread: yes": steps without marks are spread over their phrase
  char *tempo;              ///< words or "96", as written
  CwNotedTempo tempo_range; ///< what they mean
} CwNoteHead;

/// A notebook. Release with cw_notebook_free().
typedef struct {
  char *text; ///< the whole text as read, byte for byte (but see `encoding`), `size` bytes and a NUL
  size_t size;
  CwNoteEncoding encoding; ///< of the bytes that were parsed; `text` is UTF-8 where that is UTF-16
  CwNoteLine *line;
  size_t n_lines;
  CwNoteHead head;
  char **section; ///< headings in order
  size_t n_sections;
  CwNotePhrase *phrase; ///< repeats written out
  size_t n_phrases;
  CwNoteMove *move; ///< entrances and exits, in the order in which they are danced
  size_t n_moves;
  CwDiagnostic *diagnostic; ///< in order of line and column
  size_t n_diagnostics;
} CwNotebook;

/// Parse a notebook. Nothing written in it is an error: what is not understood stays among the words of its step or
/// becomes a remark of its phrase, and a diagnostic says so.
/// @param text `size` bytes, any content.
/// @param[out] notebook Release with cw_notebook_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_notebook_parse(const char *text, size_t size, CwNotebook *notebook);

/// Read and parse a file; "-" is standard input.
/// @return CW_OK, CW_ERR_NOT_FOUND, CW_ERR_IS_DIRECTORY, CW_ERR_NO_ACCESS, CW_ERR_NOT_TEXT, CW_ERR_READ, CW_ERR_TOO_LONG (over
/// 64 MiB)
/// or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_notebook_read(const char *path, CwNotebook *notebook);

/// Read the notebook again as though its head said "spread: yes": the steps of phrases without marks, parted by commas, are
/// spread over their counts in order.
/// @return CW_OK or CW_ERR_NO_MEM (the notebook is then as it was).
CW_API CW_NODISCARD CwStatus cw_notebook_spread(CwNotebook *notebook);

/// The notebook's text put together again from its lines: always the same bytes as were parsed.
/// @param[out] text Release with free(); NUL-terminated.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_notebook_print(const CwNotebook *notebook, char **text, size_t *size);

/// Whether the words of a step say that the dancer stays as she is: "hold", "freeze", "stay".
CW_API bool cw_step_is_hold(const char *text);

/// Release and set to empty. NULL is accepted.
CW_API void cw_notebook_free(CwNotebook *notebook);

CW_END

#endif
