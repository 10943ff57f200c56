// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/truth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/time_text.h"

/// Take one line in. @return false when it does not begin with a time.
static bool read_line(const char *line, CwTruth *truth)
{
  const char *rest = NULL;
  double time_s = cw_parse_time(line, &rest);
  if (isnan(time_s))
    return false;
  size_t i = truth->n++;
  truth->time_s[i] = time_s;
  truth->downbeat[i] = strncmp(rest, "\tdb", 3) == 0;
  char *next = NULL;
  truth->first[i] = (unsigned)strtoul(rest, &next, 10);
  truth->second[i] = (unsigned)strtoul(next, &next, 10);
  truth->end_s[i] = *next == '\t' ? cw_parse_time(next + 1, NULL) : NAN;
  return true;
}

bool cw_truth_read(const char *name, CwTruth *truth)
{
  enum { MOST = 4096 };
  char path[512], line[128];
  snprintf(path, sizeof path, "%s/%s", CW_FIXTURES, name);
  *truth = (CwTruth){.time_s = calloc(MOST, sizeof *truth->time_s),
                     .downbeat = calloc(MOST, sizeof *truth->downbeat),
                     .first = calloc(MOST, sizeof *truth->first),
                     .second = calloc(MOST, sizeof *truth->second),
                     .end_s = calloc(MOST, sizeof *truth->end_s)};
  FILE *file = fopen(path, "r");
  bool good = file != NULL && truth->time_s && truth->downbeat && truth->first && truth->second && truth->end_s;
  while (good && truth->n < MOST && fgets(line, sizeof line, file) != NULL)
    good = read_line(line, truth);
  if (file != NULL)
    fclose(file);
  if (!good)
    cw_truth_free(truth);
  return good;
}

void cw_truth_free(CwTruth *truth)
{
  free(truth->time_s);
  free(truth->downbeat);
  free(truth->first);
  free(truth->second);
  free(truth->end_s);
  *truth = (CwTruth){0};
}

static bool add_phrases(const CwTruth *ones, const CwTruth *counts, CwCountLine *line)
{
  size_t at = 0;
  for (size_t k = 0; k < ones->n; k++) {
    unsigned n = ones->second[k];
    if (at + n > counts->n || counts->first[at] != ones->first[k] ||
        cw_count_line_add(line, counts->time_s + at, n, ones->end_s[k], -1) != CW_OK)
      return false;
    at += n;
  }
  return at == counts->n;
}

bool cw_true_line(const char *name, CwCountLine *line)
{
  char file[64];
  CwTruth ones = {0}, counts = {0};
  cw_count_line_init(line, 0);
  snprintf(file, sizeof file, "%s.ones", name);
  bool good = cw_truth_read(file, &ones);
  snprintf(file, sizeof file, "%s.counts", name);
  good = good && cw_truth_read(file, &counts) && add_phrases(&ones, &counts, line);
  cw_truth_free(&ones);
  cw_truth_free(&counts);
  return good;
}
