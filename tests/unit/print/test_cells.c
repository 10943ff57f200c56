// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/cells.h"
#include "print/repeats.h"

#define LENGTH(array) (sizeof(array) / sizeof(array)[0])

static void make(CwStep *step, size_t n, CwCells *cells)
{
  const CwSheetRow row = {.step = step, .n_steps = n};
  assert_int_equal(cw_cells_make(&row, CW_ENGLISH, cells), CW_OK);
}

static void steps_stand_in_the_order_of_their_counts(void **state)
{
  (void)state;
  CwStep step[] = {{5, 5, "five"}, {NAN, NAN, "nowhere"}, {1, 2, "one"}, {1, 1, ""}, {1, 4, "too"}};
  CwCells cells;
  make(step, LENGTH(step), &cells);
  assert_int_equal(cells.n, 3);
  assert_string_equal(cells.cell[0].text, "one\ntoo");
  assert_near(cells.cell[0].until, 4, 0);
  assert_string_equal(cells.cell[1].text, "five");
  assert_string_equal(cells.cell[2].text, "nowhere");
  cw_cells_free(&cells);
}

static void a_step_is_labelled_with_all_its_counts(void **state)
{
  (void)state;
  static const struct {
    double count[6];
    double until;
    const char *label;
  } row[] = {
      {{3}, 3, "3"},
      {{1}, 4, "1-4"},
      {{3, 3.5, 4}, 3, "3&4"},
      {{1, 1.25, 1.5, 1.75, 2}, 1, "1e&a2"},
      {{4.5, 4.75, 5}, 4.5, "4&a5"},
      {{0.5, 1}, 0.5, "&1"},
      {{5, 7}, 5, "5, 7"},
      {{5, 6}, 5, "5, 6"},
      {{5, 6.5}, 5, "5, 6&"},
      {{1, 4}, 3, "1-3, 4"},
      {{3 + 1.0 / 3, 3 + 2.0 / 3, 4}, 3 + 1.0 / 3, "3ea4"},
  };
  for (size_t i = 0; i < LENGTH(row); i++) {
    CwStep step[6];
    size_t n = 0;
    for (; n < 6 && row[i].count[n] > 0; n++) {
      step[n] = (CwStep){row[i].count[n], n ? row[i].count[n] : row[i].until, n ? "" : "words"};
    }
    CwCells cells;
    make(step, n, &cells);
    CwBuffer label = {0};
    cw_cells_label(&cells, 0, &label);
    assert_string_equal(cw_buffer_text(&label), row[i].label);
    assert_int_equal(cw_cells_next(&cells, 0), n);
    cw_buffer_free(&label);
    cw_cells_free(&cells);
  }
}

static void what_is_before_the_one_is_set_apart(void **state)
{
  (void)state;
  CwStep step[] = {{0.5, 0.5, "up"}, {1, 1, ""}, {2, 2, "down"}, {9, 9, "late"}};
  CwCells cells;
  make(step, LENGTH(step), &cells);
  const CwCells before = cw_cells_before_one(&cells);
  assert_int_equal(before.n, 2);
  const CwCells rest = cw_cells_from(&cells, before.n);
  assert_string_equal(rest.cell[0].text, "down");
  assert_false(cw_cells_fit_counts(&rest, 8));
  assert_true(cw_cells_fit_counts(&rest, 9));
  assert_false(cw_cells_fit_counts(&rest, 100000));
  const CwCells none = cw_cells_before_one(&rest);
  assert_int_equal(none.n, 0);
  cw_cells_free(&cells);
}

static void counts_are_shared_out_evenly(void **state)
{
  (void)state;
  assert_int_equal(cw_counts_per_line(8, 8), 8);
  assert_int_equal(cw_counts_per_line(12, 8), 6);
  assert_int_equal(cw_counts_per_line(9, 8), 5);
  assert_int_equal(cw_counts_per_line(32, 8), 8);
  assert_int_equal(cw_counts_per_line(1, 8), 1);
  assert_int_equal(cw_counts_per_line(7, 4), 4);
}

static void a_repeat_of_a_repeat_names_the_first(void **state)
{
  (void)state;
  CwStep step[] = {{1, 1, "walk"}};
  CwStep other[] = {{1, 1, "run"}};
  CwSheetRow row[] = {
      {.number = 1, .counts = 8, .step = step, .n_steps = 1},
      {.number = 2, .counts = 8, .step = step, .n_steps = 1, .like = 1, .other_side = true},
      {.number = 3, .counts = 8, .step = step, .n_steps = 1, .like = 2, .other_side = true},
      {.number = 4, .counts = 8, .step = other, .n_steps = 1, .like = 3},
      {.number = 5, .counts = 8, .step = other, .n_steps = 1, .like = 4},
      {.number = 6, .counts = 6, .step = other, .n_steps = 1, .like = 5}, // shorter: its steps are shown
      {.number = 7, .counts = 8, .step = step, .n_steps = 1, .like = 9},  // no such phrase
      {.number = 8, .counts = 8, .step = step, .n_steps = 1},
  };
  static const struct {
    unsigned number;
    bool other_side;
    bool is_enough;
  } wanted[] = {{0, false, false}, {1, true, true},   {1, false, true},  {3, false, false},
                {4, false, true},  {5, false, false}, {9, false, false}, {0, false, false}};
  const CwSheet sheet = {.row = row, .n_rows = LENGTH(row)};
  CwRepeat *repeats = cw_repeats_find(&sheet);
  for (size_t i = 0; i < LENGTH(row); i++) {
    assert_int_equal(repeats[i].number, wanted[i].number);
    assert_int_equal(repeats[i].other_side, wanted[i].other_side);
    assert_int_equal(repeats[i].is_enough, wanted[i].is_enough);
  }
  free(repeats);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(steps_stand_in_the_order_of_their_counts),
      cmocka_unit_test(a_step_is_labelled_with_all_its_counts),
      cmocka_unit_test(what_is_before_the_one_is_set_apart),
      cmocka_unit_test(counts_are_shared_out_evenly),
      cmocka_unit_test(a_repeat_of_a_repeat_names_the_first),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
