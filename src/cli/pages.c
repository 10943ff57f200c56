// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/pages.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "cli/talk.h"

/// The files of the pages.
typedef struct {
  const CliArgs *args;
  const char *path; ///< of the first
  CwOutput *first;
  char **name;      ///< of the pages after the first; `n` of them, as many as are begun
  CwOutput *output; ///< of these
  size_t n;
  bool said; ///< what went wrong
} Files;

/// "sheet-2.png" for page 2 of "sheet.png". @return Release with free(); NULL when memory runs out.
static char *name_of(const char *path, unsigned page)
{
  const char *ending = strrchr(path, '.'); // the form was chosen by it
  const size_t size = strlen(path) + 16;
  char *name = cw_new(size, 1);
  if (name) {
    snprintf(name, size, "%.*s-%u%s", (int)(ending - path), path, page, ending);
  }
  return name;
}

/// Begin the files of all pages but the first, so that none is written where one cannot be.
static CwStatus begin_all(Files *files, unsigned pages)
{
  files->name = cw_new(pages, sizeof *files->name);
  files->output = cw_new(pages, sizeof *files->output);
  if (!files->name || !files->output) {
    return CW_ERR_NO_MEM;
  }
  for (unsigned page = 2; page <= pages; page++, files->n++) {
    char *name = name_of(files->path, page);
    files->name[files->n] = name;
    const CwStatus status =
        name ? cw_output_begin(name, files->args->value[CLI_OVERWRITE].given, &files->output[files->n]) : CW_ERR_NO_MEM;
    if (status != CW_OK) {
      cli_say_not_begun(name, status);
      files->said = true;
      free(name);
      return status;
    }
    if (!cli_spares_inputs(files->args, name)) {
      files->said = true;
      files->n++;
      return CW_ERR_EXISTS;
    }
  }
  return CW_OK;
}

static CwStatus open_page(void *context, unsigned page, unsigned pages, FILE **out)
{
  Files *files = context;
  const CwStatus status = page == 1 ? begin_all(files, pages) : CW_OK;
  if (status == CW_OK) {
    *out = page == 1 ? files->first->stream : files->output[page - 2].stream;
  }
  return status;
}

/// Put all files in their places. Says which, or what goes wrong. @return CLI_GOOD or CLI_FAILED.
static int end_all(Files *files)
{
  CwStatus status = cw_output_end(files->first);
  const char *path = files->path;
  for (size_t i = 0; i < files->n; i++) {
    if (status == CW_OK) {
      cli_say(path, "written");
      path = files->name[i];
      status = cw_output_end(&files->output[i]);
    } else {
      cw_output_cancel(&files->output[i]);
    }
  }
  if (status != CW_OK) {
    return cli_say_status(path, status);
  }
  cli_say(path, "written");
  return CLI_GOOD;
}

int cli_write_pages(const CliArgs *args, const char *path, CwOutput *first, const CliContent *content)
{
  Files files = {.args = args, .path = path, .first = first};
  const char *ending = strrchr(path, '.');
  const CwChartFormat format = strcasecmp(ending, ".svg") == 0 ? CW_CHART_SVG : CW_CHART_PNG;
  const CwStatus status = cw_sheet_pictures(content->sheet, &content->page, format, open_page, &files);
  int result = CLI_FAILED;
  if (status == CW_OK) {
    result = end_all(&files);
  } else {
    cw_output_cancel(first);
    for (size_t i = 0; i < files.n; i++) {
      cw_output_cancel(&files.output[i]);
    }
    if (!files.said) {
      cli_say_status(path, status);
    }
  }
  for (size_t i = 0; i < files.n; i++) {
    free(files.name[i]);
  }
  free(files.name);
  free(files.output);
  return result;
}
