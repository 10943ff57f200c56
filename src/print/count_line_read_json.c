// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/memory.h"
#include "print/count_line_read.h"

enum { PLACE = 64, MOST_COUNTS = 100000 };

/// A number that is a time or a rate; -1 where there is none.
static double number_of(const json_t *object, const char *key)
{
  const json_t *value = json_object_get(object, key);
  return json_is_number(value) ? json_number_value(value) : -1;
}

/// @param count_s Room for its counts. @return false when a time is no number.
static bool read_times(const json_t *times, double *count_s)
{
  for (size_t k = 0; k < json_array_size(times); k++) {
    const json_t *time = json_array_get(times, k);
    if (!json_is_number(time) || json_number_value(time) < 0) {
      return false;
    }
    count_s[k] = json_number_value(time);
  }
  return true;
}

static CwStatus read_phrase(const json_t *object, size_t i, CwCountLineFile *file, CwMessages *messages)
{
  char place[PLACE];
  snprintf(place, sizeof place, "phrase %zu in the file", i + 1);
  const json_t *number = json_object_get(object, "number");
  const json_t *times = json_object_get(object, "count_s");
  const size_t n = json_array_size(times);
  if (!json_is_integer(number) || json_integer_value(number) < 1) {
    return cw_count_line_wrong(messages, place, "'number', a whole number from 1");
  }
  if (n == 0 || n > MOST_COUNTS) {
    return cw_count_line_wrong(messages, place, "'count_s', the seconds of its counts");
  }
  double *count_s = cw_new(n, sizeof *count_s);
  if (!count_s) {
    return CW_ERR_NO_MEM;
  }
  const double confidence = number_of(object, "confidence");
  const CwReadPhrase phrase = {.number = (size_t)json_integer_value(number),
                               .count_s = count_s,
                               .counts = (unsigned)n,
                               .end_s = number_of(object, "end_s"),
                               .confidence = confidence <= 1 ? confidence : 1};
  const CwStatus status = read_times(times, count_s)
                              ? cw_count_line_take(&phrase, place, file, messages)
                              : cw_count_line_wrong(messages, place, "'count_s', the seconds of its counts");
  free(count_s);
  return status;
}

static CwStatus read_root(const json_t *root, CwCountLineFile *file, CwMessages *messages)
{
  const char *format = json_string_value(json_object_get(root, "format"));
  if (!format || strcmp(format, "countwright-count-line") != 0 || number_of(root, "version") != 1) {
    return cw_count_line_wrong(messages, "'format'", "countwright-count-line, version 1");
  }
  const char *recording = json_string_value(json_object_get(root, "recording"));
  file->recording = recording ? cw_copy_text(recording, strlen(recording)) : NULL;
  if (recording && !file->recording) {
    return CW_ERR_NO_MEM;
  }
  const double metre = number_of(root, "metre");
  file->line.metre = metre >= 1 && metre < 100 ? (unsigned)metre : 0;
  file->line.beats_per_count = fmax(0, number_of(root, "beats_per_count"));
  file->line.duration_s = fmax(0, number_of(root, "duration_s"));
  const json_t *phrases = json_object_get(root, "phrases");
  if (!json_is_array(phrases)) {
    return cw_count_line_wrong(messages, "'phrases'", "a list of phrases");
  }
  CwStatus status = CW_OK;
  for (size_t i = 0; i < json_array_size(phrases) && status == CW_OK; i++) {
    status = read_phrase(json_array_get(phrases, i), i, file, messages);
  }
  return status;
}

CwStatus cw_count_line_from_json(const char *text, size_t size, CwCountLineFile *file, CwMessages *messages)
{
  json_error_t error;
  json_t *root = json_loadb(text, size, JSON_REJECT_DUPLICATES, &error);
  if (!root && json_error_code(&error) == json_error_out_of_memory) {
    return CW_ERR_NO_MEM;
  }
  if (!root) {
    char place[PLACE];
    snprintf(place, sizeof place, "line %d, column %d", error.line, error.column);
    return cw_count_line_wrong(messages, place, "JSON");
  }
  const CwStatus status = read_root(root, file, messages);
  json_decref(root);
  return status;
}
