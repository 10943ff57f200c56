// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/measure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/time_text.h"

/// Pair the times off in order. For ascending times and one tolerance this finds the most pairs.
CwScore cw_score(const double *truth_s, size_t n_true, const double *found_s, size_t n_found, double tolerance_s)
{
  CwScore score = {.n_true = n_true, .n_found = n_found};
  double sum = 0;
  for (size_t i = 0, j = 0; i < n_true && j < n_found;) {
    double error = found_s[j] - truth_s[i];
    if (error < -tolerance_s) {
      j++;
    } else if (error > tolerance_s) {
      i++;
    } else {
      sum += fabs(error);
      score.greatest_error_s = fmax(score.greatest_error_s, fabs(error));
      score.n_hit++;
      i++;
      j++;
    }
  }
  double hits = (double)score.n_hit;
  score.recall = n_true > 0 ? hits / (double)n_true : 1;
  score.precision = n_found > 0 ? hits / (double)n_found : 1;
  score.f = n_true + n_found > 0 ? 2 * hits / (double)(n_true + n_found) : 1;
  score.mean_error_s = hits > 0 ? sum / hits : 0;
  return score;
}

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
