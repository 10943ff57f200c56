// SPDX-License-Identifier: GPL-3.0-or-later
/// The likeliest pairs of two stretches of phrases that keep their order.
#ifndef CW_CHANGES_ORDER_H
#define CW_CHANGES_ORDER_H

#include "changes/likeness.h"

/// Two stretches of phrases.
typedef struct {
  const CwGist *before;
  const CwGist *after;
  size_t old_from, old_to;
  size_t new_from, new_to;
} CwStretch;

/// Told of each pair, by index.
typedef void (*CwTellPair)(void *user, size_t old_phrase, size_t new_phrase);

/// Find pairs whose likeness is at least `least`, in order, their likeness greatest in all. Those alike at both ends are
/// taken first; very long stretches are parted at phrases that are in both just once.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pair_in_order(CwStretch stretch, double least, CwTellPair tell, void *user);

#endif
