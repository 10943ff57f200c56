// SPDX-License-Identifier: GPL-3.0-or-later
/// What a glossary is made of.
#ifndef CW_GLOSSARY_GLOSSARY_H
#define CW_GLOSSARY_GLOSSARY_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/glossary.h"
#include "glossary/letters.h"
#include "glossary/sounds.h"
#include "glossary/words.h"

/// A term as it may be written: the term itself, its plural, or another way.
typedef struct {
  size_t term;
  bool plural;
  bool own;         ///< the term's own spelling or its plural
  CwLetters spelt;  ///< with ' ' and '-' between the words
  CwLetters joined; ///< without
  CwSounds sounds;
  float weight; ///< of the sounds
} CwForm;

/// A word that is to be left alone.
typedef struct {
  char *word;       ///< folded letters
  char language[3]; ///< "" for all
  bool of_term;     ///< it is part of a term, too, and tells nothing of the language
} CwPlainWord;

/// A term's strings.
typedef struct {
  char *name;
  char *meaning;
  char *plural; ///< NULL when it has none
} CwTermText;

struct CwGlossary {
  CwTermText *term;
  size_t n_terms, term_room;
  CwForm *form;
  size_t n_forms, form_room;
  CwPlainWord *plain; ///< sorted
  size_t n_plain, plain_room;
  CwSoundCosts costs;
};

/// The words of a text as one spelling. @return false when they are too many, or one is of another script.
bool cw_spell_words(const CwWord *word, size_t n, CwLetters *spelt, CwLetters *joined, CwSounds *sounds);

/// The first of the plain words that are this one; NULL when there is none. @param[out] n How many they are.
const CwPlainWord *cw_plain_words(const CwGlossary *glossary, const unsigned char *letter, size_t n_letters, size_t *n);

/// The library's own files, as text.
const char *cw_academic_file(size_t *size);
const char *cw_ordinary_file(size_t *size);

#endif
