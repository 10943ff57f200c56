// SPDX-License-Identifier: GPL-3.0-or-later
/// Corrections as changes of the notes' text. Each is tried and then read back: only what the parser then understands as
/// wanted, with all else as it was, is kept. All else of the text stays byte for byte.
#ifndef CW_DESK_EDIT_H
#define CW_DESK_EDIT_H

#include <stddef.h>
#include <stdio.h>

#include "countwright/count_line.h"
#include "countwright/notebook.h"
#include "countwright/status.h"

/// Notes to change. All belong to whoever made them.
typedef struct {
  const CwNotebook *notebook;
  const CwCountLine *line; ///< where their counts are; empty when not known
} DeskNotes;

/// The results are new texts, released with free(), NULL on error. @return All of them: CW_OK, CW_ERR_BAD_ARG (it cannot
/// be, or cannot be written there) or CW_ERR_NO_MEM.

/// "This count is at this time."
CW_NODISCARD CwStatus desk_edit_pin(const DeskNotes *notes, size_t phrase, double count, double time_s, char **text,
                                    size_t *size);

/// No pin on that count any more.
CW_NODISCARD CwStatus desk_edit_unpin(const DeskNotes *notes, size_t phrase, double count, char **text, size_t *size);

/// Beats that a count lasts.
CW_NODISCARD CwStatus desk_edit_level(const DeskNotes *notes, double beats_per_count, char **text, size_t *size);

/// Two phrases of one: the second begins with its count `count`.
CW_NODISCARD CwStatus desk_edit_split(const DeskNotes *notes, size_t phrase, unsigned count, char **text, size_t *size);

/// One phrase of two: this and the next.
CW_NODISCARD CwStatus desk_edit_join(const DeskNotes *notes, size_t phrase, char **text, size_t *size);

/// A hold after the phrase, until a time.
CW_NODISCARD CwStatus desk_edit_hold(const DeskNotes *notes, size_t phrase, double until_s, char **text, size_t *size);

/// The phrase is not played: its line becomes a private remark.
CW_NODISCARD CwStatus desk_edit_cut(const DeskNotes *notes, size_t phrase, char **text, size_t *size);

/// For the files of these: the phrases on a line, [first, end).
typedef struct {
  size_t first, end;
} DeskGroup;

DeskGroup desk_group(const CwNotebook *notebook, size_t phrase);

/// The text with line `number` (from 1) replaced.
char *desk_replace_line(const CwNotebook *notebook, size_t number, const char *by, size_t length, size_t *size);

/// Write a line that refers to phrases by number, those behind `last` one more or one less.
void desk_renumber(const char *line, size_t length, unsigned last, int more, FILE *out);

/// Whether a text is read as the notes, but for pins: the same phrases with the same steps.
CW_NODISCARD CwStatus desk_same_but_pins(const CwNotebook *notebook, const char *text, size_t size, CwNotebook *read);

#endif
