// SPDX-License-Identifier: GPL-3.0-or-later
/// Count marks among words: "5", "1-4", "3&4", "&a5", "5@1:04.2".
#ifndef CW_NOTES_MARKS_H
#define CW_NOTES_MARKS_H

#include <stdbool.h>
#include <stddef.h>

#include "notes/line_text.h"

/// Most counts in one mark, such as "1&2&3&4&5&6&7&8&".
#define CW_MARK_COUNTS 32

/// One count of a mark.
typedef struct {
  double count;
  double until; ///< equal to `count` unless it is a range
  bool range;
} CwMarkCount;

/// What looks like a count mark: characters without blanks between them, save around a range's dash.
typedef struct {
  size_t begin;
  size_t end; ///< after its pin's time, if any
  CwMarkCount count[CW_MARK_COUNTS];
  size_t n;
  bool sub;     ///< it has sub-counts; a bare number has none
  bool wraps;   ///< "8&1": its last count is the one after the greatest
  bool follows; ///< only blanks and commas stand between it and the mark before
  bool pinned;  ///< "@" and a time follow it; the pin is for its last count
  double time_s;
} CwMark;

/// A walk over the marks of a line. Whether a mark counts is for the caller to say, by cw_mark_accept(): later ones are
/// read in its light.
typedef struct {
  const CwLineText *text;
  size_t i;
  size_t end;
  bool triple;       ///< a count is three beats: "e" and "a" are thirds
  bool open;         ///< nothing but blanks and commas since the last accepted mark
  bool after_range;  ///< that mark ends in a range
  double last;       ///< last count of the last accepted mark; 0 when there is none
  double start;      ///< the count at which its last part begins
  size_t last_close; ///< position of the last ")", or 0
} CwMarkWalk;

/// Walk over [begin, end).
void cw_mark_walk(CwMarkWalk *walk, const CwLineText *text, size_t begin, size_t end, bool triple);

/// Find the next mark. What stands in round brackets is passed over. @return false when there are no more.
bool cw_mark_next(CwMarkWalk *walk, CwMark *mark);

/// The mark counts: walk on from its end.
void cw_mark_accept(CwMarkWalk *walk, const CwMark *mark);

/// The mark does not count: it is words.
void cw_mark_reject(CwMarkWalk *walk, const CwMark *mark);

/// Read a mark that begins at `i`, nowhere else. @return false when there is none.
bool cw_mark_at(CwMarkWalk *walk, size_t i, CwMark *mark);

#endif
