// SPDX-License-Identifier: GPL-3.0-or-later
/// Terms put where they were found, with the case of the words there.
#include "glossary/proper.h"

#include <stdlib.h>
#include <string.h>

#include <unicase.h>
#include <unistr.h>

#include "base/memory.h"
#include "glossary/find.h"
#include "glossary/language.h"

/// The first `n` bytes of a text in capitals, then the rest. @return Release with free(); NULL when memory runs out.
static char *with_capitals(const char *text, size_t n)
{
  size_t size = 0;
  uint8_t *upper = u8_toupper((const uint8_t *)text, n, NULL, NULL, NULL, &size);
  const size_t rest = strlen(text + n);
  char *joined = upper ? cw_new(size + rest + 1, 1) : NULL;
  if (joined) {
    memcpy(joined, upper, size);
    memcpy(joined + size, text + n, rest);
  }
  free(upper);
  return joined;
}

char *cw_proper_words(const CwGlossary *glossary, const CwMatch *match, const CwWord *word)
{
  const CwForm *form = &glossary->form[match->form];
  const CwTermText *term = &glossary->term[form->term];
  const char *proper = form->plural ? term->plural : term->name;
  bool all_capitals = true;
  for (size_t i = 0; i < match->n; i++) {
    all_capitals = all_capitals && (word[i].all_capitals || word[i].n == 1);
  }
  const size_t first = (size_t)u8_mblen((const uint8_t *)proper, strlen(proper));
  const bool shouted = all_capitals && word[0].capital;
  return with_capitals(proper, shouted ? strlen(proper) : word[0].capital ? first : 0);
}

CwStatus cw_proper_text(CwFinder *finder, const char *text, const char *language, char **proper)
{
  *proper = NULL;
  size_t size = strlen(text);
  CwStatus status = cw_finder_run(finder, text, size, language);
  char *made = status == CW_OK ? cw_copy_text(text, size) : NULL;
  for (size_t i = finder->n_matches; made && i > 0; i--) { // from the end, so that places before stay
    const CwMatch *match = &finder->match[i - 1];
    const CwWord *word = &finder->words.word[match->first];
    const CwWord *last = word + match->n - 1;
    if (match->proper) {
      continue;
    }
    char *put = cw_proper_words(finder->glossary, match, word);
    const size_t n = put ? strlen(put) : 0;
    const size_t end = last->offset + last->length;
    char *next = put ? cw_new(word->offset + n + (size - end) + 1, 1) : NULL;
    if (next) {
      memcpy(next, made, word->offset);
      memcpy(next + word->offset, put, n);
      memcpy(next + word->offset + n, made + end, size - end);
      size = word->offset + n + (size - end);
    }
    free(put);
    free(made);
    made = next;
  }
  *proper = made;
  return made ? CW_OK : CW_ERR_NO_MEM;
}

CwStatus cw_spelling_proper(const CwGlossary *glossary, const char *text, const char *language, char **proper)
{
  CwFinder finder = {.glossary = glossary};
  const CwStatus status = cw_proper_text(&finder, text, language, proper);
  cw_finder_free(&finder);
  return status;
}

/// Replace a text by its proper spelling. NULL stays.
static CwStatus spell(CwFinder *finder, const char *language, char **text)
{
  char *proper = NULL;
  if (!*text || **text == '\0') {
    return CW_OK;
  }
  const CwStatus status = cw_proper_text(finder, *text, language, &proper);
  if (status == CW_OK) {
    free(*text);
    *text = proper;
  }
  return status;
}

static CwStatus spell_steps(CwFinder *finder, const char *language, CwStep *step, size_t n, char **remark)
{
  CwStatus status = spell(finder, language, remark);
  for (size_t i = 0; i < n && status == CW_OK; i++) {
    status = spell(finder, language, &step[i].text);
  }
  return status;
}

CwStatus cw_notebook_spell_properly(const CwGlossary *glossary, CwNotebook *notebook)
{
  CwFinder finder = {.glossary = glossary};
  CwStatus status = CW_OK;
  const char *language = cw_notes_language(glossary, notebook, &status);
  for (size_t p = 0; p < notebook->n_phrases && status == CW_OK; p++) {
    CwNotePhrase *phrase = &notebook->phrase[p];
    status = spell_steps(&finder, language, phrase->step, phrase->n_steps, &phrase->remark);
    for (size_t i = 0; i < phrase->n_parts && status == CW_OK; i++) {
      CwNotePart *part = &phrase->part[i];
      status = spell_steps(&finder, language, part->step, part->n_steps, &part->remark);
    }
  }
  cw_finder_free(&finder);
  return status;
}
