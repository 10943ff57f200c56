// SPDX-License-Identifier: GPL-3.0-or-later
/// Grouping to phrases against every way there is to group few counts.
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "phrase/group.h"
#include "unit/random.h"

enum { MOST = 200, FEW = 12 };

/// Counts to group, and what every way to do it is worth.
typedef struct {
  CwCount count[MOST];
  double novelty[MOST];
  size_t n;
  unsigned usual;
  double best;         ///< the best score of all ways
  double total;        ///< exp(score), summed over all ways ...
  double begins[FEW];  ///< ... and over those in which a phrase begins here
  unsigned best_begin; ///< a bit for each count where the best way begins a phrase
} Case;

/// The model's score of a way to group, as group.c states it: `begins` has a bit for each count that begins a phrase.
static double score_of(const Case *c, unsigned begins)
{
  double score = 0;
  size_t first = 0;
  while (!(begins >> first & 1)) {
    first++;
  }
  if (first >= (size_t)2 * c->usual) { // no pick-up is as long as that
    return -INFINITY;
  }
  size_t bar = 0;
  while (bar < c->n && !c->count[bar].bar_start) {
    bar++;
  }
  if (bar == c->n || bar >= c->usual) { // no bars to speak of
    score -= 0.3 * (double)first;
  } else if (first < bar) {
    score -= 1.0;
  } else if (first > bar) {
    score -= 3.0 + 0.5 * (double)(first - bar);
  }
  for (size_t i = first; i < c->n;) {
    size_t end = i + 1;
    while (end < c->n && !(begins >> end & 1)) {
      end++;
    }
    const size_t length = end - i;
    double fits = length % 2 == 0 ? -4.5 : -6.0;
    if (length == c->usual) {
      fits = 0;
    } else if (2 * length == c->usual || length == c->usual + c->usual / 2) {
      fits = -3.5;
    }
    if (end == c->n) { // music may end anywhere
      fits = fmax(fits, -1.0);
    }
    const double heard = fmin(fmax(c->novelty[i], -2.0), 3.0);
    score += fits + 0.45 * heard + (c->count[i].bar_start ? 0.75 : -0.75);
    i = end;
  }
  return score;
}

static void try_all(Case *c)
{
  c->best = -INFINITY;
  c->total = 0;
  memset(c->begins, 0, sizeof c->begins);
  for (unsigned begins = 1; begins < 1U << c->n; begins++) {
    const double score = score_of(c, begins);
    if (score > c->best) {
      c->best = score;
      c->best_begin = begins;
    }
    c->total += exp(score);
    for (size_t i = 0; i < c->n; i++) {
      c->begins[i] += begins >> i & 1 ? exp(score) : 0.0;
    }
  }
}

/// `bar` counts in a bar, the first bar at `offset`.
static Case random_case(size_t n, unsigned usual, size_t bar, uint64_t *seed)
{
  Case c = {.n = n, .usual = usual};
  const size_t offset = random_below(seed, bar);
  for (size_t i = 0; i < n; i++) {
    c.count[i] = (CwCount){0.5 * (double)i, 0.5 * (double)(i + 1), i % bar == offset, i == 0, 1};
    c.novelty[i] = random_between(seed, -3, 4);
  }
  return c;
}

static void the_best_of_all_ways_is_found(void **state)
{
  (void)state;
  uint64_t seed = 61;
  for (int k = 0; k < 300; k++) {
    const unsigned usual = (unsigned)(1 + random_below(&seed, 9));
    Case c = random_case(1 + random_below(&seed, FEW), usual, 1 + random_below(&seed, 4), &seed);
    bool begins[FEW];
    double probability[FEW];
    try_all(&c);
    assert_int_equal(cw_group(c.count, c.novelty, c.n, usual, begins, probability), CW_OK);
    unsigned found = 0;
    for (size_t i = 0; i < c.n; i++) {
      found |= (unsigned)begins[i] << i;
      assert_near(probability[i], c.begins[i] / c.total, 1e-9);
    }
    assert_true(found != 0);
    assert_near(score_of(&c, found), c.best, 1e-9);
    assert_int_equal(found, c.best_begin);
  }
}

