// SPDX-License-Identifier: GPL-3.0-or-later
/// Corrections as changes of text. What is wanted was written by hand from the grammar.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "desk/edit.h"
#include "unit/cw_test.h"

static const char notes_text[] = "piece: The Paper Harbour\n"
                                 "beats per count: 3\n"
                                 "\n"
                                 "@ 0:05.60 8 1-4 row 5 look up 7-8 turn ; ask Anna\n"
                                 "same as 1\n"
                                 "8 walk x2\n"
                                 "8 1-3 run, C > USL 4 turn 5-6 step 8 still\n"
                                 "4 1 bow 3& rise";

/// Notes, and a count line with a count each second from second 5 on.
static DeskNotes set_up(const char *text, CwNotebook *notebook, CwCountLine *line)
{
  assert_int_equal(cw_notebook_parse(text, strlen(text), notebook), CW_OK);
  cw_count_line_init(line, 100);
  double next_s = 5;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    double count_s[64];
    for (unsigned i = 0; i < notebook->phrase[p].counts; i++) {
      count_s[i] = next_s++;
    }
    assert_int_equal(cw_count_line_add(line, count_s, notebook->phrase[p].counts, next_s, 0.9), CW_OK);
  }
  return (DeskNotes){notebook, line};
}

/// A text with the first `old` in it replaced.
static char *with(const char *text, const char *old, const char *new)
{
  const char *at = strstr(text, old);
  assert_non_null(at);
  const size_t size = strlen(text) + strlen(new) + 1;
  char *out = malloc(size);
  assert_non_null(out);
  snprintf(out, size, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
  return out;
}

/// What a change came to. @param old NULL: it is refused.
static void expect(CwStatus status, char *text, const char *before, const char *old, const char *new)
{
  if (!old) {
    assert_int_equal(status, CW_ERR_BAD_ARG);
    assert_null(text);
    return;
  }
  assert_int_equal(status, CW_OK);
  char *wanted = with(before, old, new);
  assert_string_equal(text, wanted);
  free(wanted);
  free(text);
}

typedef CwStatus (*Change)(const DeskNotes *notes, char **text, size_t *size);

static void change(const char *before, Change make, const char *old, const char *new)
{
  CwNotebook notebook;
  CwCountLine line;
  const DeskNotes notes = set_up(before, &notebook, &line);
  char *text = NULL;
  size_t size = 0;
  const CwStatus status = make(&notes, &text, &size);
  assert_true(!text || strlen(text) == size);
  expect(status, text, before, old, new);
  cw_notebook_free(&notebook);
  cw_count_line_free(&line);
}

#define CHANGE(name, call)                                                                                             \
  static CwStatus name(const DeskNotes *n, char **t, size_t *s)                                                        \
  {                                                                                                                    \
    return call;                                                                                                       \
  }

CHANGE(pin_new, desk_edit_pin(n, 4, 1, 30.0614, t, s))
CHANGE(pin_moved, desk_edit_pin(n, 0, 1, 5.75, t, s))
CHANGE(pin_of_repeat, desk_edit_pin(n, 1, 1, 14, t, s))
CHANGE(pin_of_second, desk_edit_pin(n, 3, 1, 30, t, s))
CHANGE(pin_inside, desk_edit_pin(n, 4, 5, 41.5, t, s))
CHANGE(pin_before_private, desk_edit_pin(n, 0, 7, 11.5, t, s))
CHANGE(pin_nowhere, desk_edit_pin(n, 6, 1, 41.5, t, s))
CHANGE(pin_past_end, desk_edit_pin(n, 5, 5, 41.5, t, s))
CHANGE(pin_at_no_time, desk_edit_pin(n, 5, 1, (double)NAN, t, s))
CHANGE(unpin_first, desk_edit_unpin(n, 0, 1, t, s))
CHANGE(unpin_none, desk_edit_unpin(n, 4, 1, t, s))

static void a_pin_goes_to_its_line_and_nothing_else_changes(void **state)
{
  (void)state;
  change(notes_text, pin_new, "8 1-3 run", "@ 0:30.061 8 1-3 run");
  change(notes_text, pin_moved, "0:05.60", "0:05.750");
  change(notes_text, pin_of_repeat, "same as 1", "@ 0:14.000 same as 1");
  change(notes_text, pin_of_second, "8 walk x2", "@ 0:21.000 @ 0:30.000 8 walk x2");
  change(notes_text, pin_inside, "8 still", "8 still 5@0:41.500");
  change(notes_text, pin_before_private, "turn ; ask", "turn 7@0:11.500 ; ask");
  change(notes_text, pin_nowhere, NULL, NULL);
  change(notes_text, pin_past_end, NULL, NULL);
  change(notes_text, pin_at_no_time, NULL, NULL);
}

static void a_pin_is_taken_away_again(void **state)
{
  (void)state;
  change(notes_text, unpin_first, "@ 0:05.60 8", "8");
  change(notes_text, unpin_none, NULL, NULL);
  CwNotebook notebook;
  CwCountLine line;
  DeskNotes notes = set_up(notes_text, &notebook, &line);
  char *pinned = NULL;
  char *back = NULL;
  size_t size = 0;
  assert_int_equal(desk_edit_pin(&notes, 4, 5, 41.5, &pinned, &size), CW_OK);
  cw_notebook_free(&notebook);
  cw_count_line_free(&line);
  notes = set_up(pinned, &notebook, &line);
  assert_int_equal(desk_edit_unpin(&notes, 4, 5, &back, &size), CW_OK);
  assert_string_equal(back, notes_text);
  free(pinned);
  free(back);
  cw_notebook_free(&notebook);
  cw_count_line_free(&line);
}

CHANGE(level_half, desk_edit_level(n, 1.5, t, s))
CHANGE(level_ten, desk_edit_level(n, 10, t, s))
CHANGE(level_too_long, desk_edit_level(n, 17, t, s))
CHANGE(level_nothing, desk_edit_level(n, 0, t, s))

static void the_level_is_a_line_of_the_head(void **state)
{
  (void)state;
  change(notes_text, level_half, "count: 3", "count: 1.5");
  change(notes_text, level_ten, "count: 3", "count: 10");
  change("piece: Harbour\n\n8 walk\n", level_half, "Harbour\n", "Harbour\nbeats per count: 1.5\n");
  change("8 walk\n", level_half, "8 walk", "beats per count: 1.5\n8 walk");
  change("piece: Harbour\r\n8 walk\r\n", level_half, "Harbour\r\n", "Harbour\r\nbeats per count: 1.5\r\n");
  change(notes_text, level_too_long, NULL, NULL);
  change(notes_text, level_nothing, NULL, NULL);
}

CHANGE(split_4, desk_edit_split(n, 4, 5, t, s))
CHANGE(split_4_in_step, desk_edit_split(n, 4, 6, t, s))
CHANGE(split_first, desk_edit_split(n, 0, 5, t, s))
CHANGE(split_at_one, desk_edit_split(n, 4, 1, t, s))
CHANGE(split_past, desk_edit_split(n, 4, 9, t, s))
CHANGE(split_repeated, desk_edit_split(n, 2, 5, t, s))
CHANGE(join_4, desk_edit_join(n, 4, t, s))
CHANGE(join_last, desk_edit_join(n, 5, t, s))

static void a_phrase_is_parted_with_its_steps(void **state)
{
  (void)state;
  change(notes_text, split_4, "8 1-3 run, C > USL 4 turn 5-6 step 8 still",
         "4 1-3 run, C > USL 4 turn\n4 1-2 step 4 still");
  change(notes_text, split_4_in_step, "8 1-3 run, C > USL 4 turn 5-6 step 8 still",
         "5 1-3 run, C > USL 4 turn 5 step\n3 3 still");
  change(notes_text, split_first, NULL, NULL); // a line is written as its repeat
  change(notes_text, split_at_one, NULL, NULL);
  change(notes_text, split_past, NULL, NULL);
  change(notes_text, split_repeated, NULL, NULL);
}

static void two_phrases_are_joined_with_their_steps(void **state)
{
  (void)state;
  change(notes_text, join_4, "8 1-3 run, C > USL 4 turn 5-6 step 8 still\n4 1 bow 3& rise",
         "12 1-3 run, C > USL 4 turn 5-6 step 8 still 9 bow 11& rise\n");
  change(notes_text, join_last, NULL, NULL);
}

CHANGE(split_2nd, desk_edit_split(n, 1, 5, t, s))
CHANGE(join_2nd, desk_edit_join(n, 1, t, s))

static void what_refers_to_later_phrases_by_number_goes_on_doing_so(void **state)
{
  (void)state;
  static const char text[] = "8 1-4 row\n8 1-4 run 5-8 turn\n8 5 jump\n6 1 bow\nrepeat 3-4\nsame as 1\n";
  change(text, split_2nd, "8 1-4 run 5-8 turn\n8 5 jump\n6 1 bow\nrepeat 3-4",
         "4 1-4 run\n4 1-4 turn\n8 5 jump\n6 1 bow\nrepeat 4-5");
  static const char other[] = "8 1-4 row\n8 1-4 run\n8 5 jump\n6 1 bow\nsame as 4, other side\nsame as 1\n";
  change(other, join_2nd, "8 1-4 run\n8 5 jump\n6 1 bow\nsame as 4", "16 1-4 run 13 jump\n6 1 bow\nsame as 3");
}

CHANGE(hold_4, desk_edit_hold(n, 4, 50, t, s))
CHANGE(hold_end, desk_edit_hold(n, 5, 60.5, t, s))
CHANGE(hold_in_group, desk_edit_hold(n, 2, 60.5, t, s))

static void a_hold_is_a_line_behind_its_phrase(void **state)
{
  (void)state;
  change(notes_text, hold_4, "8 still\n", "8 still\nhold until @0:50.000\n");
  change(notes_text, hold_end, "3& rise", "3& rise\nhold until @1:00.500\n");
  change(notes_text, hold_in_group, NULL, NULL);
}

CHANGE(cut_4, desk_edit_cut(n, 4, t, s))
CHANGE(cut_both, desk_edit_cut(n, 3, t, s))

static void what_is_not_played_becomes_private(void **state)
{
  (void)state;
  change(notes_text, cut_4, "8 1-3 run", "; not played: 8 1-3 run");
  change(notes_text, cut_both, "8 walk x2", "; not played: 8 walk x2");
}

static void every_change_survives_running_out_of_memory(void **state)
{
  (void)state;
  static const Change changes[] = {pin_new, pin_inside, unpin_first, level_half, split_4, join_4, hold_4, cut_4};
  for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
    CwNotebook notebook;
    CwCountLine line;
    const DeskNotes notes = set_up(notes_text, &notebook, &line);
    CwStatus status = CW_ERR_NO_MEM;
    for (long n = 0; status != CW_OK; n++) {
      char *text = NULL;
      size_t size = 0;
      cw_fail_after(n);
      status = changes[i](&notes, &text, &size);
      cw_fail_after(-1);
      assert_true(status == CW_OK ? text != NULL : !text);
      assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
      assert_true(n < 100000);
      free(text);
    }
    cw_notebook_free(&notebook);
    cw_count_line_free(&line);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_pin_goes_to_its_line_and_nothing_else_changes),
      cmocka_unit_test(a_pin_is_taken_away_again),
      cmocka_unit_test(the_level_is_a_line_of_the_head),
      cmocka_unit_test(a_phrase_is_parted_with_its_steps),
      cmocka_unit_test(two_phrases_are_joined_with_their_steps),
      cmocka_unit_test(what_refers_to_later_phrases_by_number_goes_on_doing_so),
      cmocka_unit_test(a_hold_is_a_line_behind_its_phrase),
      cmocka_unit_test(what_is_not_played_becomes_private),
      cmocka_unit_test(every_change_survives_running_out_of_memory),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
