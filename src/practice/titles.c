// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/titles.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "print/label.h"

/// Add text, as much of it as there is room for.
static void append(char *out, size_t size, const char *text)
{
  const size_t used = strlen(out);
  const size_t room = size - used - 1;
  const size_t length = strlen(text) < room ? strlen(text) : room;
  memcpy(out + used, text, length);
  out[used + length] = '\0';
}

/// Add a part, after a divider where there is one before it.
static void join(char *out, size_t size, const char *between, const char *part)
{
  append(out, size, out[0] ? between : "");
  append(out, size, part);
}

static void add_speed(const CwTake *take, char *out, size_t size)
{
  char text[32];
  snprintf(text, sizeof text, "%d %%", (int)lround(100 * take->speed));
  join(out, size, ". ", text);
}

static void add_phrases(CwLanguage language, unsigned first, unsigned last, char *out, size_t size)
{
  char text[160];
  if (first == last) {
    snprintf(text, sizeof text, cw_label(language, "phrase %u"), first);
  } else {
    snprintf(text, sizeof text, cw_label(language, "phrases %u to %u"), first, last);
  }
  join(out, size, ". ", text);
}

/// The heading under which a row stands, NULL when there is none.
static const char *section_of(const CwSheet *sheet, size_t row)
{
  while (row > 0 && !sheet->row[row].section) {
    row--;
  }
  return sheet->row[row].section;
}

void cw_title_of_row(CwLanguage language, const char *section, unsigned number, char *out, size_t size)
{
  out[0] = '\0';
  if (section) {
    join(out, size, ". ", section);
  }
  if (number > 0) {
    add_phrases(language, number, number, out, size);
  }
}

void cw_take_announcement(const CwTakes *takes, const CwTake *take, char *out, size_t size)
{
  const CwPracticeOptions *options = takes->options;
  const CwSheetRow *row = takes->sheet->row;
  out[0] = '\0';
  if (take->announce_speed) {
    add_speed(take, out, size);
  }
  if (options->say_sections && section_of(takes->sheet, take->first)) {
    join(out, size, ". ", section_of(takes->sheet, take->first));
  }
  if (take->announce_rows) {
    add_phrases(options->language, row[take->first].number, row[take->last].number, out, size);
  } else if (options->say_phrases) {
    add_phrases(options->language, row[take->first].number, row[take->first].number, out, size);
  }
}

void cw_take_title(const CwTakes *takes, const CwTake *take, size_t row, char *out, size_t size)
{
  const CwSheet *sheet = takes->sheet;
  const char *section = section_of(sheet, row);
  out[0] = '\0';
  if (take->announce_speed) {
    add_speed(take, out, size);
  }
  if (section) {
    join(out, size, ": ", section);
  }
  if (!section || take->announce_rows) {
    char text[160] = "";
    add_phrases(takes->options->language, sheet->row[take->first].number, sheet->row[take->last].number, text,
                sizeof text);
    join(out, size, ", ", text);
  }
}

bool cw_title_of_step(const char *step, char *out, size_t size)
{
  size_t n = 0;
  bool any = false;
  for (; *step && n + 1 < size; step++) {
    const char c = *step;
    const bool sign = strchr(">|<*_~[]{}()/\\\"", c) != NULL;
    out[n++] = sign ? ',' : c;
    any = any || isalnum((unsigned char)c) || (unsigned char)c >= 0x80;
  }
  if (((unsigned char)*step & 0xC0) == 0x80) { // cut within a character: leave out its beginning
    do {
      n--;
    } while (n > 0 && ((unsigned char)out[n] & 0xC0) == 0x80);
  }
  out[n] = '\0';
  return any;
}
