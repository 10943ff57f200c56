// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/steps.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <jansson.h>

#include "base/memory.h"
#include "desk/names.h"
#include "desk/save.h"

/// When more is kept, the oldest steps are forgotten.
enum { MOST_STEPS = 2000, KEPT_STEPS = 1000 };

/// The folder that holds, for each notebook, NAME.steps (a line of JSON for each step or move) and NAME.last (the text
/// after the last of them).
static const char folder_name[] = "steps";

static const char *part_name(const char *name, const char *ending, char out[DESK_NAME + 16])
{
  snprintf(out, DESK_NAME + 16, "%s.%s", name, ending);
  return out;
}

static void drop(DeskSteps *steps, size_t from, size_t to)
{
  for (size_t i = from; i < to; i++) {
    free(steps->step[i].old);
    free(steps->step[i].new);
  }
  if (to > from) { // there may be no array at all
    memmove(steps->step + from, steps->step + to, (steps->n - to) * sizeof *steps->step);
    steps->n -= to - from;
  }
}

void desk_steps_free(DeskSteps *steps)
{
  drop(steps, 0, steps->n);
  free(steps->step);
  *steps = (DeskSteps){0};
}

/// Put a step behind those that are done, in place of those that could be done again.
static bool put(DeskSteps *steps, size_t at, DeskText old, DeskText new)
{
  DeskStep step = {at, cw_copy_text(old.text, old.size), cw_copy_text(new.text, new.size)};
  if (steps->n > steps->done) {
    drop(steps, steps->done, steps->n);
  }
  if (!step.old || !step.new || !cw_grow(&steps->step, &steps->room, steps->n, sizeof *steps->step)) {
    free(step.old);
    free(step.new);
    return false;
  }
  steps->step[steps->n++] = step;
  steps->done = steps->n;
  return true;
}

static json_t *to_json(const DeskSteps *steps, const DeskStep *step)
{
  return step ? json_pack("{s:I, s:I, s:s, s:s}", "done", (json_int_t)steps->done, "at", (json_int_t)step->at, "old",
                          step->old, "new", step->new)
              : json_pack("{s:I}", "done", (json_int_t)steps->done);
}

