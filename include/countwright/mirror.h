// SPDX-License-Identifier: GPL-3.0-or-later
/// @file mirror.h
/// Notes for the other side: what a second cast dances that mirrors the first.
///
/// Feet, arms, sides, turning directions, stage areas, wings and diagonals change sides where English or French words or
/// the trade's abbreviations say them plainly. Words that are no directions ("right away") stay. What could be either
/// stays, too, and is listed. Mirroring twice gives back the same bytes, whatever they are.
#ifndef COUNTWRIGHT_MIRROR_H
#define COUNTWRIGHT_MIRROR_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/notebook.h"
#include "countwright/status.h"

CW_BEGIN

/// A mirrored text. Release with cw_mirrored_free().
typedef struct {
  char *text; ///< `size` bytes and a NUL
  size_t size;
  size_t n_changed;    ///< words and abbreviations that changed sides
  CwDiagnostic *doubt; ///< what was left as it is but may be a side, by its place in the text that was given; in order
  size_t n_doubts;
} CwMirrored;

/// Mirror a notebook. Head lines ("dance: ...") are names and stay.
/// @param text `size` bytes, any content; lines end as in notebooks.
/// @param[out] mirrored Empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_mirror_notebook(const char *text, size_t size, CwMirrored *mirrored);

/// Mirror the words of a step or a remark, as one line.
/// @param text NUL-terminated. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_mirror_text(const char *text, CwMirrored *mirrored);

/// Release and set to empty. NULL is accepted.
CW_API void cw_mirrored_free(CwMirrored *mirrored);

CW_END

#endif
