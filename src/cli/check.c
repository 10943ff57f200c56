// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/checked.h"
#include "cli/glossary.h"
#include "cli/side.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "cli/write.h"

/// Look for terms. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int check_spelling(const CliArgs *args, const CwNotebook *notebook, CliChecked *checked)
{
  const char *notes = args->operand[0];
  checked->words = args->value[CLI_WORDS].given;
  const int result = cli_glossary_open(args, notebook, notes, &checked->glossary);
  if (result != CLI_GOOD) {
    return result;
  }
  const CwStatus status = cw_notebook_spelling(checked->glossary, notebook, &checked->spelling);
  for (size_t i = 0; i < checked->spelling.n; i++) {
    checked->n_suggestions += checked->spelling.item[i].proper != NULL;
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(notes, status);
}

/// Compare with the older notes, where they are given. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int check_since(const CliArgs *args, const CwNotebook *notebook, CliChecked *checked)
{
  CwNotebook before = {0};
  checked->since = args->value[CLI_SINCE].text;
  if (!checked->since) {
    return CLI_GOOD;
  }
  CwStatus status = cli_read_notes(checked->since, &before);
  if (status == CW_OK) {
    status = cw_changes_find(&before, notebook, checked->glossary, &checked->changes);
  }
  cw_notebook_free(&before);
  return status == CW_OK ? CLI_GOOD : cli_say_status(checked->since, status);
}

/// Hold the notes against the music, where it is given. Says what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int check_music(const CliArgs *args, const CwNotebook *notebook, CliChecked *checked)
{
  if (args->n_operands < 2) {
    return CLI_GOOD;
  }
  checked->recording = args->operand[1];
  CwStatus status = cli_fit(args, checked->recording, notebook, &checked->found, &checked->messages, &checked->fits);
  if (status == CW_OK) {
    status = cw_fits_explain(&checked->fits, &checked->messages);
  }
  return status == CW_OK ? CLI_GOOD : cli_say_status(checked->recording, status);
}

/// Say how much there is. @return CLI_FAILED when anything is unclear.
static int say_sum(const char *notes, const CwNotebook *notebook, const CliChecked *checked)
{
  const size_t n = notebook->n_diagnostics;
  if (n == 0) {
    cli_say(notes, "nothing is unclear in %zu %s", notebook->n_phrases,
            notebook->n_phrases == 1 ? "phrase" : "phrases");
  } else {
    cli_say(notes, n == 1 ? "%zu place is unclear" : "%zu places are unclear", n);
  }
  if (checked->n_suggestions > 0) {
    cli_say(notes, "%zu %s may be terms; 'sheet --spelling proper' prints them so", checked->n_suggestions,
            checked->n_suggestions == 1 ? "spelling" : "spellings");
  }
  if (checked->recording && checked->messages.n == 0) {
    cli_say(notes, "notes and music add up in %zu phrases", checked->found.line.n_phrases);
  }
  return n == 0 && checked->messages.n == 0 ? CLI_GOOD : CLI_FAILED;
}

int cli_check(const CliArgs *args)
{
  const char *notes = args->operand[0];
  CwNotebook notebook = {0};
  CliChecked checked = {0};
  CwStatus status = cli_read_notes(notes, &notebook);
  if (status == CW_OK) {
    status = cli_add_doubts(args, &notebook);
  }
  if (status != CW_OK) {
    cw_notebook_free(&notebook);
    return cli_say_status(notes, status);
  }
  int result = check_spelling(args, &notebook, &checked);
  if (result == CLI_GOOD) {
    result = check_since(args, &notebook, &checked);
  }
  if (result == CLI_GOOD) {
    result = check_music(args, &notebook, &checked);
  }
  if (result == CLI_GOOD) {
    CliContent content = {.notebook = &notebook, .notes = notes, .checked = &checked};
    result = cli_write_out(args, args->value[CLI_JSON].given ? cli_checked_json : cli_checked_text, &content);
  }
  if (result == CLI_GOOD && !checked.since) {
    result = say_sum(notes, &notebook, &checked);
  }
  cli_checked_free(&checked);
  cw_notebook_free(&notebook);
  return result;
}
