// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/notebook.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/parser.h"
#include "notes/tempo.h"

/// Bytes of the first line end at or after `at`: LF, CR LF or CR. @return Where the line ends, its line end included.
static size_t line_end(const char *text, size_t size, size_t at, size_t *content)
{
  while (at < size && text[at] != '\n' && text[at] != '\r') {
    at++;
  }
  *content = at;
  if (at == size) {
    return size;
  }
  return text[at] == '\r' && at + 1 < size && text[at + 1] == '\n' ? at + 2 : at + 1;
}

/// Where a private remark begins: a ";" at the line's start or after a blank. `n` when there is none.
static size_t find_private(const CwLineText *text)
{
  for (size_t i = 0; i < text->n; i++) {
    if (text->key[i] == ';' && (i == 0 || text->key[i - 1] == ' ')) {
      return i;
    }
  }
  return text->n;
}

static void read_heading(CwParser *parser)
{
  CwNotebook *notebook = parser->notebook;
  size_t i = parser->begin;
  while (i < parser->end && parser->text.key[i] == '#') {
    i++;
  }
  parser->section_tempo = (CwNotedTempo){0, 0};
  cw_read_tempo(&parser->text, i, parser->end, true, &parser->section_tempo);
  char *words = cw_line_text_copy(&parser->text, i, parser->end);
  if (!words ||
      !cw_grow(&notebook->section, &parser->section_capacity, notebook->n_sections, sizeof *notebook->section)) {
    free(words);
    parser->full = true;
    return;
  }
  notebook->section[notebook->n_sections++] = words;
}

static CwLineKind read_kind(CwParser *parser)
{
  if (parser->begin == parser->end) {
    return parser->end < parser->text.n && parser->text.key[parser->end] == ';' ? CW_LINE_PRIVATE : CW_LINE_BLANK;
  }
  if (parser->text.key[parser->begin] == '#') {
    read_heading(parser);
    return CW_LINE_HEADING;
  }
  if (cw_read_head_line(parser)) {
    return CW_LINE_HEAD;
  }
  parser->head_over = true;
  if (cw_read_hold_line(parser)) {
    return CW_LINE_HOLD;
  }
  if (cw_read_count_in_line(parser)) {
    return CW_LINE_COUNT_IN;
  }
  return cw_read_phrase_line(parser);
}

/// Once a notebook: the bytes of another encoding were guessed at.
static void tell_bytes(CwParser *parser, const char *bytes)
{
  if (parser->text.repaired && !parser->told_bytes) {
    parser->told_bytes = true;
    cw_diagnose(parser, parser->text.repaired_at,
                "expected UTF-8, found other bytes; here and below they are read as Windows-1252");
  }
  if (parser->line == 1 && parser->text.n >= 2 &&
      (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0)) {
    cw_diagnose(parser, 0, "expected UTF-8, found UTF-16; save the notes as UTF-8");
  }
}

static void read_line(CwParser *parser, size_t offset, size_t content, size_t end)
{
  static const char mark[] = "\xEF\xBB\xBF"; // a byte order mark is no character of the notes
  CwNotebook *notebook = parser->notebook;
  size_t from = offset;
  if (offset == 0 && content >= 3 && memcmp(notebook->text, mark, 3) == 0) {
    from = 3;
  }
  if (cw_line_text_read(&parser->text, notebook->text + from, content - from) != CW_OK ||
      !cw_grow(&notebook->line, &parser->line_capacity, notebook->n_lines, sizeof *notebook->line)) {
    parser->full = true;
    return;
  }
  parser->line = notebook->n_lines + 1;
  parser->line_diagnostics = 0;
  const size_t end_of_words = find_private(&parser->text);
  parser->begin = cw_skip_blanks(&parser->text, 0, end_of_words);
  parser->end = cw_trim_blanks(&parser->text, parser->begin, end_of_words);
  tell_bytes(parser, notebook->text + from);
  const CwLineKind kind = read_kind(parser);
  notebook->line[notebook->n_lines++] = (CwNoteLine){kind, offset, end - offset};
}

static int by_place(const void *a, const void *b)
{
  const CwDiagnostic *left = a;
  const CwDiagnostic *right = b;
  if (left->line != right->line) {
    return left->line < right->line ? -1 : 1;
  }
  if (left->column != right->column) {
    return left->column < right->column ? -1 : 1;
  }
  return strcmp(left->text, right->text);
}

/// What can only be said when all lines are read.
static void finish(CwParser *parser)
{
  CwNotebook *notebook = parser->notebook;
  if (parser->count_in > 0) {
    cw_diagnose_at(parser, parser->count_in_line, 1,
                   "expected a phrase after the count-in, found the end of the notes");
  }
  cw_check_pins(parser);
  if (notebook->n_diagnostics > 1) {
    qsort(notebook->diagnostic, notebook->n_diagnostics, sizeof *notebook->diagnostic, by_place);
  }
}

CwStatus cw_notebook_parse(const char *text, size_t size, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  notebook->head.first_one_s = NAN;
  CwParser parser = {.notebook = notebook, .counts_per_phrase = CW_COUNTS_USUAL};
  notebook->text = cw_copy_text(text, size);
  notebook->size = size;
  parser.full = !notebook->text;
  for (size_t at = 0; at < size && !parser.full;) {
    size_t content = 0;
    const size_t end = line_end(notebook->text, size, at, &content);
    read_line(&parser, at, content, end);
    at = end;
  }
  if (!parser.full) {
    finish(&parser);
  }
  free(parser.remark);
  cw_line_text_free(&parser.text);
  if (parser.full) {
    cw_notebook_free(notebook);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_notebook_print(const CwNotebook *notebook, char **text, size_t *size)
{
  *text = NULL;
  *size = 0;
  char *printed = cw_new(notebook->size + 1, 1);
  if (!printed) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < notebook->n_lines; i++) {
    const CwNoteLine *line = &notebook->line[i];
    memcpy(printed + *size, notebook->text + line->offset, line->length);
    *size += line->length;
  }
  *text = printed;
  return CW_OK;
}

void cw_notebook_free(CwNotebook *notebook)
{
  if (!notebook) {
    return;
  }
  for (size_t i = 0; i < notebook->n_phrases; i++) {
    cw_note_phrase_free(&notebook->phrase[i]);
  }
  for (size_t i = 0; i < notebook->n_sections; i++) {
    free(notebook->section[i]);
  }
  for (size_t i = 0; i < notebook->n_diagnostics; i++) {
    free(notebook->diagnostic[i].text);
  }
  CwNoteHead *head = &notebook->head;
  char *const owned[] = {head->piece,        head->dance,    head->role, head->recording,
                         head->carried_from, head->language, head->glossary, head->tempo};
  for (size_t i = 0; i < sizeof owned / sizeof owned[0]; i++) {
    free(owned[i]);
  }
  free(notebook->phrase);
  free(notebook->section);
  free(notebook->diagnostic);
  free(notebook->line);
  free(notebook->text);
  memset(notebook, 0, sizeof *notebook);
}
