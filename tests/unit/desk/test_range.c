// SPDX-License-Identifier: GPL-3.0-or-later
/// Parts of files, as RFC 9110, section 14.1.2 and 14.2 have them; its examples of a file of 10 000 bytes are here.
#include <stdio.h>

#include "desk/range.h"
#include "unit/cw_test.h"

static void expect(const char *field, uint64_t size, DeskRange wanted, uint64_t wanted_first, uint64_t wanted_length)
{
  uint64_t first = 0;
  uint64_t length = 0;
  print_message("  %s of %lu\n", field ? field : "nothing", (unsigned long)size);
  assert_int_equal(desk_range(field, size, &first, &length), wanted);
  if (wanted != DESK_RANGE_NONE) {
    assert_int_equal(first, wanted_first);
    assert_int_equal(length, wanted_length);
  }
}

static void examples_of_the_standard(void **state)
{
  (void)state;
  expect("bytes=0-499", 10000, DESK_RANGE_PART, 0, 500);
  expect("bytes=500-999", 10000, DESK_RANGE_PART, 500, 500);
  expect("bytes=-500", 10000, DESK_RANGE_PART, 9500, 500);
  expect("bytes=9500-", 10000, DESK_RANGE_PART, 9500, 500);
}

static void odd_ranges(void **state)
{
  (void)state;
  expect(NULL, 10, DESK_RANGE_ALL, 0, 10);
  expect("bytes=0-0,-1", 10, DESK_RANGE_ALL, 0, 10);
  expect("bytes=5-4", 10, DESK_RANGE_ALL, 0, 10);
  expect("octets=0-1", 10, DESK_RANGE_ALL, 0, 10);
  expect("bytes=0-9999999999999999999999", 10, DESK_RANGE_PART, 0, 10);
  expect("bytes=0-999999999999", 10, DESK_RANGE_PART, 0, 10);
  expect("bytes=-100", 10, DESK_RANGE_PART, 0, 10);
  expect("bytes=-0", 10, DESK_RANGE_NONE, 0, 0);
  expect("bytes=10-", 10, DESK_RANGE_NONE, 0, 0);
  expect("bytes=0-", 0, DESK_RANGE_NONE, 0, 0);
  expect("bytes=-1", 0, DESK_RANGE_NONE, 0, 0);
}

static void a_part_never_leaves_the_file(void **state)
{
  (void)state;
  for (uint64_t size = 0; size < 6; size++) {
    for (unsigned from = 0; from < 8; from++) {
      for (unsigned to = 0; to < 8; to++) {
        char field[40];
        snprintf(field, sizeof field, "bytes=%u-%u", from, to);
        uint64_t first;
        uint64_t length;
        if (desk_range(field, size, &first, &length) == DESK_RANGE_PART) {
          assert_true(length > 0 && first + length <= size);
        }
      }
    }
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(examples_of_the_standard),
      cmocka_unit_test(odd_ranges),
      cmocka_unit_test(a_part_never_leaves_the_file),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
