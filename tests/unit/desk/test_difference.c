// SPDX-License-Identifier: GPL-3.0-or-later
/// Changes put together; what must come of it was also had from diff3 of GNU diffutils 3.8 (diff3 -m).
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "desk/difference.h"
#include "unit/cw_test.h"

static DeskText text_of(const char *text)
{
  return (DeskText){text, strlen(text)};
}

/// @param wanted NULL: a clash.
static void merge(const char *base, const char *mine, const char *theirs, const char *wanted)
{
  bool clash = false;
  char *text = NULL;
  size_t size = 0;
  assert_int_equal(desk_merge(text_of(base), text_of(mine), text_of(theirs), &clash, &text, &size), CW_OK);
  assert_int_equal(clash, wanted == NULL);
  if (wanted) {
    assert_string_equal(text, wanted);
    assert_int_equal(size, strlen(wanted));
  } else {
    assert_null(text);
  }
  free(text);
}

static void changes_of_other_lines_are_put_together(void **state)
{
  (void)state;
  merge("a\nb\nc\nd\n", "A\nb\nc\nd\n", "a\nb\nc\nD\n", "A\nb\nc\nD\n");
  merge("a\nb\nc\nd\n", "a\nb\nc\nD\n", "A\nb\nc\nd\n", "A\nb\nc\nD\n");
  merge("a\nb\nc\n", "a\nx\nb\nc\n", "a\nb\n", "a\nx\nb\n");
  merge("a\nb\nc\nd", "a\nc\nd", "a\nb\nc\nd\ne", "a\nc\nd\ne");
}

static void one_change_alone_is_taken(void **state)
{
  (void)state;
  merge("a\n", "b\n", "a\n", "b\n");
  merge("a\n", "a\n", "b\n", "b\n");
  merge("a\n", "b\n", "b\n", "b\n");
  merge("", "", "new\n", "new\n");
}

static void changes_of_the_same_lines_clash(void **state)
{
  (void)state;
  merge("a\nb\nc\n", "a\nx\nc\n", "a\ny\nc\n", NULL);
  merge("a\n", "a\nmine\n", "a\ntheirs\n", NULL);
  merge("", "mine", "theirs", NULL);
}

static void a_difference_turns_the_old_text_into_the_new(void **state)
{
  (void)state;
  uint64_t seed = 7;
  static const char *const piece[] = {"a", "b", "\n", "é", "水", ""};
  for (int i = 0; i < 20000; i++) {
    char old[64] = "";
    char new[64] = "";
    for (int k = 0; k < 12; k++) {
      seed = seed * 6364136223846793005U + 1442695040888963407U;
      strcat(k % 2 ? old : new, piece[(seed >> 33) % 6]);
      strcat(old, (seed >> 40) % 3 ? "c" : "");
      strcat(new, (seed >> 40) % 3 ? "c" : "");
    }
    const DeskDifference d = desk_difference(text_of(old), text_of(new));
    size_t size = 0;
    char *made = desk_replace(text_of(old), d.at, d.old_end, (DeskText){new + d.at, d.new_end - d.at}, &size);
    assert_string_equal(made, new);
    assert_true(((unsigned char)old[d.at] & 0xC0) != 0x80 && ((unsigned char)new[d.at] & 0xC0) != 0x80);
    assert_true(((unsigned char)old[d.old_end] & 0xC0) != 0x80 && ((unsigned char)new[d.new_end] & 0xC0) != 0x80);
    free(made);
  }
}

static void merging_survives_running_out_of_memory(void **state)
{
  (void)state;
  bool clash = false;
  char *text = NULL;
  size_t size = 0;
  cw_fail_after(0);
  assert_int_equal(desk_merge(text_of("a\nb\nc\n"), text_of("x\nb\nc\n"), text_of("a\nb\ny\n"), &clash, &text, &size),
                   CW_ERR_NO_MEM);
  cw_fail_after(-1);
  assert_null(text);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(changes_of_other_lines_are_put_together),
      cmocka_unit_test(one_change_alone_is_taken),
      cmocka_unit_test(changes_of_the_same_lines_clash),
      cmocka_unit_test(a_difference_turns_the_old_text_into_the_new),
      cmocka_unit_test(merging_survives_running_out_of_memory),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
