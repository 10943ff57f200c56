// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/sheet.h"

static const char three_phrases[] = "piece: The Paper Harbour\ndance: Reel\nrole: second\nrecording: reel.wav\n"
                                    "metre: 6/8\nbeats per count: 3\nlanguage: en\n"
                                    "# A ; SECRET\n@ 0:01 4 1-2 walk 3&4 run ; SECRET\n; SECRET\nhold 0:09\nin 2\n"
                                    "[Boy] 4 jump\n# B\nenter Anna\nsame as 1, other side\nhold until @0:24\n";

static void parse(const char *text, CwNotebook *notebook)
{
  assert_int_equal(cw_notebook_parse(text, strlen(text), notebook), CW_OK);
}

/// A phrase of four counts from `start_s`, `step_s` apart.
static void add_four(CwCountLine *line, double start_s, double step_s, double confidence)
{
  const double count_s[] = {start_s, start_s + step_s, start_s + 2 * step_s, start_s + 3 * step_s};
  assert_int_equal(cw_count_line_add(line, count_s, 4, start_s + 4 * step_s, confidence), CW_OK);
}

/// 60, 120 and 80 counts a minute, with a gap of 1.5 s after the first phrase.
static void line_of_three(CwCountLine *line)
{
  cw_count_line_init(line, 30.0);
  line->metre = 2;
  line->beats_per_count = 3;
  add_four(line, 1.0, 1.0, 1.0);
  add_four(line, 6.5, 0.5, 0.59);
  add_four(line, 8.5, 0.75, 0.6);
}

static void notes_and_line_make_rows(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCountLine line;
  CwSheet sheet;
  parse(three_phrases, &notebook);
  line_of_three(&line);
  assert_int_equal(cw_sheet_build(&notebook, &line, NULL, NULL, &sheet), CW_OK);
  cw_count_line_free(&line); // the sheet stands alone
  cw_notebook_free(&notebook);

  assert_string_equal(sheet.piece, "The Paper Harbour");
  assert_string_equal(sheet.dance, "Reel");
  assert_string_equal(sheet.role, "second");
  assert_string_equal(sheet.recording, "reel.wav");
  assert_string_equal(sheet.language, "en");
  assert_int_equal(sheet.metre, 6);
  assert_int_equal(sheet.metre_unit, 8);
  assert_near(sheet.beats_per_count, 3, 0);
  assert_near(sheet.duration_s, 30, 0);
  assert_near(sheet.first_one_s, 1, 0);
  assert_near(sheet.slowest_per_min, 60, 1e-9);
  assert_near(sheet.fastest_per_min, 120, 1e-9);
  assert_int_equal(sheet.n_rows, 4);
  assert_false(sheet.row[3].timed); // the music ends before it

  const CwSheetRow *first = &sheet.row[0];
  assert_int_equal(first->number, 1);
  assert_int_equal(first->counts, 4);
  assert_string_equal(first->section, "A");
  assert_true(first->timed && first->pinned && !first->check_by_ear);
  assert_near(first->end_s, 5, 1e-12);
  assert_near(first->hold_s, 1.5, 1e-12); // the music's own, not the 9 s of the notes
  assert_int_equal(first->n_steps, 4);
  assert_string_equal(first->step[0].text, "walk");
  assert_near(first->step[2].count, 3.5, 0);

  const CwSheetRow *second = &sheet.row[1];
  assert_null(second->section);
  assert_string_equal(second->role, "Boy");
  assert_int_equal(second->count_in, 2);
  assert_true(second->check_by_ear && !second->pinned);
  assert_near(second->hold_s, 0, 0);

  const CwSheetRow *third = &sheet.row[2];
  assert_non_null(third->section);
  assert_string_equal(third->section, "B");
  assert_false(third->check_by_ear); // 0.6 is sure enough
  cw_sheet_free(&sheet);
}

