// SPDX-License-Identifier: GPL-3.0-or-later
/// Any bytes are a notebook: it prints back as it was, and what was read from it keeps its promises.
#include "fuzz/fuzz.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "countwright/cast.h"
#include "countwright/notebook.h"
#include "countwright/repin.h"

static void promise(bool kept, const char *what)
{
  if (!kept) {
    fprintf(stderr, "broken promise: %s\n", what);
    abort();
  }
}

static void check_text(const char *text)
{
  promise(!text || !u8_check((const uint8_t *)text, strlen(text)), "texts are valid UTF-8");
  for (const char *c = text; c && *c; c++) {
    promise((unsigned char)*c >= ' ' && *c != '\x7F', "texts have no control characters");
  }
}

static void check_round_trip(const CwNotebook *notebook, const uint8_t *data, size_t size)
{
  char *text = NULL;
  size_t printed = 0;
  promise(cw_notebook_print(notebook, &text, &printed) == CW_OK, "printing works");
  promise(printed == size && (size == 0 || memcmp(text, data, size) == 0), "a notebook prints as it was read");
  free(text);
  size_t at = 0;
  for (size_t i = 0; i < notebook->n_lines; i++) {
    promise(notebook->line[i].offset == at && notebook->line[i].length > 0, "lines follow each other");
    at += notebook->line[i].length;
  }
}

static void check_steps(const CwStep *steps, size_t n)
{
  double before = 0;
  for (size_t i = 0; i < n; i++) {
    const CwStep *step = &steps[i];
    check_text(step->text);
    promise(step->text != NULL, "a step has a text");
    promise(step->count > 0 && step->until >= step->count, "a step's counts go up");
    promise(step->count >= before, "steps ascend");
    before = step->count;
    (void)cw_step_is_hold(step->text);
  }
}

static void check_own_steps(const CwNotePhrase *phrase)
{
  check_steps(phrase->step, phrase->n_steps);
  for (size_t i = 0; i < phrase->n_steps; i++) {
    const CwStep *step = &phrase->step[i];
    promise(step->count <= phrase->counts * 2.0, "a step begins in its phrase, or right after it");
    promise(step->until < phrase->counts * 2.0 + 1.0, "a step runs no further than the next phrase");
  }
}

static void check_parts(const CwNotebook *notebook, const CwNotePhrase *phrase)
{
  for (size_t i = 0; i < phrase->n_parts; i++) {
    const CwNotePart *part = &phrase->part[i];
    promise(part->line >= 1 && part->line <= notebook->n_lines, "a part has a line");
    promise(part->like == CW_NONE || part->like < notebook->n_phrases, "a part's model exists");
    promise(part->delay >= part->after, "a canon is as late as its leader and more");
    check_text(part->role);
    check_text(part->leader);
    check_text(part->remark);
    check_steps(part->step, part->n_steps);
  }
}

static void check_moves(const CwNotebook *notebook)
{
  for (size_t i = 0; i < notebook->n_moves; i++) {
    const CwNoteMove *move = &notebook->move[i];
    promise(move->phrase < notebook->n_phrases && move->count > 0 && isfinite(move->count), "a move has a place");
    promise(move->line >= 1 && move->line <= notebook->n_lines, "a move has a line");
    promise(i == 0 || notebook->move[i - 1].phrase <= move->phrase, "moves are in order");
    check_text(move->role);
  }
}

static void check_phrase(const CwNotebook *notebook, size_t k)
{
  const CwNotePhrase *phrase = &notebook->phrase[k];
  promise(phrase->counts >= 1 && phrase->counts <= 999, "a phrase has 1 to 999 counts");
  promise(phrase->line >= 1 && phrase->line <= notebook->n_lines, "a phrase has a line");
  promise(phrase->section == CW_NONE || phrase->section < notebook->n_sections, "a section exists");
  promise(phrase->like == CW_NONE || (phrase->like != k && phrase->like < notebook->n_phrases),
          "a repeat names another phrase");
  promise(phrase->hold_s >= 0 && (phrase->hold_after || phrase->hold_s == 0), "a hold has a length");
  check_text(phrase->remark);
  check_text(phrase->role);
  check_own_steps(phrase);
  check_parts(notebook, phrase);
  for (size_t i = 0; i < phrase->n_pins; i++) {
    const CwPin *pin = &phrase->pin[i];
    promise(pin->count >= 1 && pin->count < phrase->counts + 1.0, "a pin lies in its phrase");
    promise(pin->time_s >= 0 && isfinite(pin->time_s), "a pin has a time");
  }
}

