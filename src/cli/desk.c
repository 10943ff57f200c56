// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <sys/wait.h>
#include <time.h>

#include "cli/cli.h"
#include "cli/kept.h"
#include "cli/talk.h"

#ifndef CW_HAS_DESK

int cli_desk(const CliArgs *args)
{
  cli_say(args->operand[0], "this build has no desk: it needs libmicrohttpd");
  return CLI_FAILED;
}

#else

#include "countwright/desk.h"

extern char **environ;

/// Show the address in the user's browser, as far as there is one.
static void open_browser(const char *address)
{
  char program[] = "xdg-open";
  char own[160];
  snprintf(own, sizeof own, "%s", address);
  char *const words[] = {program, own, NULL};
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
  pid_t child;
  if (posix_spawnp(&child, program, &quiet, NULL, words, environ) != 0) {
    cli_say(NULL, "open the address in a browser");
  }
  posix_spawn_file_actions_destroy(&quiet);
}

static void wait_for_end(const CwDesk *desk)
{
  const struct timespec step = {.tv_nsec = 100 * 1000 * 1000};
  while (!cli_stopped_by() && !cw_desk_is_over(desk)) {
    nanosleep(&step, NULL);
    waitpid(-1, NULL, WNOHANG); // the browser's opener
  }
}

int cli_desk(const CliArgs *args)
{
  const char *folder = args->operand[0];
  CwCache *cache = cli_cache_open(args);
  const CwDeskOptions options = {.folder = folder, .port = (unsigned)args->value[CLI_PORT].number, .cache = cache};
  CwMessages messages = {0};
  CwDesk *desk = NULL;
  const CwStatus status = cw_desk_open(&options, &desk, &messages);
  int result = CLI_GOOD;
  if (status == CW_OK) {
    printf("%s\n", cw_desk_address(desk));
    fflush(stdout);
    if (!args->value[CLI_NO_BROWSER].given) {
      open_browser(cw_desk_address(desk));
    }
    cli_say(folder, "the desk is open; Ctrl-C ends it");
    wait_for_end(desk);
    cw_desk_close(desk);
  } else if (messages.n > 0) {
    cli_say_all(folder, &messages);
    result = CLI_FAILED;
  } else {
    result = cli_say_status(folder, status);
  }
  cw_messages_free(&messages);
  cw_cache_free(cache);
  return result;
}

#endif
