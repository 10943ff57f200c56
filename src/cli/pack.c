// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/inside.h"
#include "cli/private.h"
#include "cli/sheet.h"
#include "cli/side.h"
#include "cli/talk.h"
#include "cli/text.h"

/// Whether the file is for paper.
static bool is_for_paper(const CliArgs *args)
{
  const char *output = args->value[CLI_PACK_OUTPUT].text;
  return args->value[CLI_PDF].given || (output && cli_ends_with(output, ".pdf"));
}

static const char *problem_with(const CliArgs *args)
{
  const char *output = args->value[CLI_PACK_OUTPUT].text;
  const char *problem = cli_sheet_problem(args);
  if (args->value[CLI_PDF].given && output && !cli_ends_with(output, ".pdf")) {
    problem = problem ? problem : "'--pdf' makes a file that ends in .pdf";
  }
  if (args->value[CLI_SOUND].given && is_for_paper(args)) {
    problem = problem ? problem : "'--sound' puts the recording inside a web sheet; a PDF has no room for it";
  }
  if (strcmp(args->operand[0], "-") == 0 && !output && !args->value[CLI_CONTENTS].given) {
    problem = problem ? problem : "notes on standard input have no name to call the file by: '-o FILE' gives it one";
  }
  return problem;
}

/// The file to write: as asked, or the notes' name with another ending, in the folder one is in. @return Release with
/// free(); NULL when memory runs out.
static char *output_of(const CliArgs *args)
{
  const char *asked = args->value[CLI_PACK_OUTPUT].text;
  if (asked) {
    return cw_copy_text(asked, strlen(asked));
  }
  const char *name = cli_base_name(args->operand[0]);
  const char *dot = strrchr(name, '.');
  const size_t length = dot && dot != name ? (size_t)(dot - name) : strlen(name);
  const char *ending = is_for_paper(args) ? ".pdf" : ".html";
  char *path = cw_new(length + strlen(ending) + 1, 1);
  if (path) {
    memcpy(path, name, length);
    memcpy(path + length, ending, strlen(ending));
  }
  return path;
}

static size_t counts_of(const CwSheet *sheet, size_t *n_sections)
{
  size_t counts = 0;
  *n_sections = 0;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    counts += sheet->row[i].counts;
    *n_sections += sheet->row[i].section && sheet->row[i].section[0];
  }
  return counts;
}

static bool is_proper(const CliArgs *args)
{
  const char *spelling = args->value[CLI_SPELLING].text;
  return spelling && strcmp(spelling, "proper") == 0;
}

/// What the file has of the notes.
static CwStatus list_sheet(const CliArgs *args, const CwSheet *sheet, CwMessages *list)
{
  size_t sections;
  const size_t counts = counts_of(sheet, &sections);
  CwStatus status =
      cw_messages_add(list, "%s: %zu phrase%s, %zu counts, %zu section%s",
                      is_for_paper(args) ? "the count sheet as a PDF" : "the count sheet as a web page", sheet->n_rows,
                      sheet->n_rows == 1 ? "" : "s", counts, sections, sections == 1 ? "" : "s");
  const CliValue *role = &args->value[CLI_ROLE];
  if (status == CW_OK && role->given) {
    status = cw_messages_add(list, "the role '%s' alone", role->text);
  } else if (status == CW_OK) {
    status = cw_messages_add(list, "every role");
  }
  if (status == CW_OK) {
    status = cw_messages_add(list, cli_is_other_side(args) ? "mirrored for the other side" : "the side as written");
  }
  if (status == CW_OK) {
    status = cw_messages_add(list, is_proper(args) ? "steps in their proper spelling" : "steps as they are spelt");
  }
  return status;
}

/// What it has of the recording, and what it has not.
static CwStatus list_rest(const CliArgs *args, const CliContent *content, CwMessages *list)
{
  const CwSheet *sheet = content->sheet;
  const size_t private = cli_count_private(content->notebook);
  CwStatus status;
  if (content->line->n_phrases == 0) {
    status = cw_messages_add(list, "no times: there is no recording");
  } else {
    status = cw_messages_add(list, "times in '%s'", sheet->recording ? sheet->recording : "the recording");
  }
  char told[64];
  if (status == CW_OK && args->value[CLI_SOUND].given) {
    cli_inside_told(args, content->line->duration_s, told);
    status = cw_messages_add(list, "the recording itself, %s", told);
  } else if (status == CW_OK && content->line->n_phrases > 0) {
    status = cw_messages_add(list, "not the recording itself");
  }
  if (status == CW_OK) {
    status = cw_messages_add(list, "not the notes' private remarks: %zu", private);
  }
  return status;
}

static CwStatus write_list(const CliContent *content, FILE *out)
{
  return fwrite(content->text, 1, content->text_size, out) == content->text_size ? CW_OK : CW_ERR_WRITE;
}

/// Print the list alone.
static int print_list(const CliArgs *args, const CwMessages *list)
{
  char *text = NULL;
  size_t size = 0;
  FILE *out = open_memstream(&text, &size);
  if (!out) {
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  for (size_t i = 0; i < list->n; i++) {
    fprintf(out, "%s\n", list->text[i]);
  }
  if (fclose(out) != 0) {
    free(text);
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  CliContent content = {.text = text, .text_size = size};
  const int result = cli_write_out(args, write_list, &content);
  free(text);
  return result;
}

/// List what will be inside. What does not add up is for whoever wrote the notes, who was told; it stays behind.
static int look(const CliArgs *args, const CliContent *content, CwSheet *sheet, bool *write)
{
  CwMessages list = {0};
  CwStatus status = list_sheet(args, sheet, &list);
  if (status == CW_OK) {
    status = list_rest(args, content, &list);
  }
  int result = status == CW_OK ? CLI_GOOD : cli_say_status(NULL, status);
  *write = !args->value[CLI_CONTENTS].given;
  if (result == CLI_GOOD && !*write) {
    result = print_list(args, &list);
  } else if (result == CLI_GOOD) {
    for (size_t i = 0; i < list.n; i++) {
      cli_say(NULL, "inside: %s", list.text[i]);
    }
  }
  cw_messages_free(&list);
  cw_messages_free(&sheet->message);
  return result;
}

int cli_pack(const CliArgs *args)
{
  const char *problem = problem_with(args);
  if (problem) {
    return cli_say_usage(args->command, problem);
  }
  CliOutputs outputs = {0};
  if (args->value[CLI_CONTENTS].given) {
    return cli_sheet_make(args, &outputs, look);
  }
  char *path = output_of(args);
  if (!path) {
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  const char *const paths[] = {path};
  int result = CLI_FAILED;
  if (cli_outputs_begin(args, paths, 1, &outputs)) {
    result = cli_sheet_make(args, &outputs, look);
  }
  free(path);
  return result;
}
