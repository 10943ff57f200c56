// SPDX-License-Identifier: GPL-3.0-or-later
/// Names as the dancer writes them: the same with other capitals or blanks. A list of them is found in by hashing, as
/// notes may have as many headings as lines.
#ifndef CW_NOTES_NAMES_H
#define CW_NOTES_NAMES_H

#include <stdbool.h>
#include <stddef.h>

/// Not in the list.
#define CW_NO_NAME ((size_t)-1)

/// A list of names. Zero to begin with; release with cw_names_free().
typedef struct {
  char **name;   ///< folded; `n` of them
  size_t *value; ///< what the caller gave with each
  size_t n;
  size_t name_capacity;
  size_t value_capacity;
  size_t *slot; ///< place in the list + 1, 0 where free; `n_slots` of them, a power of two
  size_t n_slots;
} CwNames;

/// A name folded: small letters, single blanks, no blanks at its ends. @return Release with free(); NULL without memory.
char *cw_name_fold(const char *name, size_t length);

/// Whether two names are the same. Memory that runs out counts as "no".
bool cw_name_is(const char *a, const char *b);

/// Put a name into the list, or give the one that is there another value. @return false when memory runs out.
bool cw_names_put(CwNames *names, const char *name, size_t length, size_t value);

/// What was given with a name; CW_NO_NAME when it is not there.
size_t cw_names_find(const CwNames *names, const char *name, size_t length);

/// Release and set to empty.
void cw_names_free(CwNames *names);

/// The next name of a list such as "Anna, Ben & the girls". @param[in,out] at Where to go on, first the list itself.
/// @return Its length, 0 at the end; `*name` is its start.
size_t cw_name_next(const char **at, const char **name);

#endif
