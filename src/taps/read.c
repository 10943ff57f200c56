// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/taps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/time_text.h"

#define MOST_SHOWN 40 // bytes of what was found instead

typedef struct {
  CwTaps *taps;
  size_t tap_room, diagnostic_room;
} Reader;

/// Characters, not bytes, before `at`, and one.
static size_t column_of(const char *line, const char *at)
{
  size_t column = 1;
  for (; line < at; line++) {
    column += ((unsigned char)*line & 0xC0) != 0x80;
  }
  return column;
}

static bool is_blank(char c)
{
  return c == ' ' || c == '\t' || c == '\r';
}

/// Say that a time is missing at `at`.
static CwStatus complain(Reader *r, size_t number, const char *line, const char *at, const char *end)
{
  CwTaps *taps = r->taps;
  char text[MOST_SHOWN + 40];
  size_t shown = (size_t)(end - at);
  while (shown > MOST_SHOWN || (shown > 0 && ((unsigned char)at[shown] & 0xC0) == 0x80)) {
    shown--;
  }
  snprintf(text, sizeof text, "expected a time, found '%.*s'", (int)shown, at);
  char *copy = cw_copy_text(text, strlen(text));
  if (!copy || !cw_grow(&taps->diagnostic, &r->diagnostic_room, taps->n_diagnostics, sizeof *taps->diagnostic)) {
    free(copy);
    return CW_ERR_NO_MEM;
  }
  taps->diagnostic[taps->n_diagnostics++] = (CwDiagnostic){number, column_of(line, at), copy};
  return CW_OK;
}

/// Understand one line, which ends at `end` (a line end or the text's NUL).
static CwStatus read_line(Reader *r, size_t number, const char *line, const char *end)
{
  const char *remark = memchr(line, '#', (size_t)(end - line));
  end = remark ? remark : end;
  while (end > line && is_blank(end[-1])) {
    end--;
  }
  const char *at = line;
  while (at < end && is_blank(*at)) {
    at++;
  }
  if (at == end) {
    return CW_OK;
  }
  const char *rest = at;
  const double time_s = cw_parse_time(at, &rest);
  while (rest < end && is_blank(*rest)) {
    rest++;
  }
  if (isnan(time_s) || rest != end) {
    return complain(r, number, line, isnan(time_s) ? at : rest, end);
  }
  if (!cw_grow(&r->taps->time_s, &r->tap_room, r->taps->n, sizeof time_s)) {
    return CW_ERR_NO_MEM;
  }
  r->taps->time_s[r->taps->n++] = time_s;
  return CW_OK;
}

static int by_time(const void *a, const void *b)
{
  const double left = *(const double *)a;
  const double right = *(const double *)b;
  return (left > right) - (left < right);
}

static CwStatus read_lines(Reader *r, const char *text, size_t size)
{
  size_t number = 1;
  for (const char *line = text; line < text + size; number++) {
    const char *newline = memchr(line, '\n', (size_t)(text + size - line));
    const char *end = newline ? newline : text + size;
    const CwStatus status = read_line(r, number, line, end);
    if (status != CW_OK) {
      return status;
    }
    line = end + 1;
  }
  return CW_OK;
}

CwStatus cw_taps_parse(const char *text, size_t size, CwTaps *taps)
{
  *taps = (CwTaps){0};
  Reader reader = {.taps = taps};
  char *copy = cw_copy_text(text, size); // ends with a NUL, as reading times needs
  const CwStatus status = copy ? read_lines(&reader, copy, size) : CW_ERR_NO_MEM;
  free(copy);
  if (status != CW_OK) {
    cw_taps_free(taps);
  } else if (taps->n > 1) {
    qsort(taps->time_s, taps->n, sizeof *taps->time_s, by_time);
  }
  return status;
}

void cw_taps_free(CwTaps *taps)
{
  if (!taps) {
    return;
  }
  for (size_t i = 0; i < taps->n_diagnostics; i++) {
    free(taps->diagnostic[i].text);
  }
  free(taps->diagnostic);
  free(taps->time_s);
  *taps = (CwTaps){0};
}
