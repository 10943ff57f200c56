// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdio.h>

#include "countwright/print.h"
#include "countwright/time_text.h"
#include "print/day_phrases.h"
#include "print/drift_words.h"
#include "print/terminal.h"

/// A one this near to where a run begins belongs to it.
#define CLOSE_S 0.5

CwDayPhrases cw_day_phrases(const CwCountLine *line, const CwDayRun *run)
{
  CwDayPhrases phrases = {0, 0};
  for (size_t p = 0; p < line->n_phrases; p++) {
    const double one_s = cw_count_line_start(line, p);
    if (one_s >= run->from_s - CLOSE_S && one_s < run->to_s) {
      phrases.first = phrases.first ? phrases.first : p + 1;
      phrases.last = p + 1;
    }
  }
  return phrases;
}

double cw_day_percent(const CwDayRun *run)
{
  return 100.0 * (run->pace - 1.0);
}

static void put_run(CwTerminal *terminal, const CwDayTable *table, size_t i)
{
  const CwDayRun *run = &table->runs->run[i];
  const CwDayPhrases phrases = cw_day_phrases(table->line, run);
  CwBuffer words = {0};
  char begin[24];
  char end[24];
  char label[32];
  cw_format_time(run->begin_s, begin);
  cw_format_time(run->end_s, end);
  snprintf(label, sizeof label, "%3zu  ", i + 1);
  cw_buffer_join(&words, "", "%s to %s", begin, end);
  if (phrases.first > 0) {
    const bool whole = phrases.first == 1 && phrases.last == table->line->n_phrases;
    cw_buffer_join(&words, " · ", "%s %zu", phrases.first == phrases.last ? "phrase" : "phrases", phrases.first);
    if (phrases.first != phrases.last) {
      cw_buffer_join(&words, "-", "%zu", phrases.last);
    }
    cw_buffer_put(&words, whole ? " (all)" : "");
  }
  char percent[CW_WORD_ROOM];
  cw_percent_label(cw_day_percent(run), percent);
  cw_buffer_join(&words, " · ", "%s (%s)", cw_difference_words(CW_ENGLISH, cw_day_percent(run)), percent);
  cw_terminal_put_buffer(terminal, 5, label, &words);
  cw_buffer_free(&words);
}

CwStatus cw_day_text(const CwDayTable *table, unsigned columns, FILE *out)
{
  CwTerminal terminal = cw_terminal(out, columns);
  CwBuffer words = {0};
  char length[24];
  cw_format_time(table->day_s, length);
  const size_t n = table->runs->n;
  cw_buffer_join(&words, "", "%s, %s long", table->day, length);
  if (n == 0) {
    cw_buffer_join(&words, "", ": the music of %s is not in it", table->dance);
  } else {
    cw_buffer_join(&words, "", ": the music of %s was run %zu time%s", table->dance, n, n == 1 ? "" : "s");
  }
  cw_terminal_put_buffer(&terminal, 0, "", &words);
  for (size_t i = 0; i < n; i++) {
    put_run(&terminal, table, i);
  }
  terminal.status = words.failed ? CW_ERR_NO_MEM : terminal.status;
  cw_buffer_free(&words);
  return cw_terminal_end(&terminal);
}
