// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/glossary.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_glossary_new(bool academic, CwGlossary **glossary)
{
  size_t size = 0;
  *glossary = cw_new(1, sizeof **glossary);
  if (!*glossary) {
    return CW_ERR_NO_MEM;
  }
  cw_sound_costs_make(&(*glossary)->costs);
  const char *text = cw_ordinary_file(&size);
  CwStatus status = cw_glossary_add(*glossary, text, size, NULL, NULL);
  if (status == CW_OK && academic) {
    text = cw_academic_file(&size);
    status = cw_glossary_add(*glossary, text, size, NULL, NULL);
  }
  if (status != CW_OK) {
    cw_glossary_free(*glossary);
    *glossary = NULL;
  }
  return status;
}

size_t cw_glossary_size(const CwGlossary *glossary)
{
  return glossary->n_terms;
}

CwTerm cw_glossary_term(const CwGlossary *glossary, size_t index)
{
  const CwTermText *text = &glossary->term[index];
  return (CwTerm){text->name, text->meaning, text->plural};
}

bool cw_spell_words(const CwWord *word, size_t n, CwLetters *spelt, CwLetters *joined, CwSounds *sounds)
{
  size_t letters = 0;
  for (size_t i = 0; i < n; i++) {
    letters += word[i].n + 1;
    if (word[i].n == 0 || letters > CW_LONGEST_SPELLING) {
      return false;
    }
    const unsigned char between = word[i].joint == CW_HYPHEN ? '-' : ' ';
    cw_letters_add(&between, i > 0, spelt);
    cw_letters_add(word[i].letter, word[i].n, spelt);
    cw_letters_add(word[i].letter, word[i].n, joined);
    cw_sounds_add(word[i].letter, word[i].n, sounds);
  }
  return n > 0;
}

/// Whether two spellings are the same but for marks and hyphens.
static bool is_same_bare(const CwLetters *left, const CwLetters *right)
{
  bool same = left->n == right->n;
  for (size_t i = 0; i < left->n && same; i++) {
    same = cw_bare_letter(left->letter[i]) == cw_bare_letter(right->letter[i]);
  }
  return same;
}

bool cw_glossary_look_up(const CwGlossary *glossary, const char *name, size_t *index)
{
  CwWords words = {0};
  CwLetters spelt = {.n = 0};
  CwLetters joined = {.n = 0};
  CwSounds sounds = {.n = 0};
  bool found = cw_words_read(name, strlen(name), &words) == CW_OK &&
               cw_spell_words(words.word, words.n, &spelt, &joined, &sounds);
  cw_words_free(&words);
  size_t i = 0;
  while (found && i < glossary->n_forms && !is_same_bare(&glossary->form[i].joined, &joined)) {
    i++;
  }
  found = found && i < glossary->n_forms;
  if (found) {
    *index = glossary->form[i].term;
  }
  return found;
}

static int compare_letters(const char *word, const unsigned char *letter, size_t n)
{
  const int order = strncmp(word, (const char *)letter, n);
  return order != 0 ? order : word[n] != '\0';
}

const CwPlainWord *cw_plain_words(const CwGlossary *glossary, const unsigned char *letter, size_t n_letters, size_t *n)
{
  size_t from = 0;
  size_t to = glossary->n_plain;
  while (from < to) { // the first that is not before it
    const size_t middle = from + (to - from) / 2;
    if (compare_letters(glossary->plain[middle].word, letter, n_letters) < 0) {
      from = middle + 1;
    } else {
      to = middle;
    }
  }
  for (*n = 0; from + *n < glossary->n_plain; ++*n) {
    if (compare_letters(glossary->plain[from + *n].word, letter, n_letters) != 0) {
      break;
    }
  }
  return *n > 0 ? &glossary->plain[from] : NULL;
}

void cw_glossary_free(CwGlossary *glossary)
{
  if (!glossary) {
    return;
  }
  for (size_t i = 0; i < glossary->n_terms; i++) {
    free(glossary->term[i].name);
    free(glossary->term[i].meaning);
    free(glossary->term[i].plural);
  }
  for (size_t i = 0; i < glossary->n_plain; i++) {
    free(glossary->plain[i].word);
  }
  free(glossary->term);
  free(glossary->form);
  free(glossary->plain);
  free(glossary);
}
