// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/tap_file.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/format.h"
#include "base/memory.h"
#include "desk/desk.h"
#include "desk/routes.h"
#include "desk/save.h"

enum { MOST_TAPS = 20000 };

bool desk_taps_name(const char *piece, char out[DESK_NAME])
{
  const char *ending = strrchr(piece, '.');
  const int length = (int)(ending ? (size_t)(ending - piece) : strlen(piece));
  return snprintf(out, DESK_NAME, "%.*s.taps", length, piece) < DESK_NAME;
}

void desk_taps_read(const DeskPiece *piece, CwTaps *taps)
{
  char name[DESK_NAME];
  char *text = NULL;
  size_t size = 0;
  *taps = (CwTaps){0};
  if (desk_taps_name(piece->name, name) &&
      desk_read_file(piece->desk->place.folder, name, &text, &size, NULL) == CW_OK) {
    const CwStatus status = cw_taps_parse(text, size, taps);
    (void)status; // empty then: memory ran out
    free(text);
  }
}

/// The taps of a request as text. @return Release with free(); NULL when it has none that can be.
static char *write_taps(const json_t *times, size_t *size)
{
  char *text = NULL;
  FILE *out = open_memstream(&text, size);
  bool good = out && json_array_size(times) <= MOST_TAPS;
  for (size_t i = 0; good && i < json_array_size(times); i++) {
    const double time_s = json_number_value(json_array_get(times, i));
    char number[40];
    good = json_is_number(json_array_get(times, i)) && time_s >= 0 && time_s < 50000;
    fprintf(out, "%s\n", cw_format_fixed(number, sizeof number, time_s, 3));
  }
  if (out && fclose(out) != 0) {
    good = false;
  }
  if (!good) {
    free(text);
    return NULL;
  }
  return text;
}

/// Write the taps of a piece, or remove them where there are none.
static CwStatus save_taps(DeskPiece *piece, const char *text, size_t size)
{
  char name[DESK_NAME];
  if (!desk_taps_name(piece->name, name)) {
    return CW_ERR_BAD_ARG;
  }
  const int folder = piece->desk->place.folder;
  if (size == 0) {
    return unlinkat(folder, name, 0) == 0 || errno == ENOENT ? CW_OK : CW_ERR_NO_ACCESS;
  }
  const int before = desk_place_part(&piece->desk->place, "before");
  const CwStatus status = desk_save(folder, name, text, size, before);
  if (before >= 0) {
    close(before);
  }
  return status;
}

void desk_put_taps(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  size_t size = 0;
  char *text = write_taps(json_object_get(body, "times"), &size);
  pthread_mutex_lock(&desk->lock);
  DeskPiece *piece = text ? desk_piece(desk, desk_text_of(body, "name")) : NULL;
  const CwStatus status = piece ? save_taps(piece, text, size) : CW_ERR_NOT_FOUND;
  if (!text) {
    desk_answer_problem(response, 400, "expected times in seconds");
  } else if (status != CW_OK) {
    desk_answer_status(response, NULL, status);
  } else {
    desk_piece_listen(piece);
    desk_answer_json(response, 200, desk_piece_json(piece));
  }
  pthread_mutex_unlock(&desk->lock);
  free(text);
  json_decref(body);
}
