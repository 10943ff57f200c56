// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <string.h>

#include "base/format.h"
#include "countwright/print.h"
#include "countwright/time_text.h"
#include "print/drift_words.h"
#include "print/look.h"
#include "print/terminal.h"

/// From so many columns on, drift is a table; below, a line of words for each phrase.
enum { TABLE_COLUMNS = 80 };

/// A row in words.
typedef struct {
  char a_start[24];
  char b_start[24];
  char a_tempo[CW_WORD_ROOM];
  char b_tempo[CW_WORD_ROOM];
  char percent[CW_WORD_ROOM];
  char ahead[CW_WORD_ROOM];
} Words;

static void put_head(CwTerminal *terminal, const CwDriftLabels *labels)
{
  cw_terminal_put(terminal, 0, "", CW_SAY_DRIFT);
  cw_terminal_repeat(terminal, CW_TEXT_TITLE_RULE, (unsigned)strlen(CW_SAY_DRIFT));
  cw_terminal_space(terminal);
  cw_terminal_put_raw(terminal, 3, "A", labels->a_name);
  cw_terminal_put_raw(terminal, 3, "B", labels->b_name);
  cw_terminal_space(terminal);
  for (size_t i = 0; labels->summary && i < labels->summary->n; i++) {
    cw_terminal_put_raw(terminal, 2, "\u203a ", labels->summary->text[i]);
  }
  if (labels->summary && labels->summary->n) {
    cw_terminal_space(terminal);
  }
}

static void tempo_label(double counts_per_min, char out[CW_WORD_ROOM])
{
  if (isfinite(counts_per_min)) {
    cw_format_fixed(out, CW_WORD_ROOM, counts_per_min, 1);
  } else {
    memcpy(out, "-", 2);
  }
}

static void say(const CwDriftRow *row, Words *words)
{
  cw_format_time(row->a_start_s, words->a_start);
  cw_format_time(row->b_start_s, words->b_start);
  tempo_label(row->a_counts_per_min, words->a_tempo);
  tempo_label(row->b_counts_per_min, words->b_tempo);
  cw_percent_label(row->percent, words->percent);
  cw_ahead_label(row->ahead_s, words->ahead);
}

static void put_table_row(CwTerminal *terminal, const CwDriftRow *row)
{
  Words words;
  say(row, &words);
  FILE *out = terminal->out;
  fprintf(out, "%6u%10s%7s", row->number, words.a_start, words.a_tempo);
  if (row->present) {
    fprintf(out, "%10s%7s", words.b_start, words.b_tempo);
    fprintf(out, "  %-15s%8s%15s\n", cw_difference_words(row->percent), words.percent, words.ahead);
  } else {
    fputs("    " CW_SAY_NOT_IN_B "\n", out);
  }
}

static void put_sentence(CwTerminal *terminal, const CwDriftRow *row)
{
  Words words;
  say(row, &words);
  char label[CW_WORD_ROOM];
  snprintf(label, sizeof label, "%4u", row->number);
  CwBuffer line = {0};
  cw_buffer_join(&line, "", "A %s at %s" CW_SAY_PER_MIN, words.a_start, words.a_tempo);
  if (row->present) {
    cw_buffer_join(&line, ", ", "B %s at %s" CW_SAY_PER_MIN, words.b_start, words.b_tempo);
    cw_buffer_join(&line, ": ", "%s (%s), %s", cw_difference_words(row->percent), words.percent, words.ahead);
  } else {
    cw_buffer_join(&line, ": ", CW_SAY_NOT_IN_B);
  }
  cw_terminal_put_buffer(terminal, 6, label, &line);
  cw_buffer_free(&line);
}

static void put_rows(CwTerminal *terminal, const CwDrift *drift)
{
  const bool table = terminal->columns >= TABLE_COLUMNS;
  if (drift->n == 0) {
    cw_terminal_put(terminal, 0, "", CW_SAY_NO_PHRASES);
  } else if (table) {
    fprintf(terminal->out, "%6s%10s%7s%10s%7s  %-15s%8s%15s\n", "phrase", "A at", CW_SAY_PER_MIN, "B at",
            CW_SAY_PER_MIN, "B is", "", "B is");
  }
  for (size_t i = 0; i < drift->n && terminal->status == CW_OK; i++) {
    if (table) {
      put_table_row(terminal, &drift->row[i]);
    } else {
      put_sentence(terminal, &drift->row[i]);
    }
  }
}

CwStatus cw_drift_text(const CwDrift *drift, const CwDriftLabels *labels, unsigned columns, FILE *out)
{
  CwTerminal terminal = cw_terminal(out, columns);
  put_head(&terminal, labels);
  put_rows(&terminal, drift);
  cw_terminal_space(&terminal);
  cw_terminal_put(&terminal, 0, "", CW_SAY_DRIFT_TEMPO);
  cw_terminal_put(&terminal, 0, "", CW_SAY_DRIFT_AHEAD);
  return cw_terminal_end(&terminal);
}
