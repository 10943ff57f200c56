// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/at.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "base/memory.h"
#include "cli/cli.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "countwright/time_text.h"

static const char blank[] = " \t\r";

/// Characters, not bytes, before `at` on its line.
static size_t column_of(const char *line, const char *at)
{
  size_t column = 1;
  for (; line < at; line++) {
    column += ((unsigned char)*line & 0xC0) != 0x80;
  }
  return column;
}

/// Understand a line of `length` bytes. @return false when it holds no time; `wrong` is then where it goes wrong.
static bool read_line(const char *line, size_t length, double *time_s, const char **wrong)
{
  *time_s = NAN;
  const char *at = line + strspn(line, blank);
  if (at >= line + length) {
    return true;
  }
  const char *end = at;
  *time_s = cw_parse_time(at, &end);
  const char *rest = end + strspn(end, blank);
  *wrong = isnan(*time_s) ? at : rest;
  return !isnan(*time_s) && rest >= line + length;
}

static bool add_time(CliTimes *times, size_t *capacity, double time_s)
{
  if (!cw_grow(&times->time_s, capacity, times->n, sizeof *times->time_s)) {
    return false;
  }
  times->time_s[times->n++] = time_s;
  return true;
}

/// @return CLI_GOOD or CLI_FAILED, having said why.
static int read_lines(const char *path, const char *text, size_t size, CliTimes *times)
{
  size_t capacity = 0;
  for (const char *line = text; line < text + size;) {
    const char *newline = memchr(line, '\n', (size_t)(text + size - line));
    const size_t length = newline ? (size_t)(newline - line) : (size_t)(text + size - line);
    double time_s = NAN;
    const char *wrong = line;
    if (!read_line(line, length, &time_s, &wrong)) {
      const size_t left = (size_t)(line + length - wrong);
      const size_t shown = strcspn(wrong, "\r\n");
      cli_say_place(path, times->n + 1, column_of(line, wrong), "expected a time, found '%.*s'",
                    (int)(shown < left ? shown : left), wrong);
      return CLI_FAILED;
    }
    if (!add_time(times, &capacity, time_s)) {
      return cli_say_status(path, CW_ERR_NO_MEM);
    }
    line += length + 1;
  }
  return CLI_GOOD;
}

int cli_read_times(const char *path, CliTimes *times)
{
  *times = (CliTimes){0};
  char *text = NULL;
  size_t size = 0;
  const CwStatus status = cli_read_text(path, &text, &size);
  if (status != CW_OK) {
    return cli_say_status(path, status);
  }
  const int result = read_lines(path, text, size, times);
  free(text);
  if (result != CLI_GOOD) {
    free(times->time_s);
    *times = (CliTimes){0};
  }
  return result;
}

CwStatus cli_write_times(const CliTimes *times, const CwTimeMap *map, FILE *out)
{
  for (size_t i = 0; i < times->n; i++) {
    char text[32] = "";
    if (!isnan(times->time_s[i])) {
      const double b_s = cw_time_map_at(map, times->time_s[i]);
      snprintf(text, sizeof text, "-");
      if (!isnan(b_s)) {
        cw_format_fixed(text, sizeof text, b_s, 3);
      }
    }
    fprintf(out, "%s\n", text);
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}
