// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/guard.h"

#include <stdio.h>
#include <string.h>
#include <sys/random.h>
#include <time.h>

/// Requests a second, and at once: far more than a page with its sounds needs.
static const double rate_hz = 200;
static const double most_at_once = 600;

/// Strangers are told to wait after so many in so many seconds.
enum { MOST_WRONG = 20 };
static const double wrong_wait_s = 60;

static char stranger[] =
    "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">"
    "<title>Countwright</title><h1>This desk is not open for this browser</h1>"
    "<p>The address that countwright printed lets one browser in, once. To open the desk in this browser, stop "
    "countwright and start it again.</p></html>";

static double now_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static bool draw(char secret[DESK_SECRET])
{
  unsigned char bytes[(DESK_SECRET - 1) / 2];
  if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes) {
    return false;
  }
  for (size_t i = 0; i < sizeof bytes; i++) {
    snprintf(secret + 2 * i, 3, "%02x", bytes[i]);
  }
  return true;
}

CwStatus desk_guard_init(DeskGuard *guard, unsigned port)
{
  *guard = (DeskGuard){.tokens = most_at_once, .filled_s = now_s()};
  pthread_mutex_init(&guard->lock, NULL);
  snprintf(guard->cookie, sizeof guard->cookie, "desk-%u", port);
  snprintf(guard->host, sizeof guard->host, "127.0.0.1:%u", port);
  snprintf(guard->origin, sizeof guard->origin, "http://127.0.0.1:%u", port);
  return draw(guard->secret) && draw(guard->pass) ? CW_OK : CW_ERR_READ;
}

/// Whether two texts are the same, in a time that does not tell where they differ.
static bool is_same(const char *secret, const char *text, size_t length)
{
  unsigned char differ = length != strlen(secret);
  for (size_t i = 0; secret[i]; i++) {
    differ |= (unsigned char)(secret[i] ^ (i < length ? text[i] : '\0'));
  }
  return !differ;
}

/// Take one of the requests that may come now.
static bool take_token(DeskGuard *guard)
{
  pthread_mutex_lock(&guard->lock);
  const double now = now_s();
  guard->tokens += rate_hz * (now - guard->filled_s);
  guard->tokens = guard->tokens > most_at_once ? most_at_once : guard->tokens;
  guard->filled_s = now;
  const bool good = guard->tokens >= 1;
  guard->tokens -= good ? 1 : 0;
  pthread_mutex_unlock(&guard->lock);
  return good;
}

static bool only_reads(const DeskRequest *request)
{
  return strcmp(request->method, "GET") == 0 || strcmp(request->method, "HEAD") == 0;
}

bool desk_guard_place(DeskGuard *guard, const DeskRequest *request, DeskResponse *response)
{
  if (!request->host || strcmp(request->host, guard->host) != 0) {
    desk_answer_problem(response, 421, "this is the desk of http://%s only", guard->host);
    return false;
  }
  const char *site = request->fetch_site;
  const bool asked = site && strcmp(site, "none") == 0 && only_reads(request); // typed, or opened by a program
  const bool own_site = !site || strcmp(site, "same-origin") == 0 || asked;
  const bool own_origin = request->origin ? strcmp(request->origin, guard->origin) == 0 : only_reads(request);
  if (!own_site || !own_origin) {
    desk_answer_problem(response, 403, "only the desk's own page may ask");
    return false;
  }
  if (!take_token(guard)) {
    desk_answer_problem(response, 429, "too many requests at once");
    desk_field(response, "Retry-After", "1");
    return false;
  }
  return true;
}

/// Look for the pass among the cookies: "a=1; desk-40000=PASS".
static bool has_pass(const DeskGuard *guard, const char *cookies)
{
  const size_t name = strlen(guard->cookie);
  while (cookies && *cookies) {
    cookies += strspn(cookies, "; ");
    const size_t length = strcspn(cookies, ";");
    if (length > name && strncmp(cookies, guard->cookie, name) == 0 && cookies[name] == '=' &&
        is_same(guard->pass, cookies + name + 1, length - name - 1)) {
      return true;
    }
    cookies += length;
  }
  return false;
}

/// Whether the key is the secret, and it is used for the first time.
static bool use_secret(DeskGuard *guard, const char *key)
{
  pthread_mutex_lock(&guard->lock);
  const bool good = is_same(guard->secret, key, strlen(key)) && !guard->used;
  guard->used = guard->used || good;
  pthread_mutex_unlock(&guard->lock);
  return good;
}

/// Count a stranger. @return Whether there were too many.
static bool are_too_many(DeskGuard *guard)
{
  pthread_mutex_lock(&guard->lock);
  const double now = now_s();
  if (guard->wrong == 0 || now - guard->wrong_s > wrong_wait_s) {
    guard->wrong = 0;
    guard->wrong_s = now;
  }
  const bool many = guard->wrong >= MOST_WRONG;
  guard->wrong += many ? 0 : 1;
  pthread_mutex_unlock(&guard->lock);
  return many;
}

/// To the page without the secret in its address.
static void send_in(DeskResponse *response)
{
  desk_answer_json(response, 303, json_object());
  desk_field(response, "Location", "/");
}

bool desk_guard_person(DeskGuard *guard, const DeskRequest *request, DeskResponse *response)
{
  const char *key = strcmp(request->path, "/") == 0 ? desk_query(request, "key") : NULL;
  if (has_pass(guard, request->cookie)) {
    if (key) {
      send_in(response);
    }
    return !key;
  }
  if (key && use_secret(guard, key)) {
    char value[200];
    snprintf(value, sizeof value, "%s=%s; Path=/; Max-Age=2592000; HttpOnly; SameSite=Strict", guard->cookie,
             guard->pass);
    send_in(response);
    desk_field(response, "Set-Cookie", value);
    return false;
  }
  if (are_too_many(guard)) {
    desk_answer_problem(response, 429, "too many strangers; wait a minute");
    desk_field(response, "Retry-After", "60");
    return false;
  }
  desk_response_free(response);
  *response = (DeskResponse){.form = DESK_FIXED,
                             .status = 401,
                             .type = "text/html; charset=utf-8",
                             .body = stranger,
                             .size = sizeof stranger - 1};
  return false;
}
