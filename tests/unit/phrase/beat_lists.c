// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/phrase/beat_lists.h"

#include "base/memory.h"
#include "unit/cw_test.h"

void add_run(CwBeats *beats, double from_s, double interval_s, size_t n, unsigned metre, unsigned position)
{
  CwBeat *grown = cw_resize(beats->beat, beats->n + n, sizeof *grown);
  assert_non_null(grown);
  beats->beat = grown;
  for (size_t i = 0; i < n; i++) {
    const unsigned place = (position - 1 + (unsigned)i) % metre + 1;
    grown[beats->n++] = (CwBeat){from_s + interval_s * (double)i, place, metre, 0.9F, i == 0};
  }
  beats->metre = metre;
}

void add_stretch(CwBeats *beats, double interval_s, size_t n, unsigned metre)
{
  const size_t begin = beats->n;
  add_run(beats, beats->beat[begin - 1].time_s + interval_s, interval_s, n, metre, 1);
  beats->beat[begin].run_start = false;
}
