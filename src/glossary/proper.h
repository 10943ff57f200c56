// SPDX-License-Identifier: GPL-3.0-or-later
/// The proper spelling of what was found.
#ifndef CW_GLOSSARY_PROPER_H
#define CW_GLOSSARY_PROPER_H

#include "glossary/find.h"

/// The proper spelling of a match, with the case of its words. @param word The first of them.
/// @return Release with free(); NULL when memory runs out.
char *cw_proper_words(const CwGlossary *glossary, const CwMatch *match, const CwWord *word);

/// As cw_spelling_proper().
CW_NODISCARD CwStatus cw_proper_text(CwFinder *finder, const char *text, const char *language, char **proper);

#endif
