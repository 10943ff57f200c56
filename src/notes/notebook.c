// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/notebook.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/encoding.h"
#include "notes/parser.h"
#include "notes/references.h"
#include "notes/tempo.h"
#include "notes/words.h"

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
  cw_section_begin(parser, i, parser->end);
}

/// "fine" alone on its line: a da capo may end here.
static bool read_fine(CwParser *parser)
{
  size_t i = parser->begin;
  if (!cw_match_words(&parser->text, i, parser->end, "fine", &i) ||
      cw_skip_signs(&parser->text, i, parser->end) < parser->end) {
    return false;
  }
  if (parser->notebook->n_phrases == 0) {
    cw_diagnose(parser, parser->begin, "expected a phrase before 'fine', found none");
  }
  parser->fine = parser->notebook->n_phrases;
  return true;
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
  if (read_fine(parser)) {
    return CW_LINE_ENDING;
  }
  return cw_read_phrase_line(parser);
}

/// Whether the bytes of one more line are told of; the last time it says that no more are.
static bool may_tell(CwParser *parser, unsigned *told, size_t i)
{
  if (*told < CW_BYTES_TOLD && ++*told == CW_BYTES_TOLD) {
    cw_diagnose(parser, i, "and so on; bytes like these are told of no more");
    return false;
  }
  return *told < CW_BYTES_TOLD;
}

/// Where bytes were guessed at.
static void tell_bytes(CwParser *parser)
{
  const CwLineText *text = &parser->text;
  if (parser->line == 1 && parser->notebook->encoding != CW_NOTES_UTF_8) {
    cw_diagnose(parser, 0, "expected UTF-8, found UTF-16: read as that");
  }
  if (text->repaired && may_tell(parser, &parser->bytes_told, text->repaired_at)) {
    cw_diagnose(parser, text->repaired_at, "expected UTF-8, found other bytes: read as Windows-1252");
  }
  if (text->control && may_tell(parser, &parser->controls_told, text->control_at)) {
    cw_diagnose(parser, text->control_at, "expected text, found a control character");
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
  tell_bytes(parser);
  const CwLineKind kind = read_kind(parser);
  notebook->line[notebook->n_lines++] = (CwNoteLine){kind, offset, end - offset};
  if (kind == CW_LINE_PRIVATE && parser->group.line + 1 == parser->line) {
    parser->group.line++; // roles may have a private remark between them
  }
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
  cw_settle_later(parser);
  cw_check_pins(parser);
  cw_check_ends(parser);
  cw_find_moves(parser);
  if (notebook->n_diagnostics > 1) {
    qsort(notebook->diagnostic, notebook->n_diagnostics, sizeof *notebook->diagnostic, by_place);
  }
}

static void parser_free(CwParser *parser)
{
  for (size_t i = 0; i < parser->n_later; i++) {
    free(parser->later[i].words);
  }
  free(parser->later);
  free(parser->endings);
  free(parser->sections);
  free(parser->remark);
  cw_names_free(&parser->section_names);
  cw_line_text_free(&parser->text);
}

static CwStatus parse(const char *bytes, size_t size, bool spread, CwNotebook *notebook)
{
  memset(notebook, 0, sizeof *notebook);
  notebook->head.first_one_s = NAN;
  CwParser parser = {.notebook = notebook, .counts_per_phrase = CW_COUNTS_USUAL, .spread = spread};
  parser.full = cw_notes_decode(bytes, size, &notebook->encoding, &notebook->text, &notebook->size) != CW_OK;
  for (size_t at = 0; at < notebook->size && !parser.full;) {
    size_t content = 0;
    const size_t end = line_end(notebook->text, notebook->size, at, &content);
    read_line(&parser, at, content, end);
    at = end;
  }
  if (!parser.full) {
    finish(&parser);
  }
  parser_free(&parser);
  if (parser.full) {
    cw_notebook_free(notebook);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

CwStatus cw_notebook_parse(const char *text, size_t size, CwNotebook *notebook)
{
  return parse(text, size, false, notebook);
}

CwStatus cw_notebook_spread(CwNotebook *notebook)
{
  char *bytes = NULL;
  size_t size = 0;
  CwNotebook again;
  if (cw_notebook_print(notebook, &bytes, &size) != CW_OK) {
    return CW_ERR_NO_MEM;
  }
  const CwStatus status = parse(bytes, size, true, &again);
  free(bytes);
  if (status == CW_OK) {
    cw_notebook_free(notebook);
    *notebook = again;
  }
  return status;
}

CwStatus cw_notebook_print(const CwNotebook *notebook, char **text, size_t *size)
{
  *text = NULL;
  *size = 0;
  char *printed = cw_new(notebook->size + 1, 1);
  if (!printed) {
    return CW_ERR_NO_MEM;
  }
  size_t length = 0;
  for (size_t i = 0; i < notebook->n_lines; i++) {
    const CwNoteLine *line = &notebook->line[i];
    memcpy(printed + length, notebook->text + line->offset, line->length);
    length += line->length;
  }
  const CwStatus status = cw_notes_encode(printed, length, notebook->encoding, text, size);
  free(printed);
  return status;
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
  char *const owned[] = {head->piece,    head->dance,    head->role,  head->recording, head->carried_from,
                         head->language, head->glossary, head->tempo, head->cast};
  for (size_t i = 0; i < sizeof owned / sizeof owned[0]; i++) {
    free(owned[i]);
  }
  free(notebook->phrase);
  free(notebook->section);
  for (size_t i = 0; i < notebook->n_moves; i++) {
    free(notebook->move[i].role);
  }
  free(notebook->move);
  free(notebook->diagnostic);
  free(notebook->line);
  free(notebook->text);
  memset(notebook, 0, sizeof *notebook);
}
