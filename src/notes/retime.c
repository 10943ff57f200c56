// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/retime.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>
#include <strings.h>

#include "countwright/time_text.h"

static const double same_s = 1e-6;

void cw_format_pin(double time_s, char out[32])
{
  const long long thousandths = llround(time_s * 1000);
  snprintf(out, 32, "%lld:%02lld.%03lld", thousandths / 60000, thousandths / 1000 % 60, thousandths % 1000);
}

static bool is_blank(char c)
{
  return c == ' ' || c == '\t';
}

static size_t skip_blanks(const char *line, size_t i, size_t end)
{
  while (i < end && is_blank(line[i])) {
    i++;
  }
  return i;
}

size_t cw_line_begin(const char *line, size_t length)
{
  return skip_blanks(line, 0, length);
}

/// The end of what is not private, and of the line's text.
static size_t public_end(const char *line, size_t length)
{
  size_t end = 0;
  while (end < length && line[end] != ';' && line[end] != '\n' && line[end] != '\r') {
    end++;
  }
  return end;
}

/// A time at `i`. @return Where it ends; `i` when there is none. `line` is followed by a NUL somewhere.
static size_t read_time(const char *line, size_t i, size_t end, double *time_s)
{
  char text[32] = "";
  const size_t n = end - i < sizeof text - 1 ? end - i : sizeof text - 1;
  memcpy(text, line + i, n);
  const char *after = text;
  *time_s = cw_parse_time(text, &after);
  return i + (size_t)(after - text);
}

static const CwRetime *find_time(const CwRetiming *retiming, double time_s)
{
  for (size_t k = 0; k < retiming->n; k++) {
    if (fabs(retiming->time[k].old_s - time_s) < same_s) {
      return &retiming->time[k];
    }
  }
  return NULL;
}

/// Write `from` to `to`, with known times behind an '@' replaced.
static void write_part(const char *line, size_t from, size_t to, const CwRetiming *retiming, FILE *out)
{
  for (size_t i = from; i < to;) {
    fputc(line[i], out);
    if (line[i++] != '@') {
      continue;
    }
    double time_s = NAN;
    const size_t begin = skip_blanks(line, i, to);
    const size_t after = read_time(line, begin, to, &time_s);
    const CwRetime *time = after > begin ? find_time(retiming, time_s) : NULL;
    if (time) {
      char text[32];
      cw_format_pin(time->new_s, text);
      fwrite(line + i, 1, begin - i, out);
      fputs(text, out);
      i = after;
    }
  }
}

/// The length of one of the words at `i`, 0 when none stands there alone.
static size_t word_at(const char *line, size_t i, size_t end, const char *const *word)
{
  for (; *word; word++) {
    const size_t n = strlen(*word);
    const bool there = end - i >= n && strncasecmp(line + i, *word, n) == 0;
    const char next = i + n < end ? line[i + n] : ' ';
    if (there && !(next >= 'a' && next <= 'z') && !(next >= 'A' && next <= 'Z')) {
      return n;
    }
  }
  return 0;
}

/// The length of a hold: what stands between its word and the words that follow.
typedef struct {
  size_t begin, end;
} Length;

static bool read_length(const char *line, size_t at, size_t end, Length *length)
{
  static const char *const seconds[] = {"seconds", "second", "secs", "sec", "s", NULL};
  static const char *const lead[] = {"for", NULL};
  double value = 0;
  size_t i = skip_blanks(line, at, end);
  i += word_at(line, i, end, lead);
  i = skip_blanks(line, i, end);
  const size_t after = read_time(line, i, end, &value);
  const size_t unit = skip_blanks(line, after, end);
  const size_t n = word_at(line, unit, end, seconds);
  *length = (Length){at, n ? unit + n : after};
  return after > i && (n || memchr(line + i, ':', after - i));
}

/// Find the last hold of a given length in a line.
static bool find_hold(const char *line, size_t begin, size_t end, Length *length)
{
  static const char *const hold[] = {"hold", "pause", "fermata", "applause", NULL};
  bool found = false;
  for (size_t i = begin; i < end; i++) {
    const size_t n = i == begin || is_blank(line[i - 1]) ? word_at(line, i, end, hold) : 0;
    Length here;
    if (n && read_length(line, i + n, end, &here)) {
      *length = here;
      found = true;
    }
  }
  return found;
}

/// "@ 1:02" at `i`. @return The end of its time; `i` when there is none. `*time` is where the time begins.
static size_t match_pin(const char *line, size_t i, size_t end, size_t *time)
{
  double time_s = 0;
  if (i >= end || line[i] != '@') {
    return i;
  }
  *time = skip_blanks(line, i + 1, end);
  const size_t after = read_time(line, *time, end, &time_s);
  return after > *time ? after : i;
}

/// Write the pins at the start of a line: those that are there with their new times, then further ones.
/// @return What of the line is written so.
static size_t write_start(const char *line, size_t begin, size_t end, const CwRetiming *retiming, FILE *out)
{
  char text[32];
  size_t i = begin;
  size_t time = 0;
  size_t n = 0;
  for (size_t after = match_pin(line, i, end, &time); after > i; after = match_pin(line, i, end, &time)) {
    if (n < retiming->n_pins) {
      cw_format_pin(retiming->pin_s[n], text);
      fprintf(out, "%s%.*s%s", n ? " " : "", (int)(time - i), line + i, text);
    }
    n++;
    size_t next = skip_blanks(line, after, end);
    i = next < end && line[next] == '@' ? next : after;
  }
  const bool stands_there = i > begin;
  for (; n < retiming->n_pins && (stands_there || !retiming->pinned); n++) {
    cw_format_pin(retiming->pin_s[n], text);
    fprintf(out, "%s@ %s%s", stands_there ? " " : "", text, stands_there ? "" : " ");
  }
  return i;
}

void cw_retime_line(const char *line, size_t length, const CwRetiming *retiming, FILE *out)
{
  char text[32];
  const size_t end = public_end(line, length);
  const size_t indented = cw_line_begin(line, length);
  fwrite(line, 1, indented, out);
  const size_t begin = write_start(line, indented, end, retiming, out);
  Length hold;
  if (isfinite(retiming->hold_until_s) && find_hold(line, begin, end, &hold)) {
    cw_format_pin(retiming->hold_until_s, text);
    write_part(line, begin, hold.begin, retiming, out);
    fprintf(out, " until @%s", text);
    write_part(line, hold.end, end > hold.end ? end : hold.end, retiming, out);
  } else {
    write_part(line, begin, end > begin ? end : begin, retiming, out);
  }
  const size_t rest = end > begin ? end : begin;
  fwrite(line + rest, 1, length - rest, out);
}
