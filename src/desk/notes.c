// SPDX-License-Identifier: GPL-3.0-or-later
/// Pieces read and notes written, for the page.
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/piece.h"
#include "desk/routes.h"

void desk_answer_piece(DeskResponse *response, const DeskPiece *piece, CwStatus status)
{
  if (status == CW_OK) {
    desk_answer_json(response, 200, desk_piece_json(piece));
  } else if (status == CW_ERR_WRITE && errno == ENOSPC) {
    desk_answer_problem(response, 507, "the disk is full: '%s' is as it was", piece->notes);
  } else if (status == CW_ERR_WRITE || status == CW_ERR_NO_ACCESS) {
    desk_answer_problem(response, 507, "'%s' cannot be written (%s); it is as it was", piece->notes, strerror(errno));
  } else if (status == CW_ERR_UNSUPPORTED) {
    desk_answer_problem(response, 422, "'%s' is not in UTF-8 and is left alone; save it as UTF-8 to write here",
                        piece->notes);
  } else {
    desk_answer_status(response, piece->name, status);
  }
}

DeskPiece *desk_piece_asked(CwDesk *desk, const char *name, DeskResponse *response)
{
  DeskPiece *piece = name ? desk_piece(desk, name) : NULL;
  if (!piece) {
    desk_answer_problem(response, 404, "there is no such piece in the folder");
  }
  return piece;
}

void desk_get_piece(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = desk_piece_asked(desk, desk_query(request, "name"), response);
  if (piece) {
    desk_answer_piece(response, piece, CW_OK);
  }
  pthread_mutex_unlock(&desk->lock);
}

/// Beats as text, a line for each: seconds, place in the bar, how sure (percent).
void desk_get_beats(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = desk_piece_asked(desk, desk_query(request, "name"), response);
  if (piece) {
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    for (size_t i = 0; out && i < piece->beats.n; i++) {
      const CwBeat *beat = &piece->beats.beat[i];
      const long long ms = (long long)(1000 * beat->time_s + 0.5);
      fprintf(out, "%lld.%03lld %u %d\n", ms / 1000, ms % 1000, beat->position, (int)(100 * beat->confidence));
    }
    const bool good = out && fclose(out) == 0;
    desk_answer_text(response, "text/plain; charset=utf-8", good ? text : NULL, size);
  }
  pthread_mutex_unlock(&desk->lock);
}

/// Both texts, where they cannot be put together: she chooses.
static void answer_clash(DeskResponse *response, const DeskPiece *piece)
{
  desk_answer_json(response, 409,
                   json_pack("{s:s, s:s, s:s#}", "problem", "the same lines were changed elsewhere meanwhile",
                             "version", piece->version, "text", piece->text, piece->size));
}

/// Write what was typed, put together with what was changed elsewhere meanwhile.
static void write_notes(DeskPiece *piece, const json_t *body, DeskResponse *response)
{
  const char *base = desk_text_of(body, "base");
  const DeskText was = {desk_text_of(body, "was"), json_string_length(json_object_get(body, "was"))};
  const DeskText mine = {desk_text_of(body, "text"), json_string_length(json_object_get(body, "text"))};
  const DeskText theirs = {piece->text, piece->size};
  if (!base || !was.text || !mine.text) {
    desk_answer_problem(response, 400, "expected name, base, was and text");
    return;
  }
  if (strcmp(base, piece->version) == 0) {
    desk_answer_piece(response, piece, desk_piece_write(piece, mine.text, mine.size));
    return;
  }
  bool clash = false;
  char *text = NULL;
  size_t size = 0;
  CwStatus status = piece->writable ? desk_merge(was, mine, theirs, &clash, &text, &size) : CW_ERR_UNSUPPORTED;
  if (clash) {
    answer_clash(response, piece);
    return;
  }
  status = status == CW_OK ? desk_piece_write(piece, text, size) : status;
  desk_answer_piece(response, piece, status);
  free(text);
}

void desk_put_notes(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = desk_piece_asked(desk, desk_text_of(body, "name"), response);
  if (piece && !piece->text) {
    const CwStatus status = desk_piece_begin_notes(piece, 0.0);
    desk_answer_piece(response, piece, status);
  } else if (piece) {
    write_notes(piece, body, response);
  }
  pthread_mutex_unlock(&desk->lock);
  json_decref(body);
}

void desk_post_step(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = desk_piece_asked(desk, desk_text_of(body, "name"), response);
  if (piece) {
    const bool forward = json_is_true(json_object_get(body, "forward"));
    const CwStatus status = desk_piece_step(piece, forward);
    if (status == CW_ERR_NOT_FOUND) {
      desk_answer_problem(response, 409, forward ? "there is nothing to do again" : "there is nothing to undo");
    } else {
      desk_answer_piece(response, piece, status);
    }
  }
  pthread_mutex_unlock(&desk->lock);
  json_decref(body);
}
