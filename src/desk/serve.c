// SPDX-License-Identifier: GPL-3.0-or-later
/// The desk's requests and responses over HTTP, by libmicrohttpd: a thread for each connection.
#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include <microhttpd.h>

#include "base/memory.h"
#include "desk/desk.h"
#include "desk/routes.h"
#include "desk/upload.h"

enum { MOST_CONNECTIONS = 64, IDLE_S = 60, HEAD_BYTES = 32 * 1024 };

/// A request as it comes in.
typedef struct {
  DeskRequest request;
  DeskResponse response;
  const DeskRoute *route; ///< NULL: it is answered already
  char *body;
  size_t room;
  uint64_t length; ///< as it said
  uint64_t came;
  DeskUpload upload;
  bool too_long;
  bool full; ///< no room on the disk, or no memory
} Talk;

/// What the browser is told with every response.
static const char *const always[][2] = {
    {"Content-Security-Policy",
     "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; "
     "connect-src 'self'; worker-src 'self' blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Permissions-Policy", "microphone=(self), camera=(), geolocation=()"},
};

static enum MHD_Result keep_query(void *user, enum MHD_ValueKind kind, const char *name, size_t name_size,
                                  const char *value, size_t value_size)
{
  (void)kind;
  DeskRequest *request = user;
  const bool whole = value && strlen(name) == name_size && strlen(value) == value_size; // "%00" ends a text early
  if (whole && request->n_query < DESK_MOST_QUERY) {
    request->query[request->n_query++] = (DeskPair){name, value};
  }
  return MHD_YES;
}

static const char *field(struct MHD_Connection *connection, const char *name)
{
  return MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
}

static void read_head(struct MHD_Connection *connection, const char *path, const char *method, Talk *talk)
{
  talk->request = (DeskRequest){.method = method,
                                .path = path,
                                .host = field(connection, "Host"),
                                .origin = field(connection, "Origin"),
                                .fetch_site = field(connection, "Sec-Fetch-Site"),
                                .cookie = field(connection, "Cookie"),
                                .range = field(connection, "Range"),
                                .known = field(connection, "If-None-Match"),
                                .type = field(connection, "Content-Type"),
                                .body_fd = -1};
  MHD_get_connection_values_n(connection, MHD_GET_ARGUMENT_KIND, keep_query, &talk->request);
  const char *length = field(connection, "Content-Length");
  const bool reads = strcmp(method, "GET") == 0 || strcmp(method, "HEAD") == 0;
  talk->length = length                                             ? strtoull(length, NULL, 10)
                 : field(connection, "Transfer-Encoding") || !reads ? UINT64_MAX
                                                                    : 0;
}

/// Make what the browser gets. @return NULL when memory runs out; the file is then closed.
static struct MHD_Response *make(CwDesk *desk, DeskResponse *response);

static ssize_t send_events(void *user, uint64_t at, char *out, size_t size)
{
  (void)at;
  const size_t n = desk_listener_read(user, out, size);
  return n ? (ssize_t)n : MHD_CONTENT_READER_END_OF_STREAM;
}

static void end_events(void *user)
{
  desk_listener_free(user);
}

static struct MHD_Response *make_events(CwDesk *desk, DeskResponse *response)
{
  DeskListener *listener = desk_listen(&desk->events);
  if (!listener) {
    desk_answer_problem(response, 503, "too many tabs listen");
    return make(desk, response);
  }
  struct MHD_Response *made =
      MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, 1024, send_events, listener, end_events);
  if (!made) {
    desk_listener_free(listener);
  }
  return made;
}

static struct MHD_Response *make(CwDesk *desk, DeskResponse *response)
{
  struct MHD_Response *made = NULL;
  switch (response->form) {
  case DESK_TEXT:
    made = MHD_create_response_from_buffer(response->size, response->body, MHD_RESPMEM_MUST_FREE);
    break;
  case DESK_FIXED:
    made = MHD_create_response_from_buffer(response->size, response->body, MHD_RESPMEM_PERSISTENT);
    break;
  case DESK_FILE:
    made = MHD_create_response_from_fd_at_offset64(response->size, response->fd, response->offset);
    break;
  case DESK_EVENTS:
    return make_events(desk, response);
  }
  if (made) {
    response->form = DESK_FIXED; // the content is the browser's now
  }
  return made;
}

static enum MHD_Result answer(CwDesk *desk, struct MHD_Connection *connection, DeskResponse *response)
{
  struct MHD_Response *made = make(desk, response);
  if (!made) {
    return MHD_NO;
  }
  MHD_add_response_header(made, "Content-Type", response->type);
  bool cached = false;
  for (size_t i = 0; i < response->n_fields; i++) {
    MHD_add_response_header(made, response->field[i].name, response->field[i].value);
    cached = cached || strcmp(response->field[i].name, "ETag") == 0;
  }
  MHD_add_response_header(made, "Cache-Control", cached ? "no-cache" : "no-store");
  for (size_t i = 0; i < sizeof always / sizeof always[0]; i++) {
    MHD_add_response_header(made, always[i][0], always[i][1]);
  }
  const enum MHD_Result result = MHD_queue_response(connection, response->status, made);
  MHD_destroy_response(made);
  return result;
}

