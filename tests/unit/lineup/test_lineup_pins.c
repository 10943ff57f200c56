// SPDX-License-Identifier: GPL-3.0-or-later
/// Pins are obeyed to the last digit, whatever the music.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "unit/cw_test.h"
#include "unit/lineup/music.h"
#include "unit/random.h"

static const double exact_s = 1e-9;

static Music music;
static CwFeatures features; ///< eight eights of 0.5 s and a second of silence on both sides

static int make_music(void **state)
{
  (void)state;
  music = (Music){.now_s = 1.0};
  write_beats(&music, 64, 0.5, 4);
  features = play(&music, 34.0);
  return 0;
}

static int free_music(void **state)
{
  (void)state;
  cw_features_free(&features);
  return 0;
}

/// Fail unless every pin of the notes is obeyed and the line is sound.
static void assert_obeyed(const Lined *lined)
{
  assert_int_equal(lined->status, CW_OK);
  assert_sound(&lined->line);
  for (size_t p = 0; p < lined->notebook.n_phrases; p++) {
    const CwNotePhrase *phrase = &lined->notebook.phrase[p];
    for (size_t i = 0; i < phrase->n_pins; i++) {
      const double time_s = cw_count_line_time(&lined->line, p, phrase->pin[i].count);
      if (!(fabs(time_s - phrase->pin[i].time_s) < exact_s)) {
        fail_msg("count %.3f of phrase %zu is pinned at %.9f s, but lies at %.9f s", phrase->pin[i].count, p + 1,
                 phrase->pin[i].time_s, time_s);
      }
    }
  }
}

static void check_obeyed(const char *notes)
{
  Lined lined = line_up(&features, notes, NULL);
  assert_obeyed(&lined);
  for (size_t i = 0; i < lined.messages.n; i++) {
    if (strstr(lined.messages.text[i], "left out")) {
      fail_msg("%s", lined.messages.text[i]);
    }
  }
  lined_free(&lined);
}

static void pins_are_obeyed_against_the_music(void **state)
{
  (void)state;
  check_obeyed("@0:03.333 walk\nturn\nrun\n");
  check_obeyed("walk 3@0:05.017 turn 4@0:05.9\nrun\nrun\n@0:19.999 pose\n");
  check_obeyed("1@2 2@2.3 3@2.5 4@3.9 5@5.2 6@5.5 7@6.1 8@11\nturn\n");         // on neighbouring counts
  check_obeyed("walk\nturn\nrun 8@0:33.9\n");                                   // in the silence at the end
  check_obeyed("@0 walk\nturn\nrun\n");                                         // before anything sounds
  check_obeyed("walk\nturn\nrun\nrun\nrun\nrun\nrun 8@0:06.5\nrun\n");          // very quick
  check_obeyed("@0:01 walk\n@0:33 turn\n@0:33.9 run\n");                        // very slow, then very quick
  check_obeyed("@0:02 walk 8@0:02.7\n");                                        // as quick as counts may be
  check_obeyed("first one: 0:04.25\nwalk\nturn\n");                             // in the head
  check_obeyed("metre: 3/4\nbeats per count: 3\n@0:02 waltz\n@0:04 turn\nx\n"); // quicker than any waltz
  check_obeyed("@0:33.99 walk\nturn\n");                                        // with no room for the rest
}

static void pins_between_counts_are_obeyed(void **state)
{
  (void)state;
  check_obeyed("1-4 walk 3&@0:04.1 5 turn\nrun\n");
  check_obeyed("walk 3@0:04 3&@0:04.31\nrun\n");
  check_obeyed("walk 3&@0:04 4@0:04.31\nrun\n");
  check_obeyed("walk 3&@0:04 3a@0:04.17 \nrun\n");
  check_obeyed("walk 3&@0:04 4&@0:04.61 5e@0:05 6a@0:05.8 7&@0:06.1\nrun\n"); // each leans on the one before
  check_obeyed("walk 8&@0:06\nrun 1&@0:06.6\n");
  check_obeyed("walk 8&@0:06\nhold\nrun\n"); // in the last count before a hold
  check_obeyed("walk 8@0:05.7 8&@0:06\nhold until @0:09.2\nrun\n");
  check_obeyed("walk 8&@0:06\n"); // in the last of all
  check_obeyed("walk 8e@0:06 8a@0:07.3\n");
}

