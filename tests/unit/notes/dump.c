// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/notes/dump.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static void dump_head(FILE *out, const CwNoteHead *head)
{
  const struct {
    const char *key;
    const char *words;
  } row[] = {
      {"piece", head->piece},
      {"dance", head->dance},
      {"role", head->role},
      {"recording", head->recording},
      {"carried from", head->carried_from},
      {"language", head->language},
      {"glossary", head->glossary},
      {"tempo", head->tempo},
      {"cast", head->cast},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    if (row[i].words) {
      fprintf(out, "%s = %s\n", row[i].key, row[i].words);
    }
  }
  if (head->tempo_range.high_bpm > 0) {
    fprintf(out, "tempo is %.4g to %.4g\n", head->tempo_range.low_bpm, head->tempo_range.high_bpm);
  }
  if (head->metre) {
    fprintf(out, "metre = %u", head->metre);
    fprintf(out, head->metre_unit ? "/%u\n" : "\n", head->metre_unit);
  }
  if (head->beats_per_count > 0) {
    fprintf(out, "beats per count = %g\n", head->beats_per_count);
  }
  if (!isnan(head->first_one_s)) {
    fprintf(out, "first one = %.3f s\n", head->first_one_s);
  }
  if (head->counts_per_phrase) {
    fprintf(out, "counts per phrase = %u\n", head->counts_per_phrase);
  }
}

static void dump_steps(FILE *out, const char *indent, const CwStep *steps, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    const CwStep *step = &steps[i];
    fprintf(out, "%s%.4g", indent, step->count);
    if (step->until > step->count) {
      fprintf(out, "-%.4g", step->until);
    }
    fprintf(out, step->text[0] ? ": %s" : "%s", step->text);
    fprintf(out, cw_step_is_hold(step->text) ? " (she stays)\n" : "\n");
  }
}

static void dump_part(FILE *out, const CwNotePart *part)
{
  fprintf(out, "   + %s", part->role ? part->role : "others");
  if (part->like != CW_NONE) {
    fprintf(out, ", like %zu", part->like + 1);
  }
  fprintf(out, part->other_side ? ", other side" : "");
  if (part->delay) {
    fprintf(out, ", canon: %u after %s, %u in all", part->after, part->leader ? part->leader : "those above",
            part->delay);
  }
  fprintf(out, "\n");
  dump_steps(out, "     ", part->step, part->n_steps);
  if (part->remark) {
    fprintf(out, "     remark: %s\n", part->remark);
  }
}

static void dump_moves(FILE *out, const CwNotebook *notebook, size_t k)
{
  for (size_t i = 0; i < notebook->n_moves; i++) {
    const CwNoteMove *move = &notebook->move[i];
    if (move->phrase == k) {
      fprintf(out, "   %s at %.4g: %s\n", move->on ? "on" : "off", move->count, move->role ? move->role : "all");
    }
  }
}

static void dump_hold(FILE *out, const CwNotePhrase *phrase)
{
  fprintf(out, "   hold");
  if (phrase->hold_s > 0) {
    fprintf(out, " %.3f s", phrase->hold_s);
  }
  if (!isnan(phrase->hold_until_s)) {
    fprintf(out, " until %.3f s", phrase->hold_until_s);
  }
  fprintf(out, "\n");
}

static void dump_phrase(FILE *out, const CwNotebook *notebook, size_t k)
{
  const CwNotePhrase *phrase = &notebook->phrase[k];
  fprintf(out, "%zu. %u counts%s", k + 1, phrase->counts, phrase->counts_given ? "" : " assumed");
  if (phrase->role) {
    fprintf(out, ", for %s", phrase->role);
  }
  if (phrase->like != CW_NONE) {
    fprintf(out, ", like %zu%s", phrase->like + 1, phrase->other_side ? ", other side" : "");
  }
  if (phrase->canon_apart) {
    fprintf(out, ", in canon %u apart", phrase->canon_apart);
  }
  if (phrase->count_in) {
    fprintf(out, ", count-in %u", phrase->count_in);
  }
  if (phrase->metre != notebook->head.metre || phrase->metre_unit != notebook->head.metre_unit) {
    fprintf(out, ", metre %u/%u", phrase->metre, phrase->metre_unit);
  }
  if (phrase->beats_per_count != notebook->head.beats_per_count) {
    fprintf(out, ", beats per count %g", phrase->beats_per_count);
  }
  if (phrase->tempo.high_bpm != notebook->head.tempo_range.high_bpm) {
    fprintf(out, ", tempo %.4g to %.4g", phrase->tempo.low_bpm, phrase->tempo.high_bpm);
  }
  fprintf(out, "\n");
  dump_steps(out, "   ", phrase->step, phrase->n_steps);
  for (size_t i = 0; i < phrase->n_parts; i++) {
    dump_part(out, &phrase->part[i]);
  }
  for (size_t i = 0; i < phrase->n_pins; i++) {
    fprintf(out, "   pin %.4g at %.3f s\n", phrase->pin[i].count, phrase->pin[i].time_s);
  }
  if (phrase->hold_after) {
    dump_hold(out, phrase);
  }
  if (phrase->remark) {
    fprintf(out, "   remark: %s\n", phrase->remark);
  }
  dump_moves(out, notebook, k);
}

char *dump_notebook(const CwNotebook *notebook)
{
  char *text = NULL;
  size_t size = 0;
  FILE *out = open_memstream(&text, &size);
  if (!out) {
    return NULL;
  }
  dump_head(out, &notebook->head);
  size_t section = CW_NONE;
  for (size_t k = 0; k < notebook->n_phrases; k++) {
    if (notebook->phrase[k].section != section) {
      section = notebook->phrase[k].section;
      fprintf(out, "# %s\n", notebook->section[section]);
    }
    dump_phrase(out, notebook, k);
  }
  for (size_t i = 0; i < notebook->n_diagnostics; i++) {
    const CwDiagnostic *said = &notebook->diagnostic[i];
    fprintf(out, "! %zu:%zu: %s\n", said->line, said->column, said->text);
  }
  fclose(out);
  return text;
}