/// Take a piece of the content.
static void take(Talk *talk, const char *data, size_t n)
{
  talk->came += n;
  if (talk->came > talk->route->most_bytes) {
    talk->too_long = true;
  } else if (talk->route->body == DESK_FILE_BODY) {
    talk->full = talk->full || !desk_upload_take(&talk->upload, data, n);
  } else if (!talk->full) {
    char *body = talk->came + 1 <= talk->room ? talk->body : cw_resize(talk->body, talk->came + 65536, 1);
    talk->full = !body;
    if (body) {
      talk->room = body == talk->body ? talk->room : (size_t)talk->came + 65536;
      talk->body = body;
      memcpy(body + talk->came - n, data, n);
      body[talk->came] = '\0';
    }
  }
}

/// All of it is there.
static enum MHD_Result finish(CwDesk *desk, struct MHD_Connection *connection, Talk *talk)
{
  talk->request.body = talk->body;
  talk->request.body_size = talk->body ? (size_t)talk->came : 0;
  if (talk->too_long) {
    desk_answer_problem(&talk->response, 413, "too long");
  } else if (talk->full) {
    desk_answer_problem(&talk->response, 507, "the disk is full");
  } else {
    talk->request.body_fd = talk->route->body == DESK_FILE_BODY ? talk->upload.fd : -1;
    talk->route->answer(desk, &talk->request, &talk->response);
  }
  return answer(desk, connection, &talk->response);
}

static enum MHD_Result begin(CwDesk *desk, struct MHD_Connection *connection, const char *path, const char *method,
                             void **kept)
{
  Talk *talk = cw_new(1, sizeof *talk);
  if (!talk) {
    return MHD_NO;
  }
  *kept = talk;
  talk->upload.fd = -1;
  read_head(connection, path, method, talk);
  talk->route = desk_admit(desk, &talk->request, talk->length, &talk->response);
  if (!talk->route) {
    return answer(desk, connection, &talk->response); // before any content is taken
  }
  if (talk->route->body == DESK_FILE_BODY) {
    talk->full = !desk_upload_begin(&desk->place, &talk->upload);
  }
  return MHD_YES;
}

static enum MHD_Result handle(void *user, struct MHD_Connection *connection, const char *path, const char *method,
                              const char *version, const char *data, size_t *size, void **kept)
{
  (void)version;
  CwDesk *desk = user;
  if (!*kept) {
    return begin(desk, connection, path, method, kept);
  }
  Talk *talk = *kept;
  if (*size > 0) {
    if (talk->route) {
      take(talk, data, *size);
    }
    *size = 0;
    return MHD_YES;
  }
  return talk->route ? finish(desk, connection, talk) : MHD_YES;
}

static void completed(void *user, struct MHD_Connection *connection, void **kept, enum MHD_RequestTerminationCode why)
{
  (void)user;
  (void)connection;
  (void)why;
  Talk *talk = *kept;
  if (talk) {
    desk_response_free(&talk->response);
    desk_upload_end(&talk->upload);
    free(talk->body);
    free(talk);
    *kept = NULL;
  }
}

/// Take a port of this machine that no other machine can reach. @param[in,out] port 0: any. @return -1 when there is none.
static int take_port(unsigned *port)
{
  struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)*port)};
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  const int fd = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  const int on = 1;
  if (fd < 0 || setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on) != 0 ||
      bind(fd, (const struct sockaddr *)&address, size) != 0 || listen(fd, MOST_CONNECTIONS) != 0 ||
      getsockname(fd, (struct sockaddr *)&address, &size) != 0) {
    if (fd >= 0) {
      close(fd);
    }
    return -1;
  }
  *port = ntohs(address.sin_port);
  return fd;
}

static void be_silent(void *user, const char *format, va_list list)
{
  (void)user;
  (void)format;
  (void)list;
}

CwStatus desk_serve(CwDesk *desk, unsigned port)
{
  const int fd = take_port(&port);
  if (fd < 0) {
    return CW_ERR_NO_ACCESS;
  }
  const CwStatus status = desk_guard_init(&desk->guard, port);
  if (status == CW_OK) {
    desk->daemon = MHD_start_daemon(
        MHD_USE_THREAD_PER_CONNECTION | MHD_USE_INTERNAL_POLLING_THREAD | MHD_USE_POLL | MHD_USE_ERROR_LOG, 0, NULL,
        NULL, handle, desk, MHD_OPTION_EXTERNAL_LOGGER, be_silent, NULL, MHD_OPTION_LISTEN_SOCKET, fd,
        MHD_OPTION_CONNECTION_LIMIT, (unsigned)MOST_CONNECTIONS, MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_S,
        MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)HEAD_BYTES, MHD_OPTION_STRICT_FOR_CLIENT, 1,
        MHD_OPTION_NOTIFY_COMPLETED, completed, NULL, MHD_OPTION_END);
  }
  if (!desk->daemon) {
    close(fd);
    return status == CW_OK ? CW_ERR_NO_MEM : status;
  }
  snprintf(desk->address, sizeof desk->address, "%s/?key=%s", desk->guard.origin, desk->guard.secret);
  char short_address[64];
  snprintf(short_address, sizeof short_address, "%s/\n", desk->guard.origin);
  desk_place_tell(&desk->place, short_address);
  return CW_OK;
}

void desk_unserve(CwDesk *desk)
{
  if (desk->daemon) {
    MHD_stop_daemon(desk->daemon);
  }
  desk->daemon = NULL;
}
