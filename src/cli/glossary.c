// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/glossary.h"

#include <stdlib.h>
#include <string.h>

#include "cli/talk.h"
#include "cli/text.h"

static int add_file(const char *path, CwGlossary *glossary)
{
  char *text = NULL;
  size_t size = 0;
  CwDiagnostic *diagnostic = NULL;
  size_t n = 0;
  CwStatus status = cli_read_text(path, &text, &size);
  if (status == CW_OK) {
    status = cw_glossary_add(glossary, text, size, &diagnostic, &n);
  }
  for (size_t i = 0; i < n; i++) {
    cli_say_place(path, diagnostic[i].line, diagnostic[i].column, "%s", diagnostic[i].text);
    free(diagnostic[i].text);
  }
  free(diagnostic);
  free(text);
  return status == CW_OK ? CLI_GOOD : cli_say_status(path, status);
}

/// The file that the notes name, unless the options name it, too.
static int add_named(const char *name, const char *notes, const char *given, CwGlossary *glossary)
{
  char *path = cli_beside_notes(name, notes);
  if (!path) {
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  const int result = given && strcmp(given, path) == 0 ? CLI_GOOD : add_file(path, glossary);
  free(path);
  return result;
}

int cli_glossary_open(const CliArgs *args, const CwNotebook *notebook, const char *notes, CwGlossary **glossary)
{
  const char *named = notebook->head.glossary;
  const char *given = args->value[CLI_GLOSSARY].text;
  const CwStatus status = cw_glossary_new(true, glossary);
  if (status != CW_OK) {
    return cli_say_status(NULL, status);
  }
  int result = named ? add_named(named, notes, given, *glossary) : CLI_GOOD;
  if (result == CLI_GOOD && given) {
    result = add_file(given, *glossary);
  }
  if (result != CLI_GOOD) {
    cw_glossary_free(*glossary);
    *glossary = NULL;
  }
  return result;
}

int cli_spell(const CliArgs *args, const char *notes, CwNotebook *notebook)
{
  const char *spelling = args->value[CLI_SPELLING].text;
  CwGlossary *glossary = NULL;
  if (!spelling || strcmp(spelling, "proper") != 0) {
    return CLI_GOOD;
  }
  int result = cli_glossary_open(args, notebook, notes, &glossary);
  if (result == CLI_GOOD) {
    const CwStatus status = cw_notebook_spell_properly(glossary, notebook);
    result = status == CW_OK ? CLI_GOOD : cli_say_status(notes, status);
  }
  cw_glossary_free(glossary);
  return result;
}
