// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "stage/people.h"
#include "stage/place.h"
#include "stage/reader.h"
#include "stage/stage_lists.h"

/// Tokens between a name and the first that is told of them.
enum { PERSON_REACH = 6 };

static void free_reading(CwStageReading *reading)
{
  free(reading->person);
  free(reading->place);
}

void cw_stage_readings_free(CwStageReadings *readings)
{
  if (!readings) {
    return;
  }
  for (size_t i = 0; i < readings->n; i++) {
    free_reading(&readings->reading[i]);
  }
  free(readings->reading);
  *readings = (CwStageReadings){0};
}

void cw_reader_add(CwReader *reader, CwStageReading *reading, size_t first, size_t next)
{
  const CwTokens *tokens = reader->tokens;
  CwStageReadings *readings = reader->readings;
  if (reader->full) { // it may not be whole
    free_reading(reading);
    return;
  }
  reading->begin = tokens->token[first].begin;
  reading->end = tokens->token[next - 1].end;
  if (reader->person && reader->person_next <= first + PERSON_REACH) {
    const size_t begin = tokens->token[reader->person_first].begin;
    reading->person = cw_copy_text(tokens->text + begin, tokens->token[reader->person_next - 1].end - begin);
    reader->full = reader->full || !reading->person;
    if (tokens->token[reader->person_begin].begin < reading->begin) {
      reading->begin = tokens->token[reader->person_begin].begin;
    }
  }
  if (reader->full || !cw_grow(&readings->reading, &reader->capacity, readings->n, sizeof *reading)) {
    reader->full = true;
    free_reading(reading);
    return;
  }
  readings->reading[readings->n++] = *reading;
}

void cw_reader_flush(CwReader *reader)
{
  if (!reader->open) {
    return;
  }
  CwStageReading now = reader->now;
  reader->open = false;
  reader->now = (CwStageReading){0};
  reader->place_capacity = 0;
  if (now.kind == CW_STAGE_PATH && reader->started && now.n_places == 1) {
    now.open_end = true;
  }
  cw_reader_add(reader, &now, reader->first, reader->last);
}

static void forget_person(CwReader *reader)
{
  reader->person = false;
  reader->entering = false;
  reader->exiting = false;
}

/// "o Mira C": a mark, a name and what is told of it.
static bool read_mark(CwReader *reader, size_t i)
{
  enum { LONGEST_NAME = 6 }; // tokens
  static const char *const told[] = {"to", "from", "at", "facing", "circle", "curve", "diagonal", ">", NULL};
  const CwTokens *tokens = reader->tokens;
  const bool starts = i == 0 || tokens->token[i - 1].kind == CW_TOKEN_SIGN;
  if (!starts || !cw_token_is(tokens, i, "o") || tokens->token[i].written != CW_CASE_LOWER) {
    return false;
  }
  for (size_t k = i + 1; k <= i + 1 + LONGEST_NAME && k < tokens->n && tokens->token[k].kind != CW_TOKEN_SIGN; k++) {
    CwPlace place;
    size_t next;
    if (k > i + 1 && (cw_token_in(tokens, k, told) || cw_place_read(tokens, k, &place, &next))) {
      cw_reader_flush(reader);
      forget_person(reader);
      reader->person = true;
      reader->person_begin = i;
      reader->person_first = i + 1;
      reader->person_next = k;
      return true;
    }
  }
  return false;
}

/// Someone is named. @return The token after the name; `i` when no one is.
static size_t read_person(CwReader *reader, size_t i)
{
  size_t next = i;
  if (read_mark(reader, i)) {
    return reader->person_next;
  }
  if (!cw_person_read(reader->tokens, i, reader->names, &next)) {
    return i;
  }
  cw_reader_flush(reader);
  forget_person(reader);
  reader->person = true;
  reader->person_begin = i;
  reader->person_first = i;
  reader->person_next = next;
  reader->entering = i > 0 && cw_token_in(reader->tokens, i - 1, cw_enter_words);
  reader->exiting = i > 0 && cw_token_in(reader->tokens, i - 1, cw_exit_words);
  if (reader->entering || reader->exiting) {
    reader->person_begin = i - 1;
  }
  return next;
}

/// A sign that ends a sentence, or a part of it.
static void read_sign(CwReader *reader, size_t i)
{
  static const char *const ends[] = {".", ";", "|", "!", "?", "(", ")", NULL};
  const CwTokens *tokens = reader->tokens;
  if (cw_token_in(tokens, i, ends) || (cw_token_is(tokens, i, ":") && !(reader->person && reader->person_next == i))) {
    cw_reader_flush(reader);
    forget_person(reader);
  } else if (cw_token_is(tokens, i, ",")) {
    const bool goes_on = reader->open && reader->now.kind == CW_STAGE_PATH && reader->started &&
                         reader->now.n_places == 1; // "from USL, chassé to C"
    if (!goes_on) {
      cw_reader_flush(reader);
      forget_person(reader);
    }
  }
}

static size_t read_token(CwReader *reader, size_t i)
{
  if (reader->tokens->token[i].kind == CW_TOKEN_SIGN) {
    read_sign(reader, i);
    return i + 1;
  }
  size_t n = cw_read_facing(reader, i);
  n = n ? n : cw_read_shape(reader, i);
  n = n ? n : cw_read_place(reader, i);
  if (n > 0) {
    return i + n;
  }
  const size_t next = read_person(reader, i);
  return next > i ? next : i + 1;
}

static int compare_readings(const void *a, const void *b)
{
  const CwStageReading *one = a;
  const CwStageReading *other = b;
  return (one->begin > other->begin) - (one->begin < other->begin);
}

CwStatus cw_stage_read(const char *text, const char *const *names, CwStageReadings *readings)
{
  CwTokens tokens = {0};
  *readings = (CwStageReadings){0};
  CwReader reader = {.tokens = &tokens, .names = names, .readings = readings};
  reader.full = cw_tokens_read(&tokens, text, strlen(text)) != CW_OK;
  for (size_t i = 0; i < tokens.n && !reader.full;) {
    i = read_token(&reader, i);
  }
  cw_reader_flush(&reader);
  if (reader.open) {
    free(reader.now.place);
  }
  cw_tokens_free(&tokens);
  if (reader.full) {
    cw_stage_readings_free(readings);
    return CW_ERR_NO_MEM;
  }
  if (readings->n > 1) {
    qsort(readings->reading, readings->n, sizeof *readings->reading, compare_readings);
  }
  return CW_OK;
}
