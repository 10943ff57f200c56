// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/drift_blocks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "base/memory.h"
#include "countwright/time_text.h"
#include "print/drift_words.h"
#include "print/look.h"

/// Columns of the phrase with the first recording, and of each other.
enum { FIRST_COLUMNS = 23, OTHER_COLUMNS = 26 };

const char *cw_drift_title(const CwDriftTable *table)
{
  return table->n > 1 ? CW_SAY_DRIFT_OF_MANY : CW_SAY_DRIFT;
}

const char *cw_drift_letter(size_t other, char out[CW_WORD_ROOM])
{
  const size_t k = other + 1;
  if (k < 26) {
    snprintf(out, CW_WORD_ROOM, "%c", (char)('A' + k));
  } else {
    snprintf(out, CW_WORD_ROOM, "%c%c", (char)('A' + (k / 26 - 1) % 26), (char)('A' + k % 26));
  }
  return out;
}

void cw_drift_tempo_label(double counts_per_min, char out[CW_WORD_ROOM])
{
  if (isfinite(counts_per_min)) {
    cw_format_fixed(out, CW_WORD_ROOM, counts_per_min, 1);
  } else {
    memcpy(out, "-", 2);
  }
}

void cw_drift_put_heading(CwTerminal *terminal, const CwDriftTable *table, size_t i)
{
  if (table->section && table->section[i] && (i == 0 || table->section[i - 1] != table->section[i])) {
    cw_terminal_put_raw(terminal, 2, "", table->section[i]);
  }
}

/// "+0.4 s": so much ahead.
static void signed_ahead(double ahead_s, char out[CW_WORD_ROOM])
{
  char number[48];
  cw_format_fixed(number, sizeof number, ahead_s, 1);
  const bool nothing = strcmp(number, "0.0") == 0 || strcmp(number, "-0.0") == 0;
  if (isnan(ahead_s)) {
    memcpy(out, "-", 2);
  } else {
    snprintf(out, CW_WORD_ROOM, "%s%s s", ahead_s > 0 && !nothing ? "+" : "", nothing ? "0.0" : number);
  }
}

static void put_other(FILE *out, const CwDriftRow *row)
{
  char tempo[CW_WORD_ROOM];
  char percent[CW_WORD_ROOM];
  char ahead[CW_WORD_ROOM];
  if (!row->present) {
    fprintf(out, "%8s%9s%9s", "-", "-", "-");
    return;
  }
  cw_drift_tempo_label(row->b_counts_per_min, tempo);
  cw_percent_label(row->percent, percent);
  signed_ahead(row->ahead_s, ahead);
  const bool same = fabs(row->percent) < CW_JUST_NOTICEABLE_PERCENT;
  fprintf(out, "%8s%9s%9s", tempo, same ? CW_SAY_SAME : percent, ahead);
}

static void put_block_head(CwTerminal *terminal, size_t from, size_t to)
{
  char letter[CW_WORD_ROOM];
  fprintf(terminal->out, "%6s%10s%7s", "phrase", "A at", CW_SAY_PER_MIN);
  for (size_t o = from; o < to; o++) {
    char tempo[CW_WORD_ROOM];
    snprintf(tempo, sizeof tempo, "%.8s" CW_SAY_PER_MIN, cw_drift_letter(o, letter));
    fprintf(terminal->out, "%8s%9s%9s", tempo, "", "ahead");
  }
  fputc('\n', terminal->out);
}

static void put_block(CwTerminal *terminal, const CwDriftTable *table, size_t from, size_t to)
{
  const CwDrift *drift = &table->other[0].drift;
  put_block_head(terminal, from, to);
  for (size_t i = 0; i < drift->n; i++) {
    char start[24];
    char tempo[CW_WORD_ROOM];
    cw_drift_put_heading(terminal, table, i);
    cw_format_time(drift->row[i].a_start_s, start);
    cw_drift_tempo_label(drift->row[i].a_counts_per_min, tempo);
    fprintf(terminal->out, "%6u%10s%7s", drift->row[i].number, start, tempo);
    for (size_t o = from; o < to; o++) {
      put_other(terminal->out, &table->other[o].drift.row[i]);
    }
    fputc('\n', terminal->out);
  }
  fprintf(terminal->out, "%6s%10s%7s", CW_SAY_ALL, "", "");
  for (size_t o = from; o < to; o++) {
    const CwDriftRow whole = cw_drift_whole(&table->other[o].drift);
    put_other(terminal->out, &whole);
  }
  fputc('\n', terminal->out);
}

void cw_drift_put_blocks(CwTerminal *terminal, const CwDriftTable *table)
{
  const size_t side_by_side = (terminal->columns - FIRST_COLUMNS) / OTHER_COLUMNS;
  for (size_t from = 0; from < table->n && terminal->status == CW_OK; from += side_by_side) {
    const size_t to = from + side_by_side < table->n ? from + side_by_side : table->n;
    if (from > 0) {
      cw_terminal_space(terminal);
    }
    put_block(terminal, table, from, to);
  }
}

static void put_season_row(CwTerminal *terminal, const char *label, const CwSeason *season)
{
  char slowest[CW_WORD_ROOM];
  char median[CW_WORD_ROOM];
  char fastest[CW_WORD_ROOM];
  cw_drift_tempo_label(season->slowest, slowest);
  cw_drift_tempo_label(season->median, median);
  cw_drift_tempo_label(season->fastest, fastest);
  fprintf(terminal->out, "%6s%9s%9s%9s%6zu\n", label, slowest, median, fastest, season->n);
}

void cw_drift_put_season(CwTerminal *terminal, const CwDriftTable *table)
{
  const CwDrift *drift = &table->other[0].drift;
  CwSeason whole;
  CwSeason *season = cw_new(drift->n, sizeof *season);
  if (!season || cw_drift_season(table, season) || cw_drift_season_whole(table, &whole)) {
    terminal->status = CW_ERR_NO_MEM;
    free(season);
    return;
  }
  cw_terminal_space(terminal);
  cw_terminal_put(terminal, 0, "", CW_SAY_SEASON);
  fprintf(terminal->out, "%6s%9s%9s%9s%6s\n", "phrase", "slowest", "median", "fastest", "of");
  for (size_t i = 0; i < drift->n; i++) {
    char label[CW_WORD_ROOM];
    snprintf(label, sizeof label, "%u", drift->row[i].number);
    put_season_row(terminal, label, &season[i]);
  }
  put_season_row(terminal, CW_SAY_ALL, &whole);
  free(season);
}
