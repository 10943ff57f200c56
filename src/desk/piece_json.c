// SPDX-License-Identifier: GPL-3.0-or-later
/// A piece as the page gets it.
#include <jansson.h>

#include <math.h>

#include "countwright/phrases.h"
#include "desk/desk.h"
#include "desk/piece.h"

/// A time to the tenth of a millisecond; null when there is none.
static json_t *seconds(double s)
{
  return isfinite(s) ? json_real(round(1e4 * s) / 1e4) : json_null();
}

static json_t *text_or_null(const char *text)
{
  return text && *text ? json_string(text) : json_null();
}

static json_t *pins_of(const CwNotePhrase *phrase)
{
  json_t *pins = json_array();
  for (size_t k = 0; k < phrase->n_pins; k++) {
    json_array_append_new(pins, json_pack("[f, o]", phrase->pin[k].count, seconds(phrase->pin[k].time_s)));
  }
  return pins;
}

/// What the notes say of a phrase.
static void add_noted(const CwNotebook *notebook, size_t p, json_t *row)
{
  const CwNotePhrase *phrase = &notebook->phrase[p];
  json_object_set_new(row, "line", json_integer((json_int_t)phrase->line));
  if (phrase->section != CW_NONE) {
    json_object_set_new(row, "section", json_integer((json_int_t)phrase->section));
  }
  if (phrase->like != CW_NONE) {
    json_object_set_new(row, "like", json_integer((json_int_t)phrase->like));
  }
  if (phrase->n_pins > 0) {
    json_object_set_new(row, "pins", pins_of(phrase));
  }
  if (phrase->hold_after) {
    json_object_set_new(row, "hold", json_true());
  }
  if (phrase->count_in > 0) {
    json_object_set_new(row, "countIn", json_integer(phrase->count_in));
  }
}

static void add_found(const CwCountLine *line, size_t p, json_t *row)
{
  const CwPhrase *phrase = &line->phrase[p];
  json_object_set_new(row, "first", json_integer((json_int_t)phrase->first_count));
  json_object_set_new(row, "end", seconds(phrase->end_s));
  json_object_set_new(row, "sure", json_real(round(100 * phrase->confidence) / 100));
}

static json_t *phrases_of(const DeskPiece *piece)
{
  const bool found = piece->state == DESK_READY;
  const size_t noted = piece->notebook.n_phrases;
  const size_t timed = found ? piece->line.n_phrases : 0;
  const size_t n = noted > 0 ? noted : timed;
  json_t *rows = json_array();
  for (size_t p = 0; p < n; p++) {
    json_t *row = json_object();
    const unsigned counts = noted > 0 ? piece->notebook.phrase[p].counts : piece->line.phrase[p].counts;
    json_object_set_new(row, "counts", json_integer(counts));
    if (noted > 0) {
      add_noted(&piece->notebook, p, row);
    }
    // a line that is on its way may still be that of other phrases
    if (p < timed && piece->line.phrase[p].counts == counts) {
      add_found(&piece->line, p, row);
    }
    json_array_append_new(rows, row);
  }
  return rows;
}

static json_t *counts_of(const DeskPiece *piece)
{
  json_t *times = json_array();
  for (size_t i = 0; i < piece->line.n_counts; i++) {
    json_array_append_new(times, seconds(piece->line.count_s[i]));
  }
  return times;
}

static json_t *sections_of(const CwNotebook *notebook)
{
  json_t *names = json_array();
  for (size_t s = 0; s < notebook->n_sections; s++) {
    json_array_append_new(names, json_string(notebook->section[s]));
  }
  return names;
}

static json_t *diagnostics_of(const CwNotebook *notebook)
{
  json_t *rows = json_array();
  for (size_t i = 0; i < notebook->n_diagnostics; i++) {
    const CwDiagnostic *d = &notebook->diagnostic[i];
    json_array_append_new(rows, json_pack("{s:I, s:I, s:s}", "line", (json_int_t)d->line, "column",
                                          (json_int_t)d->column, "text", d->text));
  }
  return rows;
}

static json_t *messages_of(const CwMessages *messages)
{
  json_t *texts = json_array();
  for (size_t i = 0; i < messages->n; i++) {
    json_array_append_new(texts, json_string(messages->text[i]));
  }
  return texts;
}

/// What was found of taps; null when there are none.
static json_t *taps_of(const DeskPiece *piece)
{
  if (!piece->has_taps) {
    return json_null();
  }
  return json_pack("{s:o, s:o, s:I, s:I}", "delay", seconds(piece->tapped.delay_s), "spread",
                   seconds(piece->tapped.spread_s), "missing", (json_int_t)piece->tapped.n_missing, "extra",
                   (json_int_t)piece->tapped.n_extra);
}

/// Texts that are no UTF-8 are shown as the parser reads them, line by line, and cannot be written.
static json_t *text_of(const DeskPiece *piece)
{
  return !piece->text ? json_null() : piece->writable ? json_stringn(piece->text, piece->size) : json_string("");
}

static const char *const state_name[] = {
    [DESK_NO_MUSIC] = "no music", [DESK_WAITING] = "waiting", [DESK_READY] = "ready", [DESK_FAILED] = "failed"};

json_t *desk_piece_json(const DeskPiece *piece)
{
  const CwNoteHead *head = &piece->notebook.head;
  json_t *json = json_pack("{s:s, s:o, s:o, s:s, s:o, s:b, s:s, s:b, s:s, s:b, s:b}", "name", piece->name, "notes",
                           text_or_null(piece->notes), "recording", text_or_null(piece->recording), "version",
                           piece->version, "text", text_of(piece), "writable", piece->writable || !piece->text, "state",
                           state_name[piece->state], "listening", piece->listening, "problem", piece->problem, "undo",
                           piece->steps.done > 0, "redo", piece->steps.done < piece->steps.n);
  if (!json) {
    return NULL;
  }
  json_object_set_new(json, "piece", text_or_null(head->piece));
  json_object_set_new(json, "dance", text_or_null(head->dance));
  json_object_set_new(json, "wants", text_or_null(head->recording));
  json_object_set_new(json, "metre", json_integer(head->metre ? head->metre : piece->line.metre));
  json_object_set_new(json, "beatsPerCount", json_real(piece->line.beats_per_count));
  json_object_set_new(json, "duration", seconds(piece->line.duration_s));
  json_object_set_new(json, "sections", sections_of(&piece->notebook));
  json_object_set_new(json, "phrases", phrases_of(piece));
  json_object_set_new(json, "counts", counts_of(piece));
  json_object_set_new(json, "unclear", diagnostics_of(&piece->notebook));
  json_object_set_new(json, "messages", messages_of(&piece->messages));
  json_object_set_new(json, "taps", taps_of(piece));
  return json;
}
