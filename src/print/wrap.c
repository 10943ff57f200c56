// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/wrap.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include <unigbrk.h>
#include <unilbrk.h>
#include <uniwidth.h>

#include "base/memory.h"

static const char *const encoding = "UTF-8";

unsigned cw_text_width(const char *text, size_t length)
{
  const int width = u8_width((const uint8_t *)text, length, encoding);
  return width > 0 ? (unsigned)width : 0;
}

/// Where a line may break before a byte: one UC_BREAK_... for each byte. Release with free().
static char *find_breaks(const char *text, size_t length)
{
  char *breaks = cw_new(length, 1);
  if (breaks) {
    u8_possible_linebreaks((const uint8_t *)text, length, encoding, breaks);
  }
  return breaks;
}

static CwSlice trimmed(const char *from, const char *to)
{
  while (from < to && *from == ' ') {
    from++;
  }
  while (to > from && (to[-1] == ' ' || to[-1] == '\n')) {
    to--;
  }
  return (CwSlice){from, (size_t)(to - from)};
}

CwStatus cw_widest_piece(const char *text, unsigned *columns)
{
  *columns = 0;
  const size_t length = strlen(text);
  char *breaks = find_breaks(text, length);
  if (!breaks) {
    return CW_ERR_NO_MEM;
  }
  size_t start = 0;
  for (size_t i = 1; i <= length; i++) {
    if (i == length || breaks[i] == UC_BREAK_POSSIBLE || breaks[i] == UC_BREAK_MANDATORY || text[i - 1] == '\n') {
      const CwSlice piece = trimmed(text + start, text + i);
      const unsigned width = cw_text_width(piece.text, piece.length);
      *columns = width > *columns ? width : *columns;
      start = i;
    }
  }
  free(breaks);
  return CW_OK;
}

/// End of the line that begins at byte `start`.
static size_t line_end(const char *text, size_t length, const char *breaks, size_t start, unsigned columns)
{
  const uint8_t *const end = (const uint8_t *)text + length;
  size_t last_break = start;
  unsigned width = 0;
  for (size_t at = start; at < length;) {
    if (text[at] == '\n') {
      return at + 1;
    }
    if (at > start && breaks[at] == UC_BREAK_POSSIBLE) {
      last_break = at;
    }
    const uint8_t *next = u8_grapheme_next((const uint8_t *)text + at, end);
    const size_t bytes = (size_t)(next - (const uint8_t *)(text + at));
    width += cw_text_width(text + at, bytes);
    const bool hangs = text[at] == ' '; // a space at the end of a line takes no room
    if (width > columns && !hangs && at > start) {
      return last_break > start ? last_break : at;
    }
    at += bytes;
  }
  return length;
}

static CwStatus split(const char *text, size_t length, const char *breaks, unsigned columns, CwLines *lines)
{
  size_t capacity = 0;
  for (size_t start = 0; start < length;) {
    while (start < length && text[start] == ' ') {
      start++;
    }
    const size_t end = line_end(text, length, breaks, start, columns);
    if (!cw_grow(&lines->line, &capacity, lines->n, sizeof *lines->line)) {
      cw_lines_free(lines);
      return CW_ERR_NO_MEM;
    }
    if (end > start) {
      lines->line[lines->n++] = trimmed(text + start, text + end);
    }
    start = end;
  }
  return CW_OK;
}

CwStatus cw_wrap(const char *text, unsigned columns, CwLines *lines)
{
  memset(lines, 0, sizeof *lines);
  const size_t length = strlen(text);
  char *breaks = find_breaks(text, length);
  const CwStatus status = breaks ? split(text, length, breaks, columns, lines) : CW_ERR_NO_MEM;
  free(breaks);
  return status;
}

void cw_lines_free(CwLines *lines)
{
  free(lines->line);
  memset(lines, 0, sizeof *lines);
}
