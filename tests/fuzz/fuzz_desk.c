// SPDX-License-Identifier: GPL-3.0-or-later
/// Any request is answered by the desk's routes, without a socket, and nothing outside its folder is reached. An input
/// is a line with the method and path, a line for the query ("a=b&c=d"), a line for the Range field, then the content.
#include "fuzz/fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "desk/desk.h"
#include "desk/routes.h"

static CwDesk *desk;
static char folder[64];

static void promise(bool kept, const char *what)
{
  if (!kept) {
    fprintf(stderr, "broken promise: %s\n", what);
    abort();
  }
}

static void put_file(const char *name, const char *text)
{
  char path[128];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *file = fopen(path, "w");
  promise(file != NULL, "a file can be made");
  fputs(text, file);
  fclose(file);
}

static void set_up(void)
{
  CwMessages messages = {0};
  snprintf(folder, sizeof folder, "/tmp/countwright-fuzz-XXXXXX");
  promise(mkdtemp(folder) != NULL, "a folder can be made");
  put_file("a.txt", "recording: a.wav\n@ 0:01 8 1-4 walk 5 turn, DSL > C\nsame as 1\n4 bow\n");
  const CwDeskOptions options = {.folder = folder};
  promise(desk_begin(&options, &desk, &messages) == CW_OK, "a desk can be opened");
  promise(desk_guard_init(&desk->guard, 40000) == CW_OK, "there is randomness");
}

/// Cut a line off.
static char *line_of(char **rest)
{
  char *line = *rest;
  char *end = strchr(line, '\n');
  *rest = end ? end + 1 : line + strlen(line);
  if (end) {
    *end = '\0';
  }
  return line;
}

static void read_query(char *text, DeskRequest *request)
{
  for (char *pair = strtok(text, "&"); pair && request->n_query < DESK_MOST_QUERY; pair = strtok(NULL, "&")) {
    char *equals = strchr(pair, '=');
    if (equals) {
      *equals = '\0';
      request->query[request->n_query++] = (DeskPair){pair, equals + 1};
    }
  }
}

static void check(const DeskResponse *response)
{
  promise(response->status >= 200 && response->status < 600, "every request is answered");
  promise(response->type != NULL, "an answer has a type");
  for (size_t i = 0; i < response->n_fields; i++) {
    promise(!strpbrk(response->field[i].value, "\r\n"), "a field is one line");
  }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  if (!desk) {
    set_up();
  }
  char *text = malloc(size + 1);
  promise(text != NULL, "there is memory");
  memcpy(text, data, size);
  text[size] = '\0';
  char *rest = text;
  char *method = line_of(&rest);
  char *query = line_of(&rest);
  char *range = line_of(&rest);
  char *path = strchr(method, ' ');
  char cookie[160];
  snprintf(cookie, sizeof cookie, "%s=%s", desk->guard.cookie, desk->guard.pass);
  DeskRequest request = {.method = method,
                         .host = desk->guard.host,
                         .origin = desk->guard.origin,
                         .cookie = cookie,
                         .range = *range ? range : NULL,
                         .type = "application/json",
                         .body = rest,
                         .body_size = strlen(rest),
                         .body_fd = -1};
  if (path) {
    *path = '\0';
  }
  request.path = path ? path + 1 : "/";
  read_query(query, &request);
  DeskResponse response = {0};
  desk->guard.tokens = 10;
  const bool reads = strcmp(method, "GET") == 0 || strcmp(method, "HEAD") == 0;
  const DeskRoute *route = desk_admit(desk, &request, reads ? 0 : strlen(rest), &response);
  if (route) {
    route->answer(desk, &request, &response);
  }
  check(&response);
  desk_response_free(&response);
  free(text);
  return 0;
}
