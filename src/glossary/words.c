// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/words.h"

#include <stdlib.h>

#include <unicase.h>
#include <unictype.h>
#include <uninorm.h>
#include <unistr.h>

#include "base/memory.h"

enum { ACUTE = 0x301, GRAVE = 0x300, CIRCUMFLEX = 0x302, DIAERESIS = 0x308, CEDILLA = 0x327 };

/// Letters with marks that matter, and the letter without.
static const struct {
  unsigned short mark;
  unsigned char base;
  unsigned char letter;
} marked[] = {
    {ACUTE, 'e', CW_E_ACUTE},           {GRAVE, 'e', CW_E_GRAVE},           {CIRCUMFLEX, 'e', CW_E_CIRCUMFLEX},
    {DIAERESIS, 'e', CW_E_DIAERESIS},   {GRAVE, 'a', CW_A_GRAVE},           {CIRCUMFLEX, 'a', CW_A_CIRCUMFLEX},
    {CIRCUMFLEX, 'i', CW_I_CIRCUMFLEX}, {DIAERESIS, 'i', CW_I_DIAERESIS},   {CIRCUMFLEX, 'o', CW_O_CIRCUMFLEX},
    {GRAVE, 'u', CW_U_GRAVE},           {CIRCUMFLEX, 'u', CW_U_CIRCUMFLEX}, {CEDILLA, 'c', CW_C_CEDILLA},
};

enum { N_MARKED = sizeof marked / sizeof marked[0] };

unsigned char cw_bare_letter(unsigned char letter)
{
  for (size_t i = 0; i < N_MARKED && letter >= CW_E_ACUTE; i++) {
    if (marked[i].letter == letter) {
      return marked[i].base;
    }
  }
  return letter;
}

static void put(CwWord *word, unsigned char letter)
{
  if (word->n < CW_MOST_LETTERS) {
    word->letter[word->n] = letter;
  }
  word->n++;
}

/// A mark on the last letter.
static void put_mark(CwWord *word, ucs4_t mark)
{
  for (size_t i = 0; i < N_MARKED && word->n > 0 && word->n <= CW_MOST_LETTERS; i++) {
    if (marked[i].mark == mark && marked[i].base == word->letter[word->n - 1]) {
      word->letter[word->n - 1] = marked[i].letter;
      return;
    }
  }
}

/// Add a letter, folded. @return false when it is of another script.
static bool put_letter(CwWord *word, ucs4_t c)
{
  ucs4_t part[UC_DECOMPOSITION_MAX_LENGTH];
  if (c >= 'a' && c <= 'z') {
    put(word, (unsigned char)c);
    return true;
  }
  if (c == 0x153 || c == 0xE6 || c == 0xDF) { // the letters of two
    put(word, c == 0x153 ? 'o' : c == 0xE6 ? 'a' : 's');
    put(word, c == 0xDF ? 's' : 'e');
    return true;
  }
  if (uc_is_property_combining(c)) {
    put_mark(word, c);
    return true;
  }
  const int n = uc_canonical_decomposition(c, part);
  bool good = n > 1;
  for (int i = 0; i < n && good; i++) {
    good = put_letter(word, part[i]);
  }
  return good;
}

static bool is_apostrophe(ucs4_t c)
{
  return c == '\'' || c == 0x2019;
}

static bool is_hyphen(ucs4_t c)
{
  return c == '-' || c == 0x2010 || c == 0x2011;
}

/// "x2" and "8cts" are no words.
static bool is_digit(char c)
{
  return c >= '0' && c <= '9';
}

static bool is_of_word(ucs4_t c)
{
  return uc_is_property_alphabetic(c) || uc_is_property_combining(c);
}

/// The character at `i`; any byte gives one.
static ucs4_t character(const char *text, size_t size, size_t i, size_t *length)
{
  ucs4_t c = 0xFFFD;
  const int used = u8_mbtoucr(&c, (const uint8_t *)text + i, size - i);
  *length = used > 0 ? (size_t)used : 1;
  return used > 0 ? c : 0xFFFD;
}

/// Read the word at `word->offset`.
static void read_word(const char *text, size_t size, CwWord *word)
{
  size_t length = 0;
  size_t end = word->offset;
  bool latin = true;
  size_t n_letters = 0;
  size_t n_capitals = 0;
  for (size_t i = word->offset; i < size; i += length) {
    const ucs4_t c = character(text, size, i, &length);
    if (!is_of_word(c) && !is_apostrophe(c)) {
      break;
    }
    if (is_apostrophe(c)) {
      continue;
    }
    const ucs4_t small = uc_tolower(c);
    n_capitals += small != c;
    n_letters += !uc_is_property_combining(c);
    word->capital = n_letters == 1 && n_letters == n_capitals ? true : word->capital;
    latin = put_letter(word, small) && latin;
    end = i + length;
  }
  word->length = end - word->offset;
  word->all_capitals = n_letters > 1 && n_capitals == n_letters;
  const bool at_digit = (word->offset > 0 && is_digit(text[word->offset - 1])) || (end < size && is_digit(text[end]));
  word->n = latin && !at_digit && word->n <= CW_MOST_LETTERS ? word->n : 0;
}

CwStatus cw_words_read(const char *text, size_t size, CwWords *words)
{
  size_t length = 0;
  CwJoint joint = CW_APART;
  words->n = 0;
  for (size_t i = 0; i < size; i += length) {
    const ucs4_t c = character(text, size, i, &length);
    if (is_of_word(c)) {
      if (!cw_grow(&words->word, &words->capacity, words->n, sizeof *words->word)) {
        return CW_ERR_NO_MEM;
      }
      CwWord *word = &words->word[words->n++];
      *word = (CwWord){.offset = i, .joint = joint};
      read_word(text, size, word);
      length = word->length;
      joint = CW_BLANK;
    } else if (is_hyphen(c)) {
      joint = joint == CW_BLANK ? CW_HYPHEN : CW_APART;
    } else if (c != ' ' && c != '\t' && c != 0xA0) {
      joint = CW_APART;
    } else if (joint == CW_HYPHEN) { // a dash between blanks parts
      joint = CW_APART;
    }
  }
  return CW_OK;
}

void cw_words_free(CwWords *words)
{
  free(words->word);
  *words = (CwWords){0};
}
