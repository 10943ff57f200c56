// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/taps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/talk.h"
#include "cli/text.h"

enum { MOST_SAID = 10 };

/// Say each line that holds no time. @return CLI_GOOD when there are none.
static int say_faults(const char *path, const CwTaps *taps)
{
  for (size_t i = 0; i < taps->n_diagnostics && i < MOST_SAID; i++) {
    cli_say_place(path, taps->diagnostic[i].line, taps->diagnostic[i].column, "%s", taps->diagnostic[i].text);
  }
  if (taps->n_diagnostics > MOST_SAID) {
    cli_say(path, "%zu more lines hold no time", taps->n_diagnostics - MOST_SAID);
  }
  return taps->n_diagnostics > 0 ? CLI_FAILED : CLI_GOOD;
}

int cli_read_taps(const CliArgs *args, CwTaps *taps)
{
  const char *path = args->value[CLI_TAPS].text;
  *taps = (CwTaps){0};
  if (!path) {
    return CLI_GOOD;
  }
  char *text = NULL;
  size_t size = 0;
  CwStatus status = cli_read_text(path, &text, &size);
  if (status == CW_OK) {
    status = cw_taps_parse(text, size, taps);
  }
  free(text);
  int result = status == CW_OK ? say_faults(path, taps) : cli_say_status(path, status);
  if (result == CLI_GOOD && taps->n < CW_LEAST_TAPS) {
    cli_say(path, "too few taps to go by: at least %d are needed", CW_LEAST_TAPS);
    result = CLI_FAILED;
  }
  if (result != CLI_GOOD) {
    cw_taps_free(taps);
  }
  return result;
}

const char *cli_taps_problem(const CliArgs *args)
{
  const bool given = args->value[CLI_TAPS].given;
  if (!given && args->value[CLI_TAPS_ON].given) {
    return "'--taps-on' is nothing without '--taps'";
  }
  return given && args->value[CLI_TRACKER].given ? "'--taps' and '--tracker' exclude each other" : NULL;
}

CwTapsOn cli_taps_on(const CliArgs *args)
{
  const char *on = args->value[CLI_TAPS_ON].text;
  if (!on) {
    return CW_TAPS_ON_ANY;
  }
  if (strcmp(on, "beats") == 0) {
    return CW_TAPS_ON_BEATS;
  }
  return strcmp(on, "counts") == 0 ? CW_TAPS_ON_COUNTS : CW_TAPS_ON_ONES;
}

void cli_say_taps(const char *recording, const CwTapsFound *found)
{
  static const char *const on[] = {"beats", "beats", "counts", "ones"};
  const double delay_ms = round(1000.0 * found->delay_s);
  cli_say(recording, "the taps are on %s, %.0f ms %s, give or take %.0f ms; %zu missing, %zu on no place",
          on[found->on], fabs(delay_ms), delay_ms < 0 ? "early" : "late", 1000.0 * found->spread_s, found->n_missing,
          found->n_extra);
}
