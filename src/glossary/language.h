// SPDX-License-Identifier: GPL-3.0-or-later
/// Which language words are in, as far as it matters: what is no term in English may be an ordinary word in another.
#ifndef CW_GLOSSARY_LANGUAGE_H
#define CW_GLOSSARY_LANGUAGE_H

#include "countwright/notebook.h"
#include "glossary/glossary.h"

/// How many words are of one language alone, and no part of a term.
typedef struct {
  size_t french;
  size_t german;
  size_t any;   ///< ordinary words that do not tell: in lists for all languages, which is English
  size_t words; ///< in all
} CwTelling;

/// Count the words of a text, on top of what was counted before.
void cw_tell_language(const CwGlossary *glossary, const CwWords *words, CwTelling *telling);

/// Two letters; "" where it cannot be told.
const char *cw_told_language(const CwTelling *telling);

/// The language of notes: as their head says, else as their lines tell; NULL where each text is to tell by itself.
/// @param[out] status CW_OK or CW_ERR_NO_MEM.
const char *cw_notes_language(const CwGlossary *glossary, const CwNotebook *notebook, CwStatus *status);

#endif
