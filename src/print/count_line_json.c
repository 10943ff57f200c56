// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/print.h"
#include "print/json.h"

static json_t *phrase_value(const CwCountLine *line, size_t i, size_t number, bool *good)
{
  const CwPhrase *phrase = &line->phrase[i];
  json_t *object = json_object();
  json_t *counts = json_array();
  for (unsigned k = 0; k < phrase->counts; k++) {
    if (json_array_append_new(counts, cw_json_rounded(line->count_s[phrase->first_count + k], CW_TIME_DIGITS)) != 0) {
      *good = false;
    }
  }
  cw_json_whole(object, "number", number, good);
  cw_json_put(object, "count_s", counts, good);
  cw_json_number(object, "end_s", phrase->end_s, CW_TIME_DIGITS, good);
  cw_json_number(object, "counts_per_min", cw_count_line_tempo(line, i), CW_TEMPO_DIGITS, good);
  cw_json_number(object, "confidence", cw_known(phrase->confidence, 0), CW_CONFIDENCE_DIGITS, good);
  return object;
}

CwStatus cw_count_line_json(const CwCountLine *line, const size_t *number, const char *recording, FILE *out)
{
  bool good = true;
  json_t *root = cw_json_begin("countwright-count-line", &good);
  cw_json_text(root, "recording", recording, &good);
  cw_json_number(root, "duration_s", line->duration_s, CW_TIME_DIGITS, &good);
  cw_json_whole_or_null(root, "metre", line->metre, &good);
  cw_json_number(root, "beats_per_count", line->beats_per_count, CW_COUNT_DIGITS, &good);
  json_t *phrases = json_array();
  for (size_t i = 0; i < line->n_phrases; i++) {
    if (json_array_append_new(phrases, phrase_value(line, i, number ? number[i] : i + 1, &good)) != 0) {
      good = false;
    }
  }
  cw_json_put(root, "phrases", phrases, &good);
  return cw_json_end(root, good, out);
}
