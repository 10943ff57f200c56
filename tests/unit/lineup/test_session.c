// SPDX-License-Identifier: GPL-3.0-or-later
/// Pins that come and go: the neighbourhood is what a whole search makes of it, and the rest stays.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/session.h"
#include "unit/cw_test.h"
#include "unit/lineup/music.h"

#define FRAME_S 0.0101

static const char plain[] = "metre: 4/4\nbeats per count: 1\nwalk x16\n";
static Music music;
static CwFeatures features; ///< sixteen eights, slowing and quickening

typedef struct {
  CwNotebook notebook;
  CwSession *session;
  CwMessages messages;
} Begun;

static int make_music(void **state)
{
  (void)state;
  music = (Music){.now_s = 1.0};
  for (size_t k = 0; k < 32; k++) {
    write_beats(&music, 4, 0.5 + 0.05 * sin((double)k / 3.0), 4);
  }
  features = play(&music, music.now_s + 2.0);
  return 0;
}

static int free_music(void **state)
{
  (void)state;
  cw_features_free(&features);
  return 0;
}

static void begin(const char *notes, Begun *b)
{
  memset(b, 0, sizeof *b);
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &b->notebook), CW_OK);
  assert_int_equal(cw_session_begin(&features, &b->notebook, NULL, NULL, &b->session, &b->messages), CW_OK);
}

static void end(Begun *b)
{
  cw_session_free(b->session);
  cw_messages_free(&b->messages);
  cw_notebook_free(&b->notebook);
}

static void pin(Begun *b, size_t phrase, double count, double time_s)
{
  assert_int_equal(cw_session_set_pin(b->session, phrase, count, time_s, &b->messages), CW_OK);
  assert_silent(&b->messages);
  const CwCountLine *line = cw_session_line(b->session);
  assert_sound(line);
  assert_near(cw_count_line_time(line, phrase, count), time_s, 1e-9);
}

/// Fail unless the session's counts are those of a whole search of `notes`.
static void check_whole(const Begun *b, const char *notes)
{
  Lined whole = line_up(&features, notes, NULL);
  const CwCountLine *line = cw_session_line(b->session);
  assert_int_equal(whole.status, CW_OK);
  assert_int_equal(line->n_counts, whole.line.n_counts);
  for (size_t i = 0; i < line->n_counts; i++) {
    if (!(fabs(line->count_s[i] - whole.line.count_s[i]) <= FRAME_S)) {
      fail_msg("count %zu is at %.3f s, in a whole search at %.3f s", i + 1, line->count_s[i], whole.line.count_s[i]);
    }
  }
  lined_free(&whole);
}

static void at_first_it_is_the_whole_search(void **state)
{
  (void)state;
  Begun b;
  begin(plain, &b);
  check_whole(&b, plain);
  end(&b);
}

static void a_pin_on_the_first_one_is_as_in_the_notes(void **state)
{
  (void)state;
  Begun b;
  begin(plain, &b);
  pin(&b, 0, 1.0, 1.004);
  check_whole(&b, "metre: 4/4\nbeats per count: 1\n@1.004 walk\nwalk x15\n");
  end(&b);
}

static void a_pin_anywhere_is_as_in_the_notes(void **state)
{
  (void)state;
  Begun b;
  char notes[200];
  begin(plain, &b);
  const double third_s = music.beat_s[64 + 2] + 0.02;
  pin(&b, 8, 3.0, third_s);
  snprintf(notes, sizeof notes, "metre: 4/4\nbeats per count: 1\nwalk x8\n1 walk 3@%.6f turn\nwalk x7\n", third_s);
  check_whole(&b, notes);
  const double part_s = 0.5 * (music.beat_s[90] + music.beat_s[91]);
  pin(&b, 11, 3.5, part_s);
  end(&b);
}

static void between_pins_that_move_the_counts_it_is_the_whole_search_too(void **state)
{
  (void)state;
  Begun b; // a count late from the sixth eight on, and in time again from the ninth
  char notes[300];
  begin(plain, &b);
  pin(&b, 5, 1.0, music.beat_s[41]);
  pin(&b, 4, 1.0, music.beat_s[32]);
  pin(&b, 8, 1.0, music.beat_s[64]);
  snprintf(notes, sizeof notes,
           "metre: 4/4\nbeats per count: 1\nwalk x4\n@%.6f walk\n@%.6f walk\nwalk x2\n@%.6f walk\nwalk x7\n",
           music.beat_s[32], music.beat_s[41], music.beat_s[64]);
  check_whole(&b, notes);
  end(&b);
}

static void counts_beyond_the_neighbourhood_stay(void **state)
{
  (void)state;
  Begun b;
  CwCountLine before;
  begin(plain, &b);
  assert_int_equal(cw_count_line_copy(cw_session_line(b.session), &before), CW_OK);
  pin(&b, 8, 1.0, music.beat_s[64] + 0.3);
  const CwCountLine *line = cw_session_line(b.session);
  for (size_t i = 0; i < line->n_counts; i++) {
    if (i + CW_SESSION_REACH < 64 || i > 64 + CW_SESSION_REACH) {
      assert_near(line->count_s[i], before.count_s[i], 1e-12);
    }
  }
  assert_near(line->phrase[8].confidence, 1.0, 1e-12);
  cw_count_line_free(&before);
  end(&b);
}