static void usual_phrases_are_found_where_nothing_is_heard(void **state)
{
  (void)state;
  for (unsigned usual = 4; usual <= 12; usual += 2) {
    uint64_t seed = 62;
    Case c = random_case(5 * usual, usual, usual, &seed);
    bool begins[MOST];
    double probability[MOST];
    for (size_t i = 0; i < c.n; i++) {
      c.novelty[i] = 0;
      c.count[i].bar_start = i % 2 == 0;
    }
    assert_int_equal(cw_group(c.count, c.novelty, c.n, usual, begins, probability), CW_OK);
    for (size_t i = 0; i < c.n; i++) {
      assert_int_equal(begins[i], i % usual == 0);
      assert_true(probability[i] >= 0 && probability[i] <= 1);
    }
  }
}

static void novelty_draws_the_phrases_to_itself(void **state)
{
  (void)state;
  for (size_t pick_up = 0; pick_up < 8; pick_up++) {
    uint64_t seed = 63;
    Case c = random_case(8 * 12 + pick_up, 8, 1, &seed);
    bool begins[MOST];
    double probability[MOST];
    for (size_t i = 0; i < c.n; i++) {
      c.count[i].bar_start = false;
      c.novelty[i] = i % 8 == pick_up ? 3.0 : -0.4;
    }
    assert_int_equal(cw_group(c.count, c.novelty, c.n, 8, begins, probability), CW_OK);
    for (size_t i = 0; i < c.n; i++) {
      const bool one = i >= pick_up && (i - pick_up) % 8 == 0;
      assert_int_equal(begins[i], one);
      // the last may be cut short anywhere, and is less sure
      assert_true(one ? probability[i] > (i + 8 < c.n ? 0.8 : 0.7) : probability[i] < 0.3);
    }
  }
}

static void the_first_bar_begins_with_a_one_unless_much_speaks_against_it(void **state)
{
  (void)state;
  for (size_t pick_up = 0; pick_up < 4; pick_up++) {
    for (int loud = 0; loud < 2; loud++) {
      uint64_t seed = 66;
      Case c = random_case(8 * 6 + pick_up, 8, 1, &seed);
      bool begins[MOST];
      double probability[MOST];
      for (size_t i = 0; i < c.n; i++) {
        c.count[i].bar_start = i % 4 == pick_up;
        c.novelty[i] = i % 8 == (pick_up + 4) % 8 ? (loud ? 3.0 : 0.5) : 0.0;
      }
      assert_int_equal(cw_group(c.count, c.novelty, c.n, 8, begins, probability), CW_OK);
      for (size_t i = 0; i < c.n; i++) {
        const bool one = i >= pick_up && (i - pick_up) % 8 == 0;
        assert_true(loud || begins[i] == one);
      }
      assert_int_equal(begins[pick_up + 16], !loud);
    }
  }
}

static void one_count_is_a_phrase(void **state)
{
  (void)state;
  uint64_t seed = 64;
  const Case c = random_case(1, 8, 1, &seed);
  bool begins = false;
  double probability = 0;
  assert_int_equal(cw_group(c.count, c.novelty, 1, 8, &begins, &probability), CW_OK);
  assert_true(begins);
  assert_near(probability, 1.0, 1e-12);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  uint64_t seed = 65;
  const Case c = random_case(30, 8, 4, &seed);
  bool begins[MOST];
  double probability[MOST];
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 50; n++) {
    cw_fail_after(n);
    status = cw_group(c.count, c.novelty, c.n, 8, begins, probability);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_best_of_all_ways_is_found),
      cmocka_unit_test(usual_phrases_are_found_where_nothing_is_heard),
      cmocka_unit_test(novelty_draws_the_phrases_to_itself),
      cmocka_unit_test(the_first_bar_begins_with_a_one_unless_much_speaks_against_it),
      cmocka_unit_test(one_count_is_a_phrase),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
