// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/plural.h"

#include <stdbool.h>
#include <string.h>

#include "base/memory.h"

/// After one of these, nothing of a term changes.
static bool is_preposition(const char *word, size_t n)
{
  static const char *const list[] = {"de", "du", "à", "en", "sur", "d'action", NULL};
  for (size_t i = 0; list[i]; i++) {
    if (strlen(list[i]) == n && memcmp(list[i], word, n) == 0) {
      return true;
    }
  }
  return false;
}

char *cw_make_plural(const char *term, size_t length)
{
  char *plural = cw_new(2 * length + 2, 1);
  size_t n = 0;
  bool changes = true;
  for (size_t i = 0; plural && i < length;) {
    const char *space = memchr(term + i, ' ', length - i);
    const size_t end = space ? (size_t)(space - term) : length;
    changes = changes && !is_preposition(term + i, end - i);
    memcpy(plural + n, term + i, end - i);
    n += end - i;
    if (changes && end > i && !strchr("sxz", term[end - 1])) {
      plural[n++] = 's';
    }
    if (space) {
      plural[n++] = ' ';
    }
    i = end + 1;
  }
  return plural;
}
