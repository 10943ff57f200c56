// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/talk.h"

#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static volatile sig_atomic_t stopped_by;

/// The one line on the terminal that comes and goes.
static struct {
  const char *subject;
  double begun_s;
  double drawn_s;
  bool terminal;
  bool colour;
  bool shown;
} talk;

static void stop(int number)
{
  stopped_by = number;
}

static double now_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void cli_talk_begin(void)
{
  static const int number[] = {SIGINT, SIGTERM, SIGHUP};
  // without SA_RESTART, so that waiting for input ends too; a second signal ends the program at once
  struct sigaction action = {.sa_handler = stop, .sa_flags = (int)SA_RESETHAND};
  sigemptyset(&action.sa_mask);
  for (size_t i = 0; i < sizeof number / sizeof number[0]; i++) {
    struct sigaction before;
    if (sigaction(number[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN) { // as nohup asks
      sigaction(number[i], &action, NULL);
    }
  }
  const char *kind = getenv("TERM");
  const char *no_colour = getenv("NO_COLOR");
  talk.terminal = isatty(STDERR_FILENO) && kind && strcmp(kind, "dumb") != 0;
  talk.colour = talk.terminal && !(no_colour && *no_colour);
  talk.begun_s = now_s();
}

int cli_stopped_by(void)
{
  return stopped_by;
}

void cli_hush(void)
{
  if (talk.shown) {
    fputs("\r\033[K", stderr);
    talk.shown = false;
  }
}

/// Write text, which may hold a file's name or bytes, so that it cannot steer the terminal.
static void write_tame(const char *text)
{
  for (; *text; text++) {
    const bool control = (unsigned char)*text < ' ' || *text == 0x7F;
    fputc(*text == '\t' ? ' ' : control ? '?' : *text, stderr);
  }
}

static void say(const char *subject, const char *text)
{
  cli_hush();
  fputs(talk.colour ? "\033[1mcountwright:\033[0m " : "countwright: ", stderr);
  if (subject) {
    fputc('\'', stderr);
    write_tame(subject);
    fputs("': ", stderr);
  }
  write_tame(text);
  fputc('\n', stderr);
}

void cli_say(const char *subject, const char *format, ...)
{
  char text[1024];
  va_list list;
  va_start(list, format);
  vsnprintf(text, sizeof text, format, list);
  va_end(list);
  say(subject, text);
}

void cli_say_place(const char *path, size_t line, size_t column, const char *format, ...)
{
  char text[1024];
  va_list list;
  va_start(list, format);
  vsnprintf(text, sizeof text, format, list);
  va_end(list);
  cli_hush();
  write_tame(path);
  fprintf(stderr, ":%zu:%zu: ", line, column);
  write_tame(text);
  fputc('\n', stderr);
}

int cli_say_status(const char *subject, CwStatus status)
{
  say(status == CW_ERR_CANCELLED ? NULL : subject, cw_strerror(status));
  return CLI_FAILED;
}

int cli_say_usage(const CliCommand *command, const char *problem)
{
  if (problem) {
    say(NULL, problem);
  }
  cli_say(NULL, "see 'countwright %s%s--help'", command ? command->name : "", command ? " " : "");
  return CLI_USAGE;
}

void cli_say_all(const char *subject, const CwMessages *messages)
{
  for (size_t i = 0; i < messages->n; i++) {
    say(subject, messages->text[i]);
  }
}

static void notice(void *user, const char *text)
{
  (void)user;
  say(talk.subject, text);
}

static bool progress(void *user, const char *stage, double fraction)
{
  (void)user;
  static const char bar[] = "##############################";
  enum { BAR = sizeof bar - 1 };
  const double now = now_s();
  if (talk.terminal && now - talk.begun_s > 1.0 && now - talk.drawn_s > 0.1) {
    talk.drawn_s = now;
    talk.shown = true;
    if (fraction < 0) {
      fprintf(stderr, "\r%-14s ...\033[K", stage);
    } else {
      const double part = fraction > 1 ? 1 : fraction;
      fprintf(stderr, "\r%-14s [%-*.*s] %3d %%\033[K", stage, BAR, (int)(part * BAR), bar, (int)(part * 100));
    }
    fflush(stderr);
  }
  return stopped_by == 0;
}

const CwReport *cli_report(const char *subject)
{
  static const CwReport report = {.progress = progress, .notice = notice};
  talk.subject = subject;
  return &report;
}
