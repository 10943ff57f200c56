// SPDX-License-Identifier: GPL-3.0-or-later
/// Which phrase of the new notes is which of the old.
#ifndef CW_CHANGES_PAIR_H
#define CW_CHANGES_PAIR_H

#include "changes/likeness.h"

/// Pairs. Zero to begin with; release with cw_pairs_free().
typedef struct {
  size_t *new_of; ///< by old phrase: its index in the new notes, CW_NONE when gone
  size_t *old_of; ///< by new phrase
  bool *moved;    ///< by new phrase: it comes elsewhere than its neighbours
  size_t n_old;
  size_t n_new;
} CwPairs;

/// Pair phrases: first those that are alike and in order, as many as can be; then those alike that have moved; then,
/// between neighbours that are paired, those at least a little alike.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pairs_make(const CwGist *before, size_t n_old, const CwGist *after, size_t n_new,
                                    CwPairs *pairs);

void cw_pairs_free(CwPairs *pairs);

#endif
