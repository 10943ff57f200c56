// SPDX-License-Identifier: GPL-3.0-or-later
/// Changes of notes that make them fit: the changes themselves, what is said of them, and a piece whose mistake is plain.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/fit.h"
#include "lineup/edits.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"

static CwNotebook parse(const char *text)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  return notebook;
}

static void a_phrase_is_put_in_and_repeats_follow(void **state)
{
  (void)state;
  CwNotebook notes = parse("8 walk\n6 turn\nsame as 2\n");
  CwNotebook changed;
  const CwEdit edit = {CW_FIT_MISSING, 1, 4};
  assert_int_equal(cw_edit_apply(&notes, edit, &changed), CW_OK);
  assert_int_equal(changed.n_phrases, 4);
  assert_int_equal(changed.phrase[1].counts, 4);
  assert_int_equal(changed.phrase[1].n_steps, 0);
  assert_int_equal(changed.phrase[3].like, 2);
  assert_int_equal(notes.phrase[2].like, 1);
  assert_int_equal(cw_edit_counts(&notes, edit), 4);
  cw_edit_free(&changed);
  cw_notebook_free(&notes);
}

static void a_phrase_is_taken_out_and_repeats_of_it_stand_alone(void **state)
{
  (void)state;
  CwNotebook notes = parse("8 walk\n6 turn\nsame as 2\nsame as 1\n");
  CwNotebook changed;
  const CwEdit edit = {CW_FIT_EXTRA, 1, 0};
  assert_int_equal(cw_edit_apply(&notes, edit, &changed), CW_OK);
  assert_int_equal(changed.n_phrases, 3);
  assert_int_equal(changed.phrase[1].like, CW_NONE);
  assert_int_equal(changed.phrase[2].like, 0);
  assert_int_equal(cw_edit_counts(&notes, edit), -6);
  cw_edit_free(&changed);
  cw_notebook_free(&notes);
}

static void a_shorter_phrase_loses_the_pins_past_its_end(void **state)
{
  (void)state;
  CwNotebook notes = parse("@ 0:01 8 walk 3@0:02 7@0:05 turn\n");
  CwNotebook changed;
  assert_int_equal(cw_edit_apply(&notes, (CwEdit){CW_FIT_LENGTH, 0, 4}, &changed), CW_OK);
  assert_int_equal(changed.phrase[0].counts, 4);
  assert_int_equal(changed.phrase[0].n_pins, 2);
  assert_int_equal(notes.phrase[0].n_pins, 3);
  cw_edit_free(&changed);
  cw_notebook_free(&notes);
}

static void changes_are_told_in_words(void **state)
{
  (void)state;
  CwFit fit[] = {
      {.kind = CW_FIT_MISSING, .phrase = 7, .first = 7, .last = 7, .counts = 4, .gain = 9, .chance = 0.5, .at_s = 61},
      {.kind = CW_FIT_LENGTH, .phrase = 8, .first = 8, .last = 8, .counts = 12, .gain = 8.5, .chance = 0.4, .at_s = 61},
      {.kind = CW_FIT_EXTRA, .phrase = 3, .first = 2, .last = 5, .gain = 5, .chance = 0.1, .at_s = 20}};
  const CwFits fits = {fit, 3, 0.0, 3};
  CwMessages messages = {0};
  assert_int_equal(cw_fits_explain(&fits, &messages), CW_OK);
  assert_int_equal(messages.n, 2);
  assert_string_equal(messages.text[0],
                      "it may fit better so: a phrase of 4 is missing after phrase 7, or phrase 8 has 12 "
                      "counts, near 1:01.0");
  assert_string_equal(messages.text[1], "or else so: one of phrases 2-5 is not there, near 0:20.0");
  cw_messages_free(&messages);
}

/// Eights of 4 s with bars of 4; the music of the last two begins again like that of the first.
static CwFeatures twelve_eights(void)
{
  Music music = {.now_s = 1.0};
  write_beats(&music, 96, 0.5, 4);
  return play(&music, 50.0);
}

/// The first and the last phrase are pinned, so how many counts there are between them is plain.
static CwFits fits_of(const CwFeatures *features, const char *text, CwStatus wanted)
{
  CwNotebook notes = parse(text);
  CwCountLine line;
  CwMessages messages = {0};
  CwFits fits;
  assert_int_equal(cw_fits_find(features, &notes, NULL, NULL, &line, &messages, &fits), wanted);
  cw_count_line_free(&line);
  cw_messages_free(&messages);
  cw_notebook_free(&notes);
  return fits;
}

static void between_pins_a_forgotten_phrase_is_found(void **state)
{
  (void)state;
  CwFeatures features = twelve_eights();
  CwFits fits = fits_of(&features, "metre: 4/4\n@0:01 walk x10\n@0:45 turn\n", CW_OK);
  assert_true(fits.n > 0);
  assert_int_equal(fits.fit[0].kind, CW_FIT_MISSING);
  assert_int_equal(fits.fit[0].counts, 8);
  assert_true(fits.as_it_is < 0.1);
  cw_fits_free(&fits);
  cw_features_free(&features);
}

static void notes_that_fit_are_left_as_they_are(void **state)
{
  (void)state;
  CwFeatures features = twelve_eights();
  CwFits fits = fits_of(&features, "metre: 4/4\n@0:01 walk x12\n", CW_OK);
  assert_int_equal(fits.n, 0);
  cw_fits_free(&fits);
  cw_features_free(&features);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  Music music = {.now_s = 0.5};
  write_beats(&music, 24, 0.5, 4);
  CwFeatures features = play(&music, 14.0);
  CwNotebook notes = parse("metre: 4/4\n8 walk\nsame as 1\n");
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n += 1 + n / 4) { // a line-up each: not every one of thousands
    CwCountLine line;
    CwMessages messages = {0};
    CwFits fits;
    cw_fail_after(n);
    status = cw_fits_find(&features, &notes, NULL, NULL, &line, &messages, &fits);
    cw_fail_after(-1);
    cw_count_line_free(&line);
    cw_messages_free(&messages);
    cw_fits_free(&fits);
  }
  assert_int_equal(status, CW_OK);
  cw_notebook_free(&notes);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_phrase_is_put_in_and_repeats_follow),
      cmocka_unit_test(a_phrase_is_taken_out_and_repeats_of_it_stand_alone),
      cmocka_unit_test(a_shorter_phrase_loses_the_pins_past_its_end),
      cmocka_unit_test(changes_are_told_in_words),
      cmocka_unit_test(between_pins_a_forgotten_phrase_is_found),
      cmocka_unit_test(notes_that_fit_are_left_as_they_are),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
