// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/piece.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <unistr.h>

#include <glib.h>
#include <jansson.h>

#include "base/memory.h"
#include "desk/desk.h"
#include "desk/save.h"
#include "desk/settle.h"

DeskMark desk_mark(const struct stat *facts)
{
  return (DeskMark){facts->st_ino, facts->st_size, facts->st_mtim};
}

bool desk_same_mark(const DeskMark *a, const DeskMark *b)
{
  return a->file == b->file && a->size == b->size && a->changed.tv_sec == b->changed.tv_sec &&
         a->changed.tv_nsec == b->changed.tv_nsec;
}

static void tell(const DeskPiece *piece, const char *what)
{
  desk_events_tell(&piece->desk->events,
                   json_pack("{s:s, s:s, s:s}", "what", what, "name", piece->name, "version", piece->version));
}

void desk_piece_name_version(DeskPiece *piece)
{
  gchar *sum = g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)piece->text, piece->size);
  snprintf(piece->version, sizeof piece->version, "%s", sum);
  g_free(sum);
}

/// Which recording the notes name, when it is in the folder.
static void find_recording(DeskPiece *piece)
{
  const char *named = piece->notebook.head.recording;
  char before[DESK_NAME];
  memcpy(before, piece->recording, sizeof before);
  piece->recording[0] = '\0';
  const int fd = desk_is_name(named) && desk_kind_of(named) == DESK_RECORDING
                     ? desk_open_file(piece->desk->place.folder, named, NULL)
                     : -1;
  if (fd >= 0) {
    snprintf(piece->recording, sizeof piece->recording, "%s", named);
    close(fd);
  }
  if (strcmp(before, piece->recording) != 0) {
    desk_piece_forget_music(piece);
  }
}

/// Take a text as that of the notes. @param text Taken over. @return CW_OK or CW_ERR_NO_MEM.
static CwStatus adopt(DeskPiece *piece, char *text, size_t size)
{
  CwNotebook notebook;
  const CwStatus status = cw_notebook_parse(text, size, &notebook);
  if (status != CW_OK) {
    free(text);
    return status;
  }
  CwNotebook before = piece->notebook;
  free(piece->text);
  piece->text = text;
  piece->size = size;
  piece->notebook = notebook;
  piece->writable = !u8_check((const uint8_t *)text, size) && !memchr(text, '\0', size);
  desk_piece_name_version(piece);
  find_recording(piece);
  desk_settle(piece, &before);
  cw_notebook_free(&before);
  return CW_OK;
}

bool desk_piece_refresh(DeskPiece *piece)
{
  struct stat facts;
  char *text = NULL;
  size_t size = 0;
  if (!*piece->notes || fstatat(piece->desk->place.folder, piece->notes, &facts, 0) != 0) {
    return false; // removed: what is here is all that is left of it
  }
  const DeskMark mark = desk_mark(&facts);
  if (desk_same_mark(&mark, &piece->mark) ||
      desk_read_file(piece->desk->place.folder, piece->notes, &text, &size, &facts) != CW_OK) {
    return false;
  }
  piece->mark = desk_mark(&facts);
  if (size == piece->size && memcmp(text, piece->text, size) == 0) {
    free(text);
    return false;
  }
  const DeskText old = {piece->text, piece->size};
  const DeskText new = {text, size};
  if (!u8_check((const uint8_t *)text, size) && piece->writable) {
    const CwStatus kept = desk_steps_add(&piece->desk->place, piece->notes, old, new, &piece->steps);
    (void)kept; // then it cannot be undone
  }
  if (adopt(piece, text, size) == CW_OK) {
    tell(piece, "notes");
  }
  return true;
}

/// Put a text on disk and take it as the notes'. @param text Taken over.
static CwStatus put(DeskPiece *piece, char *text, size_t size)
{
  struct stat facts;
  const int before = desk_place_part(&piece->desk->place, "before");
  const CwStatus status = desk_save(piece->desk->place.folder, piece->notes, text, size, before);
  const int why = errno;
  if (before >= 0) {
    close(before);
  }
  if (status != CW_OK) {
    free(text);
    errno = why;
    return status;
  }
  if (fstatat(piece->desk->place.folder, piece->notes, &facts, 0) == 0) {
    piece->mark = desk_mark(&facts);
  }
  return adopt(piece, text, size);
}

