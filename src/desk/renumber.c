// SPDX-License-Identifier: GPL-3.0-or-later
#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "desk/edit.h"

/// Whether digits at `i` are a number of a phrase: not how often, and no part of a time. A NUL follows somewhere.
static bool is_phrase_number(const char *line, size_t i, size_t end)
{
  const char before = i > 0 ? line[i - 1] : ' ';
  const char after = line[end];
  const size_t word = end + strspn(line + end, " ");
  return !strchr("xX@:.", before) && !(after && strchr("xX:.", after)) && strncmp(line + word, "times", 5) != 0;
}

void desk_renumber(const char *line, size_t length, unsigned last, int more, FILE *out)
{
  bool words = false; // in front of them a number says how many counts, or when
  for (size_t i = 0; i < length;) {
    if (line[i] == ';') {
      fwrite(line + i, 1, length - i, out);
      return;
    }
    words = words || isalpha((unsigned char)line[i]);
    size_t end = i;
    unsigned number = 0;
    while (end < length && isdigit((unsigned char)line[end])) {
      number = number < 100000 ? 10 * number + (unsigned)(line[end] - '0') : number;
      end++;
    }
    if (end > i && words && number > last && is_phrase_number(line, i, end)) {
      fprintf(out, "%u", more > 0 ? number + 1 : number - 1);
    } else {
      end = end > i ? end : i + 1;
      fwrite(line + i, 1, end - i, out);
    }
    i = end;
  }
}
