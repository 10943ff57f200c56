// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/language.h"

#include <string.h>

enum { SHORT_TEXT = 4, FEWEST_OF_MANY = 2, ENOUGH = 5 };

void cw_tell_language(const CwGlossary *glossary, const CwWords *words, CwTelling *telling)
{
  for (size_t i = 0; i < words->n; i++) {
    const CwWord *word = &words->word[i];
    size_t n = 0;
    const CwPlainWord *plain = cw_plain_words(glossary, word->letter, word->n, &n);
    telling->words++;
    if (!plain || n != 1 || plain->of_term) {
      continue;
    }
    telling->french += strcmp(plain->language, "fr") == 0;
    telling->german += strcmp(plain->language, "de") == 0;
    telling->any += plain->language[0] == '\0';
  }
}

/// A word alone tells nothing, one of a few something.
static bool is_told(const CwTelling *telling, size_t count)
{
  const size_t fewest = telling->words > SHORT_TEXT ? FEWEST_OF_MANY : 1;
  return telling->words > 1 && count >= fewest && count > telling->any;
}

const char *cw_told_language(const CwTelling *telling)
{
  if (is_told(telling, telling->french) && telling->french >= telling->german) {
    return "fr";
  }
  return is_told(telling, telling->german) ? "de" : "\0\0";
}

const char *cw_notes_language(const CwGlossary *glossary, const CwNotebook *notebook, CwStatus *status)
{
  CwWords words = {0};
  CwTelling telling = {0};
  *status = CW_OK;
  if (notebook->head.language) {
    return notebook->head.language;
  }
  for (size_t i = 0; i < notebook->n_lines && *status == CW_OK; i++) {
    const CwNoteLine *line = &notebook->line[i];
    if (line->kind == CW_LINE_PHRASE || line->kind == CW_LINE_REPEAT || line->kind == CW_LINE_PART) {
      *status = cw_words_read(notebook->text + line->offset, line->length, &words);
      cw_tell_language(glossary, &words, &telling);
    }
  }
  cw_words_free(&words);
  const char *told = cw_told_language(&telling);
  return told[0] != '\0' ? told : telling.any >= ENOUGH ? "en" : NULL;
}
