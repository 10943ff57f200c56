// SPDX-License-Identifier: GPL-3.0-or-later
/// How long notes of more and more lines take to be read: every kind of line by turns.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "countwright/notebook.h"

static const char *const line[] = {
    "8 1-4 glissade 5&6 pas de bourr\xC3\xA9"
    "e 7-8 hold",
    "[Girls] 8 1-4 run 5-8 turn, exit DSL",
    "[Boys] 1-2 jump 3 4 land",
    "+ the old ferryman looks up",
    "",
    "same as 5, other side",
    "# Scene: the harbour",
    "6 1 2 3 row 4 & 5 pull ; slower than last time",
    "[first row] 8 1-4 walk 5-8 kneel",
    "[second row] starts 2 counts after the first row",
    "walk in a circle, look back",
    "hold 0:02 (the gull)",
};

static double now_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static char *write_notes(size_t lines, size_t *size)
{
  char *text = NULL;
  FILE *out = open_memstream(&text, size);
  for (size_t i = 0; out && i < lines; i++) {
    fprintf(out, "%s\n", line[i % (sizeof line / sizeof line[0])]);
  }
  return out && fclose(out) == 0 ? text : NULL;
}

/// The least of three, in seconds; negative when it failed.
static double measure(const char *text, size_t size, size_t *phrases)
{
  double least_s = -1;
  for (int i = 0; i < 3; i++) {
    CwNotebook notebook;
    const double begun_s = now_s();
    if (cw_notebook_parse(text, size, &notebook) != CW_OK) {
      return -1;
    }
    const double took_s = now_s() - begun_s;
    *phrases = notebook.n_phrases;
    least_s = least_s < 0 || took_s < least_s ? took_s : least_s;
    cw_notebook_free(&notebook);
  }
  return least_s;
}

/// @param argv The number of lines, once; without it from 12 500 to 100 000.
int main(int argc, char **argv)
{
  const size_t first = argc > 1 ? strtoul(argv[1], NULL, 10) : 12500;
  const size_t last = argc > 1 ? first : 100000;
  for (size_t lines = first; lines > 0 && lines <= last; lines *= 2) {
    size_t size = 0;
    size_t phrases = 0;
    char *text = write_notes(lines, &size);
    const double took_s = text ? measure(text, size, &phrases) : -1;
    free(text);
    if (took_s < 0) {
      return 1;
    }
    printf("%6zu lines, %4.1f MB, %5zu phrases: %4.0f ms, %.2f us a line\n", lines, (double)size / 1e6, phrases,
           1e3 * took_s, 1e6 * took_s / (double)lines);
  }
  return 0;
}
