// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/rehearse_options.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/passage.h"
#include "cli/talk.h"
#include "countwright/audio_write.h"

size_t cli_speeds(const char *text, double speed[CLI_MOST_SPEEDS])
{
  size_t n = 0;
  for (const char *at = text; n < CLI_MOST_SPEEDS; at++) {
    char *end = NULL;
    const unsigned long percent = at[0] >= '0' && at[0] <= '9' ? strtoul(at, &end, 10) : 0;
    if (percent < 50 || percent > 120) {
      return 0;
    }
    speed[n++] = (double)percent / 100;
    end += *end == '%';
    if (*end != ',') {
      return *end == '\0' ? n : 0;
    }
    at = end;
  }
  return 0;
}

const char *cli_rehearse_problem(const CliArgs *args)
{
  const CliValue *value = args->value;
  double speed[CLI_MOST_SPEEDS];
  CwSoundForm form;
  const int passages = value[CLI_PHRASES].given + value[CLI_SECTION].given + value[CLI_DANCER].given;
  if (args->n_outputs != 1) {
    return args->n_outputs == 0 ? "'--output' is missing: the file to write" : "only one '--output' is written";
  }
  if (!cw_sound_form(args->output[0], &form)) {
    return "'--output': the ending says the form, such as '.mp3'";
  }
  if (value[CLI_SPEED].given && cli_speeds(value[CLI_SPEED].text, speed) == 0) {
    return "'--speed' takes whole percents from 50 to 120, such as 80 or 70,80,90,100";
  }
  if (value[CLI_EVEN].given && value[CLI_LIKE].given) {
    return "'--even' and '--like' exclude each other";
  }
  if (passages > 1) {
    return "'--phrases', '--section' and '--role' exclude each other";
  }
  return value[CLI_ONLY_ENTRANCES].given && !value[CLI_DANCER].given ? "'--entrances' needs '--role'" : NULL;
}

static bool is(const CliValue *value, const char *word)
{
  return value->given && strcmp(value->text, word) == 0;
}

void cli_rehearse_options(const CliArgs *args, const CwSheet *sheet, double speed[CLI_MOST_SPEEDS],
                          CwPracticeOptions *options)
{
  const CliValue *value = args->value;
  const CliValue *counts = &value[CLI_COUNTS];
  const CliValue *announce = &value[CLI_ANNOUNCE];
  cw_practice_defaults(options);
  options->spoken = !counts->given || is(counts, "spoken") || is(counts, "both");
  options->clicked = is(counts, "clicked") || is(counts, "both");
  options->sub_counts = value[CLI_SUB_COUNTS].given;
  options->say_phrases = is(announce, "phrases") || is(announce, "both");
  options->say_sections = is(announce, "sections") || is(announce, "both");
  options->say_steps = value[CLI_STEPS].given;
  options->language =
      value[CLI_SPOKEN_LANGUAGE].given ? cw_language_find(value[CLI_SPOKEN_LANGUAGE].text) : sheet->labels;
  options->chain = value[CLI_CHAIN].given;
  options->loops = value[CLI_LOOPS].given ? (unsigned)value[CLI_LOOPS].number : 1;
  options->n_speeds = value[CLI_SPEED].given ? cli_speeds(value[CLI_SPEED].text, speed) : 0;
  options->speed = speed;
  options->pace = value[CLI_EVEN].given ? CW_PACE_EVEN : value[CLI_LIKE].given ? CW_PACE_LIKE : CW_PACE_LIVING;
  options->rest_s = value[CLI_REST].given ? value[CLI_REST].number : options->rest_s;
  options->count_in = value[CLI_COUNT_IN].given ? (int)value[CLI_COUNT_IN].number : options->count_in;
  options->duck_db = value[CLI_DUCK].given ? value[CLI_DUCK].number : options->duck_db;
  options->loudness_lufs = value[CLI_LOUDNESS].given ? value[CLI_LOUDNESS].number : options->loudness_lufs;
  options->kbit_s = (unsigned)value[CLI_BIT_RATE].number;
}

static int of_role(const CliArgs *args, CwSheet *sheet, CwPassage **passage, size_t *n)
{
  const char *role = args->value[CLI_DANCER].text;
  bool found = false;
  CwStatus status = cw_sheet_keep_role(sheet, role, &found);
  if (status == CW_OK && !found) {
    cli_say(role, "the notes name no such role");
    return CLI_FAILED;
  }
  if (status == CW_OK) {
    status = args->value[CLI_ONLY_ENTRANCES].given ? cw_practice_entrances(sheet, role, passage, n)
                                                   : cw_practice_on_stage(sheet, role, passage, n);
  }
  if (status == CW_OK && *n == 0) {
    cli_say(role, "is never on stage in these notes");
    return CLI_FAILED;
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(role, status);
}

int cli_rehearse_passages(const CliArgs *args, const CwNotebook *notebook, CwSheet *sheet, CwPassage **passage,
                          size_t *n)
{
  *passage = NULL;
  *n = 0;
  if (args->value[CLI_DANCER].given) {
    return of_role(args, sheet, passage, n);
  }
  if (!args->value[CLI_PHRASES].given && !args->value[CLI_SECTION].given) {
    return CLI_GOOD;
  }
  const char **section = cli_sections(notebook, sheet->n_rows);
  CwPassage *made = cw_new(1, sizeof *made);
  if (!section || !made || !cli_passage(args, section, sheet->n_rows, &made->first, &made->last)) {
    const bool told = section && made;
    free(section);
    free(made);
    return told ? CLI_FAILED : cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  free(section);
  *passage = made;
  *n = 1;
  return CLI_GOOD;
}
