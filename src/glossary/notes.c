// SPDX-License-Identifier: GPL-3.0-or-later
/// The terms of a text and of a notebook, as the caller gets them.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "glossary/find.h"
#include "glossary/language.h"
#include "glossary/proper.h"
#include "notes/line_text.h"

/// The list being made.
typedef struct {
  CwFinder finder;
  CwSpellings *found;
  size_t room;
} Work;

static CwStatus add(Work *work, const char *text, const CwMatch *match)
{
  const CwGlossary *glossary = work->finder.glossary;
  const CwWord *word = &work->finder.words.word[match->first];
  const CwWord *last = word + match->n - 1;
  if (!cw_grow(&work->found->item, &work->room, work->found->n, sizeof *work->found->item)) {
    return CW_ERR_NO_MEM;
  }
  CwSpelling *item = &work->found->item[work->found->n];
  *item = (CwSpelling){.term = glossary->form[match->form].term,
                       .offset = word->offset,
                       .length = last->offset + last->length - word->offset,
                       .likeness = 1.0 - (double)match->distance};
  item->written = cw_copy_text(text + item->offset, item->length);
  item->proper = match->proper ? NULL : cw_proper_words(glossary, match, word);
  if (!item->written || (!item->proper && !match->proper)) {
    free(item->written);
    free(item->proper);
    return CW_ERR_NO_MEM;
  }
  work->found->n++;
  return CW_OK;
}

static CwStatus find(Work *work, const char *text, size_t size, const char *language)
{
  CwStatus status = cw_finder_run(&work->finder, text, size, language);
  for (size_t i = 0; i < work->finder.n_matches && status == CW_OK; i++) {
    status = add(work, text, &work->finder.match[i]);
  }
  return status;
}

CwStatus cw_spelling_find(const CwGlossary *glossary, const char *text, size_t size, const char *language,
                          CwSpellings *found)
{
  Work work = {.finder = {.glossary = glossary}, .found = found};
  *found = (CwSpellings){0};
  const CwStatus status = find(&work, text, size, language);
  if (status != CW_OK) {
    cw_spellings_free(found);
  }
  cw_finder_free(&work.finder);
  return status;
}

/// The first character of a line that may be of a step: after a role in brackets.
static size_t step_begin(const CwLineText *line)
{
  const char *open = strchr(line->key, '[');
  const char *close = open ? strchr(open, ']') : NULL;
  const size_t lead = strspn(line->key, " +*-.)@:0123456789");
  return close && lead == (size_t)(open - line->key) ? (size_t)(close - line->key) + 1 : 0;
}

/// Where what is private begins.
static size_t private_begin(const CwLineText *line)
{
  size_t i = 0;
  while (i < line->n && !(line->key[i] == ';' && (i == 0 || line->key[i - 1] == ' '))) {
    i++;
  }
  return i;
}

/// The terms of one line; places in it become columns.
static CwStatus find_in_line(Work *work, const CwLineText *line, size_t number, const char *language)
{
  const size_t from = step_begin(line);
  const size_t to = private_begin(line);
  if (from >= to) {
    return CW_OK;
  }
  const size_t before = work->found->n;
  const char *text = line->words + line->at[from];
  const CwStatus status = find(work, text, line->at[to] - line->at[from], language);
  size_t character = from;
  for (size_t i = before; i < work->found->n; i++) {
    CwSpelling *item = &work->found->item[i];
    while (line->at[character] - line->at[from] < item->offset) {
      character++;
    }
    item->line = number;
    item->column = character + 1;
    item->offset = 0;
    item->length = 0;
  }
  return status;
}

CwStatus cw_notebook_spelling(const CwGlossary *glossary, const CwNotebook *notebook, CwSpellings *found)
{
  Work work = {.finder = {.glossary = glossary}, .found = found};
  CwLineText text = {0};
  *found = (CwSpellings){0};
  CwStatus status = CW_OK;
  const char *language = cw_notes_language(glossary, notebook, &status);
  for (size_t i = 0; i < notebook->n_lines && status == CW_OK; i++) {
    const CwNoteLine *line = &notebook->line[i];
    if (line->kind != CW_LINE_PHRASE && line->kind != CW_LINE_REPEAT && line->kind != CW_LINE_PART) {
      continue;
    }
    size_t length = line->length;
    while (length > 0 && strchr("\r\n", notebook->text[line->offset + length - 1])) {
      length--;
    }
    status = cw_line_text_read(&text, notebook->text + line->offset, length);
    if (status == CW_OK) {
      status = find_in_line(&work, &text, i + 1, language);
    }
  }
  if (status != CW_OK) {
    cw_spellings_free(found);
  }
  cw_line_text_free(&text);
  cw_finder_free(&work.finder);
  return status;
}

void cw_spellings_free(CwSpellings *spellings)
{
  if (!spellings) {
    return;
  }
  for (size_t i = 0; i < spellings->n; i++) {
    free(spellings->item[i].written);
    free(spellings->item[i].proper);
  }
  free(spellings->item);
  *spellings = (CwSpellings){0};
}
