// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/line.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cli/talk.h"
#include "cli/text.h"

/// The place of each of the notes' phrases in the line.
static CwStatus find_phrases(const CwNotebook *notebook, CliLine *line, CwMessages *messages)
{
  CwStatus status = CW_OK;
  line->kept = cw_new(notebook->n_phrases + 1, sizeof *line->kept);
  if (!line->kept) {
    return CW_ERR_NO_MEM;
  }
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    line->kept[p] = SIZE_MAX;
  }
  for (size_t k = 0; k < line->file.line.n_phrases && status == CW_OK; k++) {
    const size_t number = line->file.number[k];
    const unsigned counts = line->file.line.phrase[k].counts;
    if (number > notebook->n_phrases) {
      status = cw_messages_add(messages, "there are times for a phrase %zu, which the notes do not have", number);
    } else if (counts != notebook->phrase[number - 1].counts) {
      status = cw_messages_add(messages, "phrase %zu has %u counts in the notes, and times for %u: it is left without",
                               number, notebook->phrase[number - 1].counts, counts);
    } else {
      line->kept[number - 1] = k;
    }
  }
  return status;
}

/// What CSV does not say.
static CwStatus name_line(const char *path, const CwNotebook *notebook, CwCountLineFile *file)
{
  if (!(file->line.beats_per_count > 0)) {
    file->line.beats_per_count = notebook->head.beats_per_count;
  }
  if (!file->recording) {
    const char *name = cli_base_name(path);
    file->recording = cw_copy_text(name, strlen(name));
  }
  return file->recording ? CW_OK : CW_ERR_NO_MEM;
}

int cli_read_line(const char *path, const CwNotebook *notebook, CliLine *line, CwMessages *messages)
{
  char *text = NULL;
  size_t size = 0;
  CwMessages wrong = {0};
  CwStatus status = cli_read_text(path, &text, &size);
  if (status == CW_OK) {
    status = cw_count_line_file_read(text, size, &line->file, &wrong);
  }
  if (status == CW_OK) {
    status = name_line(path, notebook, &line->file);
  }
  if (status == CW_OK) {
    status = find_phrases(notebook, line, messages);
  }
  cli_say_all(path, &wrong);
  cw_messages_free(&wrong);
  free(text);
  return status == CW_OK ? CLI_GOOD : cli_say_status(path, status);
}

const char *cli_line_problem(const CliArgs *args)
{
  const CliValue *value = args->value;
  if (!value[CLI_BY_LINE].given) {
    return NULL;
  }
  if (args->n_operands > 1) {
    return "'--line' has the times: no recording is needed";
  }
  return value[CLI_TAPS].given ? "'--line' and '--taps' exclude each other" : NULL;
}

void cli_line_free(CliLine *line)
{
  cw_count_line_file_free(&line->file);
  free(line->kept);
}
