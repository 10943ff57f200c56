// SPDX-License-Identifier: GPL-3.0-or-later
/// @file glossary.h
/// The terms behind the spelling of steps: "pa de booray" is most likely "pas de bourrée". A term is suggested, never put
/// in unasked; ordinary words, and words that sound like no term, are left alone.
///
/// A glossary is plain UTF-8 text, so that each style of dance can have one. One term to a line, its fields parted by
/// tabs:
///
///     term, meaning in a line, plural, other ways to write it (parted by "|")
///
/// All but the term may be missing. Without a plural it is made as in French ("ronds de jambe"); "-" stands for none. A
/// line that begins with "!" holds words that are to be left alone, "!fr" those that are so in French only (or in another
/// language of two letters). A line that begins with "#" is a remark.
#ifndef COUNTWRIGHT_GLOSSARY_H
#define COUNTWRIGHT_GLOSSARY_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/notebook.h"
#include "countwright/status.h"

CW_BEGIN

/// A term. Strings belong to the glossary.
typedef struct {
  const char *name;    ///< as it is properly written
  const char *meaning; ///< in a line; "" when not given
  const char *plural;  ///< NULL when it has none
} CwTerm;

/// Terms, and words that are to be left alone. Release with cw_glossary_free().
typedef struct CwGlossary CwGlossary;

/// A new glossary.
/// @param academic Whether it begins with the academic vocabulary that the library holds; else with the words alone that
/// are to be left alone.
/// @param[out] glossary Release with cw_glossary_free(); NULL on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_glossary_new(bool academic, CwGlossary **glossary);

/// Add the terms of a glossary file's text. A term that is there already is replaced.
/// @param text `size` bytes, any content.
/// @param[out] diagnostic Told of lines that are no term, `*n_diagnostics` of them; release each text and the array with
/// free(). Both may be NULL.
/// @return CW_OK or CW_ERR_NO_MEM (the glossary then has the lines read so far).
CW_API CW_NODISCARD CwStatus cw_glossary_add(CwGlossary *glossary, const char *text, size_t size,
                                             CwDiagnostic **diagnostic, size_t *n_diagnostics);

/// How many terms there are.
CW_API size_t cw_glossary_size(const CwGlossary *glossary);

/// A term by its place, from 0, in the order in which they were added; valid until terms are added.
CW_API CwTerm cw_glossary_term(const CwGlossary *glossary, size_t index);

/// Look a term up, singular or plural, in any case and with or without its accents.
/// @param[out] index Its place. @return false when there is none.
CW_API bool cw_glossary_look_up(const CwGlossary *glossary, const char *name, size_t *index);

/// Release. NULL is accepted.
CW_API void cw_glossary_free(CwGlossary *glossary);

/// Words of a text that are a term.
typedef struct {
  size_t term;     ///< index into the glossary
  size_t offset;   ///< bytes into the text; 0 in a notebook
  size_t length;   ///< bytes; 0 in a notebook
  size_t line;     ///< from 1, in a notebook; else 0
  size_t column;   ///< from 1, in characters, in a notebook; else 0
  char *written;   ///< the words as they are
  char *proper;    ///< the term's proper spelling, with the case of the words; NULL when they have it already
  double likeness; ///< 0 to 1, 1 when only accents, hyphens or case differ
} CwSpelling;

/// The terms of a text, in order. Release with cw_spellings_free().
typedef struct {
  CwSpelling *item;
  size_t n;
} CwSpellings;

/// Find the terms of a text.
/// @param text `size` bytes, any content; the words of one step or line.
/// @param language Two letters or more, as "fr"; NULL to go by the words.
/// @param[out] found Release with cw_spellings_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_spelling_find(const CwGlossary *glossary, const char *text, size_t size,
                                              const char *language, CwSpellings *found);

/// Find the terms of a notebook's phrases, with line and column; what is private is passed over.
/// @param[out] found Release with cw_spellings_free(); empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_notebook_spelling(const CwGlossary *glossary, const CwNotebook *notebook,
                                                  CwSpellings *found);

/// Put the proper terms into a text.
/// @param[out] proper A new string, release with free(); NULL on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_spelling_proper(const CwGlossary *glossary, const char *text, const char *language,
                                                char **proper);

/// Put the proper terms into the steps and remarks of a notebook. Its lines and text stay as they are.
/// @return CW_OK or CW_ERR_NO_MEM (then some have them).
CW_API CW_NODISCARD CwStatus cw_notebook_spell_properly(const CwGlossary *glossary, CwNotebook *notebook);

/// Release and set to empty. NULL is accepted.
CW_API void cw_spellings_free(CwSpellings *spellings);

CW_END

#endif
