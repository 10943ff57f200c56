// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/side.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/private.h"
#include "cli/talk.h"

/// Doubts that a sheet shows; more are no help to who reads it.
enum { SHOWN = 12 };

bool cli_is_other_side(const CliArgs *args)
{
  const CliValue *side = &args->value[CLI_SIDE];
  return side->given && strcmp(side->text, "other") == 0;
}

int cli_take_side(const CliArgs *args, const char *notes, CwNotebook *notebook, CwMirrored *mirrored)
{
  *mirrored = (CwMirrored){0};
  if (!cli_is_other_side(args)) {
    return CLI_GOOD;
  }
  CwNotebook other;
  CwStatus status = cw_mirror_notebook(notebook->text, notebook->size, mirrored);
  if (status == CW_OK) {
    status = cw_notebook_parse(mirrored->text, mirrored->size, &other);
  }
  if (status != CW_OK) {
    return cli_say_status(notes, status);
  }
  for (size_t i = 0; i < mirrored->n_doubts; i++) {
    cli_say_place(notes, mirrored->doubt[i].line, mirrored->doubt[i].column, "%s", mirrored->doubt[i].text);
  }
  cli_drop_private(notebook, mirrored); // the sheet says nothing of these
  cw_notebook_free(notebook);
  *notebook = other;
  return CLI_GOOD;
}

CwStatus cli_put_side(const CwMirrored *mirrored, CwSheet *sheet)
{
  sheet->mirrored = mirrored->text != NULL;
  CwStatus status = CW_OK;
  for (size_t i = 0; i < mirrored->n_doubts && i < SHOWN && status == CW_OK; i++) {
    const CwDiagnostic *doubt = &mirrored->doubt[i];
    status = cw_messages_add(&sheet->message, "line %zu, column %zu: %s", doubt->line, doubt->column, doubt->text);
  }
  if (status == CW_OK && mirrored->n_doubts > SHOWN) {
    status = cw_messages_add(&sheet->message, "%zu more places may be sides: 'check --side other' lists them",
                             mirrored->n_doubts - SHOWN);
  }
  return status;
}

static int compare_places(const void *a, const void *b)
{
  const CwDiagnostic *one = a;
  const CwDiagnostic *other = b;
  const int by_line = (one->line > other->line) - (one->line < other->line);
  return by_line ? by_line : (one->column > other->column) - (one->column < other->column);
}

CwStatus cli_add_doubts(const CliArgs *args, CwNotebook *notebook)
{
  if (!cli_is_other_side(args)) {
    return CW_OK;
  }
  CwMirrored mirrored;
  CwStatus status = cw_mirror_notebook(notebook->text, notebook->size, &mirrored);
  CwDiagnostic *all = NULL;
  if (status == CW_OK) {
    all = cw_resize(notebook->diagnostic, notebook->n_diagnostics + mirrored.n_doubts + 1, sizeof *all);
    status = all ? CW_OK : CW_ERR_NO_MEM;
  }
  if (all) {
    notebook->diagnostic = all;
    for (size_t i = 0; i < mirrored.n_doubts; i++) {
      all[notebook->n_diagnostics++] = mirrored.doubt[i];
    }
    mirrored.n_doubts = 0; // the notebook has them now
    qsort(all, notebook->n_diagnostics, sizeof *all, compare_places);
  }
  cw_mirrored_free(&mirrored);
  return status;
}

int cli_write_mirrored(const CliArgs *args, const char *notes, const CwNotebook *notebook)
{
  const CliValue *path = &args->value[CLI_MIRRORED];
  CliOutputs outputs = {0};
  CwMirrored mirrored;
  if (!path->given) {
    return CLI_GOOD;
  }
  if (!cli_outputs_begin(args, &path->text, 1, &outputs)) {
    return CLI_FAILED;
  }
  if (!cli_outputs_spare(&outputs, notes)) {
    cli_outputs_cancel(&outputs);
    return CLI_FAILED;
  }
  const CwStatus status = cw_mirror_notebook(notebook->text, notebook->size, &mirrored);
  if (status != CW_OK) {
    cli_outputs_cancel(&outputs);
    return cli_say_status(notes, status);
  }
  CliContent content = {.text = mirrored.text, .text_size = mirrored.size};
  const int result = cli_outputs_write(args, cli_text_forms, &outputs, &content);
  cw_mirrored_free(&mirrored);
  return result;
}
