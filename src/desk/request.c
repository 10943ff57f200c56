// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/request.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "countwright/notebook.h"

static const char type_of_json[] = "application/json";

/// What is answered when there is no memory for an answer.
static char no_memory[] = "{\"problem\":\"memory ran out\"}";

const char *desk_query(const DeskRequest *request, const char *name)
{
  for (size_t i = 0; i < request->n_query; i++) {
    if (strcmp(request->query[i].name, name) == 0) {
      return request->query[i].value;
    }
  }
  return NULL;
}

bool desk_query_number(const DeskRequest *request, const char *name, uint64_t least, uint64_t most, uint64_t *number)
{
  const char *text = desk_query(request, name);
  if (!text || !*text || strlen(text) > 18 || text[strspn(text, "0123456789")] != '\0') {
    return false;
  }
  *number = strtoull(text, NULL, 10);
  return *number >= least && *number <= most;
}

json_t *desk_body(const DeskRequest *request, DeskResponse *response)
{
  json_t *json = request->body ? json_loadb(request->body, request->body_size, JSON_REJECT_DUPLICATES, NULL) : NULL;
  if (json && json_is_object(json)) {
    return json;
  }
  json_decref(json);
  desk_answer_problem(response, 400, "expected a JSON object");
  return NULL;
}

const char *desk_text_of(const json_t *object, const char *key)
{
  return json_string_value(json_object_get(object, key));
}

double desk_number_of(const json_t *object, const char *key)
{
  const json_t *value = json_object_get(object, key);
  return json_is_number(value) ? json_number_value(value) : (double)NAN;
}

size_t desk_index_of(const json_t *object, const char *key)
{
  const json_t *value = json_object_get(object, key);
  return json_is_integer(value) && json_integer_value(value) >= 0 ? (size_t)json_integer_value(value) : CW_NONE;
}

void desk_field(DeskResponse *response, const char *name, const char *value)
{
  if (response->n_fields < DESK_MOST_FIELDS) {
    response->field[response->n_fields].name = name;
    snprintf(response->field[response->n_fields].value, sizeof response->field[0].value, "%s", value);
    response->n_fields++;
  }
}

static void fill(DeskResponse *response, unsigned status, DeskForm form, const char *type, char *body, size_t size)
{
  desk_response_free(response);
  response->form = form;
  response->status = status;
  response->type = type;
  response->body = body;
  response->size = size;
}

void desk_answer_text(DeskResponse *response, const char *type, char *body, size_t size)
{
  if (body) {
    fill(response, 200, DESK_TEXT, type, body, size);
  } else {
    fill(response, 500, DESK_FIXED, type_of_json, no_memory, sizeof no_memory - 1);
  }
}

void desk_answer_json(DeskResponse *response, unsigned status, json_t *json)
{
  char *text = json ? json_dumps(json, JSON_COMPACT | JSON_REAL_PRECISION(9)) : NULL;
  json_decref(json);
  desk_answer_text(response, type_of_json, text, text ? strlen(text) : 0);
  response->status = text ? status : 500;
}

void desk_answer_problem(DeskResponse *response, unsigned status, const char *format, ...)
{
  char text[512];
  va_list list;
  va_start(list, format);
  vsnprintf(text, sizeof text, format, list);
  va_end(list);
  json_t *json = json_pack("{s:s}", "problem", text);
  desk_answer_json(response, status, json ? json : json_pack("{s:s}", "problem", "it did not work"));
}

/// How HTTP calls it.
static unsigned code_of(CwStatus status)
{
  switch (status) {
  case CW_ERR_NOT_FOUND:
    return 404;
  case CW_ERR_NO_ACCESS:
    return 403;
  case CW_ERR_EXISTS:
    return 409;
  case CW_ERR_TOO_LONG:
    return 413;
  case CW_ERR_WRITE:
    return 507;
  case CW_ERR_NO_MEM:
    return 500;
  case CW_ERR_CANCELLED:
    return 503;
  default:
    return 422;
  }
}

void desk_answer_status(DeskResponse *response, const char *subject, CwStatus status)
{
  const char *what = status == CW_ERR_WRITE && errno == ENOSPC ? "the disk is full" : cw_strerror(status);
  if (subject) {
    desk_answer_problem(response, code_of(status), "'%s': %s", subject, what);
  } else {
    desk_answer_problem(response, code_of(status), "%s", what);
  }
}

void desk_response_free(DeskResponse *response)
{
  if (response->form == DESK_TEXT) {
    free(response->body);
  }
  if (response->form == DESK_FILE) {
    close(response->fd);
  }
  memset(response, 0, sizeof *response);
}
