// SPDX-License-Identifier: GPL-3.0-or-later
/// Sound to practise with, made on the thread that listens and kept in a folder of its own beside the pieces.
#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/practice.h"
#include "countwright/sheet.h"
#include "desk/answer.h"
#include "desk/desk.h"
#include "desk/routes.h"

/// In the folder of the pieces.
static const char folder_name[] = "practice";

/// What is being made.
typedef struct {
  CwDesk *desk;
  char name[DESK_NAME];
  char recording[DESK_NAME];
  char file[DESK_NAME];
  CwSheet sheet;
  CwCountLine line;
  CwPassage passage;
  double speed;
  CwPracticeOptions options;
  double told;
} Making;

static void release(Making *m)
{
  cw_sheet_free(&m->sheet);
  cw_count_line_free(&m->line);
  free(m);
}

/// Open the folder. @return Its descriptor, to be closed; -1 when there is none.
static int open_folder(const CwDesk *desk)
{
  if (mkdirat(desk->place.folder, folder_name, 0755) != 0 && errno != EEXIST) {
    return -1;
  }
  return openat(desk->place.folder, folder_name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
}

static bool progress(void *user, const char *stage, double fraction)
{
  Making *m = user;
  if (fabs(fraction - m->told) > 0.02) {
    m->told = fraction;
    desk_events_tell(&m->desk->events, json_pack("{s:s, s:s, s:s, s:f}", "what", "making", "name", m->name, "stage",
                                                 stage, "part", fraction));
  }
  return !desk_work_is_over(&m->desk->work);
}

static CwStatus write_sound(Making *m, const CwReport *report, CwMessages *messages)
{
  CwPractice *practice = NULL;
  char recording[40];
  char path[DESK_NAME + 40];
  const int folder = open_folder(m->desk);
  const int fd = desk_open_file(m->desk->place.folder, m->recording, NULL);
  CwStatus status = folder >= 0 && fd >= 0 ? CW_OK : CW_ERR_NO_ACCESS;
  snprintf(recording, sizeof recording, "/proc/self/fd/%d", fd);
  snprintf(path, sizeof path, "/proc/self/fd/%d/%s", folder, m->file);
  if (status == CW_OK) {
    status = cw_practice_plan(&m->sheet, &m->line, NULL, &m->options, &practice, messages);
  }
  if (status == CW_OK) {
    status = cw_practice_write(practice, recording, path, true, report, NULL);
  }
  cw_practice_free(practice);
  if (folder >= 0) {
    close(folder);
  }
  if (fd >= 0) {
    close(fd);
  }
  return status;
}

static void run(void *user)
{
  Making *m = user;
  const CwReport report = {.progress = progress, .user = m};
  CwMessages messages = {0};
  const CwStatus status = write_sound(m, &report, &messages);
  json_t *event = json_pack("{s:s, s:s, s:s}", "what", "practised", "name", m->name, "file", m->file);
  if (status != CW_OK) {
    json_object_set_new(event, "problem", json_string(messages.n > 0 ? messages.text[0] : cw_strerror(status)));
  }
  desk_events_tell(&m->desk->events, event);
  cw_messages_free(&messages);
  release(m);
}

/// A number within bounds. @param otherwise Where none is given.
static double number_of(const json_t *body, const char *key, double least, double most, double otherwise)
{
  const double x = desk_number_of(body, key);
  return isnan(x) ? otherwise : fmin(fmax(x, least), most);
}

/// What is asked for. @return false when the piece has no such phrases.
static bool take_options(const json_t *body, size_t n_rows, Making *m)
{
  const char *counts = desk_text_of(body, "counts");
  cw_practice_defaults(&m->options);
  m->options.spoken = !counts || strcmp(counts, "clicks") != 0;
  m->options.clicked = !m->options.spoken;
  m->options.count_in = (int)number_of(body, "countIn", 0, 16, -1);
  m->speed = number_of(body, "speed", CW_SLOWEST, CW_FASTEST, 1.0);
  m->options.speed = &m->speed;
  m->options.n_speeds = 1;
  const size_t from = desk_index_of(body, "from");
  const size_t to = desk_index_of(body, "to");
  if (from == CW_NONE && to == CW_NONE) {
    return n_rows > 0;
  }
  m->passage = (CwPassage){from - 1, to - 1};
  m->options.passage = &m->passage;
  m->options.n_passages = 1;
  return from >= 1 && from <= to && to <= n_rows;
}

/// "ferrymen 3-5 80 %.mp3"
static bool name_file(Making *m)
{
  const char *ending = strrchr(m->name, '.');
  char span[48] = "";
  if (m->options.n_passages > 0) {
    snprintf(span, sizeof span, " %zu-%zu", m->passage.first + 1, m->passage.last + 1);
  }
  const int n = snprintf(m->file, sizeof m->file, "%.*s%s %d%%.mp3", (int)(ending - m->name), m->name, span,
                         (int)lround(100 * m->speed));
  return n < (int)sizeof m->file;
}

static bool begin(CwDesk *desk, const json_t *body, Making *m, DeskResponse *response)
{
  const DeskPiece *piece = desk_piece_asked(desk, desk_text_of(body, "name"), response);
  if (!piece) {
    return false;
  }
  const CwNotebook *notebook = piece->text ? &piece->notebook : NULL;
  m->desk = desk;
  snprintf(m->name, sizeof m->name, "%s", piece->name);
  snprintf(m->recording, sizeof m->recording, "%s", piece->recording);
  if (piece->state != DESK_READY || cw_count_line_copy(&piece->line, &m->line) != CW_OK ||
      cw_sheet_build(notebook, &m->line, notebook ? NULL : piece->recording, NULL, &m->sheet) != CW_OK) {
    desk_answer_problem(response, 409, "the music is not counted yet");
    return false;
  }
  if (!take_options(body, m->sheet.n_rows, m) || !name_file(m)) {
    desk_answer_problem(response, 422, "there are phrases 1 to %zu", m->sheet.n_rows);
    return false;
  }
  if (!desk_work_add(&desk->work, (DeskTask){run, m})) {
    desk_answer_problem(response, 503, "too much is asked at once");
    return false;
  }
  desk_answer_json(response, 202, json_pack("{s:s}", "file", m->file));
  return true;
}

void desk_post_practice(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  json_t *body = desk_body(request, response);
  if (!body) {
    return;
  }
  Making *m = cw_new(1, sizeof *m);
  pthread_mutex_lock(&desk->lock);
  if (!m) {
    desk_answer_status(response, NULL, CW_ERR_NO_MEM);
  } else if (!begin(desk, body, m, response)) {
    release(m);
  }
  pthread_mutex_unlock(&desk->lock);
  json_decref(body);
}

void desk_get_practice(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *name = desk_query(request, "name");
  struct stat facts;
  const int folder = openat(desk->place.folder, folder_name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  const int fd = folder >= 0 && desk_is_name(name) && desk_kind_of(name) == DESK_RECORDING
                     ? desk_open_file(folder, name, &facts)
                     : -1;
  if (folder >= 0) {
    close(folder);
  }
  if (fd < 0) {
    desk_answer_problem(response, 404, "there is no such practice audio");
    return;
  }
  desk_send_file(fd, &facts, name, request, response);
}
