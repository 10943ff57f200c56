// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/drift_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/format.h"
#include "countwright/drift.h"
#include "print/look.h"

const char *cw_difference_words(double percent)
{
  if (isnan(percent)) {
    return "-";
  }
  if (fabs(percent) < CW_JUST_NOTICEABLE_PERCENT) {
    return CW_SAY_SAME;
  }
  if (fabs(percent) <= CW_A_LITTLE_PERCENT) {
    return percent > 0 ? "a little faster" : "a little slower";
  }
  return percent > 0 ? "faster" : "slower";
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

void cw_ahead_label(double ahead_s, char out[CW_WORD_ROOM])
{
  char number[48];
  cw_format_fixed(number, sizeof number, fabs(ahead_s), 1);
  if (isnan(ahead_s)) {
    snprintf(out, CW_WORD_ROOM, "-");
  } else if (strcmp(number, "0.0") == 0) {
    snprintf(out, CW_WORD_ROOM, "level");
  } else {
    snprintf(out, CW_WORD_ROOM, "%s s %s", number, ahead_s > 0 ? "ahead" : "behind");
  }
}
