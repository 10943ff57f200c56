// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/edits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/// A phrase that nobody wrote, in the surroundings of another.
static CwNotePhrase missing_phrase(const CwNotePhrase *beside, unsigned counts)
{
  CwNotePhrase phrase = *beside;
  phrase.counts = counts;
  phrase.like = CW_NONE;
  phrase.other_side = false;
  phrase.n_steps = 0;
  phrase.n_pins = 0;
  phrase.hold_after = false;
  phrase.hold_s = 0;
  phrase.hold_until_s = (double)NAN;
  phrase.count_in = 0;
  phrase.n_parts = 0;
  phrase.canon_apart = 0;
  return phrase;
}

/// Pins of counts that the phrase no longer has are left out.
static void shorten(CwNotePhrase *phrase, unsigned counts)
{
  size_t n = 0;
  while (n < phrase->n_pins && phrase->pin[n].count < (double)counts + 1.0) {
    n++;
  }
  phrase->counts = counts;
  phrase->n_pins = n;
}

/// References to phrases that now have other numbers.
static void renumber(CwNotebook *changed, CwEdit edit)
{
  for (size_t p = 0; p < changed->n_phrases; p++) {
    size_t *like = &changed->phrase[p].like;
    if (*like == CW_NONE) {
      continue;
    }
    if (edit.kind == CW_FIT_MISSING) {
      *like += *like >= edit.at;
    } else if (edit.kind == CW_FIT_EXTRA) {
      *like = *like == edit.at ? CW_NONE : *like - (*like > edit.at);
    }
  }
}

CwStatus cw_edit_apply(const CwNotebook *notebook, CwEdit edit, CwNotebook *changed)
{
  const size_t n = notebook->n_phrases;
  *changed = *notebook;
  changed->phrase = cw_new(n + 1, sizeof *changed->phrase);
  if (!changed->phrase) {
    return CW_ERR_NO_MEM;
  }
  size_t k = 0;
  for (size_t p = 0; p <= n; p++) {
    if (p == edit.at && edit.kind == CW_FIT_MISSING) {
      changed->phrase[k++] = missing_phrase(&notebook->phrase[p > 0 ? p - 1 : 0], edit.counts);
    }
    if (p < n && !(p == edit.at && edit.kind == CW_FIT_EXTRA)) {
      changed->phrase[k++] = notebook->phrase[p];
    }
    if (p < n && p == edit.at && edit.kind == CW_FIT_LENGTH) {
      shorten(&changed->phrase[k - 1], edit.counts);
    }
  }
  changed->n_phrases = k;
  renumber(changed, edit);
  return CW_OK;
}

long cw_edit_counts(const CwNotebook *notebook, CwEdit edit)
{
  const long had = edit.kind == CW_FIT_MISSING ? 0 : (long)notebook->phrase[edit.at].counts;
  return (edit.kind == CW_FIT_EXTRA ? 0 : (long)edit.counts) - had;
}

void cw_edit_free(CwNotebook *changed)
{
  free(changed->phrase);
  *changed = (CwNotebook){0};
}