static void a_pin_between_counts_moves_its_neighbours_little(void **state)
{
  (void)state;
  const char *pins[] = {"3e@0:10.145", "3&@0:10.27", "3a@0:10.395", "3a@0:10.395 4e@0:10.645 5&@0:11.27"};
  for (size_t k = 0; k < 4; k++) { // each 20 ms late
    char notes[100];
    snprintf(notes, sizeof notes, "metre: 4/4\nwalk x2\nwalk %s\nwalk x5\n", pins[k]);
    Lined lined = line_up(&features, notes, NULL);
    assert_obeyed(&lined);
    assert_on_beats(&lined.line, &music, 0, 1, 0.05);
    lined_free(&lined);
  }
}

static void a_pin_before_the_one_counts_from_the_phrase_before(void **state)
{
  (void)state;
  Lined lined = line_up(&features, "walk\nturn 2@0:07\nrun\n", NULL);
  lined.notebook.phrase[1].pin[0] = (CwPin){.count = 0.5, .time_s = 4.9}; // "&1"
  CwCountLine line;
  cw_messages_free(&lined.messages);
  assert_int_equal(cw_lineup(&features, &lined.notebook, NULL, NULL, &line, &lined.messages), CW_OK);
  assert_silent(&lined.messages);
  assert_near(cw_count_line_time(&line, 0, 8.5), 4.9, exact_s);
  cw_count_line_free(&line);
  lined.notebook.phrase[1].pin[0].count = 9.0; // no parser writes this
  assert_int_equal(cw_lineup(&features, &lined.notebook, NULL, NULL, &line, &lined.messages), CW_OK);
  assert_says(&lined.messages, "the pin at 0:04.9 in phrase 2 is on no count of a phrase: it is left out");
  cw_count_line_free(&line);
  lined_free(&lined);
}

static void a_pin_where_the_music_would_be_missing_is_obeyed(void **state)
{
  (void)state;
  check_obeyed("walk x15\n@0:20 turn\nrun\n");
  check_obeyed("walk x15\nturn 7@0:33.5 8&@0:33.7\nrun x20\n");
  check_obeyed("32 counts walk x3\n32 counts turn 31&@0:25\n");
}

/// Line up, look for `text` among the messages, and see that phrase `left_out` is not where it was pinned.
static void check_left_out(const char *notes, size_t phrase, double kept_s, const char *text)
{
  Lined lined = line_up(&features, notes, NULL);
  assert_int_equal(lined.status, CW_OK);
  assert_sound(&lined.line);
  assert_says(&lined.messages, text);
  assert_near(cw_count_line_start(&lined.line, phrase), kept_s, exact_s);
  lined_free(&lined);
}

static void of_two_pins_that_contradict_the_later_is_left_out(void **state)
{
  (void)state;
  check_left_out(
      "walk\n@0:10 turn\n@0:08.5 run\npose\n", 1, 10.0,
      "the pin at 0:08.5 in phrase 3 (3:1) cannot follow the one at 0:10.0 in phrase 2 (2:1): it is left out");
  check_left_out("@0:10 walk\n@0:10 turn\nrun\npose\n", 0, 10.0, "the pin at 0:10.0 in phrase 2 (2:1) cannot follow");
  check_left_out("@0:10 walk\n@0:10.7 turn\nrun\npose\n", 0, 10.0, "the pin at 0:10.7 in phrase 2 (2:1) cannot follow");
  check_left_out("first one: 0:05\n@0:06 walk\nturn\n", 0, 5.0,
                 "the pin at 0:06.0 in phrase 1 (2:1) cannot follow the one at 0:05.0 in phrase 1");
  check_left_out("@0:05 1 walk 1&@0:06 2@0:08 3 turn\nturn\n", 0, 5.0,
                 "the pin at 0:08.0 in phrase 1 (1:22) cannot follow the one at 0:06.0 in phrase 1 (1:14)");
  check_left_out("@0:05 walk\nhold until @0:06\n@0:12 run\n", 0, 5.0,
                 "the pin at 0:12.0 in phrase 2 (3:1) cannot follow");
  check_left_out("@0:05 walk 7&@0:11\nhold until @0:04\nrun\n", 0, 5.0, "the pin at 0:04.0 in phrase 2 cannot follow");
}

