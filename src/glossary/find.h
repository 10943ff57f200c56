// SPDX-License-Identifier: GPL-3.0-or-later
/// Terms in a text: which words together are most likely which term.
#ifndef CW_GLOSSARY_FIND_H
#define CW_GLOSSARY_FIND_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"
#include "glossary/glossary.h"

/// Words that are a term.
typedef struct {
  size_t first; ///< index into the words of the text
  size_t n;
  size_t form;    ///< of the glossary
  bool proper;    ///< they are properly spelt
  float distance; ///< 0 to 1; 1 is as far as is allowed
} CwMatch;

/// A finder, which remembers what it found before. Zero but for `glossary`; release with cw_finder_free().
typedef struct {
  const CwGlossary *glossary;
  CwWords words; ///< of the text last searched
  bool foreign;  ///< it is not in English: no ear has written French down
  CwMatch *match;
  size_t n_matches, match_room;
  struct CwPlace *place; ///< work space, by word
  size_t place_room;
  struct CwKnown *known; ///< spellings met before, by hash
  size_t n_known, known_room;
} CwFinder;

/// Find the terms of a text; they are then in `match`, in order. @param language NULL to go by the words.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_finder_run(CwFinder *finder, const char *text, size_t size, const char *language);

void cw_finder_free(CwFinder *finder);

#endif
