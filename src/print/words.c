// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "countwright/time_text.h"
#include "print/clean.h"
#include "print/look.h"
#include "print/parts.h"

/// The number with up to `decimals` digits and no zeros at its end.
static void short_number(double value, int decimals, char out[CW_WORD_ROOM])
{
  cw_format_fixed(out, CW_WORD_ROOM, value, decimals);
  if (strchr(out, '.')) {
    size_t length = strlen(out);
    while (out[length - 1] == '0') {
      out[--length] = '\0';
    }
    if (out[length - 1] == '.') {
      out[length - 1] = '\0';
    }
  }
}

void cw_count_label(double count, char out[CW_WORD_ROOM])
{
  static const struct {
    double part;
    const char *sign;
  } sub_count[] = {{0, ""}, {0.25, "e"}, {1.0 / 3, "e"}, {0.5, "&"}, {2.0 / 3, "a"}, {0.75, "a"}};
  const double whole = floor(count + 1e-3);
  for (size_t i = 0; i < sizeof sub_count / sizeof sub_count[0]; i++) {
    if (fabs(count - whole - sub_count[i].part) < 2e-3 && whole >= 0 && whole < 1e6) {
      if (whole == 0 && i > 0) { // the sub-counts before the one
        snprintf(out, CW_WORD_ROOM, "%s", sub_count[i].sign);
      } else {
        snprintf(out, CW_WORD_ROOM, "%u%s", (unsigned)whole, sub_count[i].sign);
      }
      return;
    }
  }
  if (isfinite(count)) {
    short_number(count, 2, out);
  } else {
    snprintf(out, CW_WORD_ROOM, "?");
  }
}

void cw_span_label(double count, double until, char out[CW_WORD_ROOM])
{
  char from[CW_WORD_ROOM];
  char to[CW_WORD_ROOM];
  cw_count_label(count, from);
  cw_count_label(until, to);
  if (until > count && strcmp(from, to) != 0) {
    snprintf(out, CW_WORD_ROOM, "%.40s-%.40s", from, to);
  } else {
    snprintf(out, CW_WORD_ROOM, "%s", from);
  }
}

void cw_span_label_in(double count, double until, unsigned counts, char out[CW_WORD_ROOM])
{
  const double end = counts + 1.0 - 1e-3;
  if (counts == 0 || !(until >= end) || !isfinite(until)) {
    cw_span_label(count, until, out);
    return;
  }
  char from[CW_WORD_ROOM];
  char to[CW_WORD_ROOM];
  const bool next = count >= end;
  cw_count_label(next ? count - counts : count, from);
  cw_count_label(until - counts, to);
  if (next && strcmp(from, to) == 0) {
    snprintf(out, CW_WORD_ROOM, "+%.40s", from);
  } else {
    snprintf(out, CW_WORD_ROOM, "%s%.40s-%.40s", next ? "+" : "", from, to);
  }
}

void cw_tempo_label(double counts_per_min, char out[CW_WORD_ROOM])
{
  if (isfinite(counts_per_min)) {
    cw_format_fixed(out, CW_WORD_ROOM, counts_per_min, 0);
  } else {
    snprintf(out, CW_WORD_ROOM, "-");
  }
}

void cw_counts_label(CwLanguage language, unsigned counts, char out[CW_WORD_ROOM])
{
  snprintf(out, CW_WORD_ROOM, cw_label_of(language, "%u count", "%u counts", counts), counts);
}

void cw_marked_label(double count, char out[CW_WORD_ROOM])
{
  char number[CW_WORD_ROOM];
  cw_count_label(count, number);
  const bool whole = number[strspn(number, "0123456789")] == '\0';
  snprintf(out, CW_WORD_ROOM, "%.40s%s", number, whole ? CW_SAY_GOES_ON : "");
}

void cw_like_label(CwLanguage language, const CwRepeat *repeat, char out[CW_WORD_ROOM])
{
  if (!repeat->number) {
    snprintf(out, CW_WORD_ROOM, "%s", repeat->other_side ? cw_label(language, CW_SAY_OTHER_SIDE) : "");
  } else if (repeat->other_side) {
    snprintf(out, CW_WORD_ROOM, cw_label(language, "like %u, other side"), repeat->number);
  } else {
    snprintf(out, CW_WORD_ROOM, cw_label(language, "like %u"), repeat->number);
  }
}

void cw_check_label(CwLanguage language, const CwSheetRow *row, char out[CW_WORD_ROOM])
{
  char percent[CW_WORD_ROOM];
  cw_format_fixed(percent, sizeof percent, 100 * row->confidence, 0);
  if (row->confidence >= 0) {
    snprintf(out, CW_WORD_ROOM, cw_label(language, "check by ear (%.8s %% sure)"), percent);
  } else {
    snprintf(out, CW_WORD_ROOM, "%s", cw_label(language, CW_SAY_CHECK));
  }
}

void cw_hold_label(CwLanguage language, const CwSheetRow *row, char out[CW_WORD_ROOM])
{
  char time[24];
  cw_format_time(row->hold_s, time);
  snprintf(out, CW_WORD_ROOM, cw_label(language, "hold %s"), time);
}