static void a_pin_that_cannot_be_is_left_out(void **state)
{
  (void)state;
  check_left_out("@0:05 walk\nturn\n@0:34.5 run\n", 0, 5.0,
                 "the pin at 0:34.5 in phrase 3 lies outside the recording: it is left out");
  check_left_out("walk x4\n@0:03 turn\n@0:20 run\n", 5, 20.0,
                 "the pin at 0:03.0 in phrase 5 (2:1) leaves no room for the counts before it: it is left out");
  Lined lined = line_up(&features, "@0:05 walk\nturn\n", NULL);
  const double nowhere[] = {-1.0, NAN, HUGE_VAL, -HUGE_VAL};
  for (size_t k = 0; k < 4; k++) {
    CwCountLine line;
    CwMessages messages = {0};
    lined.notebook.phrase[0].pin[0].time_s = nowhere[k];
    assert_int_equal(cw_lineup(&features, &lined.notebook, NULL, NULL, &line, &messages), CW_OK);
    assert_says(&messages, "lies outside the recording");
    assert_sound(&line);
    cw_count_line_free(&line);
    cw_messages_free(&messages);
  }
  lined_free(&lined);
}

static void pins_of_another_recording_can_be_left_aside(void **state)
{
  (void)state;
  const CwLineupOptions options = {.without_pins = true};
  const char *notes = "metre: 4/4\nfirst one: 0:02.2\nwalk 3&@0:20\nturn\n@0:03 run x6\nhold until @0:15\n";
  Lined lined = line_up(&features, notes, &options);
  assert_int_equal(lined.status, CW_OK);
  assert_silent(&lined.messages);
  assert_on_beats(&lined.line, &music, 0, 1, 0.010);
  lined_free(&lined);
}

static void only_a_pinned_one_is_certain(void **state)
{
  (void)state;
  Lined lined = line_up(&features, "walk 2@0:01.5\n@0:05 turn\nrun\nrun\nrun\nrun 8@0:09.5\n@0:25 run\nrun\n", NULL);
  assert_obeyed(&lined);
  for (size_t p = 0; p < lined.line.n_phrases; p++) {
    assert_int_equal(lined.line.phrase[p].confidence >= 1.0, p == 1 || p == 6);
  }
  lined_free(&lined);
}

static void a_pin_where_the_music_is_changes_nothing(void **state)
{
  (void)state;
  const char *notes = "metre: 4/4\nwalk\nturn\nrun\nrun\nrun\nrun\nrun\nrun\n";
  Lined plain = line_up(&features, notes, NULL);
  assert_on_beats(&plain.line, &music, 0, 1, 0.010);
  for (size_t p = 0; p < 8; p++) {
    char pinned[200];
    snprintf(pinned, sizeof pinned, "metre: 4/4\nwalk x%zu\n@%.4f turn x%zu\n", p, music.beat_s[8 * p], 8 - p);
    Lined lined = line_up(&features, p ? pinned : "metre: 4/4\n@0:01 turn x8\n", NULL);
    assert_obeyed(&lined);
    assert_int_equal(lined.line.n_counts, plain.line.n_counts);
    for (size_t i = 0; i < plain.line.n_counts; i++) {
      assert_near(lined.line.count_s[i], plain.line.count_s[i], 0.010);
    }
    lined_free(&lined);
  }
  lined_free(&plain);
}

