// SPDX-License-Identifier: GPL-3.0-or-later
/// The words of steps made easy to compare, and in what way two wordings differ.
#ifndef CW_CHANGES_WORDING_H
#define CW_CHANGES_WORDING_H

#include "countwright/status.h"
#include "glossary/find.h"

/// Work space. Zero but for `finder.glossary` (NULL: none); release with cw_wording_free().
typedef struct {
  CwFinder finder;
} CwWording;

/// Words in lower case with single blanks between them, terms in their proper spelling, no punctuation.
/// @param[out] words Release with free(). @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_wording(CwWording *wording, const char *text, char **words);

/// How two texts differ.
typedef enum {
  CW_WORDED_SAME,
  CW_WORDED_SPELLING, ///< only in spelling: case, punctuation, a slip of the keys, two ways to write a term
  CW_WORDED_PLACE,    ///< only in places of the stage
  CW_WORDED_ELSE
} CwWorded;

/// @param[out] worded How they differ. @param[out] alike 0 to 1: share of the words that they have in common.
CW_NODISCARD CwStatus cw_worded(CwWording *wording, const char *before, const char *after, CwWorded *worded,
                                double *alike);

void cw_wording_free(CwWording *wording);

#endif
