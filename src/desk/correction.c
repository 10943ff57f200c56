// SPDX-License-Identifier: GPL-3.0-or-later
/// Corrections from the page: each becomes a change of the notes' text.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/edit.h"
#include "desk/routes.h"

/// A correction asked for.
typedef struct {
  const char *what;
  size_t phrase;
  double count;  ///< from 1
  double time_s; ///< NaN where none is given
} Correction;

static CwStatus pin(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_pin(notes, c->phrase, c->count, c->time_s, text, size);
}

static CwStatus unpin(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_unpin(notes, c->phrase, c->count, text, size);
}

static CwStatus level(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_level(notes, c->count, text, size);
}

static CwStatus split(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_split(notes, c->phrase, c->count >= 1 ? (unsigned)fmin(c->count, 1e6) : 0, text, size);
}

static CwStatus join(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_join(notes, c->phrase, text, size);
}

static CwStatus hold(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_hold(notes, c->phrase, c->time_s, text, size);
}

static CwStatus cut(const DeskNotes *notes, const Correction *c, char **text, size_t *size)
{
  return desk_edit_cut(notes, c->phrase, text, size);
}

static const struct {
  const char *what;
  CwStatus (*edit)(const DeskNotes *notes, const Correction *c, char **text, size_t *size);
  const char *problem; ///< when it cannot be
} kinds[] = {
    {"pin", pin, "that count cannot be there: another pin is in the way, or its line cannot hold it"},
    {"unpin", unpin, "there is no such pin on that line"},
    {"level", level, "a count lasts from a quarter of a beat to 16 beats"},
    {"split", split,
     "only a line of one phrase with nothing but steps can be parted; the notes can be changed by hand"},
    {"join", join, "only two lines of one phrase each, one below the other, can be joined"},
    {"hold", hold, "there is a hold already, or others repeat in between"},
    {"cut", cut, "others are written as repeats of that line"},
};
enum { N_KINDS = sizeof kinds / sizeof kinds[0] };

/// Whether no word is written in notes yet: only counts.
static bool is_bare(const CwNotebook *notebook)
{
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    if (notebook->phrase[p].n_steps > 0 || notebook->phrase[p].remark) {
      return false;
    }
  }
  return true;
}

static void correct(DeskPiece *piece, size_t kind, const Correction *c, DeskResponse *response)
{
  const DeskNotes notes = {&piece->notebook, &piece->line};
  char *text = NULL;
  size_t size = 0;
  CwStatus status = kinds[kind].edit == level && is_bare(&piece->notebook)
                        ? desk_level_of_bare(piece, c->count, &text, &size)
                        : kinds[kind].edit(&notes, c, &text, &size);
  if (status == CW_ERR_BAD_ARG) {
    desk_answer_problem(response, 422, "%s", kinds[kind].problem);
  } else {
    status = status == CW_OK ? desk_piece_write(piece, text, size) : status;
    desk_answer_piece(response, piece, status);
  }
  free(text);
}

/// Begin notes where there are none, so that there is a place for the correction. @return Whether there are notes.
static bool begin_notes(DeskPiece *piece, size_t kind, const Correction *c, DeskResponse *response)
{
  if (piece->text) {
    return true;
  }
  const bool is_level = kinds[kind].edit == level;
  const CwStatus status = desk_piece_begin_notes(piece, is_level ? c->count : 0.0);
  if (status == CW_ERR_BAD_ARG) {
    desk_answer_problem(response, 409, "the music is not counted yet");
  } else if (status != CW_OK || is_level) {
    desk_answer_piece(response, piece, status);
  }
  return status == CW_OK && !is_level;
}

void desk_post_correction(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  const Correction c = {desk_text_of(body, "what"), desk_index_of(body, "phrase"), desk_number_of(body, "count"),
                        desk_number_of(body, "time")};
  size_t kind = c.what ? 0 : N_KINDS;
  while (kind < N_KINDS && strcmp(kinds[kind].what, c.what) != 0) {
    kind++;
  }
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = NULL;
  if (kind == N_KINDS) {
    desk_answer_problem(response, 400, "there is no such correction");
  } else {
    piece = desk_piece_asked(desk, desk_text_of(body, "name"), response);
  }
  if (piece && begin_notes(piece, kind, &c, response)) {
    correct(piece, kind, &c, response);
  }
  pthread_mutex_unlock(&desk->lock);
  json_decref(body);
}