static void a_pin_taken_away_leaves_what_was_before(void **state)
{
  (void)state;
  Begun b;
  begin(plain, &b);
  pin(&b, 8, 1.0, music.beat_s[64] + 0.2);
  pin(&b, 8, 1.0, music.beat_s[64] + 0.3); // moved
  assert_int_equal(cw_session_remove_pin(b.session, 8, 1.0), CW_OK);
  check_whole(&b, plain);
  assert_int_equal(cw_session_remove_pin(b.session, 8, 1.0), CW_ERR_NOT_FOUND);
  end(&b);
}

static void a_pin_that_contradicts_another_changes_nothing(void **state)
{
  (void)state;
  Begun b;
  begin("metre: 4/4\nbeats per count: 1\nwalk x7\n@0:29 walk\nwalk x8\n", &b);
  const double before_s = cw_session_line(b.session)->count_s[64];
  assert_int_equal(cw_session_set_pin(b.session, 8, 1.0, 28.0, &b.messages), CW_ERR_BAD_ARG);
  assert_says(&b.messages, "the pin at 0:28.0 in phrase 9 cannot follow the one at 0:29.0 in phrase 8 (4:1)");
  assert_int_equal(cw_session_set_pin(b.session, 6, 1.0, 29.5, &b.messages), CW_ERR_BAD_ARG);
  assert_says(&b.messages, "the pin at 0:29.0 in phrase 8 (4:1) cannot follow the one at 0:29.5 in phrase 7");
  assert_int_equal(cw_session_set_pin(b.session, 2, 1.0, 9999.0, &b.messages), CW_ERR_BAD_ARG);
  assert_says(&b.messages, "lies outside the recording");
  assert_int_equal(cw_session_set_pin(b.session, 99, 1.0, 3.0, &b.messages), CW_ERR_BAD_ARG);
  assert_near(cw_session_line(b.session)->count_s[64], before_s, 1e-12);
  assert_int_equal(cw_session_remove_pin(b.session, 8, 1.0), CW_ERR_NOT_FOUND);
  end(&b);
}

static void a_pin_in_place_of_one_of_the_notes(void **state)
{
  (void)state;
  Begun b;
  begin("first one: 0:01.0\nbeats per count: 1\nwalk x7\n@0:29 walk\nwalk x8\n", &b);
  pin(&b, 7, 1.0, music.beat_s[56]);
  pin(&b, 0, 1.0, 1.1);
  end(&b);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  Begun b;
  begin(plain, &b);
  const double before_s = cw_session_line(b.session)->count_s[64];
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = cw_session_set_pin(b.session, 8, 1.0, music.beat_s[64] + 0.2, &b.messages);
    cw_fail_after(-1);
    if (status != CW_OK) {
      assert_near(cw_session_line(b.session)->count_s[64], before_s, 1e-12);
      assert_int_equal(cw_session_remove_pin(b.session, 8, 1.0), CW_ERR_NOT_FOUND);
    }
  }
  assert_int_equal(status, CW_OK);
  const double pinned_s = cw_session_line(b.session)->count_s[64];
  status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    assert_near(cw_session_line(b.session)->count_s[64], pinned_s, 1e-12);
    cw_fail_after(n);
    status = cw_session_remove_pin(b.session, 8, 1.0);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
  end(&b);
}

static void a_session_may_fail_to_begin(void **state)
{
  (void)state;
  Music piece = {.now_s = 0.5};
  write_beats(&piece, 8, 0.5, 4);
  CwFeatures short_features = play(&piece, 5.0);
  CwNotebook notebook;
  static const char notes[] = "beats per count: 1\nwalk\n";
  assert_int_equal(cw_notebook_parse(notes, sizeof notes - 1, &notebook), CW_OK);
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwSession *session = NULL;
    CwMessages messages = {0};
    cw_fail_after(n);
    status = cw_session_begin(&short_features, &notebook, NULL, NULL, &session, &messages);
    cw_fail_after(-1);
    assert_true((status == CW_OK) == (session != NULL));
    cw_session_free(session);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  cw_session_free(NULL);
  cw_notebook_free(&notebook);
  cw_features_free(&short_features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(at_first_it_is_the_whole_search),
      cmocka_unit_test(a_pin_on_the_first_one_is_as_in_the_notes),
      cmocka_unit_test(a_pin_anywhere_is_as_in_the_notes),
      cmocka_unit_test(between_pins_that_move_the_counts_it_is_the_whole_search_too),
      cmocka_unit_test(counts_beyond_the_neighbourhood_stay),
      cmocka_unit_test(a_pin_taken_away_leaves_what_was_before),
      cmocka_unit_test(a_pin_that_contradicts_another_changes_nothing),
      cmocka_unit_test(a_pin_in_place_of_one_of_the_notes),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(a_session_may_fail_to_begin),
  };
  return cmocka_run_group_tests(tests, make_music, free_music);
}