static void a_repeat_names_its_phrase_and_the_last_hold_is_the_notes(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCountLine line;
  CwSheet sheet;
  parse(three_phrases, &notebook);
  line_of_three(&line);
  add_four(&line, 11.5, 2.0, -1);
  assert_int_equal(cw_sheet_build(&notebook, &line, "other.ogg", NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 4);
  assert_string_equal(sheet.recording, "other.ogg");
  assert_string_equal(sheet.row[2].remark, "enter Anna");
  assert_int_equal(sheet.row[3].like, 1);
  assert_true(sheet.row[3].other_side);
  assert_false(sheet.row[3].check_by_ear); // unknown is not doubtful
  assert_near(sheet.row[3].hold_s, 24 - 19.5, 1e-12);
  cw_sheet_free(&sheet);
  cw_count_line_free(&line);
  cw_notebook_free(&notebook);
}

static void nothing_private_is_on_the_sheet(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwSheet sheet;
  parse(three_phrases, &notebook);
  assert_int_equal(cw_sheet_build(&notebook, NULL, NULL, NULL, &sheet), CW_OK);
  for (size_t i = 0; i < sheet.n_rows; i++) {
    const CwSheetRow *row = &sheet.row[i];
    const char *const words[] = {row->section, row->remark, row->role};
    for (size_t w = 0; w < 3; w++) {
      assert_true(!words[w] || !strstr(words[w], "SECRET"));
    }
    for (size_t k = 0; k < row->n_steps; k++) {
      assert_null(strstr(row->step[k].text, "SECRET"));
    }
  }
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
}

static void notes_without_a_recording_have_no_times(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwSheet sheet;
  parse(three_phrases, &notebook);
  assert_int_equal(cw_sheet_build(&notebook, NULL, NULL, NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 4);
  assert_near(sheet.row[0].hold_s, 9, 0); // the notes' own
  for (size_t i = 0; i < sheet.n_rows; i++) {
    assert_false(sheet.row[i].timed);
    assert_true(isnan(sheet.row[i].start_s) && isnan(sheet.row[i].end_s) && isnan(sheet.row[i].counts_per_min));
    assert_true(sheet.row[i].confidence < 0);
    assert_false(sheet.row[i].check_by_ear);
  }
  assert_true(isnan(sheet.first_one_s) && isnan(sheet.slowest_per_min) && isnan(sheet.fastest_per_min));
  assert_near(sheet.duration_s, 0, 0);
  assert_near(sheet.beats_per_count, 3, 0);
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
}

static void a_line_alone_is_a_bare_sheet(void **state)
{
  (void)state;
  CwCountLine line;
  CwSheet sheet;
  line_of_three(&line);
  assert_int_equal(cw_sheet_build(NULL, &line, "take 2.wav", NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 3);
  assert_string_equal(sheet.recording, "take 2.wav");
  assert_null(sheet.piece);
  assert_int_equal(sheet.metre, 2);
  assert_int_equal(sheet.metre_unit, 0);
  for (size_t i = 0; i < 3; i++) {
    assert_int_equal(sheet.row[i].counts, 4);
    assert_int_equal(sheet.row[i].n_steps, 0);
    assert_true(sheet.row[i].timed);
  }
  cw_sheet_free(&sheet);
  cw_count_line_free(&line);
}

static void what_one_side_lacks_is_a_row_all_the_same(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCountLine line;
  CwSheet sheet;
  line_of_three(&line);
  parse("first one: 0:01\n6 walk\n", &notebook);
  assert_int_equal(cw_sheet_build(&notebook, &line, NULL, NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 3);
  assert_int_equal(sheet.row[0].counts, 6); // the dancer's number
  assert_true(sheet.row[0].pinned);         // by the head
  assert_int_equal(sheet.row[1].counts, 4);
  assert_int_equal(sheet.row[2].n_steps, 0);
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
  parse("8 x5\n", &notebook);
  assert_int_equal(cw_sheet_build(&notebook, &line, NULL, NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 5);
  assert_true(sheet.row[2].timed);
  assert_false(sheet.row[3].timed);
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
  cw_count_line_free(&line);
}

static void a_hair_between_phrases_is_no_hold(void **state)
{
  (void)state;
  CwCountLine line;
  CwSheet sheet;
  cw_count_line_init(&line, 20.0);
  add_four(&line, 1.0, 1.0, 1.0);
  add_four(&line, 5.04, 1.0, 1.0);
  assert_int_equal(cw_sheet_build(NULL, &line, NULL, NULL, &sheet), CW_OK);
  assert_near(sheet.row[0].hold_s, 0, 0);
  cw_sheet_free(&sheet);
  cw_count_line_free(&line);
}

static void empty_and_absent_inputs_are_told_apart(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwSheet sheet;
  assert_int_equal(cw_sheet_build(NULL, NULL, NULL, NULL, &sheet), CW_ERR_BAD_ARG);
  parse("", &notebook);
  assert_int_equal(cw_sheet_build(&notebook, NULL, NULL, NULL, &sheet), CW_OK);
  assert_int_equal(sheet.n_rows, 0);
  assert_true(isnan(sheet.first_one_s));
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
  cw_sheet_free(NULL);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwCountLine line;
  CwSheet sheet;
  CwMessages messages = {0};
  parse(three_phrases, &notebook);
  line_of_three(&line);
  assert_int_equal(cw_messages_add(&messages, "100%% odd"), CW_OK);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    cw_fail_after(n);
    status = cw_sheet_build(&notebook, &line, "x.wav", &messages, &sheet);
    cw_fail_after(-1);
    if (status != CW_OK) {
      assert_int_equal(status, CW_ERR_NO_MEM);
      assert_int_equal(sheet.n_rows, 0);
      assert_null(sheet.row);
    }
  }
  assert_true(n > 20);
  cw_messages_free(&messages);
  assert_int_equal(sheet.message.n, 1);
  assert_string_equal(sheet.message.text[0], "100% odd");
  cw_sheet_free(&sheet);
  cw_count_line_free(&line);
  cw_notebook_free(&notebook);
}

static void phrases_on_the_other_side_are_shown_mirrored(void **state)
{
  (void)state;
  CwNotebook notebook;
  CwSheet sheet;
  parse("4 1 run DSL 3 the right dancer\n4 hop x2 other side\nsame as 1, other side\nother side\n", &notebook);
  assert_int_equal(cw_sheet_build(&notebook, NULL, NULL, NULL, &sheet), CW_OK);
  assert_string_equal(notebook.phrase[3].step[0].text, "run DSL"); // the notes stay
  assert_string_equal(sheet.row[0].step[0].text, "run DSL");
  assert_string_equal(sheet.row[2].step[0].text, "hop");
  assert_string_equal(sheet.row[3].step[0].text, "run DSR");
  assert_string_equal(sheet.row[3].step[1].text, "the right dancer");
  assert_string_equal(sheet.row[4].step[0].text, "run DSL"); // there and back
  assert_int_equal(sheet.message.n, 1);
  assert_string_equal(sheet.message.text[0],
                      "phrase 4, danced on the other side: 'right' may be a side; it is left as it is");
  cw_sheet_free(&sheet);
  cw_notebook_free(&notebook);
}

/// A sheet of the line alone: 60, 120 and 80 counts a minute.
static void sheet_of_three(CwSheet *sheet)
{
  CwCountLine line;
  line_of_three(&line);
  assert_int_equal(cw_sheet_build(NULL, &line, "a.wav", NULL, sheet), CW_OK);
  cw_count_line_free(&line);
}

static void tempo_is_held_against_the_phrase_before(void **state)
{
  (void)state;
  CwSheet sheet;
  sheet_of_three(&sheet);
  assert_true(isnan(sheet.row[0].change_percent));
  assert_near(sheet.row[1].change_percent, 100, 1e-6);
  assert_near(sheet.row[2].change_percent, -100.0 / 3, 1e-6);
  cw_sheet_free(&sheet);
}

static void some_phrases_of_a_sheet_stand_alone(void **state)
{
  (void)state;
  CwSheet sheet;
  sheet_of_three(&sheet);
  cw_sheet_keep_phrases(&sheet, 1, 2);
  assert_int_equal(sheet.n_rows, 2);
  assert_int_equal(sheet.whole, 3);
  assert_int_equal(sheet.row[0].number, 2);
  assert_near(sheet.first_one_s, 6.5, 1e-9);
  assert_near(sheet.slowest_per_min, 80, 1e-6);
  assert_near(sheet.fastest_per_min, 120, 1e-6);
  cw_sheet_free(&sheet);
}

static void another_recording_is_put_beside_the_rows_of_its_numbers(void **state)
{
  (void)state;
  CwSheet sheet;
  sheet_of_three(&sheet);
  CwDriftRow row[] = {
      {.number = 2, .present = true, .b_start_s = 7, .b_counts_per_min = 126, .percent = 5, .ahead_s = 1},
      {.number = 3, .present = false}};
  const CwDrift drift = {row, 2};
  cw_fail_after(0);
  assert_int_equal(cw_sheet_compare(&sheet, &drift, "b.wav"), CW_ERR_NO_MEM);
  cw_fail_after(-1);
  assert_null(sheet.other);
  assert_int_equal(cw_sheet_compare(&sheet, &drift, "b.wav"), CW_OK);
  assert_string_equal(sheet.other, "b.wav");
  assert_false(sheet.row[0].other.present);
  assert_true(sheet.row[1].other.present);
  assert_near(sheet.row[1].other.start_s, 7, 0);
  assert_near(sheet.row[1].other.percent, 5, 0);
  assert_false(sheet.row[2].other.present);
  cw_sheet_free(&sheet);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(notes_and_line_make_rows),
      cmocka_unit_test(a_repeat_names_its_phrase_and_the_last_hold_is_the_notes),
      cmocka_unit_test(nothing_private_is_on_the_sheet),
      cmocka_unit_test(notes_without_a_recording_have_no_times),
      cmocka_unit_test(a_line_alone_is_a_bare_sheet),
      cmocka_unit_test(what_one_side_lacks_is_a_row_all_the_same),
      cmocka_unit_test(a_hair_between_phrases_is_no_hold),
      cmocka_unit_test(empty_and_absent_inputs_are_told_apart),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(tempo_is_held_against_the_phrase_before),
      cmocka_unit_test(some_phrases_of_a_sheet_stand_alone),
      cmocka_unit_test(another_recording_is_put_beside_the_rows_of_its_numbers),
      cmocka_unit_test(phrases_on_the_other_side_are_shown_mirrored),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
