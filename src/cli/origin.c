// SPDX-License-Identifier: GPL-3.0-or-later
#define _XOPEN_SOURCE 700 // realpath()
#include "cli/origin.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"
#include "cli/talk.h"
#include "cli/text.h"

/// The folder of a file, with its last slash; empty for the one that we are in.
static char *folder_of(const char *path)
{
  return cw_copy_text(path, (size_t)(cli_base_name(path) - path));
}

static bool same_folder(const char *left, const char *right)
{
  struct stat a;
  struct stat b;
  return stat(left[0] ? left : ".", &a) == 0 && stat(right[0] ? right : ".", &b) == 0 && a.st_dev == b.st_dev &&
         a.st_ino == b.st_ino;
}

/// The full path of a file that need not be there.
static char *full_path(const char *folder, const char *name)
{
  char *whole = realpath(folder[0] ? folder : ".", NULL);
  const size_t size = whole ? strlen(whole) + strlen(name) + 2 : 1;
  char *path = whole ? cw_new(size, 1) : NULL;
  if (path) {
    snprintf(path, size, "%s/%s", strcmp(whole, "/") == 0 ? "" : whole, name);
  }
  free(whole);
  return path;
}

char *cli_name_beside(const char *path, const char *written)
{
  char *folder = folder_of(path);
  char *other = folder_of(written);
  const char *name = cli_base_name(path);
  char *shown = NULL;
  if (folder && other) {
    shown = same_folder(folder, other) ? cw_copy_text(name, strlen(name)) : full_path(folder, name);
  }
  free(folder);
  free(other);
  return shown;
}

static bool same_phrases(const CwNotebook *left, const CwNotebook *right)
{
  bool same = left->n_phrases == right->n_phrases;
  for (size_t p = 0; same && p < left->n_phrases; p++) {
    same = left->phrase[p].counts == right->phrase[p].counts;
  }
  return same;
}

/// Follow a copy to what it was carried from. Where that cannot be read, the copy itself has to do.
static CwStatus follow_copy(const char *notes, CliOrigin *origin)
{
  const char *named = origin->notebook.head.carried_from;
  char *folder = folder_of(notes);
  const size_t size = strlen(named) + (folder ? strlen(folder) : 0) + 1;
  char *path = folder ? cw_new(size, 1) : NULL;
  if (!path) {
    free(folder);
    return CW_ERR_NO_MEM;
  }
  snprintf(path, size, "%s%s", named[0] == '/' ? "" : folder, named);
  free(folder);
  CwNotebook first;
  if (cli_read_notes(path, &first) != CW_OK) {
    cli_say(notes, "was carried from '%s', which cannot be read: errors add up when it is carried on", named);
    free(path);
    return CW_OK;
  }
  origin->own_words = same_phrases(&first, &origin->notebook);
  if (origin->own_words) {
    cli_say(notes, "is a copy of '%s', whose counts are carried", named);
    origin->words = origin->notebook;
  } else {
    cli_say(notes, "is a copy of '%s', which has other phrases and is carried itself", named);
    cw_notebook_free(&origin->notebook);
  }
  origin->notebook = first;
  free(origin->path);
  origin->path = path;
  return CW_OK;
}

int cli_origin_find(const CliArgs *args, CliOrigin *origin)
{
  const char *notes = args->operand[0];
  const char *from = args->value[CLI_FROM].text;
  CwStatus status = cli_read_notes(notes, &origin->notebook);
  if (status == CW_OK) {
    origin->path = cw_copy_text(notes, strlen(notes));
    status = origin->path ? CW_OK : CW_ERR_NO_MEM;
  }
  if (status == CW_OK && origin->notebook.head.carried_from && !from) {
    status = follow_copy(notes, origin);
  }
  if (status == CW_OK && from) {
    origin->recording = cw_copy_text(from, strlen(from));
    status = origin->recording ? CW_OK : CW_ERR_NO_MEM;
  } else if (status == CW_OK) {
    status = cli_recording_of(&origin->notebook, origin->path, &origin->recording);
  }
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  if (!origin->recording) {
    cli_say(notes, "no recording is named that the notes belong to; '--from' names it");
    return CLI_FAILED;
  }
  return CLI_GOOD;
}

const CwNotebook *cli_origin_words(const CliOrigin *origin)
{
  return origin->own_words ? &origin->words : &origin->notebook;
}

void cli_origin_free(CliOrigin *origin)
{
  cw_notebook_free(&origin->notebook);
  cw_notebook_free(&origin->words);
  free(origin->path);
  free(origin->recording);
}
