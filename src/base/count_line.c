// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/count_line.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

void cw_count_line_init(CwCountLine *line, double duration_s)
{
  memset(line, 0, sizeof *line);
  line->beats_per_count = 1.0;
  line->duration_s = duration_s;
}

static bool ascends(const CwCountLine *line, const double *count_s, unsigned counts, double end_s)
{
  const double before = line->n_phrases ? line->phrase[line->n_phrases - 1].end_s : -INFINITY;
  // a phrase may begin where the one before ends, give or take the last bit
  if (counts == 0 || !(count_s[0] >= before - 1e-9)) {
    return false;
  }
  for (unsigned i = 1; i < counts; i++) {
    if (!(count_s[i] > count_s[i - 1])) {
      return false;
    }
  }
  return end_s > count_s[counts - 1];
}

CwStatus cw_count_line_add(CwCountLine *line, const double *count_s, unsigned counts, double end_s, double confidence)
{
  if (!ascends(line, count_s, counts, end_s)) {
    return CW_ERR_BAD_ARG;
  }
  double *times = cw_resize(line->count_s, line->n_counts + counts, sizeof *times);
  if (!times) {
    return CW_ERR_NO_MEM;
  }
  line->count_s = times;
  CwPhrase *phrases = cw_resize(line->phrase, line->n_phrases + 1, sizeof *phrases);
  if (!phrases) {
    return CW_ERR_NO_MEM;
  }
  line->phrase = phrases;
  memcpy(times + line->n_counts, count_s, counts * sizeof *times);
  phrases[line->n_phrases++] = (CwPhrase){line->n_counts, counts, end_s, confidence};
  line->n_counts += counts;
  return CW_OK;
}

/// Time of whole count `i` (from 0) of a phrase; its end for i == counts.
static double edge(const CwCountLine *line, const CwPhrase *phrase, unsigned i)
{
  return i < phrase->counts ? line->count_s[phrase->first_count + i] : phrase->end_s;
}

double cw_count_line_time(const CwCountLine *line, size_t phrase, double count)
{
  if (phrase >= line->n_phrases) {
    return NAN;
  }
  const CwPhrase *p = &line->phrase[phrase];
  if (!(count >= 1.0 && count <= p->counts + 1.0)) {
    return NAN;
  }
  unsigned i = (unsigned)(count - 1.0);
  if (i >= p->counts) {
    return p->end_s;
  }
  const double part = count - 1.0 - i;
  const double left = edge(line, p, i);
  return left + part * (edge(line, p, i + 1) - left);
}

bool cw_count_line_find(const CwCountLine *line, double time_s, size_t *phrase, double *count)
{
  size_t low = 0;
  size_t high = line->n_phrases;
  while (low < high) { // first phrase that ends after time_s
    const size_t middle = low + (high - low) / 2;
    if (line->phrase[middle].end_s > time_s) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  if (low == line->n_phrases || !(time_s >= cw_count_line_start(line, low))) {
    return false;
  }
  const CwPhrase *p = &line->phrase[low];
  unsigned i = 0;
  while (i + 1 < p->counts && edge(line, p, i + 1) <= time_s) {
    i++;
  }
  const double left = edge(line, p, i);
  *phrase = low;
  *count = 1.0 + i + (time_s - left) / (edge(line, p, i + 1) - left);
  return true;
}

double cw_count_line_start(const CwCountLine *line, size_t phrase)
{
  return phrase < line->n_phrases ? line->count_s[line->phrase[phrase].first_count] : (double)NAN;
}

double cw_count_line_tempo(const CwCountLine *line, size_t phrase)
{
  if (phrase >= line->n_phrases) {
    return NAN;
  }
  return 60.0 * line->phrase[phrase].counts / (line->phrase[phrase].end_s - cw_count_line_start(line, phrase));
}

CwStatus cw_count_line_copy(const CwCountLine *from, CwCountLine *to)
{
  *to = *from;
  to->count_s = cw_new(from->n_counts, sizeof *to->count_s);
  to->phrase = cw_new(from->n_phrases, sizeof *to->phrase);
  if (!to->count_s || !to->phrase) {
    cw_count_line_free(to);
    return CW_ERR_NO_MEM;
  }
  if (from->n_phrases) {
    memcpy(to->count_s, from->count_s, from->n_counts * sizeof *to->count_s);
    memcpy(to->phrase, from->phrase, from->n_phrases * sizeof *to->phrase);
  }
  return CW_OK;
}

void cw_count_line_free(CwCountLine *line)
{
  if (!line) {
    return;
  }
  free(line->count_s);
  free(line->phrase);
  memset(line, 0, sizeof *line);
}
