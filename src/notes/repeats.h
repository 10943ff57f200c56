// SPDX-License-Identifier: GPL-3.0-or-later
/// Phrases danced again: "x2", "repeat 3-6", "same as 5", "other side".
#ifndef CW_NOTES_REPEATS_H
#define CW_NOTES_REPEATS_H

#include "notes/parser.h"

/// How often, and on which side.
typedef struct {
  unsigned times; ///< 1 when not said
  bool other_side;
} CwAgain;

/// What stands before a phrase's words, or a repeat's.
typedef struct {
  CwPin *pin; ///< pins of its one, then of the ones of the phrases after it on the line
  size_t n_pins;
  size_t pin_capacity;
  bool pinned; ///< the first is given to a phrase already
  size_t role; ///< the role's words are [role, role_end) of the line; empty when there is none
  size_t role_end;
  unsigned counts; ///< given number of counts, 0 when not
  bool meanwhile;  ///< "+" or "meanwhile": at the same time as the phrase above
  size_t meanwhile_at;
  bool then;       ///< "then [role]": after it
  unsigned ending; ///< "2nd ending": 2; 0 when not
  size_t ending_at;
} CwLineStart;

/// Take "x2", with or without "other side", off the end of [i, end).
/// @param[out] again Set in any case. @return The new end.
size_t cw_take_times(CwParser *parser, size_t i, size_t end, CwAgain *again);

/// Read [i, end) as a repeat of earlier phrases and write it out. @return false when it is none.
bool cw_read_repeat(CwParser *parser, size_t i, size_t end, const CwLineStart *start);

/// Write phrase `k` once more, at the notebook's end. `start` may be NULL.
void cw_write_again(CwParser *parser, size_t k, bool mirrored, const CwLineStart *start);

/// True when no more may be written out; says so unless `*told`, which it sets.
bool cw_repeats_cut(CwParser *parser, bool *told);

/// Write the notebook's last phrase out again, `again->times` in all.
void cw_repeat_last(CwParser *parser, const CwAgain *again);

/// Give a draft what the line's start says of its first phrase: the first pin and the role.
void cw_draft_start(CwParser *parser, CwDraft *draft, const CwLineStart *start);

/// Give the other pins of the line's start to the phrases after `first`, in order.
void cw_pin_later_phrases(CwParser *parser, size_t first, const CwLineStart *start);

#endif
