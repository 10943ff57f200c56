// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/drift_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/format.h"
#include "countwright/drift.h"
#include "countwright/time_text.h"
#include "print/look.h"

/// How a difference is felt, from slower (-2) to faster (2).
static int feeling(double percent)
{
  if (isnan(percent) || fabs(percent) < CW_JUST_NOTICEABLE_PERCENT) {
    return 0;
  }
  const int size = fabs(percent) <= CW_A_LITTLE_PERCENT ? 1 : 2;
  return percent > 0 ? size : -size;
}

const char *cw_difference_words(CwLanguage language, double percent)
{
  static const char *const words[] = {CW_MSG("slower"), CW_MSG("a little slower"), CW_SAY_SAME,
                                      CW_MSG("a little faster"), CW_MSG("faster")};
  return isnan(percent) ? "-" : cw_label(language, words[feeling(percent) + 2]);
}

const char *cw_difference_sign(double percent)
{
  static const char *const sign[] = {"\u25bc", "\u25bd", "=", "\u25b3", "\u25b2"};
  return isnan(percent) ? "" : sign[feeling(percent) + 2];
}

void cw_percent_label(double percent, char out[CW_WORD_ROOM])
{
  if (isnan(percent)) {
    snprintf(out, CW_WORD_ROOM, "-");
    return;
  }
  char number[48];
  cw_format_fixed(number, sizeof number, percent, 1);
  const bool nothing = strcmp(number, "0.0") == 0;
  snprintf(out, CW_WORD_ROOM, "%s%s %%", percent > 0 && !nothing ? "+" : "", number);
}

void cw_ahead_label(CwLanguage language, double ahead_s, char out[CW_WORD_ROOM])
{
  char number[48];
  cw_format_fixed(number, sizeof number, fabs(ahead_s), 1);
  if (isnan(ahead_s)) {
    snprintf(out, CW_WORD_ROOM, "-");
  } else if (strcmp(number, "0.0") == 0) {
    snprintf(out, CW_WORD_ROOM, "%s", cw_label(language, "level"));
  } else {
    snprintf(out, CW_WORD_ROOM, cw_label(language, ahead_s > 0 ? CW_MSG("%.40s s ahead") : CW_MSG("%.40s s behind")),
             number);
  }
}

void cw_change_label(double percent, char out[CW_WORD_ROOM])
{
  out[0] = '\0';
  if (feeling(percent) != 0) {
    char number[48];
    cw_format_fixed(number, sizeof number, fabs(percent), 0);
    snprintf(out, CW_WORD_ROOM, "%s %.40s %%", percent > 0 ? CW_SAY_FASTER_SIGN : CW_SAY_SLOWER_SIGN, number);
  }
}

void cw_put_other(CwLanguage language, const CwSheetRow *row, CwBuffer *out)
{
  const CwSheetOther *other = &row->other;
  if (!row->timed) {
    return;
  }
  if (!other->present) {
    cw_buffer_join(out, "", cw_label(language, "not in %s"), CW_SAY_OTHER);
    return;
  }
  char start[24];
  char tempo[CW_WORD_ROOM];
  char percent[CW_WORD_ROOM];
  char ahead[CW_WORD_ROOM];
  cw_format_time(other->start_s, start);
  cw_tempo_label(other->counts_per_min, tempo);
  cw_percent_label(other->percent, percent);
  cw_ahead_label(language, other->ahead_s, ahead);
  cw_buffer_join(out, "", CW_SAY_OTHER " %s \u00b7 %s%s", start, tempo, cw_label(language, CW_SAY_PER_MIN));
  cw_buffer_join(out, " \u00b7 ", "%s %s (%s)", cw_difference_sign(other->percent),
                 cw_difference_words(language, other->percent), percent);
  cw_buffer_join(out, " \u00b7 ", "%s", ahead);
}
