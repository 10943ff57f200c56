// SPDX-License-Identifier: GPL-3.0-or-later
/// What holds of any two versions of notes, made at random.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "changes/order.h"
#include "countwright/changes.h"
#include "unit/cw_test.h"

enum { MOST = 12, ROOM = 4000 };

static unsigned seed = 7;

static unsigned any(unsigned n)
{
  seed = seed * 1103515245U + 12345U;
  return (seed >> 16) % n;
}

/// Numbers of phrases as notes; phrases of different numbers have no word in common.
static CwNotebook write_notes(const unsigned *number, size_t n)
{
  static const char *const verb[] = {"row",  "kneel", "stamp",  "bow",  "crawl", "reach", "spin",  "lean",
                                     "haul", "drift", "tumble", "wade", "sweep", "drum",  "climb", "wait"};
  static const char *const noun[] = {"lantern", "rail", "rope", "oar",    "net",   "crate", "sail", "anchor",
                                     "gull",    "mast", "keel", "barrel", "plank", "tar",   "hull", "pier"};
  char text[ROOM] = "";
  for (size_t i = 0; i < n; i++) {
    const size_t used = strlen(text);
    snprintf(text + used, sizeof text - used, "8 1-2 %s 3 %s%u %u-8 z%uq\n", verb[number[i] % 16], noun[number[i] % 16],
             number[i] / 16, 4 + number[i] % 4, number[i]);
  }
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  assert_int_equal(notebook.n_phrases, n);
  return notebook;
}

static CwChanges compare(const unsigned *before, size_t n_before, const unsigned *after, size_t n_after)
{
  CwNotebook old_notes = write_notes(before, n_before);
  CwNotebook new_notes = write_notes(after, n_after);
  CwChanges changes;
  assert_int_equal(cw_changes_find(&old_notes, &new_notes, NULL, &changes), CW_OK);
  cw_notebook_free(&old_notes);
  cw_notebook_free(&new_notes);
  return changes;
}

static size_t count(const CwChanges *changes, CwChangeKind kind)
{
  size_t n = 0;
  for (size_t i = 0; i < changes->n; i++) {
    n += changes->change[i].kind == kind;
  }
  return n;
}

/// Phrases 0, 1, 2, ... in a row.
static size_t in_a_row(unsigned *number)
{
  const size_t n = 4 + any(MOST - 4);
  for (size_t i = 0; i < n; i++) {
    number[i] = (unsigned)i;
  }
  return n;
}

static void two_phrases_that_change_places_are_one_change(void **state)
{
  (void)state;
  for (size_t turn = 0; turn < 200; turn++) {
    unsigned before[MOST];
    unsigned after[MOST];
    const size_t n = in_a_row(before);
    memcpy(after, before, sizeof after);
    const size_t i = any((unsigned)n);
    const size_t k = (i + 1 + any((unsigned)n - 1)) % n;
    after[i] = before[k];
    after[k] = before[i];
    CwChanges changes = compare(before, n, after, n);
    assert_int_equal(changes.n, 1);
    assert_int_equal(changes.change[0].kind, CW_CHANGE_PHRASE_PLACES);
    assert_int_equal(changes.n_same, n);
    cw_changes_free(&changes);
  }
}

static void a_phrase_taken_elsewhere_is_one_change(void **state)
{
  (void)state;
  for (size_t turn = 0; turn < 200; turn++) {
    unsigned before[MOST];
    unsigned after[MOST];
    const size_t n = in_a_row(before);
    const size_t from = any((unsigned)n);
    const size_t to = any((unsigned)n);
    memcpy(after, before, sizeof after);
    memmove(after + from, after + from + 1, (n - from - 1) * sizeof *after);
    memmove(after + to + 1, after + to, (n - 1 - to) * sizeof *after);
    after[to] = before[from];
    CwChanges changes = compare(before, n, after, n);
    assert_int_equal(changes.n, from != to);
    assert_int_equal(changes.n_added + changes.n_removed, 0);
    cw_changes_free(&changes);
  }
}

/// The numbers come from one version or the other, so each side sees what the other sees.
static void what_is_new_one_way_is_gone_the_other_way(void **state)
{
  (void)state;
  for (size_t turn = 0; turn < 300; turn++) {
    unsigned one[MOST];
    unsigned other[MOST];
    const size_t n_one = any(MOST + 1);
    const size_t n_other = any(MOST + 1);
    for (size_t i = 0; i < MOST; i++) {
      one[i] = any(20);
      other[i] = any(20);
    }
    CwChanges forth = compare(one, n_one, other, n_other);
    CwChanges back = compare(other, n_other, one, n_one);
    assert_int_equal(forth.n_added, back.n_removed);
    assert_int_equal(forth.n_removed, back.n_added);
    assert_int_equal(forth.n_old - forth.n_removed, forth.n_new - forth.n_added);
    cw_changes_free(&forth);
    cw_changes_free(&back);
  }
}

static void every_phrase_is_paired_once_at_most_and_the_kinds_add_up(void **state)
{
  (void)state;
  for (size_t turn = 0; turn < 200; turn++) {
    unsigned one[MOST];
    unsigned other[MOST];
    bool seen[MOST + 1] = {false};
    size_t unpaired = 0;
    for (size_t i = 0; i < MOST; i++) {
      one[i] = any(9);
      other[i] = any(9);
    }
    CwChanges changes = compare(one, MOST, other, MOST);
    for (size_t k = 0; k < MOST; k++) {
      assert_true(changes.was[k] <= MOST);
      assert_false(changes.was[k] && seen[changes.was[k]]);
      seen[changes.was[k]] = true;
      unpaired += changes.was[k] == 0;
    }
    assert_int_equal(unpaired, changes.n_added);
    assert_true(count(&changes, CW_CHANGE_PHRASE_NEW) <= changes.n_added);
    cw_changes_free(&changes);
  }
}

/// Told of pairs in order; counts them and checks that they are of the same phrase.
typedef struct {
  const CwGist *before;
  const CwGist *after;
  size_t n;
} Told;

static void tell(void *user, size_t old_phrase, size_t new_phrase)
{
  Told *told = user;
  assert_int_equal(told->before[old_phrase].whole, told->after[new_phrase].whole);
  told->n++;
}

/// Too many for a table of all pairs: 6000 phrases, every hundredth one taken out, another put in.
static void very_long_notes_are_parted(void **state)
{
  (void)state;
  enum { N = 6000 };
  CwGist *before = calloc(N, sizeof *before);
  CwGist *after = calloc(N, sizeof *after);
  for (size_t i = 0; i < N; i++) {
    before[i].whole = i + 1;
    after[i].whole = i % 100 == 50 ? N + i : i + 1;
    before[i].n_words = after[i].n_words = 1;
    before[i].word[0] = (uint32_t)before[i].whole;
    after[i].word[0] = (uint32_t)after[i].whole;
  }
  Told told = {before, after, 0};
  assert_int_equal(cw_pair_in_order((CwStretch){before, after, 0, N, 0, N}, 0.6, tell, &told), CW_OK);
  assert_int_equal(told.n, N - N / 100);
  free(before);
  free(after);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(two_phrases_that_change_places_are_one_change),
      cmocka_unit_test(a_phrase_taken_elsewhere_is_one_change),
      cmocka_unit_test(what_is_new_one_way_is_gone_the_other_way),
      cmocka_unit_test(every_phrase_is_paired_once_at_most_and_the_kinds_add_up),
      cmocka_unit_test(very_long_notes_are_parted),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
