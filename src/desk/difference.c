// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/difference.h"

#include <string.h>

#include "base/memory.h"

static bool is_inside_character(char c)
{
  return ((unsigned char)c & 0xC0) == 0x80;
}

DeskDifference desk_difference(DeskText old, DeskText new)
{
  const size_t least = old.size < new.size ? old.size : new.size;
  size_t at = 0;
  while (at < least && old.text[at] == new.text[at]) {
    at++;
  }
  while (at > 0 && ((at < old.size && is_inside_character(old.text[at])) ||
                    (at < new.size &&is_inside_character(new.text[at])))) {
    at--;
  }
  size_t same = 0; // at the end
  while (same < least - at && old.text[old.size - same - 1] == new.text[new.size - same - 1]) {
    same++;
  }
  while (same > 0 && is_inside_character(old.text[old.size - same])) {
    same--;
  }
  return (DeskDifference){at, old.size - same, new.size - same};
}

/// The end of the line that byte `i` is in; `i` itself at a line's beginning.
static size_t to_line_end(DeskText text, size_t i)
{
  while (i < text.size && i > 0 && text.text[i - 1] != '\n') {
    i++;
  }
  return i;
}

DeskDifference desk_difference_of_lines(DeskText old, DeskText new)
{
  DeskDifference d = desk_difference(old, new);
  while (d.at > 0 && old.text[d.at - 1] != '\n') {
    d.at--;
  }
  const size_t before = d.old_end;
  d.old_end = to_line_end(old, d.old_end);
  d.new_end += d.old_end - before; // what follows is the same in both
  const size_t new_before = d.new_end;
  d.new_end = to_line_end(new, d.new_end);
  d.old_end += d.new_end - new_before;
  return d;
}

char *desk_replace(DeskText text, size_t from, size_t to, DeskText by, size_t *size)
{
  *size = text.size - (to - from) + by.size;
  char *out = cw_new(*size + 1, 1);
  if (out) {
    memcpy(out, text.text, from);
    memcpy(out + from, by.text, by.size);
    memcpy(out + from + by.size, text.text + to, text.size - to);
  }
  return out;
}

static DeskText part(DeskText text, size_t from, size_t to)
{
  return (DeskText){text.text + from, to - from};
}

static bool is_same(DeskText a, DeskText b)
{
  return a.size == b.size && memcmp(a.text, b.text, a.size) == 0;
}

CwStatus desk_merge(DeskText base, DeskText mine, DeskText theirs, bool *clash, char **text, size_t *size)
{
  *clash = false;
  *text = NULL;
  const DeskDifference m = desk_difference_of_lines(base, mine);
  const DeskDifference t = desk_difference_of_lines(base, theirs);
  if (is_same(mine, theirs) || is_same(base, mine)) {
    *text = cw_copy_text(theirs.text, theirs.size);
    *size = theirs.size;
  } else if (is_same(base, theirs)) {
    *text = cw_copy_text(mine.text, mine.size);
    *size = mine.size;
  } else if (m.old_end <= t.at && m.at < t.at) { // mine comes first
    *text = desk_replace(theirs, m.at, m.old_end, part(mine, m.at, m.new_end), size);
  } else if (t.old_end <= m.at && t.at < m.at) {
    *text = desk_replace(mine, t.at, t.old_end, part(theirs, t.at, t.new_end), size);
  } else {
    *clash = true;
    return CW_OK;
  }
  return *text ? CW_OK : CW_ERR_NO_MEM;
}
