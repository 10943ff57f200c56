// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/bars.h"

#include <math.h>

#include "notes/lead.h"

/// What a bar is by the head: its beats, and what a beat is of a count. @return false when bars are not counted so.
static bool begin(const CwParser *parser, CwBars *bars)
{
  *bars = (CwBars){.beats = parser->metre ? parser->metre : 3, .part = 1};
  const double beats = parser->beats_per_count;
  if (bars->beats != 3 && bars->beats != 4) {
    return false;
  }
  if (fabs(beats - bars->beats) < 1e-9 || (beats <= 0 && parser->metre == 3)) { // in one
    bars->part = 1.0 / bars->beats;
    return true;
  }
  return fabs(beats - 1) < 1e-9 && parser->metre > 0;
}

static bool is_number(const CwMark *mark)
{
  return mark->n == 1 && !mark->sub && !mark->count[0].range;
}

/// Go on to a number. @return false when it is neither the next beat nor a later bar.
static bool step(CwBars *bars, double count)
{
  const unsigned number = (unsigned)count;
  if (bars->bar > 0 && number == bars->beat + 1 && number <= bars->beats) {
    bars->beat = number;
    return true;
  }
  const bool later = number > bars->bar;
  bars->bar = later ? number : bars->bar;
  bars->beat = 1;
  return later;
}

bool cw_bars_find(CwParser *parser, size_t i, size_t end, CwBars *bars)
{
  CwMarkWalk walk;
  CwMark mark;
  bool proof = false;
  size_t at = i;
  if (!begin(parser, bars)) {
    bars->beats = 0;
    return false;
  }
  CwBars trial = *bars;
  cw_mark_walk(&walk, &parser->text, i, end, cw_counts_in_three(parser));
  while (cw_mark_next(&walk, &mark)) {
    const bool good = is_number(&mark) ? step(&trial, mark.count[0].count) : mark.count[0].count >= trial.bar;
    if (!good) {
      bars->beats = 0;
      return false;
    }
    if (!is_number(&mark)) {
      trial = (CwBars){trial.beats, trial.part, (unsigned)mark.count[mark.n - 1].until, 1};
    } else if (!proof && trial.bar > 1 && trial.beat == 3) {
      proof = true; // "2 2 3": no other counts go down
      at = mark.begin;
    }
    cw_mark_accept(&walk, &mark);
  }
  if (!proof) {
    bars->beats = 0;
    return false;
  }
  if (parser->beats_per_count <= 0 && !parser->told_bars) {
    parser->told_bars = true;
    cw_diagnose(parser, at, "read as bars counted in one: write 'beats per count: 3' in the head if they are");
  }
  return true;
}

void cw_bars_take(CwBars *bars, CwMark *mark)
{
  if (bars->beats == 0) {
    return;
  }
  if (!is_number(mark)) {
    bars->bar = (unsigned)mark->count[mark->n - 1].until;
    bars->beat = 1;
    return;
  }
  if (!step(bars, mark->count[0].count)) {
    return;
  }
  const double count =
      bars->part < 1 ? bars->bar + (bars->beat - 1) * bars->part : (double)(bars->bar - 1) * bars->beats + bars->beat;
  mark->count[0] = (CwMarkCount){count, count, false};
}
