// SPDX-License-Identifier: GPL-3.0-or-later
/// Lists of times as text: a line for each, "seconds" and perhaps further fields after a tab or spaces. Empty lines and
/// lines that begin with '#' are passed over; lines may end in CR LF.
#ifndef CW_EVAL_LIST_H
#define CW_EVAL_LIST_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// Latest time that is taken: as mir_eval, against milliseconds mistaken for seconds.
#define CW_EVAL_LATEST_S 30000.0

/// What the fields after the time mean.
typedef enum {
  CW_LIST_BEATS, ///< a label: db or 1 marks a downbeat, anything else (or nothing) another beat
  CW_LIST_ONES,  ///< perhaps the number of the phrase; anything else is passed over
  CW_LIST_COUNTS ///< number of the phrase, count, and confidence of the phrase or '-'
} CwListKind;

/// A line of a list. What its kind does not have is zero; `confidence` is then NaN.
typedef struct {
  double time_s;
  double confidence; ///< CW_LIST_COUNTS: 0 to 1, NaN when not known
  unsigned number;   ///< CW_LIST_ONES, CW_LIST_COUNTS: of the phrase, from 1; 0 when not given
  unsigned count;    ///< CW_LIST_COUNTS: from 1
  bool downbeat;     ///< CW_LIST_BEATS
} CwListItem;

/// Times in order; equal ones are allowed. Release with cw_eval_list_free().
typedef struct {
  CwListItem *item;
  size_t n;
} CwList;

/// Where and why a text is not a list: "expected a time in seconds, found 'x'".
typedef struct {
  size_t line;   ///< from 1
  size_t column; ///< from 1, in bytes
  char message[160];
} CwListFault;

/// Read a list. Times are seconds as decimal numbers with a full stop, perhaps with a sign or an exponent, from
/// -CW_EVAL_LATEST_S to CW_EVAL_LATEST_S, none before the one above it. Numbers of up to 15 digits are read to the last
/// bit.
/// @param text `size` bytes.
/// @param[out] list Empty on error.
/// @param[out] fault Set with CW_ERR_SYNTAX.
/// @return CW_OK, CW_ERR_SYNTAX or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_eval_list_parse(const char *text, size_t size, CwListKind kind, CwList *list,
                                         CwListFault *fault);

/// Release and set to empty. NULL is accepted.
void cw_eval_list_free(CwList *list);

/// Beats in a bar by the downbeats of a list of beats: what nine bars in ten have.
/// @return 0 when bars differ more than that, or when there are not two downbeats.
unsigned cw_eval_metre(const CwList *beats);

#endif