/// Add the text cleaned, when there is any.
static void join_clean(CwBuffer *out, const char *separator, const char *before, const char *text, const char *after)
{
  if (!text || !*text) {
    return;
  }
  char *clean = cw_clean_line(text);
  if (clean) {
    cw_buffer_join(out, separator, "%s%s%s", before, clean, after);
  } else {
    out->failed = true;
  }
  free(clean);
}

void cw_put_subtitle(const CwSheet *sheet, CwBuffer *out)
{
  join_clean(out, " \u00b7 ", "", sheet->dance, "");
  join_clean(out, " \u00b7 ", "", sheet->role, "");
  join_clean(out, " \u00b7 ", "", sheet->mirrored ? cw_label(sheet->labels, CW_SAY_MIRRORED) : NULL, "");
}

static void put_metre(CwLanguage language, unsigned metre, unsigned unit, const char *separator, CwBuffer *out)
{
  if (metre && unit) {
    cw_buffer_join(out, separator, "%u/%u", metre, unit);
  } else if (metre) {
    cw_buffer_join(out, separator, cw_label_of(language, "%u beat in a bar", "%u beats in a bar", metre), metre);
  }
}

static void put_beats_per_count(CwLanguage language, double beats, const char *separator, CwBuffer *out)
{
  if (!(beats > 0)) {
    return;
  }
  char number[CW_WORD_ROOM];
  short_number(beats, 2, number);
  if (fabs(beats - 0.5) < 1e-6) {
    cw_buffer_join(out, separator, "%s", cw_label(language, "one count is half a beat"));
  } else if (fabs(beats - 1) < 1e-6) {
    cw_buffer_join(out, separator, "%s", cw_label(language, "one count is one beat"));
  } else {
    cw_buffer_join(out, separator, cw_label(language, "one count is %s beats"), number);
  }
}

void cw_put_music_facts(const CwSheet *sheet, CwBuffer *out)
{
  join_clean(out, " \u00b7 ", "", sheet->recording, "");
  if (isfinite(sheet->duration_s) && sheet->duration_s > 0) {
    char time[24];
    cw_format_time(sheet->duration_s, time);
    cw_buffer_join(out, " \u00b7 ", cw_label(sheet->labels, "%s long"), time);
  }
  put_metre(sheet->labels, sheet->metre, sheet->metre_unit, " \u00b7 ", out);
  put_beats_per_count(sheet->labels, sheet->beats_per_count, " \u00b7 ", out);
}

void cw_put_other_fact(const CwSheet *sheet, CwBuffer *out)
{
  join_clean(out, "", CW_SAY_OTHER ": ", sheet->other, "");
}

void cw_put_tempo_facts(const CwSheet *sheet, CwBuffer *out)
{
  if (isfinite(sheet->slowest_per_min) && isfinite(sheet->fastest_per_min)) {
    char slowest[CW_WORD_ROOM];
    char fastest[CW_WORD_ROOM];
    cw_tempo_label(sheet->slowest_per_min, slowest);
    cw_tempo_label(sheet->fastest_per_min, fastest);
    if (strcmp(slowest, fastest) == 0) {
      cw_buffer_join(out, "", cw_label(sheet->labels, "%s counts a minute"), slowest);
    } else {
      cw_buffer_join(out, "", cw_label(sheet->labels, "%s to %s counts a minute"), slowest, fastest);
    }
  }
  if (isfinite(sheet->first_one_s)) {
    char time[24];
    cw_format_time(sheet->first_one_s, time);
    cw_buffer_join(out, " \u00b7 ", cw_label(sheet->labels, "first one at %s"), time);
  }
  if (sheet->whole > 0 && sheet->n_rows > 0) {
    cw_buffer_join(out, " \u00b7 ", cw_label(sheet->labels, "phrases %u to %u of %u"), sheet->row[0].number,
                   sheet->row[sheet->n_rows - 1].number, sheet->whole);
  } else {
    cw_buffer_join(out, " \u00b7 ", cw_label_of(sheet->labels, "%u phrase", "%u phrases", sheet->n_rows),
                   (unsigned)sheet->n_rows);
  }
}

void cw_put_tags(CwLanguage language, const CwSheetRow *row, const CwRepeat *repeat, const char *separator,
                 CwBuffer *out)
{
  join_clean(out, separator, "[", row->role, "]");
  cw_put_together_tags(language, row, separator, out);
  put_metre(language, row->metre, row->metre_unit, separator, out);
  put_beats_per_count(language, row->beats_per_count, separator, out);
  if (row->count_in) {
    cw_buffer_join(out, separator, cw_label(language, "count-in %u"), row->count_in);
  }
  char like[CW_WORD_ROOM];
  cw_like_label(language, repeat, like);
  if (*like) {
    cw_buffer_join(out, separator, "%s", like);
  }
  if (row->pinned) {
    cw_buffer_join(out, separator, "%s", cw_label(language, CW_SAY_PINNED));
  }
}

bool cw_sheet_is_timed(const CwSheet *sheet)
{
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (sheet->row[i].timed) {
      return true;
    }
  }
  return false;
}
