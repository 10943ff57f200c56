// SPDX-License-Identifier: GPL-3.0-or-later
/// @file language.h
/// The languages in which sheets are labelled. Nothing follows the locale or the environment.
#ifndef COUNTWRIGHT_LANGUAGE_H
#define COUNTWRIGHT_LANGUAGE_H

#include "countwright/api.h"

CW_BEGIN

/// A language of labels.
typedef enum {
  CW_ENGLISH,
  CW_FRENCH,
  CW_GERMAN,
  CW_SPANISH,
  CW_ITALIAN,
  CW_PORTUGUESE,
  CW_RUSSIAN,
  CW_JAPANESE,
  CW_N_LANGUAGES
} CwLanguage;

/// The language of a tag ("de", "pt-BR", "fr_CA.UTF-8") or of a name, its own or the English one ("Deutsch", "German"), in
/// any case. @param name NULL is none. @return CW_N_LANGUAGES when it is none of these.
CW_API CwLanguage cw_language_find(const char *name);

/// "de" (BCP 47).
CW_API const char *cw_language_tag(CwLanguage language);

/// "Deutsch".
CW_API const char *cw_language_name(CwLanguage language);

/// The greatest count that has a word.
#define CW_MOST_COUNT_WORDS 16

/// A count as it is called: "one" to "sixteen", 0 for the "and" between. These are the words of counting to music, which
/// need not be those of numbers: Russian begins with "raz". @return NULL for other counts.
CW_API const char *cw_count_word(CwLanguage language, unsigned count);

CW_END

#endif
