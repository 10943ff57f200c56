// SPDX-License-Identifier: GPL-3.0-or-later
/// Who is on stage when.
#include "unit/cw_test.h"

#include <math.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/cast.h"
#include "countwright/sheet.h"

enum { PHRASES = 5 };

/// Eights of 8 s, from second 10 on.
static CwCountLine even_line(void)
{
  CwCountLine line;
  cw_count_line_init(&line, 100);
  for (size_t k = 0; k < PHRASES; k++) {
    double count_s[8];
    for (size_t c = 0; c < 8; c++) {
      count_s[c] = 10 + 8.0 * (double)k + (double)c;
    }
    assert_int_equal(cw_count_line_add(&line, count_s, 8, 18 + 8.0 * (double)k, 1), CW_OK);
  }
  return line;
}

static const char notes[] = "cast: Ilse, Marek\n8 walk\n[Ilse] 8 1-4 turn 5-6 exit DSL\n[Marek] 1-8 row\n8 the sea\n"
                            "8 1-2 run 3 enter Ilse USL\n8 1-4 sink 5-8 exit\n";

static void read_notes(const char *text, CwNotebook *notebook)
{
  assert_int_equal(cw_notebook_parse(text, strlen(text), notebook), CW_OK);
}

static void assert_stay(const CwStay *stay, bool on, unsigned number, double count, double start_s, double end_s)
{
  assert_int_equal(stay->on, on);
  assert_int_equal(stay->number, number);
  assert_near(stay->count, count, 1e-9);
  assert_near(stay->start_s, start_s, 1e-9);
  assert_near(stay->end_s, end_s, 1e-9);
}

/// Times worked out by hand: an eight lasts 8 s, so count c of phrase k is at 10 + 8 (k - 1) + c - 1.
static void waits_run_from_exit_to_entrance(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCast cast;
  CwCountLine line = even_line();
  read_notes(notes, &notebook);
  assert_int_equal(cw_cast_find(&notebook, &line, NULL, &cast), CW_OK);
  assert_int_equal(cast.n_roles, 2);
  const CwCastRole *ilse = &cast.role[0];
  assert_string_equal(ilse->role, "Ilse");
  assert_int_equal(ilse->n_stays, 3);
  assert_stay(&ilse->stay[0], true, 1, 1, 10, 24);
  assert_stay(&ilse->stay[1], false, 2, 7, 24, 36);
  assert_stay(&ilse->stay[2], true, 4, 3, 36, 50);
  assert_near(ilse->stay[1].counts, 12, 1e-9);
  assert_true(ilse->stay[1].again && ilse->stay[1].stay_warm); // 12 s are less than five minutes
  assert_int_equal(cast.role[1].n_stays, 1);
  cw_cast_remind(&cast, 7.5);
  assert_near(ilse->stay[1].warm_s, 28.5, 1e-9);
  assert_false(ilse->stay[1].stay_warm);
  cw_cast_free(&cast);
  cw_notebook_free(&notebook);
  cw_count_line_free(&line);
}

static void without_a_recording_there_are_counts_alone(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCast cast;
  read_notes(notes, &notebook);
  assert_int_equal(cw_cast_find(&notebook, NULL, NULL, &cast), CW_OK);
  assert_true(isnan(cast.role[0].stay[1].start_s) && isnan(cast.role[0].stay[1].warm_s));
  assert_near(cast.role[0].stay[1].counts, 12, 1e-9);
  assert_false(cast.role[0].stay[1].stay_warm);
  cw_cast_free(&cast);
  cw_notebook_free(&notebook);
}

static void who_enters_first_was_off_and_who_dances_is_on(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCast cast;
  read_notes("8 walk\n[Anna] enter DSL 8 1-8 run\n8 1-8 Anna exits\n8 sea\n[Anna] 8 bow\n", &notebook);
  assert_int_equal(cw_cast_find(&notebook, NULL, NULL, &cast), CW_OK);
  assert_int_equal(cast.n_roles, 1);
  assert_int_equal(cast.role[0].n_stays, 4); // off, on, off, on: nobody wrote the last entrance
  assert_false(cast.role[0].stay[0].on || cast.role[0].stay[0].again);
  assert_int_equal(cast.role[0].stay[3].number, 5);
  cw_cast_free(&cast);
  cw_notebook_free(&notebook);
  read_notes("8 walk\n8 run\n", &notebook);
  assert_int_equal(cw_cast_find(&notebook, NULL, NULL, &cast), CW_OK);
  assert_int_equal(cast.n_roles, 0);
  cw_cast_free(&cast);
  cw_notebook_free(&notebook);
}

static void words_that_only_look_like_turns_are_none(void **state)
{
  (void)state;
  static const char *const none[] = {"8 run to the exit\n", "8 look before exit\n", "8 exitement\n",
                                     "8 centered\n",        "8 no exit here\n",     "dance: exit\n8 walk\n"};
  for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
    CwNotebook notebook;
    read_notes(none[i], &notebook);
    assert_int_equal(notebook.n_moves, 0);
    cw_notebook_free(&notebook);
  }
  static const char *const one[] = {"8 run off, exit USL\n", "8 Exit\n", "8 1-4 run and exit\n",
                                    "language: fr\n8 1-4 sortie\n"};
  for (size_t i = 0; i < sizeof one / sizeof one[0]; i++) {
    CwNotebook notebook;
    read_notes(one[i], &notebook);
    assert_int_equal(notebook.n_moves, 1);
    assert_false(notebook.move[0].on);
    cw_notebook_free(&notebook);
  }
}

static void brackets_may_name_several(void **state)
{
  (void)state;
  assert_true(cw_role_names("Girls & Boys", "boys"));
  assert_true(cw_role_names("girls,  the Boys", "The boys"));
  assert_true(cw_role_names("Anna and Ben", "ben"));
  assert_true(cw_role_names("all", "Ben"));
  assert_true(cw_role_names("\xC3\x89lise", "\xC3\xA9lise"));
  assert_false(cw_role_names("Girls", "Girl"));
  assert_false(cw_role_names("", "Girl"));
}

static void a_role_keeps_her_part_and_loses_the_others(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwSheet sheet;
  bool found = true;
  read_notes(notes, &notebook);
  assert_int_equal(cw_sheet_build(&notebook, NULL, NULL, NULL, &sheet), CW_OK);
  assert_int_equal(cw_sheet_keep_role(&sheet, "Otto", &found), CW_OK);
  assert_false(found);
  assert_int_equal(sheet.row[1].n_parts, 1);
  assert_int_equal(cw_sheet_keep_role(&sheet, "marek", &found), CW_OK);
  assert_true(found && sheet.cast_shown);
  assert_string_equal(sheet.role, "Marek");
  assert_int_equal(sheet.row[1].n_parts, 0);
  assert_string_equal(sheet.row[1].step[0].text, "row");
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwNotebook notebook;
  read_notes(notes, &notebook);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    CwCast cast;
    cw_fail_after(n);
    status = cw_cast_find(&notebook, NULL, NULL, &cast);
    cw_fail_after(-1);
    assert_true(status == CW_OK || cast.n_roles == 0);
    cw_cast_free(&cast);
  }
  assert_true(n > 5);
  cw_notebook_free(&notebook);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(waits_run_from_exit_to_entrance),
      cmocka_unit_test(without_a_recording_there_are_counts_alone),
      cmocka_unit_test(who_enters_first_was_off_and_who_dances_is_on),
      cmocka_unit_test(words_that_only_look_like_turns_are_none),
      cmocka_unit_test(brackets_may_name_several),
      cmocka_unit_test(a_role_keeps_her_part_and_loses_the_others),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
