// SPDX-License-Identifier: GPL-3.0-or-later
/// The names of cues.
#include "unit/cw_test.h"

#include <string.h>

#include "countwright/cues.h"

static void every_cue_has_a_name_of_its_own(void **state)
{
  (void)state;
  size_t n = 0;
  for (; cw_cue_name(n); n++) {
    unsigned cues = 0;
    assert_true(cw_cues_parse(cw_cue_name(n), &cues));
    assert_int_equal(cues, 1U << n);
    assert_null(strpbrk(cw_cue_name(n), ", "));
    assert_string_not_equal(cw_cue_name(n), "list"); // the program prints the names by that
  }
  assert_int_equal(1U << (n - 1), CW_CUE_LENGTH);
  assert_null(cw_cue_name(n + 1));
}

static void cues_are_joined_by_commas(void **state)
{
  (void)state;
  unsigned cues = 0;
  assert_true(cw_cues_parse("bass,all,slow,all", &cues));
  assert_int_equal(cues, CW_CUE_BASS | CW_CUE_ALL | CW_CUE_SLOW);
}

static void an_unknown_name_is_refused(void **state)
{
  (void)state;
  static const char *const bad[] = {"", ",", "bass,", ",bass", "bass,,all", "bas", "basso", "Bass", "bass, all"};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    unsigned cues = 7;
    assert_false(cw_cues_parse(bad[i], &cues));
    assert_int_equal(cues, 0);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_cue_has_a_name_of_its_own),
      cmocka_unit_test(cues_are_joined_by_commas),
      cmocka_unit_test(an_unknown_name_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