CwStatus desk_piece_write(DeskPiece *piece, const char *text, size_t size)
{
  if (!piece->writable || u8_check((const uint8_t *)text, size) || memchr(text, '\0', size)) {
    return CW_ERR_UNSUPPORTED;
  }
  if (size == piece->size && memcmp(text, piece->text, size) == 0) {
    return CW_OK;
  }
  char *old_text = cw_copy_text(piece->text, piece->size);
  char *new_text = cw_copy_text(text, size);
  const DeskText old = {old_text, piece->size};
  const DeskText new = {text, size};
  CwStatus status = old_text && new_text ? put(piece, new_text, size) : CW_ERR_NO_MEM;
  if (!old_text && new_text) {
    free(new_text);
  }
  if (status == CW_OK) {
    status = desk_steps_add(&piece->desk->place, piece->notes, old, new, &piece->steps);
    tell(piece, "notes");
  }
  free(old_text);
  return status;
}

CwStatus desk_piece_step(DeskPiece *piece, bool forward)
{
  const DeskText now = {piece->text, piece->size};
  char *text = NULL;
  size_t size = 0;
  CwStatus status = piece->text ? desk_steps_move(&piece->steps, forward, now, &text, &size) : CW_ERR_NOT_FOUND;
  if (status == CW_OK) {
    status = put(piece, text, size);
  }
  if (status == CW_OK) {
    const DeskText after = {piece->text, piece->size};
    desk_steps_moved(&piece->desk->place, piece->notes, forward, after, &piece->steps);
    tell(piece, "notes");
  }
  return status;
}

/// Load a piece that is in the folder.
static CwStatus load(DeskPiece *piece, const char *name)
{
  snprintf(piece->name, sizeof piece->name, "%s", name);
  if (desk_kind_of(name) == DESK_RECORDING) {
    const int fd = desk_open_file(piece->desk->place.folder, name, NULL);
    if (fd < 0) {
      return CW_ERR_NOT_FOUND;
    }
    close(fd);
    snprintf(piece->recording, sizeof piece->recording, "%s", name);
    desk_piece_listen(piece);
    return CW_OK;
  }
  struct stat facts;
  char *text = NULL;
  size_t size = 0;
  CwStatus status = desk_read_file(piece->desk->place.folder, name, &text, &size, &facts);
  if (status == CW_OK) {
    snprintf(piece->notes, sizeof piece->notes, "%s", name);
    piece->mark = desk_mark(&facts);
    status = adopt(piece, text, size);
  }
  if (status == CW_OK && piece->writable) {
    const DeskText now = {piece->text, piece->size};
    desk_steps_load(&piece->desk->place, name, now, &piece->steps);
  }
  return status;
}

static double now_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

DeskPiece *desk_piece(struct CwDesk *desk, const char *name)
{
  if (!desk_is_name(name) || desk_kind_of(name) == DESK_OTHER) {
    return NULL;
  }
  DeskPiece *piece = desk->pieces;
  while (piece && strcmp(piece->name, name) != 0) {
    piece = piece->next;
  }
  if (!piece) {
    piece = cw_new(1, sizeof *piece);
    if (!piece) {
      return NULL;
    }
    piece->desk = desk;
    if (desk->n_pieces >= DESK_MOST_PIECES || load(piece, name) != CW_OK) {
      desk_piece_free(piece);
      return NULL;
    }
    piece->next = desk->pieces;
    desk->pieces = piece;
    desk->n_pieces++;
  }
  piece->used_s = now_s();
  desk_piece_refresh(piece);
  return piece;
}

void desk_piece_free(DeskPiece *piece)
{
  desk_piece_forget_music(piece);
  cw_notebook_free(&piece->notebook);
  desk_steps_free(&piece->steps);
  free(piece->text);
  free(piece);
}
