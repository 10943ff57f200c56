// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/count_line_read.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_count_line_wrong(CwMessages *messages, const char *place, const char *expected)
{
  return cw_messages_add(messages, "%s: expected %s", place, expected) ? CW_ERR_NO_MEM : CW_ERR_SYNTAX;
}

static bool has_number(const CwCountLineFile *file, size_t number)
{
  for (size_t p = 0; p < file->line.n_phrases; p++) {
    if (file->number[p] == number) {
      return true;
    }
  }
  return false;
}

CwStatus cw_count_line_take(const CwReadPhrase *phrase, const char *place, CwCountLineFile *file, CwMessages *messages)
{
  const size_t n = file->line.n_phrases;
  if (phrase->number == 0 || has_number(file, phrase->number)) {
    return cw_count_line_wrong(messages, place, "the number of another phrase, from 1");
  }
  size_t *number = cw_resize(file->number, n + 1, sizeof *number);
  if (!number) {
    return CW_ERR_NO_MEM;
  }
  file->number = number;
  number[n] = phrase->number;
  const CwStatus status =
      cw_count_line_add(&file->line, phrase->count_s, phrase->counts, phrase->end_s, phrase->confidence);
  return status == CW_ERR_BAD_ARG ? cw_count_line_wrong(messages, place, "times that go up from count to count")
                                  : status;
}

CwStatus cw_count_line_file_read(const char *text, size_t size, CwCountLineFile *file, CwMessages *messages)
{
  *file = (CwCountLineFile){0};
  cw_count_line_init(&file->line, 0);
  file->line.beats_per_count = 0; // CSV does not say
  size_t i = 0;
  while (i < size && strchr(" \t\r\n", text[i]) && text[i]) {
    i++;
  }
  const bool json = i < size && text[i] == '{';
  const CwStatus status =
      json ? cw_count_line_from_json(text, size, file, messages) : cw_count_line_from_csv(text, size, file, messages);
  if (status != CW_OK) {
    cw_count_line_file_free(file);
  }
  return status;
}

void cw_count_line_file_free(CwCountLineFile *file)
{
  if (!file) {
    return;
  }
  cw_count_line_free(&file->line);
  free(file->number);
  free(file->recording);
  memset(file, 0, sizeof *file);
}