enum { N_PHRASES = 5, N_COUNTS = 40, HOLD = 23 }; ///< a hold follows count HOLD (from 0)

/// When counts begin and how long they last, in any tempo, within the recording.
static void dream_times(uint64_t *seed, double *time_s, double *length_s)
{
  double now_s = random_between(seed, 0.0, 5.0);
  const double quickest_s = random_between(seed, 0.101, 0.4);
  for (size_t i = 0; i < N_COUNTS; i++) {
    time_s[i] = now_s;
    length_s[i] = quickest_s * random_between(seed, 1.0, 1.75);
    now_s += length_s[i] + (i == HOLD ? random_between(seed, 0.0, 0.5) : 0.0);
  }
  assert_true(now_s < 34.0);
}

/// Pin some places of the dreamed times.
static void pin_some(uint64_t *seed, const double *time_s, const double *length_s, CwNotebook *notebook)
{
  static const double parts[] = {0, 0, 0, 0, 0.5, 0.25, 0.75, 1 / 3.0, 2 / 3.0};
  const double share = random_between(seed, 0.02, 0.6);
  for (size_t p = 0; p < N_PHRASES; p++) {
    CwNotePhrase *phrase = &notebook->phrase[p];
    free(phrase->pin);
    phrase->n_pins = 0;
    phrase->pin = calloc(8, sizeof *phrase->pin);
    assert_non_null(phrase->pin);
    for (unsigned k = 0; k < 8; k++) {
      if (random_share(seed) < share) {
        const double part = parts[random_below(seed, sizeof parts / sizeof *parts)];
        const size_t i = 8 * p + k;
        phrase->pin[phrase->n_pins++] = (CwPin){.count = 1.0 + k + part, .time_s = time_s[i] + part * length_s[i]};
      }
    }
  }
}

static void any_pins_that_can_be_are_obeyed(void **state)
{
  (void)state;
  const char *notes = "metre: 4/4\nwalk\nturn\nrun\nhold\nrun\npose\n";
  Lined lined = {0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &lined.notebook), CW_OK);
  for (uint64_t k = 0; k < 200; k++) {
    uint64_t seed = 1000 + k;
    double time_s[N_COUNTS];
    double length_s[N_COUNTS];
    dream_times(&seed, time_s, length_s);
    pin_some(&seed, time_s, length_s, &lined.notebook);
    lined.status = cw_lineup(&features, &lined.notebook, NULL, NULL, &lined.line, &lined.messages);
    assert_obeyed(&lined);
    cw_count_line_free(&lined.line);
    for (size_t i = 0; i < lined.messages.n; i++) {
      assert_null(strstr(lined.messages.text[i], "left out"));
    }
    cw_messages_free(&lined.messages);
  }
  lined_free(&lined);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(pins_are_obeyed_against_the_music),
      cmocka_unit_test(pins_between_counts_are_obeyed),
      cmocka_unit_test(a_pin_between_counts_moves_its_neighbours_little),
      cmocka_unit_test(a_pin_before_the_one_counts_from_the_phrase_before),
      cmocka_unit_test(a_pin_where_the_music_would_be_missing_is_obeyed),
      cmocka_unit_test(of_two_pins_that_contradict_the_later_is_left_out),
      cmocka_unit_test(a_pin_that_cannot_be_is_left_out),
      cmocka_unit_test(pins_of_another_recording_can_be_left_aside),
      cmocka_unit_test(only_a_pinned_one_is_certain),
      cmocka_unit_test(a_pin_where_the_music_is_changes_nothing),
      cmocka_unit_test(any_pins_that_can_be_are_obeyed),
  };
  return cmocka_run_group_tests(tests, make_music, free_music);
}
