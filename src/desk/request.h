// SPDX-License-Identifier: GPL-3.0-or-later
/// What is asked of the desk and what it answers, free of any socket.
#ifndef CW_DESK_REQUEST_H
#define CW_DESK_REQUEST_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <jansson.h>

#include "countwright/report.h"
#include "countwright/status.h"

/// A name and its value.
typedef struct {
  const char *name;
  const char *value;
} DeskPair;

enum { DESK_MOST_QUERY = 16, DESK_MOST_FIELDS = 6 };

/// A request. Strings belong to whoever made it; those that were not sent are NULL.
typedef struct {
  const char *method;
  const char *path;
  DeskPair query[DESK_MOST_QUERY];
  size_t n_query;
  const char *host;
  const char *origin;
  const char *fetch_site;
  const char *cookie;
  const char *range;
  const char *known; ///< If-None-Match
  const char *type;  ///< of the content
  const char *body;  ///< NUL-terminated
  size_t body_size;
  int body_fd; ///< where the route wants a file: the content, read from its start; else -1
} DeskRequest;

/// What a response is made of.
typedef enum {
  DESK_TEXT,  ///< `body`, released with free()
  DESK_FIXED, ///< `body`, never released
  DESK_FILE,  ///< `size` bytes of `fd` from `offset` on; `fd` is closed
  DESK_EVENTS ///< events, without end
} DeskForm;

/// A response. Zero it, then fill it by the functions below; release with desk_response_free().
typedef struct {
  DeskForm form;
  unsigned status;
  const char *type;
  char *body;
  size_t size;
  int fd;
  uint64_t offset;
  struct {
    const char *name;
    char value[200];
  } field[DESK_MOST_FIELDS];
  size_t n_fields;
} DeskResponse;

/// The value of a name in the query; NULL when it is not there.
const char *desk_query(const DeskRequest *request, const char *name);

/// A whole number of the query. @return false when it is not there, or is none of `least` to `most`.
bool desk_query_number(const DeskRequest *request, const char *name, uint64_t least, uint64_t most, uint64_t *number);

/// The content as a JSON object, when it is one. @return Release with json_decref(); NULL when not (then answered).
json_t *desk_body(const DeskRequest *request, DeskResponse *response);

/// A member that is text. @return NULL when it is not there or no text.
const char *desk_text_of(const json_t *object, const char *key);

/// A member that is a number. @return NaN when it is not there or no number.
double desk_number_of(const json_t *object, const char *key);

/// A member that is a whole number from 0 up. @return CW_NONE when it is not.
size_t desk_index_of(const json_t *object, const char *key);

/// Put a field in front of the content.
void desk_field(DeskResponse *response, const char *name, const char *value);

/// Answer with JSON. @param json Taken over; NULL: memory ran out.
void desk_answer_json(DeskResponse *response, unsigned status, json_t *json);

/// Answer with {"problem": text}, as by printf.
CW_PRINTF(3, 4) void desk_answer_problem(DeskResponse *response, unsigned status, const char *format, ...);

/// Answer with what a call came to. @param subject May be NULL.
void desk_answer_status(DeskResponse *response, const char *subject, CwStatus status);

/// Answer with content that is taken over. @param type As "text/plain". NULL `body`: memory ran out.
void desk_answer_text(DeskResponse *response, const char *type, char *body, size_t size);

/// Release, and close the file. Safe on a zeroed response.
void desk_response_free(DeskResponse *response);

#endif
