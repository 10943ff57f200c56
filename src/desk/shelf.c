// SPDX-License-Identifier: GPL-3.0-or-later
/// The pieces of the folder: notebooks with their recordings, and recordings that no notebook names.
#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/notebook.h"
#include "desk/desk.h"
#include "desk/names.h"
#include "desk/routes.h"

enum { MOST_FILES = 10000 };

/// Names of the folder's files of one kind, sorted.
typedef struct {
  char **name;
  size_t n, room;
} Names;

static void free_names(Names *names)
{
  for (size_t i = 0; i < names->n; i++) {
    free(names->name[i]);
  }
  free(names->name);
}

static int by_name(const void *a, const void *b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

static bool keep(Names *names, const char *name)
{
  char *copy = cw_copy_text(name, strlen(name));
  if (!copy || !cw_grow(&names->name, &names->room, names->n, sizeof *names->name)) {
    free(copy);
    return false;
  }
  names->name[names->n++] = copy;
  return true;
}

/// Whether it is a plain file, and no link.
static bool is_file(int folder, const char *name)
{
  struct stat facts;
  return fstatat(folder, name, &facts, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(facts.st_mode);
}

static CwStatus list(int folder, Names *notes, Names *recordings)
{
  const int fd = openat(folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR *open_folder = fd >= 0 ? fdopendir(fd) : NULL;
  if (!open_folder) {
    if (fd >= 0) {
      close(fd);
    }
    return CW_ERR_NO_ACCESS;
  }
  bool good = true;
  size_t n = 0;
  for (const struct dirent *entry = readdir(open_folder); entry && good && n < MOST_FILES;
       entry = readdir(open_folder), n++) {
    const DeskKind kind = desk_is_name(entry->d_name) ? desk_kind_of(entry->d_name) : DESK_OTHER;
    if (kind != DESK_OTHER && is_file(folder, entry->d_name)) {
      good = keep(kind == DESK_NOTES ? notes : recordings, entry->d_name);
    }
  }
  closedir(open_folder);
  if (notes->n > 1) {
    qsort(notes->name, notes->n, sizeof *notes->name, by_name);
  }
  if (recordings->n > 1) {
    qsort(recordings->name, recordings->n, sizeof *recordings->name, by_name);
  }
  return good ? CW_OK : CW_ERR_NO_MEM;
}

static json_t *text_or_null(const char *text)
{
  return text ? json_string(text) : json_null();
}

/// A notebook of the folder. @param[out] named The recordings that notebooks name get a mark.
static json_t *describe(int folder, const char *name, const Names *recordings, bool *named)
{
  char *text = NULL;
  size_t size = 0;
  CwNotebook notebook = {0};
  if (desk_read_file(folder, name, &text, &size, NULL) != CW_OK || cw_notebook_parse(text, size, &notebook) != CW_OK) {
    free(text);
    return json_pack("{s:s, s:s}", "name", name, "notes", name);
  }
  free(text);
  const CwNoteHead *head = &notebook.head;
  const char *recording = NULL;
  for (size_t i = 0; i < recordings->n; i++) {
    if (head->recording && strcmp(recordings->name[i], head->recording) == 0) {
      recording = recordings->name[i];
      named[i] = true;
    }
  }
  json_t *row =
      json_pack("{s:s, s:s, s:o, s:o, s:o, s:o, s:I}", "name", name, "notes", name, "piece", text_or_null(head->piece),
                "dance", text_or_null(head->dance), "wants", text_or_null(head->recording), "recording",
                text_or_null(recording), "phrases", (json_int_t)notebook.n_phrases);
  cw_notebook_free(&notebook);
  return row;
}

static json_t *describe_all(int folder, const Names *notes, const Names *recordings)
{
  bool *named = cw_new(recordings->n + 1, sizeof *named);
  json_t *rows = json_array();
  for (size_t i = 0; i < notes->n && named; i++) {
    json_array_append_new(rows, describe(folder, notes->name[i], recordings, named));
  }
  json_t *all = json_array();
  for (size_t i = 0; i < recordings->n && named; i++) {
    json_array_append_new(all, json_string(recordings->name[i]));
    if (!named[i]) {
      json_array_append_new(
          rows, json_pack("{s:s, s:n, s:s}", "name", recordings->name[i], "notes", "recording", recordings->name[i]));
    }
  }
  free(named);
  return json_pack("{s:o, s:o}", "pieces", rows, "recordings", all);
}

void desk_get_shelf(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  (void)request;
  Names notes = {0};
  Names recordings = {0};
  const CwStatus status = list(desk->place.folder, &notes, &recordings);
  if (status == CW_OK) {
    desk_answer_json(response, 200, describe_all(desk->place.folder, &notes, &recordings));
  } else {
    desk_answer_status(response, NULL, status);
  }
  free_names(&notes);
  free_names(&recordings);
}
