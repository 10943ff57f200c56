// SPDX-License-Identifier: GPL-3.0-or-later
/// The words of a text, folded for comparing.
#ifndef CW_GLOSSARY_WORDS_H
#define CW_GLOSSARY_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

enum { CW_MOST_LETTERS = 40 };

/// Letters with marks that matter, in CwWord.letter; all others are 'a' to 'z'.
typedef enum {
  CW_E_ACUTE = 0x81,
  CW_E_GRAVE,
  CW_E_CIRCUMFLEX,
  CW_E_DIAERESIS,
  CW_A_GRAVE,
  CW_A_CIRCUMFLEX,
  CW_I_CIRCUMFLEX,
  CW_I_DIAERESIS,
  CW_O_CIRCUMFLEX,
  CW_U_CIRCUMFLEX,
  CW_U_GRAVE,
  CW_C_CEDILLA
} CwMarkedLetter;

/// How the word before stands.
typedef enum {
  CW_APART, ///< something else than blanks is between them
  CW_BLANK,
  CW_HYPHEN
} CwJoint;

/// A word: letters of one script, with apostrophes within it, which are left out.
typedef struct {
  size_t offset; ///< bytes into the text
  size_t length;
  size_t n; ///< letters; 0 for a word that is no term: of another script, or too long
  CwJoint joint;
  bool capital;      ///< it begins with a capital
  bool all_capitals; ///< it has two letters or more, all capitals
  unsigned char letter[CW_MOST_LETTERS];
} CwWord;

/// Words. Zero to begin with, used again from text to text; release with cw_words_free().
typedef struct {
  CwWord *word;
  size_t n;
  size_t capacity;
} CwWords;

/// Read the words of a text. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_words_read(const char *text, size_t size, CwWords *words);

/// A letter without its mark.
unsigned char cw_bare_letter(unsigned char letter);

void cw_words_free(CwWords *words);

#endif
