// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/notes_of.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/format.h"

/// Beats per count in the beats of the metre: in "6/8" these are quavers.
static double beats_per_count(const CwHardCase *hard)
{
  unsigned beats, unit = 4;
  if (hard->metre != NULL && sscanf(hard->metre, "%u/%u", &beats, &unit) != 2)
    unit = 4;
  return hard->beats_per_count * hard->piece->beat * unit / 4;
}

static void print_pin(FILE *notes, double time_s)
{
  char text[32];
  const unsigned minutes = (unsigned)(time_s / 60);
  cw_format_fixed(text, sizeof text, time_s - 60 * minutes, 3);
  fprintf(notes, "@ %u:%s%s ", minutes, time_s - 60 * minutes < 9.9995 ? "0" : "", text);
}

char *cw_hard_notes(const CwHardCase *hard, const CwHardTruth *truth, unsigned n_pins)
{
  char *text = NULL, number[32];
  size_t size;
  FILE *notes = open_memstream(&text, &size);
  if (notes == NULL)
    return NULL;
  fprintf(notes, "piece: %s\n", hard->piece->name);
  if (hard->metre != NULL)
    fprintf(notes, "metre: %s\n", hard->metre);
  fprintf(notes, "beats per count: %s\n\n", cw_format_fixed(number, sizeof number, beats_per_count(hard), 1));
  for (size_t k = 0; k < truth->n_phrases; k++) {
    if ((n_pins >= 1 && k == 0) || (n_pins >= 2 && k == truth->n_phrases / 2))
      print_pin(notes, truth->one_s[k]);
    fprintf(notes, "%u counts, step %zu\n", truth->counts[k], k + 1);
    if (truth->hold_after[k])
      fputs("hold\n", notes);
  }
  if (fclose(notes) == 0)
    return text;
  free(text);
  return NULL;
}
