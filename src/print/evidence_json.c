// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/evidence_json.h"

static json_t *level_value(const CwLevel *level, bool *good)
{
  json_t *object = json_object();
  cw_json_whole_or_null(object, "metre", level->metre, good);
  cw_json_number(object, "beats_per_count", cw_known(level->beats_per_count, 1e-3), CW_COUNT_DIGITS, good);
  cw_json_number(object, "counts_per_min", cw_known(level->counts_per_min, 1e-3), CW_TEMPO_DIGITS, good);
  cw_json_number(object, "beats_per_min", cw_known(level->beats_per_min, 1e-3), CW_TEMPO_DIGITS, good);
  return object;
}

static json_t *tempo_value(const CwEvidence *evidence, bool *good)
{
  if (!(evidence->tempo_high_bpm > 0)) {
    return json_null();
  }
  json_t *object = json_object();
  cw_json_number(object, "low_bpm", evidence->tempo_low_bpm, CW_TEMPO_DIGITS, good);
  cw_json_number(object, "high_bpm", evidence->tempo_high_bpm, CW_TEMPO_DIGITS, good);
  cw_json_flag(object, "used", evidence->tempo_used, good);
  return object;
}

json_t *cw_evidence_value(const CwEvidence *evidence, bool *good)
{
  if (!evidence->known) {
    return json_null();
  }
  CwMessages words = {0};
  *good = *good && cw_evidence_explain(evidence, &words) == CW_OK;
  json_t *object = json_object();
  cw_json_flag(object, "level_given", evidence->level_given, good);
  cw_json_put(object, "level", level_value(&evidence->level, good), good);
  cw_json_put(object, "alone", evidence->alone_known ? level_value(&evidence->alone, good) : json_null(), good);
  cw_json_whole(object, "ones", evidence->n_ones, good);
  cw_json_whole(object, "ones_moved", evidence->n_moved, good);
  cw_json_put(object, "tempo", tempo_value(evidence, good), good);
  cw_json_whole(object, "repeats", evidence->n_repeats, good);
  cw_json_whole(object, "repeats_alike", evidence->n_alike, good);
  cw_json_whole(object, "counts_moved_by_repeats", evidence->n_moved_by_alike, good);
  cw_json_messages(object, "words", &words, good);
  cw_messages_free(&words);
  return object;
}
