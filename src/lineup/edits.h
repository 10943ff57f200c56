// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes with one change.
#ifndef CW_LINEUP_EDITS_H
#define CW_LINEUP_EDITS_H

#include "countwright/fit.h"

/// A change of phrase `at`, from 0; of a missing phrase, where it is put in.
typedef struct {
  CwFitKind kind;
  size_t at;
  unsigned counts;
} CwEdit;

/// The notes so changed. They share all but the array of phrases with `notebook`.
/// @param[out] changed Release with cw_edit_free(), not with cw_notebook_free().
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_edit_apply(const CwNotebook *notebook, CwEdit edit, CwNotebook *changed);

/// How many counts more the notes have with it.
long cw_edit_counts(const CwNotebook *notebook, CwEdit edit);

void cw_edit_free(CwNotebook *changed);

#endif
