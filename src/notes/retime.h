// SPDX-License-Identifier: GPL-3.0-or-later
/// Times in a line of a notebook, replaced; all else stays byte for byte.
#ifndef CW_NOTES_RETIME_H
#define CW_NOTES_RETIME_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/// A time as written, and what to write for it.
typedef struct {
  double old_s;
  double new_s;
} CwRetime;

/// What to change in a line.
typedef struct {
  const CwRetime *time; ///< each time behind an '@' is looked for in here; others stay
  size_t n;
  const double *pin_s; ///< pins of the ones of the line's phrases, from the first on
  size_t n_pins;
  bool pinned;         ///< the first is pinned in the line; its pins go to the start only where that one stands there
  double hold_until_s; ///< when a hold of a given length now ends; NaN: leave it
} CwRetiming;

/// "1:02.350", to the millisecond, as pins are obeyed.
void cw_format_pin(double time_s, char out[32]);

/// Where the text of a line begins, behind blanks.
size_t cw_line_begin(const char *line, size_t length);

/// Write a line with its times changed. What is private in it stays as it is.
void cw_retime_line(const char *line, size_t length, const CwRetiming *retiming, FILE *out);

#endif
