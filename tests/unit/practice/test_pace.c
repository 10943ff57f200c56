// SPDX-License-Identifier: GPL-3.0-or-later
/// Curves of pace, against what is reckoned by hand.
#include "unit/cw_test.h"

#include <math.h>
#include <stdint.h>

#include "base/memory.h"
#include "practice/pace.h"

/// Two phrases of 4 counts with a hold of 3 s between: counts of 1 s, then of 0.5 s, the third of each late.
static CwCountLine two_phrases(void)
{
  CwCountLine line;
  cw_count_line_init(&line, 30);
  const double first[] = {2, 3, 4.2, 5};
  const double second[] = {9, 9.5, 10.1, 10.5};
  assert_int_equal(cw_count_line_add(&line, first, 4, 6, 1), CW_OK);
  assert_int_equal(cw_count_line_add(&line, second, 4, 11, 1), CW_OK);
  return line;
}

/// The same phrases in another recording: half as fast, then as fast, with a hold of 1 s.
static CwCountLine other_phrases(void)
{
  CwCountLine line;
  cw_count_line_init(&line, 30);
  const double first[] = {1, 3, 5, 7};
  const double second[] = {10, 10.5, 11, 11.5};
  assert_int_equal(cw_count_line_add(&line, first, 4, 9, 1), CW_OK);
  assert_int_equal(cw_count_line_add(&line, second, 4, 12, 1), CW_OK);
  return line;
}

static const size_t rows[] = {0, 1};
static const size_t sections[] = {0, 1};

static void a_living_tempo_is_only_slower_or_faster(void **state)
{
  (void)state;
  CwCountLine line = two_phrases();
  const CwPlacedLine own = {&line, rows};
  CwPaceCurve curve;
  assert_int_equal(cw_pace_make(&own, 0, 1, sections, CW_PACE_LIVING, NULL, 0.8, &curve), CW_OK);
  assert_false(curve.as_it_is);
  for (double t = 0; t < 20; t += 0.7) {
    assert_near(cw_pace_at(&curve, t), (t - 2) / 0.8, 1e-9);
    assert_near(cw_pace_ratio(&curve, t), 1.25, 1e-9);
  }
  cw_pace_free(&curve);
  assert_int_equal(cw_pace_make(&own, 0, 1, sections, CW_PACE_LIVING, NULL, 1, &curve), CW_OK);
  assert_true(curve.as_it_is);
  cw_pace_free(&curve);
  cw_count_line_free(&line);
}

static void an_even_tempo_has_counts_of_one_length_in_each_section_and_holds_as_they_are(void **state)
{
  (void)state;
  CwCountLine line = two_phrases();
  const CwPlacedLine own = {&line, rows};
  CwPaceCurve curve;
  assert_int_equal(cw_pace_make(&own, 0, 1, sections, CW_PACE_EVEN, NULL, 1, &curve), CW_OK);
  const double wanted[] = {0, 1, 2, 3, 7, 7.5, 8, 8.5};
  for (size_t i = 0; i < 8; i++) {
    assert_near(cw_pace_at(&curve, line.count_s[i]), wanted[i], 1e-9);
  }
  cw_pace_free(&curve);
  const size_t one_section[] = {0, 0}; // then all eight are as long: 6 s of counts in eight
  assert_int_equal(cw_pace_make(&own, 0, 1, one_section, CW_PACE_EVEN, NULL, 0.5, &curve), CW_OK);
  assert_near(cw_pace_at(&curve, 3), 1.5, 1e-9);
  assert_near(cw_pace_at(&curve, 9), 12, 1e-9);
  assert_near(cw_pace_at(&curve, 9.5), 13.5, 1e-9);
  cw_pace_free(&curve);
  cw_count_line_free(&line);
}

static void the_pace_of_another_recording_is_taken_phrase_by_phrase(void **state)
{
  (void)state;
  CwCountLine line = two_phrases();
  CwCountLine other = other_phrases();
  const CwPlacedLine own = {&line, rows};
  const CwPlacedLine like = {&other, rows};
  CwPaceCurve curve;
  assert_int_equal(cw_pace_make(&own, 0, 1, sections, CW_PACE_LIKE, &like, 1, &curve), CW_OK);
  assert_near(cw_pace_at(&curve, 4), 4, 1e-9); // half of a phrase that lasts 8 s there
  assert_near(cw_pace_at(&curve, 9), 9, 1e-9); // after the hold of 1 s
  assert_near(cw_pace_at(&curve, 11), 11, 1e-9);
  cw_pace_free(&curve);
  const size_t lacking[] = {0, SIZE_MAX}; // the second goes on as the first
  const CwPlacedLine shorter = {&other, lacking};
  assert_int_equal(cw_pace_make(&own, 0, 1, sections, CW_PACE_LIKE, &shorter, 1, &curve), CW_OK);
  assert_near(cw_pace_at(&curve, 9), 8 + 2 * 3, 1e-9);
  assert_near(cw_pace_at(&curve, 11), 8 + 2 * 5, 1e-9);
  cw_pace_free(&curve);
  cw_count_line_free(&line);
  cw_count_line_free(&other);
}

static void time_never_stands_still_or_runs_back(void **state)
{
  (void)state;
  CwCountLine line = two_phrases();
  CwCountLine other = other_phrases();
  const CwPlacedLine own = {&line, rows};
  const CwPlacedLine like = {&other, rows};
  for (int pace = CW_PACE_LIVING; pace <= CW_PACE_LIKE; pace++) {
    CwPaceCurve curve;
    assert_int_equal(cw_pace_make(&own, 0, 1, sections, (CwPace)pace, &like, 1.2, &curve), CW_OK);
    for (double t = 0; t < 20; t += 0.01) {
      assert_true(cw_pace_at(&curve, t + 0.01) > cw_pace_at(&curve, t));
      assert_true(cw_pace_ratio(&curve, t) > 0);
    }
    cw_pace_free(&curve);
  }
  cw_count_line_free(&line);
  cw_count_line_free(&other);
}

static void a_failing_allocation_is_reported(void **state)
{
  (void)state;
  CwCountLine line = two_phrases();
  const CwPlacedLine own = {&line, rows};
  for (int pace = CW_PACE_LIVING; pace <= CW_PACE_EVEN; pace++) {
    CwPaceCurve curve;
    cw_fail_after(0);
    assert_int_equal(cw_pace_make(&own, 0, 1, sections, (CwPace)pace, NULL, 1, &curve), CW_ERR_NO_MEM);
    cw_fail_after(-1);
    assert_null(curve.knot);
  }
  cw_count_line_free(&line);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_living_tempo_is_only_slower_or_faster),
      cmocka_unit_test(an_even_tempo_has_counts_of_one_length_in_each_section_and_holds_as_they_are),
      cmocka_unit_test(the_pace_of_another_recording_is_taken_phrase_by_phrase),
      cmocka_unit_test(time_never_stands_still_or_runs_back),
      cmocka_unit_test(a_failing_allocation_is_reported),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
