// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/format.h"
#include "base/memory.h"
#include "countwright/phrases.h"

static int compare_doubles(const void *a, const void *b)
{
  const double x = *(const double *)a;
  const double y = *(const double *)b;
  return (x > y) - (x < y);
}

CwStatus cw_counts_per_min(const CwCountLine *line, double *per_min)
{
  *per_min = NAN;
  if (line->n_phrases == 0) {
    return CW_OK;
  }
  double *tempo = cw_new(line->n_phrases, sizeof *tempo);
  if (!tempo) {
    return CW_ERR_NO_MEM;
  }
  for (size_t p = 0; p < line->n_phrases; p++) {
    tempo[p] = cw_count_line_tempo(line, p);
  }
  qsort(tempo, line->n_phrases, sizeof *tempo, compare_doubles);
  *per_min = 0.5 * (tempo[(line->n_phrases - 1) / 2] + tempo[line->n_phrases / 2]);
  free(tempo);
  return CW_OK;
}

static bool is_close(double a, double b)
{
  return fabs(a - b) < 1e-6;
}

/// What is counted, such as "bars of three".
static void name_unit(double beats, unsigned metre, char out[40])
{
  static const char *const number[] = {"", "", "two", "three", "four", "five", "six"};
  const bool whole = beats > 1.5 && beats < 6.5 && is_close(beats, round(beats));
  if (is_close(beats, 1.0)) {
    snprintf(out, 40, "beats");
  } else if (is_close(beats, 0.5)) {
    snprintf(out, 40, "half beats");
  } else if (whole) {
    snprintf(out, 40, "%s of %s", is_close(beats, metre) ? "bars" : "groups", number[lround(beats)]);
  } else {
    char beats_text[16];
    snprintf(out, 40, "units of %s beats", cw_format_fixed(beats_text, sizeof beats_text, beats, 2));
  }
}

CwStatus cw_level_explain(const CwCountLine *line, const char *key, CwMessages *messages)
{
  double per_min = NAN;
  const CwStatus status = cw_counts_per_min(line, &per_min);
  if (status != CW_OK || isnan(per_min)) {
    return status;
  }
  char unit[40];
  const double beats = line->beats_per_count;
  name_unit(beats, line->metre, unit);
  if (is_close(beats, 1.0)) {
    const bool three = line->metre == 3 || line->metre == 6;
    return cw_messages_add(messages, "counted in %s: %.0f counts a minute; '%s %d' counts %s", unit, per_min, key,
                           three ? 3 : 2, three ? "three beats as one" : "half as fast");
  }
  return cw_messages_add(messages,
                         "counted in %s: %.0f counts a minute; beats would be %.0f a minute; '%s 1' counts beats", unit,
                         per_min, per_min * beats, key);
}
