// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/write.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/memory.h"
#include "cli/pages.h"
#include "cli/talk.h"

enum { FEWEST_COLUMNS = 40, USUAL_COLUMNS = 80 };

/// Columns of the text: as asked, or as standard output has them.
static unsigned columns_of(const CliArgs *args, bool standard_output)
{
  if (args->value[CLI_WIDTH].given) {
    return (unsigned)args->value[CLI_WIDTH].number;
  }
  if (!standard_output) {
    return USUAL_COLUMNS;
  }
  struct winsize size = {0};
  const bool terminal = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
  const char *told = getenv("COLUMNS");
  const long columns = terminal ? size.ws_col : told ? strtol(told, NULL, 10) : USUAL_COLUMNS;
  if (columns <= 0 || columns > 1000) {
    return USUAL_COLUMNS;
  }
  return columns < FEWEST_COLUMNS ? FEWEST_COLUMNS : (unsigned)columns;
}

static bool is_same_file(const char *left, const char *right)
{
  struct stat a;
  struct stat b;
  return stat(left, &a) == 0 && stat(right, &b) == 0 && S_ISREG(a.st_mode) && a.st_dev == b.st_dev &&
         a.st_ino == b.st_ino;
}

bool cli_outputs_spare(const CliOutputs *outputs, const char *input)
{
  for (size_t i = 0; input && i < outputs->n; i++) {
    if (is_same_file(outputs->path[i], input)) {
      cli_say(outputs->path[i], "this file is read, and is not written over");
      return false;
    }
  }
  return true;
}

static bool spare_inputs(const CliArgs *args, const CliOutputs *outputs)
{
  bool good = cli_outputs_spare(outputs, args->value[CLI_NOTES].text);
  for (size_t i = 0; i < args->n_operands && good; i++) {
    good = cli_outputs_spare(outputs, args->operand[i]);
  }
  return good;
}

bool cli_spares_inputs(const CliArgs *args, const char *path)
{
  const CliOutputs one = {.path = &path, .n = 1};
  return spare_inputs(args, &one);
}

void cli_say_not_begun(const char *path, CwStatus status)
{
  if (status == CW_ERR_EXISTS) {
    cli_say(path, "%s; '--overwrite' replaces it", cw_strerror(status));
  } else if (status == CW_ERR_NOT_FOUND) {
    cli_say(path, "there is no such folder");
  } else {
    cli_say_status(path, status);
  }
}

bool cli_outputs_begin(const CliArgs *args, const char *const *path, size_t n, CliOutputs *outputs)
{
  *outputs = (CliOutputs){.path = path, .output = cw_new(n, sizeof *outputs->output)};
  if (!outputs->output) {
    cli_say_status(NULL, CW_ERR_NO_MEM);
    return false;
  }
  for (size_t i = 0; i < n; i++, outputs->n++) {
    const CwStatus status = cw_output_begin(path[i], args->value[CLI_OVERWRITE].given, &outputs->output[i]);
    if (status == CW_OK) {
      continue;
    }
    cli_say_not_begun(path[i], status);
    cli_outputs_cancel(outputs);
    return false;
  }
  if (!spare_inputs(args, outputs)) {
    cli_outputs_cancel(outputs);
    return false;
  }
  return true;
}

bool cli_ends_with(const char *path, const char *ending)
{
  const size_t length = strlen(path);
  const size_t its = strlen(ending);
  return length > its && strcasecmp(path + length - its, ending) == 0;
}

bool cli_outputs_have(const CliOutputs *outputs, const char *ending)
{
  for (size_t i = 0; i < outputs->n; i++) {
    if (cli_ends_with(outputs->path[i], ending)) {
      return true;
    }
  }
  return false;
}

static const CliForm *form_for(const CliForm *forms, const char *path)
{
  for (const CliForm *form = forms; form->ending; form++) {
    if (cli_ends_with(path, form->ending)) {
      return form;
    }
  }
  return forms;
}

static CliWriter writer_for(const CliForm *forms, const char *path)
{
  return form_for(forms, path)->write;
}

/// Write one output. @return What it came to; the output is released either way.
static CwStatus write_one(CwOutput *output, CliWriter write, const CliContent *content)
{
  const CwStatus status = write(content, output->stream);
  if (status != CW_OK) {
    cw_output_cancel(output);
    return status;
  }
  return cw_output_end(output);
}

int cli_outputs_write(const CliArgs *args, const CliForm *forms, CliOutputs *outputs, CliContent *content)
{
  int result = CLI_GOOD;
  for (size_t i = 0; i < outputs->n; i++) {
    const char *path = outputs->path[i];
    const bool standard = strcmp(path, "-") == 0;
    if (standard) {
      result |= cli_write_out(args, writer_for(forms, path), content);
      continue;
    }
    content->columns = columns_of(args, false);
    const CliForm *form = form_for(forms, path);
    if (!form->write) {
      result |= cli_write_pages(args, path, &outputs->output[i], content);
      continue;
    }
    const CwStatus status = write_one(&outputs->output[i], form->write, content);
    if (status == CW_OK) {
      cli_say(path, "written");
    } else {
      result = cli_say_status(path, status);
    }
  }
  outputs->n = 0;
  cli_outputs_cancel(outputs);
  return result;
}

void cli_outputs_cancel(CliOutputs *outputs)
{
  for (size_t i = 0; i < outputs->n; i++) {
    cw_output_cancel(&outputs->output[i]);
  }
  free(outputs->output);
  *outputs = (CliOutputs){0};
}

int cli_write_out(const CliArgs *args, CliWriter write, CliContent *content)
{
  content->columns = columns_of(args, true);
  char *text = NULL;
  size_t size = 0;
  FILE *memory = open_memstream(&text, &size);
  if (!memory) {
    return cli_say_status(NULL, CW_ERR_NO_MEM);
  }
  CwStatus status = write(content, memory);
  if (fclose(memory) != 0 && status == CW_OK) {
    status = CW_ERR_NO_MEM;
  }
  if (status == CW_OK) {
    cli_hush();
    status = fwrite(text, 1, size, stdout) == size && fflush(stdout) == 0 ? CW_OK : CW_ERR_WRITE;
  }
  free(text);
  return status == CW_OK ? CLI_GOOD : cli_say_status("standard output", status);
}

int cli_write_all(const CliArgs *args, const CliForm *forms, CliOutputs *outputs, CliContent *content)
{
  const CliValue *value = args->value;
  CliWriter write = NULL;
  if (value[CLI_LIST].given) {
    write = cli_list_writer(value[CLI_LIST].text);
  } else if (value[CLI_JSON].given || value[CLI_CSV].given) {
    write = writer_for(forms, value[CLI_JSON].given ? "x.json" : "x.csv");
  } else if (outputs->n == 0) {
    write = writer_for(forms, "-");
  }
  const int result = cli_outputs_write(args, forms, outputs, content);
  return result == CLI_GOOD && write ? cli_write_out(args, write, content) : result;
}
