// SPDX-License-Identifier: GPL-3.0-or-later
/// A notebook for a recording that has none.
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/format.h"
#include "countwright/phrases.h"
#include "desk/desk.h"
#include "desk/save.h"
#include "desk/settle.h"
#include "notes/retime.h"

enum { MOST_TRIES = 100 };

/// A name for it that no file has: "ferrymen.txt", "ferrymen 2.txt" ...
static bool choose_name(const DeskPiece *piece, char out[DESK_NAME])
{
  const char *ending = strrchr(piece->recording, '.');
  const int length = (int)(ending ? (size_t)(ending - piece->recording) : strlen(piece->recording));
  for (int n = 1; n < MOST_TRIES; n++) {
    char number[16] = "";
    if (n > 1) {
      snprintf(number, sizeof number, " %d", n);
    }
    struct stat facts;
    const int written = snprintf(out, DESK_NAME, "%.*s%s.txt", length, piece->recording, number);
    if (written >= DESK_NAME) {
      return false;
    }
    if (fstatat(piece->desk->place.folder, out, &facts, AT_SYMLINK_NOFOLLOW) != 0) {
      return true;
    }
  }
  return false;
}

/// The counts at another level, as the music alone has them. @param[out] line The piece's own when nothing else is asked.
static CwStatus count_again(const DeskPiece *piece, double beats_per_count, CwCountLine *line)
{
  if (beats_per_count > 0 && piece->features) {
    const CwPhraseOptions options = {.beats_per_count = beats_per_count};
    return cw_phrases_find(piece->features, &piece->beats, &options, line);
  }
  return cw_count_line_copy(&piece->line, line);
}

static char *write_notes(const DeskPiece *piece, const CwCountLine *line, size_t *size)
{
  char *text = NULL;
  FILE *out = open_memstream(&text, size);
  if (!out) {
    return NULL;
  }
  fprintf(out, "recording: %s\n", piece->recording);
  if (line->metre > 0) {
    fprintf(out, "metre: %u\n", line->metre);
  }
  if (line->beats_per_count > 0) {
    char number[40];
    const double n = line->beats_per_count;
    fprintf(out, "beats per count: %s\n", cw_format_fixed(number, sizeof number, n, n == floor(n) ? 0 : 2));
  }
  fputc('\n', out);
  for (size_t p = 0; p < line->n_phrases; p++) {
    if (p == 0) { // the music before it is the pick-up
      char time[32];
      cw_format_pin(cw_count_line_start(line, 0), time);
      fprintf(out, "@ %s ", time);
    }
    fprintf(out, "%u counts\n", line->phrase[p].counts);
  }
  if (fclose(out) != 0) {
    free(text);
    return NULL;
  }
  return text;
}

/// The piece is that of its notes from now on; it keeps what was heard.
static CwStatus turn_into_notes(DeskPiece *piece, const char *name, char *text, size_t size, CwCountLine *line)
{
  CwNotebook notebook;
  struct stat facts;
  const CwStatus status = cw_notebook_parse(text, size, &notebook);
  if (status != CW_OK) {
    return status;
  }
  snprintf(piece->name, sizeof piece->name, "%s", name);
  snprintf(piece->notes, sizeof piece->notes, "%s", name);
  piece->text = text;
  piece->size = size;
  piece->notebook = notebook;
  piece->writable = true;
  desk_piece_name_version(piece);
  if (fstatat(piece->desk->place.folder, name, &facts, 0) == 0) {
    piece->mark = desk_mark(&facts);
  }
  cw_count_line_free(&piece->line);
  piece->line = *line;
  *line = (CwCountLine){0};
  const DeskText now = {text, size};
  desk_steps_load(&piece->desk->place, name, now, &piece->steps);
  desk_piece_forget_session(piece);
  desk_piece_listen(piece);
  return CW_OK;
}

CwStatus desk_level_of_bare(const DeskPiece *piece, double beats_per_count, char **text, size_t *size)
{
  CwCountLine line = {0};
  *text = NULL;
  if (!(beats_per_count >= 0.25 && beats_per_count <= 16) || !piece->features) {
    return CW_ERR_BAD_ARG;
  }
  CwStatus status = count_again(piece, beats_per_count, &line);
  if (status == CW_OK) {
    *text = write_notes(piece, &line, size);
    status = *text ? CW_OK : CW_ERR_NO_MEM;
  }
  cw_count_line_free(&line);
  return status;
}

CwStatus desk_piece_begin_notes(DeskPiece *piece, double beats_per_count)
{
  char name[DESK_NAME];
  CwCountLine line = {0};
  size_t size = 0;
  if (piece->text || piece->state != DESK_READY || !choose_name(piece, name)) {
    return CW_ERR_BAD_ARG;
  }
  CwStatus status = count_again(piece, beats_per_count, &line);
  char *text = status == CW_OK ? write_notes(piece, &line, &size) : NULL;
  if (status == CW_OK) {
    status = text ? desk_save(piece->desk->place.folder, name, text, size, -1) : CW_ERR_NO_MEM;
  }
  if (status == CW_OK) {
    status = turn_into_notes(piece, name, text, size, &line);
  }
  if (status != CW_OK) {
    free(text);
  }
  cw_count_line_free(&line);
  return status;
}
