// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/range.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/// Read digits, as many as fit. @return false when there are none, or too many.
static bool read_number(const char **text, uint64_t *number)
{
  const size_t n = strspn(*text, "0123456789");
  *number = n > 0 && n < 19 ? strtoull(*text, NULL, 10) : 0;
  *text += n;
  return n > 0 && n < 19;
}

DeskRange desk_range(const char *field, uint64_t size, uint64_t *first, uint64_t *length)
{
  static const char unit[] = "bytes=";
  *first = 0;
  *length = size;
  if (!field || strncmp(field, unit, sizeof unit - 1) != 0) {
    return DESK_RANGE_ALL;
  }
  const char *at = field + sizeof unit - 1;
  uint64_t from = 0;
  uint64_t to = 0;
  const bool has_from = read_number(&at, &from);
  if (*at != '-') {
    return DESK_RANGE_ALL;
  }
  at++;
  const bool has_to = read_number(&at, &to);
  if (*at != '\0' || (!has_from && !has_to) || (has_from && has_to && to < from)) {
    return DESK_RANGE_ALL;
  }
  if (!has_from) { // the last bytes
    from = to < size ? size - to : 0;
    to = has_to && to == 0 ? 0 : size - 1;
    if (size == 0 || (from == size)) {
      return DESK_RANGE_NONE;
    }
  } else if (from >= size) {
    return DESK_RANGE_NONE;
  }
  to = !has_to || to >= size ? size - 1 : to;
  *first = from;
  *length = to - from + 1;
  return DESK_RANGE_PART;
}