static void check_diagnostics(const CwNotebook *notebook)
{
  for (size_t i = 0; i < notebook->n_diagnostics; i++) {
    const CwDiagnostic *said = &notebook->diagnostic[i];
    check_text(said->text);
    promise(said->line >= 1 && said->line <= notebook->n_lines && said->column >= 1, "a diagnostic has a place");
    promise(said->column <= notebook->line[said->line - 1].length + 1, "and that is in its line");
    const CwDiagnostic *before = i > 0 ? said - 1 : said;
    promise(before->line < said->line || (before->line == said->line && before->column <= said->column),
            "diagnostics are in order");
  }
}

/// On and off stage in turn, from the beginning to the end.
static void check_cast(const CwNotebook *notebook)
{
  CwCast cast;
  promise(cw_cast_find(notebook, NULL, NULL, &cast) == CW_OK, "a cast is found");
  for (size_t i = 0; i < cast.n_roles; i++) {
    const CwCastRole *role = &cast.role[i];
    check_text(role->role);
    promise((role->n_stays > 0) == (notebook->n_phrases > 0), "a role is somewhere");
    for (size_t k = 0; k < role->n_stays; k++) {
      promise(role->stay[k].counts > 0, "a stretch has a length");
      promise(k == 0 || role->stay[k].on != role->stay[k - 1].on, "on and off take turns");
    }
  }
  cw_cast_free(&cast);
}

/// A copy with pins can be refused, but is never wrong.
static void check_copy(const CwNotebook *notebook)
{
  enum { MOST = 100 };
  size_t kept[MOST];
  CwCountLine line;
  cw_count_line_init(&line, 1e6);
  for (size_t k = 0; k < notebook->n_phrases; k++) {
    kept[k] = SIZE_MAX;
    double count_s[999];
    const unsigned counts = notebook->phrase[k].counts;
    for (unsigned c = 0; c < counts; c++) {
      count_s[c] = 7.0 * (double)k + 6.0 * c / counts;
    }
    if (k % 5 != 3 || notebook->size % 2) {
      kept[k] = line.n_phrases;
      promise(cw_count_line_add(&line, count_s, counts, 7.0 * (double)k + 6, 1) == CW_OK, "counts ascend");
    }
  }
  const CwRepin repin = {&line, kept, "b.wav", "notes.txt"};
  CwMessages messages = {0};
  char *text = NULL;
  size_t size = 0;
  const CwStatus status = cw_notebook_repin(notebook, &repin, &text, &size, &messages);
  promise(status == CW_OK || status == CW_ERR_BAD_ARG, "a copy is made or refused");
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  CwNotebook notebook;
  promise(cw_notebook_parse((const char *)data, size, &notebook) == CW_OK, "any bytes are a notebook");
  check_round_trip(&notebook, data, size);
  for (size_t k = 0; k < notebook.n_phrases; k++) {
    check_phrase(&notebook, k);
  }
  for (size_t i = 0; i < notebook.n_sections; i++) {
    check_text(notebook.section[i]);
  }
  const CwNoteHead *head = &notebook.head;
  const char *const words[] = {head->piece,    head->dance, head->role, head->recording,
                               head->language, head->tempo, head->cast};
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    check_text(words[i]);
  }
  check_diagnostics(&notebook);
  check_moves(&notebook);
  if (notebook.n_phrases <= 100) {
    check_copy(&notebook);
    check_cast(&notebook);
    promise(cw_notebook_spread(&notebook) == CW_OK, "spreading steps works");
    check_round_trip(&notebook, data, size);
    for (size_t k = 0; k < notebook.n_phrases; k++) {
      check_phrase(&notebook, k);
    }
  }
  cw_notebook_free(&notebook);
  return 0;
}
