// SPDX-License-Identifier: GPL-3.0-or-later
/// What differs between the steps of two phrases.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "changes/list.h"
#include "changes/marks.h"

enum { MOST_STEPS = 400 }; // compared each with each; further ones in order

/// Two phrases' steps and which is which.
typedef struct {
  CwWholeStep *old_step;
  CwWholeStep *new_step;
  size_t n_old, n_new;
  size_t *new_of; ///< by old step; CW_NONE: gone
  size_t *old_of;
  float *worth;        ///< of each pair; 0: they are not the same step
  unsigned char *kind; ///< of each pair, a CwWorded
} Steps;

static void steps_free(Steps *s)
{
  free(s->old_step);
  free(s->new_step);
  free(s->new_of);
  free(s->old_of);
  free(s->worth);
  free(s->kind);
}

/// The whole steps of a phrase. @return Release with free(); NULL when memory runs out.
static CwWholeStep *take_steps(const CwNotePhrase *phrase, size_t *n)
{
  CwWholeStep *list = cw_new(phrase->n_steps + 1, sizeof *list);
  *n = 0;
  for (size_t i = 0; list && i < phrase->n_steps && *n < MOST_STEPS;) {
    list[*n] = cw_whole_step(phrase->step, phrase->n_steps, i);
    i += list[(*n)++].n;
  }
  return list;
}

static bool is_on_same_counts(CwWholeStep left, CwWholeStep right)
{
  bool same = left.n == right.n;
  for (size_t i = 0; i < left.n && same; i++) {
    same =
        fabs(left.step[i].count - right.step[i].count) < 0.01 && fabs(left.step[i].until - right.step[i].until) < 0.01;
  }
  return same;
}

bool cw_same_steps(const CwNotePhrase *left, const CwNotePhrase *right)
{
  const CwWholeStep a = {left->step, left->n_steps};
  const CwWholeStep b = {right->step, right->n_steps};
  bool same = left->counts == right->counts && is_on_same_counts(a, b);
  for (size_t i = 0; i < left->n_steps && same; i++) {
    same = strcmp(left->step[i].text, right->step[i].text) == 0;
  }
  return same;
}

/// How much speaks for each pair of steps being the same one.
static CwStatus weigh(CwListing *listing, Steps *s)
{
  for (size_t i = 0; i < s->n_old; i++) {
    for (size_t k = 0; k < s->n_new; k++) {
      CwWorded worded = CW_WORDED_ELSE;
      double alike = 0;
      const CwStatus status =
          cw_worded(&listing->wording, s->old_step[i].step->text, s->new_step[k].step->text, &worded, &alike);
      if (status != CW_OK) {
        return status;
      }
      const bool there = is_on_same_counts(s->old_step[i], s->new_step[k]);
      const bool starts = fabs(s->old_step[i].step->count - s->new_step[k].step->count) < 0.01;
      const double words = worded == CW_WORDED_ELSE ? 0.8 * alike : worded == CW_WORDED_SAME ? 2.0 : 1.6;
      const bool same = worded != CW_WORDED_ELSE || there || (starts && alike > 0) || alike >= 0.6;
      s->worth[i * s->n_new + k] = same ? (float)(words + (there ? 1.0 : starts ? 0.6 : 0.1)) : 0.0F;
      s->kind[i * s->n_new + k] = (unsigned char)worded;
    }
  }
  return CW_OK;
}

static void pair_steps(Steps *s, size_t i, size_t k)
{
  s->new_of[i] = k;
  s->old_of[k] = i;
}

/// Take the pair most is said for, then the next: steps may change their order.
static void choose(Steps *s)
{
  for (;;) {
    size_t best = 0;
    float most = 0;
    for (size_t i = 0; i < s->n_old; i++) {
      for (size_t k = 0; k < s->n_new && s->new_of[i] == CW_NONE; k++) {
        if (s->old_of[k] == CW_NONE && s->worth[i * s->n_new + k] > most) {
          most = s->worth[i * s->n_new + k];
          best = i * s->n_new + k;
        }
      }
    }
    if (most <= 0) {
      return;
    }
    pair_steps(s, best / s->n_new, best % s->n_new);
  }
}

/// Add a change of a step. @param old_step NULL when new. @param new_step NULL when gone.
static CwStatus list_step(CwListing *listing, CwChange change, const CwWholeStep *old_step, const CwWholeStep *new_step)
{
  change.n_phrases = 1;
  change.old_count = old_step ? old_step->step->count : 0;
  change.new_count = new_step ? new_step->step->count : 0;
  char *old_on = old_step ? cw_marks_text(*old_step) : NULL;
  char *new_on = new_step ? cw_marks_text(*new_step) : NULL;
  CwStatus status = (old_step && !old_on) || (new_step && !new_on) ? CW_ERR_NO_MEM : CW_OK;
  if (status == CW_OK) {
    status =
        cw_list_change(listing, change, old_step ? old_step->step->text : NULL, new_step ? new_step->step->text : NULL);
  }
  if (status == CW_OK) {
    CwChange *last = &listing->changes->change[listing->changes->n - 1];
    last->old_on = old_on;
    last->new_on = new_on;
    return CW_OK;
  }
  free(old_on);
  free(new_on);
  return status;
}

