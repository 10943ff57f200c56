// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/side.h"
#include "cli/talk.h"
#include "cli/text.h"
#include "cli/write.h"
#include "print/json.h"

static CwStatus write_text(const CliContent *content, FILE *out)
{
  for (size_t i = 0; i < content->notebook->n_diagnostics; i++) {
    const CwDiagnostic *place = &content->notebook->diagnostic[i];
    fprintf(out, "%s:%zu:%zu: %s\n", content->notes, place->line, place->column, place->text);
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

/// As src/cli/schema/check.json has it.
static CwStatus write_json(const CliContent *content, FILE *out)
{
  bool good = true;
  json_t *all = cw_json_begin("countwright-check", &good);
  cw_json_text(all, "notes", content->notes, &good);
  json_t *unclear = json_array();
  for (size_t i = 0; i < content->notebook->n_diagnostics; i++) {
    const CwDiagnostic *place = &content->notebook->diagnostic[i];
    json_t *item = json_object();
    cw_json_whole(item, "line", place->line, &good);
    cw_json_whole(item, "column", place->column, &good);
    cw_json_text(item, "text", place->text, &good);
    good = json_array_append_new(unclear, item) == 0 && good;
  }
  cw_json_put(all, "unclear", unclear, &good);
  return cw_json_end(all, good, out);
}

int cli_check(const CliArgs *args)
{
  const char *notes = args->operand[0];
  CwNotebook notebook = {0};
  CwStatus status = cli_read_notes(notes, &notebook);
  if (status == CW_OK) {
    status = cli_add_doubts(args, &notebook);
  }
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  CliContent content = {.notebook = &notebook, .notes = notes};
  int result = cli_write_out(args, args->value[CLI_JSON].given ? write_json : write_text, &content);
  const size_t n = notebook.n_diagnostics;
  if (result == CLI_GOOD && n == 0) {
    cli_say(notes, "nothing is unclear in %zu %s", notebook.n_phrases, notebook.n_phrases == 1 ? "phrase" : "phrases");
  } else if (result == CLI_GOOD) {
    cli_say(notes, n == 1 ? "%zu place is unclear" : "%zu places are unclear", n);
    result = CLI_FAILED;
  }
  cw_notebook_free(&notebook);
  return result;
}
