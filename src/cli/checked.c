// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/checked.h"

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

CwStatus cli_checked_text(const CliContent *content, FILE *out)
{
  const CliChecked *checked = content->checked;
  for (size_t i = 0; i < content->notebook->n_diagnostics; i++) {
    const CwDiagnostic *place = &content->notebook->diagnostic[i];
    fprintf(out, "%s:%zu:%zu: %s\n", content->notes, place->line, place->column, place->text);
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
  return cw_json_end(all, good, out);
}

void cli_checked_free(CliChecked *checked)
{
  cw_spellings_free(&checked->spelling);
  cw_glossary_free(checked->glossary);
}
