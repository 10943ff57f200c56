// SPDX-License-Identifier: GPL-3.0-or-later
/// What is said when notes and music do not add up.
#include <string.h>

#include "lineup/adds_up.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"

/// Eight eights of half a second each, from 1 s to 33 s.
static CwFeatures eight_eights(void)
{
  Music music = {.now_s = 1.0};
  write_beats(&music, 64, 0.5, 4);
  return play(&music, 36.0);
}

/// @param text What should be said; NULL: nothing.
static void check(const char *notes, size_t n_phrases, const char *text)
{
  CwFeatures features = eight_eights();
  Lined lined = line_up(&features, notes, NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  assert_int_equal(lined.line.n_phrases, n_phrases);
  if (text) {
    assert_says(&lined.messages, text);
    assert_int_equal(lined.messages.n, 1);
  } else {
    assert_silent(&lined.messages);
  }
  lined_free(&lined);
  cw_features_free(&features);
}

static void notes_that_fit_are_passed_over_in_silence(void **state)
{
  (void)state;
  check("metre: 4/4\nwalk x8\n", 8, NULL);
  check("metre: 4/4\n@0:01 walk x8\n", 8, NULL);
}

static void notes_one_eight_too_short_are_noticed(void **state)
{
  (void)state;
  check("metre: 4/4\n@0:01 walk\nturn x6\n", 7, "the notes end about 1 eight before the music: look near 0:29.0");
  check("metre: 4/4\n@0:05 walk\nturn x5\n", 6, "the notes end about 1 eight before the music: look near 0:29.0");
  check("metre: 4/4\nwalk x6\n@0:29 turn\n", 7,
        "the music begins about 1 eight before the notes: if the first one is "
        "not at 0:05.0, pin it");
}

static void notes_one_eight_too_long_are_noticed(void **state)
{
  (void)state;
  check("metre: 4/4\nwalk x9\n", 8, "the music ends 1 eight before the notes: phrase 9 has no music; look near 0:33.0");
  check("metre: 4/4\nwalk x8\n4 counts pose\n", 8,
        "the music ends 4 counts before the notes: phrase 9 has no music; look near 0:33.0");
  check("metre: 4/4\n@0:05 walk\nturn x8\n", 7,
        "the music ends 2 eights before the notes: phrases 8-9 have no music; look near 0:33.0");
}

/// A line of phrases of so many counts and seconds each, from 0 s.
static CwCountLine line_of(size_t n, const unsigned *counts, const double *length_s)
{
  CwCountLine line;
  double begin_s = 0;
  cw_count_line_init(&line, 1000.0);
  for (size_t p = 0; p < n; p++) {
    double time_s[64];
    for (unsigned k = 0; k < counts[p]; k++) {
      time_s[k] = begin_s + length_s[p] * k / counts[p];
    }
    begin_s += length_s[p];
    assert_int_equal(cw_count_line_add(&line, time_s, counts[p], begin_s, 0.5), CW_OK);
  }
  return line;
}

/// Five phrases of 8 counts and 4 s, the middle one of so many counts and seconds.
static void check_middle(const char *notes, unsigned counts, double length_s, const char *text)
{
  CwNotebook notebook;
  CwMessages messages = {0};
  const unsigned all[] = {8, 8, counts, 8, 8};
  const double lengths_s[] = {4.0, 4.0, length_s, 4.0, 4.0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  assert_int_equal(notebook.n_phrases, 5);
  CwCountLine line = line_of(5, all, lengths_s);
  assert_int_equal(cw_adds_up(&notebook, &line, 0.0, 16.0 + length_s, &messages), CW_OK);
  if (text) {
    assert_says(&messages, text);
  } else {
    assert_silent(&messages);
  }
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  cw_notebook_free(&notebook);
}

static void a_phrase_with_a_miscount_is_noticed(void **state)
{
  (void)state;
  check_middle("walk x2\n8 turn\nwalk x2\n", 8, 4.0, NULL);
  check_middle("walk x2\n8 turn\nwalk x2\n", 8, 3.2, NULL);
  check_middle("walk x2\n8 turn\nwalk x2\n", 8, 2.0,
               "phrase 3 has 8 counts, but the music there, at 0:08.0, has room for about 4 counts");
  check_middle("walk x2\n4 turn\nwalk x2\n", 4, 4.0,
               "phrase 3 has 4 counts, but the music there, at 0:08.0, has room for about 1 eight");
  check_middle("walk x2\n8 turn\nwalk x2\n", 8, 8.0, "has room for about 2 eights");
  check_middle("walk x2\n8 turn\nwalk x2\n", 8, 0.001, "has room for about 1 count");
}

static void a_change_that_the_notes_tell_is_no_miscount(void **state)
{
  (void)state;
  check_middle("walk x2\n# slow\n8 turn\n# quick\nwalk x2\n", 8, 8.0, NULL);
  check_middle("walk x2\nbeats per count: 2\n8 turn\nbeats per count: 1\nwalk x2\n", 8, 8.0, NULL);
  check_middle("walk x2\n8 turn\nhold 0:02\nwalk x2\n", 8, 8.0, NULL);
}

static void a_rest_at_the_end_is_no_overrun(void **state)
{
  (void)state;
  CwNotebook notebook;
  const char *notes = "walk x2\n";
  const unsigned counts[] = {8, 8};
  const double lengths_s[] = {4.0, 4.0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  CwCountLine line = line_of(2, counts, lengths_s);
  CwMessages messages = {0};
  assert_int_equal(cw_adds_up(&notebook, &line, 0.0, 7.0, &messages), CW_OK);
  assert_silent(&messages);
  assert_int_equal(cw_adds_up(&notebook, &line, 0.0, 6.0, &messages), CW_OK);
  assert_says(&messages, "the music ends about 4 counts before the notes: look near 0:06.0");
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  cw_notebook_free(&notebook);
}

static void counts_that_nobody_counts_are_noticed(void **state)
{
  (void)state;
  static const struct {
    double phrase_s;
    const char *text; ///< NULL: nothing
  } row[] = {
      {32.0, "the notes' 40 counts would go at 15 a minute here: are counts missing"},
      {1.5, "the notes' 40 counts would go at 320 a minute here: are counts too many"},
      {8.0, NULL},
  };
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse("walk x5\n", 8, &notebook), CW_OK);
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const unsigned counts[] = {8, 8, 8, 8, 8};
    const double length_s[] = {row[i].phrase_s, row[i].phrase_s, row[i].phrase_s, row[i].phrase_s, row[i].phrase_s};
    CwCountLine line = line_of(5, counts, length_s);
    CwMessages messages = {0};
    assert_int_equal(cw_adds_up(&notebook, &line, 0.0, 5 * row[i].phrase_s, &messages), CW_OK);
    assert_int_equal(messages.n, row[i].text ? 1 : 0);
    if (row[i].text) {
      assert_non_null(strstr(messages.text[0], row[i].text));
    }
    cw_messages_free(&messages);
    cw_count_line_free(&line);
  }
  cw_notebook_free(&notebook);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(notes_that_fit_are_passed_over_in_silence),
      cmocka_unit_test(notes_one_eight_too_short_are_noticed),
      cmocka_unit_test(notes_one_eight_too_long_are_noticed),
      cmocka_unit_test(a_phrase_with_a_miscount_is_noticed),
      cmocka_unit_test(a_change_that_the_notes_tell_is_no_miscount),
      cmocka_unit_test(a_rest_at_the_end_is_no_overrun),
      cmocka_unit_test(counts_that_nobody_counts_are_noticed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
