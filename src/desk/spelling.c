// SPDX-License-Identifier: GPL-3.0-or-later
/// Terms that are most likely meant behind what the notes say.
#include <stdlib.h>

#include "countwright/glossary.h"
#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/routes.h"

/// The academic terms, and those of the file that the notes name, when it is in the folder.
static CwStatus open_glossary(const DeskPiece *piece, CwGlossary **glossary)
{
  CwStatus status = cw_glossary_new(true, glossary);
  const char *own = piece->notebook.head.glossary;
  char *text = NULL;
  size_t size = 0;
  if (status == CW_OK && desk_is_name(own) &&
      desk_read_file(piece->desk->place.folder, own, &text, &size, NULL) == CW_OK) {
    status = cw_glossary_add(*glossary, text, size, NULL, NULL);
    free(text);
  }
  return status;
}

static json_t *to_json(const CwSpellings *found)
{
  json_t *rows = json_array();
  for (size_t i = 0; i < found->n; i++) {
    const CwSpelling *s = &found->item[i];
    if (s->proper) {
      json_array_append_new(rows, json_pack("{s:I, s:I, s:s, s:s}", "line", (json_int_t)s->line, "column",
                                            (json_int_t)s->column, "written", s->written, "proper", s->proper));
    }
  }
  return json_pack("{s:o}", "spellings", rows);
}

void desk_get_spelling(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  pthread_mutex_lock(&desk->lock);
  const DeskPiece *piece = desk_piece_asked(desk, desk_query(request, "name"), response);
  if (piece) {
    CwGlossary *glossary = NULL;
    CwSpellings found = {0};
    CwStatus status = open_glossary(piece, &glossary);
    if (status == CW_OK) {
      status = cw_notebook_spelling(glossary, &piece->notebook, &found);
    }
    if (status == CW_OK) {
      desk_answer_json(response, 200, to_json(&found));
    } else {
      desk_answer_status(response, piece->name, status);
    }
    cw_spellings_free(&found);
    cw_glossary_free(glossary);
  }
  pthread_mutex_unlock(&desk->lock);
}