/// Write a step or a move behind the others, and the text that it leads to.
static void keep(const DeskPlace *place, const char *name, const DeskSteps *steps, const DeskStep *step, DeskText now)
{
  char part[DESK_NAME + 16];
  const int folder = desk_place_part(place, folder_name);
  json_t *json = to_json(steps, step);
  char *line = json ? json_dumps(json, JSON_COMPACT) : NULL;
  json_decref(json);
  const int fd = folder < 0 ? -1
                            : openat(folder, part_name(name, "steps", part),
                                     O_WRONLY | O_APPEND | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (fd >= 0 && line) {
    dprintf(fd, "%s\n", line);
    const CwStatus status = desk_save(folder, part_name(name, "last", part), now.text, now.size, -1);
    (void)status; // the steps are then forgotten after a restart
  }
  if (fd >= 0) {
    close(fd);
  }
  if (folder >= 0) {
    close(folder);
  }
  free(line);
}

CwStatus desk_steps_add(const DeskPlace *place, const char *name, DeskText old, DeskText new, DeskSteps *steps)
{
  const DeskDifference d = desk_difference(old, new);
  if (d.old_end == d.at && d.new_end == d.at) {
    return CW_OK;
  }
  const DeskText gone = {old.text + d.at, d.old_end - d.at};
  const DeskText came = {new.text + d.at, d.new_end - d.at};
  if (!put(steps, d.at, gone, came)) {
    return CW_ERR_NO_MEM;
  }
  keep(place, name, steps, &steps->step[steps->n - 1], new);
  return CW_OK;
}

CwStatus desk_steps_move(const DeskSteps *steps, bool forward, DeskText now, char **text, size_t *size)
{
  *text = NULL;
  if (forward ? steps->done >= steps->n : steps->done == 0) {
    return CW_ERR_NOT_FOUND;
  }
  const DeskStep *step = &steps->step[forward ? steps->done : steps->done - 1];
  const char *gone = forward ? step->old : step->new;
  const char *comes = forward ? step->new : step->old;
  const size_t length = strlen(gone);
  if (step->at + length > now.size || memcmp(now.text + step->at, gone, length) != 0) {
    return CW_ERR_NOT_FOUND; // the text is not what the step left
  }
  const DeskText by = {comes, strlen(comes)};
  *text = desk_replace(now, step->at, step->at + length, by, size);
  return *text ? CW_OK : CW_ERR_NO_MEM;
}

void desk_steps_moved(const DeskPlace *place, const char *name, bool forward, DeskText now, DeskSteps *steps)
{
  steps->done += forward ? 1 : (size_t)-1;
  keep(place, name, steps, NULL, now);
}

/// Do what a line of the file says. @return false when it is no such line: what follows was not written whole.
static bool replay(DeskSteps *steps, const char *line, size_t length)
{
  json_t *json = json_loadb(line, length, 0, NULL);
  const json_int_t done = json_integer_value(json_object_get(json, "done"));
  const json_int_t at = json_integer_value(json_object_get(json, "at"));
  const char *old = json_string_value(json_object_get(json, "old"));
  const char *new = json_string_value(json_object_get(json, "new"));
  bool good = json && done >= 0 && at >= 0;
  if (good && old && new &&done > 0 && (size_t)done <= steps->n + 1) {
    steps->done = (size_t)done - 1;
    const DeskText gone = {old, strlen(old)};
    const DeskText came = {new, strlen(new)};
    good = put(steps, (size_t)at, gone, came);
  } else {
    good = good && (size_t)done <= steps->n;
    steps->done = good ? (size_t)done : steps->done;
  }
  json_decref(json);
  return good;
}

/// Read the file of steps. @return Whether the text after them is the one that is kept as the last.
static bool read_steps(int folder, const char *name, DeskSteps *steps)
{
  char part[DESK_NAME + 16];
  char *text = NULL;
  size_t size = 0;
  if (desk_read_file(folder, part_name(name, "steps", part), &text, &size, NULL) != CW_OK) {
    return false;
  }
  bool good = true;
  for (size_t i = 0; i < size && good;) {
    const char *end = memchr(text + i, '\n', size - i);
    good = end && replay(steps, text + i, (size_t)(end - text) - i);
    i = end ? (size_t)(end - text) + 1 : size;
  }
  free(text);
  return good;
}

/// Begin anew with what is kept, so that the file does not grow without end.
static void rewrite(const DeskPlace *place, int folder, const char *name, DeskText now, DeskSteps *steps)
{
  char part[DESK_NAME + 16];
  if (steps->done > KEPT_STEPS) {
    const size_t forgotten = steps->done - KEPT_STEPS;
    drop(steps, 0, forgotten);
    steps->done -= forgotten;
  }
  unlinkat(folder, part_name(name, "steps", part), 0);
  const size_t done = steps->done;
  for (size_t i = 0; i < steps->n; i++) {
    steps->done = i + 1;
    keep(place, name, steps, &steps->step[i], now);
  }
  steps->done = done;
  keep(place, name, steps, NULL, now);
}

void desk_steps_load(const DeskPlace *place, const char *name, DeskText text, DeskSteps *steps)
{
  char part[DESK_NAME + 16];
  char *last = NULL;
  size_t size = 0;
  *steps = (DeskSteps){0};
  const int folder = desk_place_part(place, folder_name);
  if (folder < 0) {
    return;
  }
  const bool whole = read_steps(folder, name, steps);
  const bool has_last = desk_read_file(folder, part_name(name, "last", part), &last, &size, NULL) == CW_OK;
  const bool known = whole && has_last;
  if (!known || steps->n > MOST_STEPS) {
    if (!known) {
      desk_steps_free(steps);
    }
    rewrite(place, folder, name, text, steps);
  }
  const DeskText before = {last, size};
  if (known && (size != text.size || memcmp(last, text.text, size) != 0)) {
    const CwStatus status = desk_steps_add(place, name, before, text, steps);
    (void)status; // then that cannot be undone
  }
  free(last);
  close(folder);
}
