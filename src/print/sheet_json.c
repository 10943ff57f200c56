// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>

#include "countwright/print.h"
#include "print/cast_json.h"
#include "print/digits.h"
#include "print/drift_words.h"
#include "print/evidence_json.h"
#include "print/json.h"
#include "print/stage_json.h"
#include "print/words.h"

static json_t *step_value(const CwStep *step, unsigned counts, bool *good)
{
  json_t *object = json_object();
  char label[CW_WORD_ROOM];
  cw_span_label_in(step->count, step->until, counts, label);
  cw_json_number(object, "count", step->count, CW_COUNT_DIGITS, good);
  cw_json_number(object, "until", step->until, CW_COUNT_DIGITS, good);
  cw_json_text(object, "label", label, good);
  cw_json_text(object, "text", step->text, good);
  cw_json_flag(object, "hold", cw_step_is_hold(step->text), good);
  return object;
}

static json_t *steps_value(const CwStep *step, size_t n, unsigned counts, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; i < n; i++) {
    if (json_array_append_new(list, step_value(&step[i], counts, good)) != 0) {
      *good = false;
    }
  }
  return list;
}

static json_t *parts_value(const CwSheetRow *row, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; i < row->n_parts; i++) {
    const CwSheetPart *part = &row->part[i];
    json_t *object = json_object();
    cw_json_text(object, "role", part->role, good);
    cw_json_whole_or_null(object, "like", part->like, good);
    cw_json_flag(object, "other_side", part->other_side, good);
    cw_json_whole(object, "delay", part->delay, good);
    cw_json_whole(object, "after", part->after, good);
    cw_json_text(object, "leader", part->leader, good);
    cw_json_put(object, "steps", steps_value(part->step, part->n_steps, row->counts, good), good);
    cw_json_text(object, "remark", part->remark, good);
    if (json_array_append_new(list, object) != 0) {
      *good = false;
    }
  }
  return list;
}

/// Where the phrase is in the recording that the sheet is held against; null without one, or where that lacks it.
static json_t *other_value(const CwSheet *sheet, const CwSheetRow *row, bool *good)
{
  const CwSheetOther *other = &row->other;
  if (!sheet->other || !other->present) {
    return json_null();
  }
  json_t *object = json_object();
  cw_json_number(object, "start_s", other->start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "counts_per_min", other->counts_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "percent", other->percent, CW_PERCENT_DIGITS, good);
  cw_json_number(object, "ahead_s", other->ahead_s, CW_TIME_DIGITS, good);
  cw_json_text(object, "feels", isnan(other->percent) ? NULL : cw_difference_words(CW_ENGLISH, other->percent), good);
  return object;
}

static json_t *row_value(const CwSheet *sheet, const CwSheetRow *row, bool *good)
{
  json_t *object = json_object();
  cw_json_whole(object, "number", row->number, good);
  cw_json_whole(object, "counts", row->counts, good);
  cw_json_text(object, "section", row->section, good);
  cw_json_text(object, "role", row->role, good);
  cw_json_flag(object, "timed", row->timed, good);
  cw_json_number(object, "start_s", row->start_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "end_s", row->end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "counts_per_min", row->counts_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "change_percent", row->change_percent, CW_PERCENT_DIGITS, good);
  cw_json_number(object, "confidence", cw_known(row->confidence, 0), CW_CONFIDENCE_DIGITS, good);
  cw_json_flag(object, "check_by_ear", row->check_by_ear, good);
  cw_json_flag(object, "pinned", row->pinned, good);
  cw_json_whole_or_null(object, "like", row->like, good);
  cw_json_flag(object, "other_side", row->other_side, good);
  cw_json_whole(object, "count_in", row->count_in, good);
  cw_json_whole_or_null(object, "metre", row->metre, good);
  cw_json_whole_or_null(object, "metre_unit", row->metre_unit, good);
  cw_json_number(object, "beats_per_count", cw_known(row->beats_per_count, 1e-3), CW_COUNT_DIGITS, good);
  cw_json_number(object, "hold_s", row->hold_s, CW_TIME_DIGITS, good);
  cw_json_put(object, "steps", steps_value(row->step, row->n_steps, row->counts, good), good);
  cw_json_text(object, "remark", row->remark, good);
  cw_json_whole(object, "canon_apart", row->canon_apart, good);
  cw_json_flag(object, "others", row->others, good);
  cw_json_flag(object, "off", row->off, good);
  cw_json_put(object, "other", other_value(sheet, row, good), good);
  cw_json_put(object, "parts", parts_value(row, good), good);
  cw_json_put(object, "stage", cw_stage_value(row, good), good);
  return object;
}

static void put_head(json_t *root, const CwSheet *sheet, bool *good)
{
  cw_json_text(root, "piece", sheet->piece, good);
  cw_json_text(root, "dance", sheet->dance, good);
  cw_json_text(root, "role", sheet->role, good);
  cw_json_flag(root, "mirrored", sheet->mirrored, good);
  cw_json_text(root, "recording", sheet->recording, good);
  cw_json_text(root, "language", sheet->language, good);
  cw_json_text(root, "other", sheet->other, good);
  cw_json_whole_or_null(root, "metre", sheet->metre, good);
  cw_json_whole_or_null(root, "metre_unit", sheet->metre_unit, good);
  cw_json_number(root, "beats_per_count", cw_known(sheet->beats_per_count, 1e-3), CW_COUNT_DIGITS, good);
  cw_json_number(root, "duration_s", cw_known(sheet->duration_s, 1e-3), CW_TIME_DIGITS, good);
  cw_json_number(root, "first_one_s", sheet->first_one_s, CW_TIME_DIGITS, good);
  cw_json_number(root, "slowest_per_min", sheet->slowest_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(root, "fastest_per_min", sheet->fastest_per_min, CW_TEMPO_DIGITS, good);
  cw_json_number(root, "warm_lead_s", sheet->cast.lead_s, CW_TIME_DIGITS, good);
  cw_json_put(root, "cast", cw_cast_value(&sheet->cast, good), good);
  cw_json_messages(root, "messages", &sheet->message, good);
  cw_json_put(root, "evidence", cw_evidence_value(&sheet->evidence, good), good);
}

CwStatus cw_sheet_json(const CwSheet *sheet, FILE *out)
{
  bool good = true;
  json_t *root = cw_json_begin("countwright-sheet", &good);
  put_head(root, sheet, &good);
  json_t *phrases = json_array();
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (json_array_append_new(phrases, row_value(sheet, &sheet->row[i], &good)) != 0) {
      good = false;
    }
  }
  cw_json_put(root, "phrases", phrases, &good);
  return cw_json_end(root, good, out);
}
