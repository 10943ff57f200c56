// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/checked.h"

#include <stdlib.h>

#include "print/json.h"

/// Whether none of the spellings before `i` is of the same term.
static bool is_first(const CwSpellings *spelling, size_t i)
{
  size_t k = 0;
  while (k < i && spelling->item[k].term != spelling->item[i].term) {
    k++;
  }
  return k == i;
}

static CwStatus changes_text(const CwChanges *changes, FILE *out)
{
  CwMessages messages = {0};
  const CwStatus status = cw_changes_explain(changes, &messages);
  for (size_t i = 0; i < messages.n && status == CW_OK; i++) {
    fprintf(out, "%s\n", messages.text[i]);
  }
  cw_messages_free(&messages);
  return status != CW_OK ? status : ferror(out) ? CW_ERR_WRITE : CW_OK;
}

CwStatus cli_checked_text(const CliContent *content, FILE *out)
{
  const CliChecked *checked = content->checked;
  if (checked->since) {
    return changes_text(&checked->changes, out);
  }
  for (size_t i = 0; i < content->notebook->n_diagnostics; i++) {
    const CwDiagnostic *place = &content->notebook->diagnostic[i];
    fprintf(out, "%s:%zu:%zu: %s\n", content->notes, place->line, place->column, place->text);
  }
  for (size_t i = 0; i < checked->messages.n; i++) {
    fprintf(out, "%s: %s\n", content->notes, checked->messages.text[i]);
  }
  for (size_t i = 0; i < checked->spelling.n; i++) {
    const CwSpelling *item = &checked->spelling.item[i];
    if (item->proper) {
      fprintf(out, "%s:%zu:%zu: '%s': perhaps '%s'\n", content->notes, item->line, item->column, item->written,
              item->proper);
    }
  }
  for (size_t i = 0; i < checked->spelling.n && checked->words; i++) {
    if (is_first(&checked->spelling, i)) {
      const CwTerm term = cw_glossary_term(checked->glossary, checked->spelling.item[i].term);
      fprintf(out, "%s: %s\n", term.name, term.meaning);
    }
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

static void put_unclear(json_t *all, const CwNotebook *notebook, bool *good)
{
  json_t *unclear = json_array();
  for (size_t i = 0; i < notebook->n_diagnostics; i++) {
    const CwDiagnostic *place = &notebook->diagnostic[i];
    json_t *item = json_object();
    cw_json_whole(item, "line", place->line, good);
    cw_json_whole(item, "column", place->column, good);
    cw_json_text(item, "text", place->text, good);
    *good = json_array_append_new(unclear, item) == 0 && *good;
  }
  cw_json_put(all, "unclear", unclear, good);
}

static void put_spelling(json_t *all, const CwSpellings *spelling, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; i < spelling->n; i++) {
    const CwSpelling *place = &spelling->item[i];
    if (!place->proper) {
      continue;
    }
    json_t *item = json_object();
    cw_json_whole(item, "line", place->line, good);
    cw_json_whole(item, "column", place->column, good);
    cw_json_text(item, "written", place->written, good);
    cw_json_text(item, "proper", place->proper, good);
    cw_json_number(item, "likeness", place->likeness, 2, good);
    *good = json_array_append_new(list, item) == 0 && *good;
  }
  cw_json_put(all, "spelling", list, good);
}

static void put_words(json_t *all, const CliChecked *checked, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; i < checked->spelling.n; i++) {
    if (is_first(&checked->spelling, i)) {
      const CwTerm term = cw_glossary_term(checked->glossary, checked->spelling.item[i].term);
      json_t *item = json_object();
      cw_json_text(item, "term", term.name, good);
      cw_json_text(item, "meaning", term.meaning, good);
      *good = json_array_append_new(list, item) == 0 && *good;
    }
  }
  cw_json_put(all, "words", list, good);
}

