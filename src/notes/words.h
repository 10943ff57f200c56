// SPDX-License-Identifier: GPL-3.0-or-later
/// Words and numbers in a line, by its folded characters.
#ifndef CW_NOTES_WORDS_H
#define CW_NOTES_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "notes/line_text.h"

/// A list for cw_match_any(): before one of these a number says how many, not when.
extern const char *const cw_how_many[];

/// True for '0' to '9'.
bool cw_is_digit(char c);

/// True for a letter of a script without blanks.
bool cw_is_unspaced(char c);

/// True for a letter or digit, or a character beyond the grammar.
bool cw_is_word_character(char c);

/// True when the words `words` (lower case, single blanks) stand at `i`, any blanks between them, and a word ends there.
/// @param[out] next First character after them; unchanged when false.
bool cw_match_words(const CwLineText *text, size_t i, size_t end, const char *words, size_t *next);

/// As cw_match_words() for the first that fits in a list that ends with NULL.
bool cw_match_any(const CwLineText *text, size_t i, size_t end, const char *const *list, size_t *next);

/// The end of the digits at `i`. @param[out] value The number, 1e9 for anything longer than nine digits.
size_t cw_read_digits(const CwLineText *text, size_t i, size_t end, unsigned *value);

/// Counts typed without blanks, such as "5678": digits from 1 up, each one more than the one before.
/// @return The end of the digits; `i` when they are none.
size_t cw_read_digit_run(const CwLineText *text, size_t i, size_t end, unsigned *first, unsigned *last);

/// A time such as "1:02.35", which no letter, digit or colon follows.
/// @param[out] next First character after it; unchanged when false.
bool cw_read_time(const CwLineText *text, size_t i, size_t end, size_t *next, double *time_s);

/// First character from `i` on that is no blank and none of ", . : -".
size_t cw_skip_signs(const CwLineText *text, size_t i, size_t end);

/// First character after the word at `i` (up to a blank).
size_t cw_word_end(const CwLineText *text, size_t i, size_t end);

#endif
