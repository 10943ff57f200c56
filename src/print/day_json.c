// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/print.h"
#include "print/day_phrases.h"
#include "print/digits.h"
#include "print/json.h"

static json_t *run_value(const CwDayTable *table, size_t i, bool *good)
{
  const CwDayRun *run = &table->runs->run[i];
  const CwDayPhrases phrases = cw_day_phrases(table->line, run);
  json_t *object = json_object();
  cw_json_whole(object, "number", i + 1, good);
  cw_json_number(object, "start_s", run->begin_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "end_s", run->end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "from_s", run->from_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "to_s", run->to_s, CW_TIME_DIGITS, good);
  cw_json_whole_or_null(object, "first_phrase", (unsigned)phrases.first, good);
  cw_json_whole_or_null(object, "last_phrase", (unsigned)phrases.last, good);
  cw_json_number(object, "faster_percent", cw_day_percent(run), CW_PERCENT_DIGITS, good);
  cw_json_number(object, "confidence", run->sure, CW_CONFIDENCE_DIGITS, good);
  return object;
}

CwStatus cw_day_json(const CwDayTable *table, FILE *out)
{
  bool good = true;
  json_t *root = cw_json_begin("countwright-day", &good);
  json_t *list = json_array();
  cw_json_text(root, "dance", table->dance, &good);
  cw_json_text(root, "recording", table->day, &good);
  cw_json_number(root, "duration_s", table->day_s, CW_TIME_DIGITS, &good);
  for (size_t i = 0; i < table->runs->n; i++) {
    good = json_array_append_new(list, run_value(table, i, &good)) == 0 && good;
  }
  cw_json_put(root, "runs", list, &good);
  return cw_json_end(root, good, out);
}
