// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/talk.h"
#include "eval/eval.h"

#define USUAL_TRIM_S 5.0
#define LATEST_TRIM_S 600.0

static const char help[] = "usage: countwright-eval beats TRUTH FOUND [option ...]\n"
                           "       countwright-eval ones TRUTH FOUND [option ...]\n"
                           "       countwright-eval reliability TRUTH COUNTS [TRUTH COUNTS ...]\n"
                           "                                    [option ...]\n"
                           "\n"
                           "Holds what was found in recordings against the truth. Each file is a list with\n"
                           "a time in seconds on a line; '-' is standard input. Empty lines and lines that\n"
                           "begin with '#' are passed over.\n"
                           "\n"
                           "  beats        scores of the beats and, where both lists mark them, of the\n"
                           "               downbeats: db or 1 after the time\n"
                           "  ones         the same scores of the ones of phrases, as 'countwright count\n"
                           "               --list ones' prints them\n"
                           "  reliability  whether phrases are right as often as their confidence says;\n"
                           "               COUNTS as 'countwright count --list counts' prints them. TRUTH\n"
                           "               is a list of beats: right is a phrase whose one is within 70 ms\n"
                           "               of a downbeat, and three in four of whose counts are as near\n"
                           "               to the beats on which they fall when each lasts as many\n"
                           "\n"
                           "The scores: F of what is within 70 ms; Cemgil's accuracy; P-score; CMLc, CMLt,\n"
                           "AMLc, AMLt (Davies, Degara and Plumbley 2009; equal to those of mir_eval);\n"
                           "tempo accuracy 1 and 2 (Gouyon et al. 2006; within 4 %, of the true tempo or\n"
                           "of 2, 3, 1/2, 1/3 of it); the mean offset of what is within 70 ms (late is\n"
                           "more than 0), and its mean and worst without sign.\n"
                           "\n"
                           "options:\n"
                           "      --trim S     leave out what comes before S seconds, in both lists (0 to\n"
                           "                   600; without it 5 for beats, as is usual, and 0 for ones)\n"
                           "      --ones       reliability: TRUTH is a list of ones; right is a phrase\n"
                           "                   whose one is within 70 ms of that of the same number\n"
                           "      --unpinned   reliability: leave out phrases with a confidence of 1\n"
                           "      --json       print JSON\n"
                           "      --tsv        print a head and a line, with tabs between (beats, ones)\n"
                           "  -h, --help       print this help\n"
                           "      --version    print the version\n"
                           "\n"
                           "Ends with 0 when all went well, 1 when something failed, 2 when called\n"
                           "wrongly.\n";

static const char *const command_name[EVAL_N_COMMANDS] = {"beats", "ones", "reliability"};

CW_PRINTF(1, 2) static bool refuse(const char *format, ...)
{
  fputs("countwright-eval: ", stderr);
  va_list list;
  va_start(list, format);
  vfprintf(stderr, format, list);
  va_end(list);
  fputs("\ncountwright-eval: see 'countwright-eval --help'\n", stderr);
  return false;
}

static bool take_command(const char *word, EvalRequest *request)
{
  for (EvalCommand command = 0; command < EVAL_N_COMMANDS; command++) {
    if (strcmp(word, command_name[command]) == 0) {
      request->command = command;
      request->trim_s = command == EVAL_BEATS ? USUAL_TRIM_S : 0;
      return true;
    }
  }
  return refuse("'%s': there is no such command", word);
}

static bool take_trim(const char *word, EvalRequest *request)
{
  char *end = NULL;
  request->trim_s = word ? strtod(word, &end) : -1;
  const bool good = word && *word && strspn(word, "0123456789.") == strlen(word) && *end == '\0';
  return (good && request->trim_s <= LATEST_TRIM_S) || refuse("'--trim' takes a number from 0 to %.0f", LATEST_TRIM_S);
}

/// Whether an option goes with the command.
static bool allow(const char *option, bool allowed, const EvalRequest *request)
{
  return allowed || refuse("'%s': '%s' has no such option", option, command_name[request->command]);
}

/// Take word `*at` of a command line, and the next if it is its value.
static bool take_word(char **words, int n, int *at, EvalRequest *request)
{
  char *word = words[*at];
  const bool phrases = request->command == EVAL_RELIABILITY;
  if (word[0] != '-' || word[1] == '\0') {
    request->file[request->n_files++] = word;
    return true;
  }
  if (strcmp(word, "--trim") == 0) {
    ++*at;
    return allow(word, !phrases, request) && take_trim(*at < n ? words[*at] : NULL, request);
  }
  if (strcmp(word, "--json") == 0) {
    request->form = EVAL_JSON;
    return true;
  }
  if (strcmp(word, "--tsv") == 0) {
    request->form = EVAL_TSV;
    return allow(word, !phrases, request);
  }
  if (strcmp(word, "--ones") == 0) {
    request->judge = CW_JUDGE_BY_NUMBER;
    return allow(word, phrases, request);
  }
  request->unpinned = strcmp(word, "--unpinned") == 0;
  return allow(word, phrases && request->unpinned, request);
}

static bool check_files(const EvalRequest *request)
{
  if (request->n_files < 2 || request->n_files % 2 != 0) {
    return refuse("'%s': a file is missing", command_name[request->command]);
  }
  return request->n_files == 2 || request->command == EVAL_RELIABILITY ||
         refuse("'%s': this is one too many for '%s'", request->file[2], command_name[request->command]);
}

/// Understand a command line. `words` without the program's name; files are gathered at its front.
static bool understand(char **words, int n, EvalRequest *request)
{
  *request = (EvalRequest){.file = words};
  if (n == 0) {
    return refuse("a command is missing");
  }
  bool good = take_command(words[0], request);
  for (int at = 1; good && at < n; at++) {
    good = take_word(words, n, &at, request);
  }
  return good && check_files(request);
}

static bool asks(int argc, char **argv, const char *word)
{
  for (int i = 1; i < argc; i++) {
    if (strcmp(argv[i], word) == 0) {
      return true;
    }
  }
  return false;
}

int main(int argc, char **argv)
{
  int result = CLI_GOOD;
  EvalRequest request;
  if (asks(argc, argv, "--help") || asks(argc, argv, "-h")) {
    fputs(help, stdout);
  } else if (asks(argc, argv, "--version")) {
    fputs("countwright-eval " CW_VERSION "\n", stdout);
  } else if (!understand(argv + 1, argc - 1, &request)) {
    result = CLI_USAGE;
  } else {
    result = eval_run(&request);
  }
  if ((ferror(stdout) || fclose(stdout) != 0) && result == CLI_GOOD) {
    fputs("countwright-eval: writing failed\n", stderr);
    result = CLI_FAILED;
  }
  return result;
}
