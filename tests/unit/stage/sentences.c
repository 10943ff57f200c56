// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/stage/sentences.h"

#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/// Put bytes at the end of a text.
static void put(char *out, const char *from, size_t n)
{
  const size_t used = strlen(out);
  assert_true(used + n < TRUTH_ROOM);
  memcpy(out + used, from, n);
  out[used + n] = '\0';
}

/// "{left|right}" or "[left]" at `at`. @return What comes after it.
static const char *read_edit(Sentence *sentence, const char *at)
{
  const char *close = strpbrk(at, "]}");
  assert_non_null(close);
  assert_true(sentence->n_edits < TRUTH_EDITS);
  TruthEdit *edit = &sentence->edit[sentence->n_edits++];
  const char *bar = *at == '{' ? memchr(at, '|', (size_t)(close - at)) : close;
  assert_non_null(bar);
  *edit = (TruthEdit){.begin = strlen(sentence->text), .doubt = *at == '['};
  put(sentence->text, at + 1, (size_t)(bar - at - 1));
  edit->end = strlen(sentence->text);
  const char *other = edit->doubt ? at + 1 : bar + 1;
  put(sentence->mirrored, other, (size_t)(close - other));
  snprintf(edit->other, sizeof edit->other, "%.*s", (int)(close - other), other);
  return close + 1;
}

static void read_sentence(Sentence *sentence, const char *line)
{
  while (*line) {
    if (*line == '{' || *line == '[') {
      line = read_edit(sentence, line);
    } else {
      put(sentence->text, line, 1);
      put(sentence->mirrored, line, 1);
      line++;
    }
  }
}

static void read_readings(Sentence *sentence, const char *line)
{
  while (*line) {
    const char *bar = strstr(line, " | ");
    const size_t length = bar ? (size_t)(bar - line) : strlen(line);
    assert_true(sentence->n_readings < TRUTH_READINGS);
    put(sentence->reading[sentence->n_readings++], line, length);
    line += length + (bar ? 3 : 0);
  }
}

size_t read_sentences(const char *file, Sentence **sentences)
{
  char path[512];
  char line[512];
  size_t n = 0;
  snprintf(path, sizeof path, CW_SOURCE "/tests/unit/stage/%s", file);
  FILE *in = fopen(path, "r");
  assert_non_null(in);
  *sentences = calloc(400, sizeof **sentences);
  assert_non_null(*sentences);
  while (fgets(line, sizeof line, in)) {
    line[strcspn(line, "\n")] = '\0';
    if (line[0] == 's') {
      assert_true(n < 400);
      read_sentence(&(*sentences)[n++], line + 2);
    } else if (line[0] == 'r' && n > 0) {
      read_readings(&(*sentences)[n - 1], line + 2);
    }
  }
  fclose(in);
  return n;
}
