// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/time_text.h"
#include "print/count_line_read.h"

/// The columns that are read; the others are passed over.
enum { PHRASE, COUNT, TIME, END, CONFIDENCE, COLUMNS };
static const char *const column_name[COLUMNS] = {"phrase", "count", "time_s", "phrase_end_s", "confidence"};

enum { PLACE = 32, LONGEST_CELL = 32, MOST_CELLS = 64 };

/// A table while it is read.
typedef struct {
  const char *text, *end; ///< what is left
  size_t line;
  int column[MOST_CELLS]; ///< which of ours each column is; -1: none
  size_t n_columns;
} Table;

/// Take one cell, without quotes and blanks about it, cut to its room. @return Whether the record goes on.
static bool next_cell(Table *table, char cell[LONGEST_CELL])
{
  size_t n = 0;
  for (; table->text < table->end && *table->text != ',' && *table->text != '\n'; table->text++) {
    if (!strchr("\" \t\r", *table->text) && n + 1 < LONGEST_CELL) {
      cell[n++] = *table->text;
    }
  }
  cell[n] = '\0';
  const bool more = table->text < table->end && *table->text == ',';
  table->text += table->text < table->end;
  return more;
}

/// Find our columns by their names. @return false when one is missing.
static bool read_names(Table *table)
{
  unsigned found = 0;
  char cell[LONGEST_CELL];
  for (bool more = true; more && table->n_columns < MOST_CELLS;) {
    more = next_cell(table, cell);
    int *column = &table->column[table->n_columns++];
    *column = -1;
    for (int k = 0; k < COLUMNS; k++) {
      if (strcmp(cell, column_name[k]) == 0) {
        *column = k;
        found |= 1U << k;
      }
    }
  }
  table->line = 1;
  const unsigned needed = 1U << PHRASE | 1U << COUNT | 1U << TIME | 1U << END;
  return (found & needed) == needed;
}

/// Read a record. @return false when a cell that is needed is no number.
static bool read_record(Table *table, double value[COLUMNS])
{
  char cell[LONGEST_CELL];
  table->line++;
  for (int k = 0; k < COLUMNS; k++) {
    value[k] = k == CONFIDENCE ? -1 : (double)NAN;
  }
  size_t c = 0;
  for (bool more = true; more; c++) {
    more = next_cell(table, cell);
    const char *after = cell;
    const double number = cw_parse_time(cell, &after);
    if (c < table->n_columns && table->column[c] >= 0 && cell[0] && !*after) {
      value[table->column[c]] = number;
    }
  }
  return value[PHRASE] >= 1 && value[PHRASE] <= 1e6 && value[COUNT] >= 1 && value[TIME] >= 0 && value[END] >= 0;
}

/// The phrase being put together from its records.
typedef struct {
  CwReadPhrase phrase;
  size_t room;
  char place[PLACE];
} Draft;

static CwStatus finish(Draft *draft, CwCountLineFile *file, CwMessages *messages)
{
  const CwStatus status =
      draft->phrase.counts ? cw_count_line_take(&draft->phrase, draft->place, file, messages) : CW_OK;
  draft->phrase.counts = 0;
  return status;
}

static CwStatus take_record(const double value[COLUMNS], size_t line, Draft *draft, CwCountLineFile *file,
                            CwMessages *messages)
{
  CwReadPhrase *phrase = &draft->phrase;
  const size_t number = (size_t)value[PHRASE];
  CwStatus status = CW_OK;
  if (phrase->counts == 0 || phrase->number != number) {
    status = finish(draft, file, messages);
    snprintf(draft->place, sizeof draft->place, "line %zu", line);
    const double sure = value[CONFIDENCE];
    phrase->number = number;
    phrase->end_s = value[END];
    phrase->confidence = sure <= 1 ? sure : 1;
  }
  char place[PLACE];
  snprintf(place, sizeof place, "line %zu", line);
  if (status == CW_OK && value[COUNT] != phrase->counts + 1.0) {
    status = cw_count_line_wrong(messages, place, "the counts of a phrase in order, from 1");
  }
  if (status == CW_OK && !cw_grow(&phrase->count_s, &draft->room, phrase->counts, sizeof *phrase->count_s)) {
    status = CW_ERR_NO_MEM;
  }
  if (status == CW_OK) {
    phrase->count_s[phrase->counts++] = value[TIME];
  }
  return status;
}

CwStatus cw_count_line_from_csv(const char *text, size_t size, CwCountLineFile *file, CwMessages *messages)
{
  Table table = {.text = text, .end = text + size};
  Draft draft = {0};
  if (!read_names(&table)) {
    return cw_count_line_wrong(messages, "line 1", "the columns phrase, count, time_s and phrase_end_s");
  }
  CwStatus status = CW_OK;
  while (table.text < table.end && status == CW_OK) {
    double value[COLUMNS];
    char place[PLACE];
    const bool good = read_record(&table, value);
    snprintf(place, sizeof place, "line %zu", table.line);
    status = good ? take_record(value, table.line, &draft, file, messages)
                  : cw_count_line_wrong(messages, place, "numbers for phrase, count, time_s and phrase_end_s");
  }
  if (status == CW_OK) {
    status = finish(&draft, file, messages);
  }
  free(draft.phrase.count_s);
  if (status == CW_OK && file->line.n_phrases > 0) {
    file->line.duration_s = file->line.phrase[file->line.n_phrases - 1].end_s;
  }
  return status;
}
