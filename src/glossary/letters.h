// SPDX-License-Identifier: GPL-3.0-or-later
/// How far apart two spellings are, letter by letter: slips of the keys rather than of the ear.
#ifndef CW_GLOSSARY_LETTERS_H
#define CW_GLOSSARY_LETTERS_H

#include <stddef.h>

enum { CW_LONGEST_SPELLING = 64 };

/// Letters of one or several words without what is between them.
typedef struct {
  unsigned char letter[CW_LONGEST_SPELLING];
  size_t n;
} CwLetters;

/// Add the letters of a word (words.h). What has no room is left out.
void cw_letters_add(const unsigned char *letter, size_t n, CwLetters *letters);

/// Least cost of making one of the other: 1 for a letter put in, left out or taken for another, or for two that change
/// places; less for marks, doubled letters and vowels. @param limit When it is over this, anything over it is returned.
float cw_letters_distance(const CwLetters *left, const CwLetters *right, float limit);

#endif
