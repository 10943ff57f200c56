// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <string.h>

#include "base/format.h"
#include "countwright/print.h"
#include "countwright/time_text.h"
#include "print/drift_blocks.h"
#include "print/drift_words.h"
#include "print/look.h"
#include "print/terminal.h"

/// From so many columns on, drift is a table; below, a line of words for each phrase.
enum { TABLE_COLUMNS = 80 };

/// One recording's part of a row, in words.
typedef struct {
  char start[24];
  char tempo[CW_WORD_ROOM];
  char percent[CW_WORD_ROOM];
  char ahead[CW_WORD_ROOM];
} Words;

static Words words_of(double start_s, double counts_per_min, double percent, double ahead_s)
{
  Words words;
  cw_format_time(start_s, words.start);
  cw_drift_tempo_label(counts_per_min, words.tempo);
  cw_percent_label(percent, words.percent);
  cw_ahead_label(CW_ENGLISH, ahead_s, words.ahead);
  return words;
}

static Words other_words(const CwDriftRow *row)
{
  return words_of(row->b_start_s, row->b_counts_per_min, row->percent, row->ahead_s);
}

static Words first_words(const CwDriftRow *row)
{
  return words_of(row->a_start_s, row->a_counts_per_min, (double)NAN, (double)NAN);
}

static void put_head(CwTerminal *terminal, const CwDriftTable *table)
{
  const char *title = cw_drift_title(table);
  char letter[CW_WORD_ROOM];
  cw_terminal_put(terminal, 0, "", title);
  cw_terminal_repeat(terminal, CW_TEXT_TITLE_RULE, (unsigned)strlen(title));
  cw_terminal_space(terminal);
  cw_terminal_put_raw(terminal, 3, "A", table->name);
  for (size_t o = 0; o < table->n; o++) {
    cw_terminal_put_raw(terminal, 3, cw_drift_letter(o, letter), table->other[o].name);
  }
  cw_terminal_space(terminal);
  for (size_t i = 0; table->summary && i < table->summary->n; i++) {
    cw_terminal_put_raw(terminal, 2, "\u203a ", table->summary->text[i]);
  }
  if (table->summary && table->summary->n) {
    cw_terminal_space(terminal);
  }
}

/// A row of the table of two recordings. @param number "7", or "all".
static void put_pair_row(CwTerminal *terminal, const char *number, const CwDriftRow *row)
{
  const Words a = first_words(row);
  const Words b = other_words(row);
  fprintf(terminal->out, "%6s%10s%7s", number, a.start, a.tempo);
  if (row->present) {
    fprintf(terminal->out, "%10s%7s  %-15s%8s%15s\n", b.start, b.tempo, cw_difference_words(CW_ENGLISH, row->percent),
            b.percent, b.ahead);
  } else {
    fputs("    " CW_SAY_NOT_IN_B "\n", terminal->out);
  }
}

static void put_pair_table(CwTerminal *terminal, const CwDriftTable *table)
{
  const CwDrift *drift = &table->other[0].drift;
  const CwDriftRow whole = cw_drift_whole(drift);
  fprintf(terminal->out, "%6s%10s%7s%10s%7s  %-15s%8s%15s\n", "phrase", "A at", CW_SAY_PER_MIN, "B at", CW_SAY_PER_MIN,
          "B is", "", "B is");
  for (size_t i = 0; i < drift->n && terminal->status == CW_OK; i++) {
    char number[CW_WORD_ROOM];
    snprintf(number, sizeof number, "%u", drift->row[i].number);
    cw_drift_put_heading(terminal, table, i);
    put_pair_row(terminal, number, &drift->row[i]);
  }
  if (whole.present) {
    put_pair_row(terminal, CW_SAY_ALL, &whole);
  }
}

/// A row in words. @param n Rows of each of the recordings: the same phrase.
static void put_sentence(CwTerminal *terminal, const CwDriftTable *table, size_t i)
{
  const CwDriftRow *first = &table->other[0].drift.row[i];
  char label[CW_WORD_ROOM];
  char letter[CW_WORD_ROOM];
  snprintf(label, sizeof label, "%4u", first->number);
  CwBuffer line = {0};
  const Words a = first_words(first);
  cw_buffer_join(&line, "", "A %s at %s" CW_SAY_PER_MIN, a.start, a.tempo);
  for (size_t o = 0; o < table->n; o++) {
    const CwDriftRow *row = &table->other[o].drift.row[i];
    const Words b = other_words(row);
    cw_drift_letter(o, letter);
    if (row->present) {
      cw_buffer_join(&line, "; ", "%s %s at %s" CW_SAY_PER_MIN, letter, b.start, b.tempo);
      cw_buffer_join(&line, ": ", "%s (%s), %s", cw_difference_words(CW_ENGLISH, row->percent), b.percent, b.ahead);
    } else {
      cw_buffer_join(&line, "; ", CW_SAY_NOT_IN "%s", letter);
    }
  }
  cw_terminal_put_buffer(terminal, 6, label, &line);
  cw_buffer_free(&line);
}

static void put_sentences(CwTerminal *terminal, const CwDriftTable *table)
{
  for (size_t i = 0; i < table->other[0].drift.n && terminal->status == CW_OK; i++) {
    cw_drift_put_heading(terminal, table, i);
    put_sentence(terminal, table, i);
  }
}

static void put_rows(CwTerminal *terminal, const CwDriftTable *table)
{
  if (table->other[0].drift.n == 0) {
    cw_terminal_put(terminal, 0, "", CW_SAY_NO_PHRASES);
  } else if (terminal->columns < TABLE_COLUMNS) {
    put_sentences(terminal, table);
  } else if (table->n == 1) {
    put_pair_table(terminal, table);
  } else {
    cw_drift_put_blocks(terminal, table);
  }
  if (table->n > 1 && table->other[0].drift.n > 0) {
    cw_drift_put_season(terminal, table);
  }
}

CwStatus cw_drift_text(const CwDriftTable *table, unsigned columns, FILE *out)
{
  CwTerminal terminal = cw_terminal(out, columns);
  put_head(&terminal, table);
  put_rows(&terminal, table);
  cw_terminal_space(&terminal);
  cw_terminal_put(&terminal, 0, "", CW_SAY_DRIFT_TEMPO);
  cw_terminal_put(&terminal, 0, "", table->n > 1 ? CW_SAY_DRIFT_AHEAD_OF_MANY : CW_SAY_DRIFT_AHEAD);
  return cw_terminal_end(&terminal);
}