static CwStatus list_pair(CwListing *listing, CwChange change, const Steps *s, size_t i, size_t k)
{
  static const CwChangeKind kinds[] = {[CW_WORDED_SAME] = CW_CHANGE_COUNT,
                                       [CW_WORDED_SPELLING] = CW_CHANGE_SPELLING,
                                       [CW_WORDED_PLACE] = CW_CHANGE_PLACE,
                                       [CW_WORDED_ELSE] = CW_CHANGE_STEP};
  const CwWorded worded = s->kind[i * s->n_new + k];
  const bool there = is_on_same_counts(s->old_step[i], s->new_step[k]);
  if (there && worded == CW_WORDED_SAME) {
    return CW_OK;
  }
  CwStatus status = CW_OK;
  change.kind = CW_CHANGE_COUNT;
  if (!there) {
    status = list_step(listing, change, &s->old_step[i], &s->new_step[k]);
  }
  change.kind = kinds[worded];
  return status == CW_OK && worded != CW_WORDED_SAME ? list_step(listing, change, &s->old_step[i], &s->new_step[k])
                                                     : status;
}

/// In the order of the new phrase; what is gone comes before what follows it.
static CwStatus list_all(CwListing *listing, CwChange change, const Steps *s)
{
  CwStatus status = CW_OK;
  size_t i = 0;
  for (size_t k = 0; k <= s->n_new && status == CW_OK; k++) {
    const double until = k < s->n_new ? s->new_step[k].step->count : INFINITY;
    for (; i < s->n_old && s->old_step[i].step->count <= until && status == CW_OK; i++) {
      change.kind = CW_CHANGE_STEP_GONE;
      status = s->new_of[i] == CW_NONE ? list_step(listing, change, &s->old_step[i], NULL) : CW_OK;
    }
    if (k == s->n_new || status != CW_OK) {
      continue;
    }
    change.kind = CW_CHANGE_STEP_NEW;
    status = s->old_of[k] == CW_NONE ? list_step(listing, change, NULL, &s->new_step[k])
                                     : list_pair(listing, change, s, s->old_of[k], k);
  }
  return status;
}

static CwStatus list_numbers(CwListing *listing, CwChange change, const CwNotePhrase *old, const CwNotePhrase *new)
{
  char before[24];
  char after[24];
  CwStatus status = CW_OK;
  if (old->counts != new->counts) {
    snprintf(before, sizeof before, "%u", old->counts);
    snprintf(after, sizeof after, "%u", new->counts);
    change.kind = CW_CHANGE_COUNTS;
    status = cw_list_change(listing, change, before, after);
  }
  const char *was = old->role ? old->role : "";
  const char *is = new->role ? new->role : "";
  if (status == CW_OK && strcmp(was, is) != 0) {
    change.kind = CW_CHANGE_ROLE;
    status = cw_list_change(listing, change, old->role, new->role);
  }
  return status;
}

CwStatus cw_list_steps(CwListing *listing, size_t old_phrase, size_t new_phrase)
{
  const CwNotePhrase *old = &listing->before->phrase[old_phrase];
  const CwNotePhrase *new = &listing->after->phrase[new_phrase];
  const CwChange change = {.old_phrase = old_phrase + 1, .new_phrase = new_phrase + 1, .n_phrases = 1};
  CwStatus status = list_numbers(listing, change, old, new);
  if (status != CW_OK || cw_same_steps(old, new)) {
    return status;
  }
  Steps s = {0};
  s.old_step = take_steps(old, &s.n_old);
  s.new_step = take_steps(new, &s.n_new);
  s.new_of = cw_new(s.n_old + 1, sizeof *s.new_of);
  s.old_of = cw_new(s.n_new + 1, sizeof *s.old_of);
  s.worth = cw_new(s.n_old * s.n_new + 1, sizeof *s.worth);
  s.kind = cw_new(s.n_old * s.n_new + 1, 1);
  if (!s.old_step || !s.new_step || !s.new_of || !s.old_of || !s.worth || !s.kind) {
    steps_free(&s);
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < s.n_old; i++) {
    s.new_of[i] = CW_NONE;
  }
  for (size_t k = 0; k < s.n_new; k++) {
    s.old_of[k] = CW_NONE;
  }
  status = weigh(listing, &s);
  if (status == CW_OK) {
    choose(&s);
    status = list_all(listing, change, &s);
  }
  steps_free(&s);
  return status;
}