static void put_change(json_t *list, const CwChanges *changes, size_t i, bool *good)
{
  const CwChange *change = &changes->change[i];
  char *text = NULL;
  json_t *item = json_object();
  json_t *also = json_array();
  *good = cw_change_say(changes, i, &text) == CW_OK && *good;
  cw_json_text(item, "kind", cw_change_name(change->kind), good);
  cw_json_whole_or_null(item, "old_phrase", (unsigned)change->old_phrase, good);
  cw_json_whole_or_null(item, "new_phrase", (unsigned)change->new_phrase, good);
  cw_json_whole(item, "phrases", change->n_phrases, good);
  cw_json_text(item, "old_on", change->old_on, good);
  cw_json_text(item, "new_on", change->new_on, good);
  cw_json_text(item, "before", change->before, good);
  cw_json_text(item, "after", change->after, good);
  for (size_t k = 0; k < change->n_repeats; k++) {
    *good = json_array_append_new(also, json_integer((json_int_t)change->repeat[k])) == 0 && *good;
  }
  cw_json_put(item, "also", also, good);
  cw_json_text(item, "text", text, good);
  *good = json_array_append_new(list, item) == 0 && *good;
  free(text);
}

static void put_changes(json_t *all, const CliChecked *checked, bool *good)
{
  const CwChanges *changes = &checked->changes;
  json_t *list = json_array();
  json_t *was = json_array();
  for (size_t i = 0; i < changes->n; i++) {
    put_change(list, changes, i, good);
  }
  for (size_t k = 0; k < changes->n_new; k++) {
    json_t *number = changes->was[k] ? json_integer((json_int_t)changes->was[k]) : json_null();
    *good = json_array_append_new(was, number) == 0 && *good;
  }
  cw_json_text(all, "since", checked->since, good);
  cw_json_put(all, "changes", list, good);
  cw_json_put(all, "was", was, good);
}

static void put_music(json_t *all, const CliChecked *checked, bool *good)
{
  static const char *const kind[] = {
      [CW_FIT_MISSING] = "missing-after", [CW_FIT_EXTRA] = "extra", [CW_FIT_LENGTH] = "length"};
  json_t *list = json_array();
  for (size_t i = 0; i < checked->fits.n; i++) {
    const CwFit *fit = &checked->fits.fit[i];
    json_t *item = json_object();
    cw_json_text(item, "kind", kind[fit->kind], good);
    cw_json_whole(item, "phrase", fit->phrase, good);
    cw_json_whole(item, "first", fit->first, good);
    cw_json_whole(item, "last", fit->last, good);
    cw_json_whole(item, "counts", fit->counts, good);
    cw_json_number(item, "gain", fit->gain, 1, good);
    cw_json_number(item, "chance", fit->chance, 2, good);
    cw_json_number(item, "at_s", fit->at_s, 2, good);
    *good = json_array_append_new(list, item) == 0 && *good;
  }
  cw_json_text(all, "recording", checked->recording, good);
  cw_json_messages(all, "music", &checked->messages, good);
  cw_json_put(all, "fits", list, good);
}

CwStatus cli_checked_json(const CliContent *content, FILE *out)
{
  bool good = true;
  json_t *all = cw_json_begin("countwright-check", &good);
  cw_json_text(all, "notes", content->notes, &good);
  put_unclear(all, content->notebook, &good);
  put_spelling(all, &content->checked->spelling, &good);
  if (content->checked->words) {
    put_words(all, content->checked, &good);
  }
  if (content->checked->recording) {
    put_music(all, content->checked, &good);
  }
  if (content->checked->since) {
    put_changes(all, content->checked, &good);
  }
  return cw_json_end(all, good, out);
}

void cli_checked_free(CliChecked *checked)
{
  cw_fits_free(&checked->fits);
  cw_messages_free(&checked->messages);
  cli_found_free(&checked->found);
  cw_changes_free(&checked->changes);
  cw_spellings_free(&checked->spelling);
  cw_glossary_free(checked->glossary);
}
