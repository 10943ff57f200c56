// SPDX-License-Identifier: GPL-3.0-or-later
/// How alike two phrases are.
#ifndef CW_CHANGES_LIKENESS_H
#define CW_CHANGES_LIKENESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "countwright/glossary.h"
#include "countwright/notebook.h"

enum { CW_MOST_WORDS_COMPARED = 24 };

/// What phrases are compared by.
typedef struct {
  uint64_t whole;                        ///< hash of all of it
  uint32_t word[CW_MOST_WORDS_COMPARED]; ///< hashes of its words, ascending; those of one term, however spelt, are one
  size_t n_words;
  uint32_t place[CW_MOST_WORDS_COMPARED]; ///< hashes of its steps' counts, ascending
  size_t n_places;
  unsigned counts;
} CwGist;

/// The gists of all phrases. @param glossary NULL for none.
/// @param[out] gist Release with free(); one for each phrase. NULL on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_gists(const CwNotebook *notebook, const CwGlossary *glossary, CwGist **gist);

/// 0 to 1; 1 when nothing differs but perhaps the order of words.
double cw_gist_likeness(const CwGist *left, const CwGist *right);

#endif
