// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/print.h"
#include "print/json.h"

static json_t *row_value(const CwDriftRow *row, bool *good)
{
  json_t *object = json_object();
  cw_json_whole(object, "number", row->number, good);
  cw_json_whole(object, "counts", row->counts, good);
  cw_json_flag(object, "in_b", row->present, good);
  cw_json_number(object, "a_start_s", row->a_start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "a_end_s", row->a_end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "a_counts_per_min", row->a_counts_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "b_start_s", row->b_start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "b_end_s", row->b_end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "b_counts_per_min", row->b_counts_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "percent", row->percent, CW_PERCENT_DIGITS, good);
  cw_json_number(object, "ahead_s", row->ahead_s, CW_TIME_DIGITS, good);
  return object;
}

CwStatus cw_drift_json(const CwDrift *drift, const CwDriftLabels *labels, FILE *out)
{
  bool good = true;
  json_t *root = cw_json_begin("countwright-drift", &good);
  cw_json_text(root, "a", labels->a_name, &good);
  cw_json_text(root, "b", labels->b_name, &good);
  cw_json_messages(root, "summary", labels->summary, &good);
  json_t *phrases = json_array();
  for (size_t i = 0; i < drift->n; i++) {
    if (json_array_append_new(phrases, row_value(&drift->row[i], &good)) != 0) {
      good = false;
    }
  }
  cw_json_put(root, "phrases", phrases, &good);
  return cw_json_end(root, good, out);
}
