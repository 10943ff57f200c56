// SPDX-License-Identifier: GPL-3.0-or-later
/// Practice audio laid out and made: counts, words, refusals, failing allocations.
#include "unit/cw_test.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "countwright/audio_write.h"
#include "countwright/practice.h"

#define RECORDING "test_practice.recording.wav"
#define MADE "test_practice.made.wav"

enum { RATE = 32000 };

/// Notes on a count line of even counts of 0.8 s from 2 s on.
typedef struct {
  CwNotebook notebook;
  CwCountLine line;
  CwSheet sheet;
  CwPracticeOptions options;
  CwMessages messages;
} Dance;

static Dance dance(const char *notes)
{
  Dance made = {0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &made.notebook), CW_OK);
  cw_count_line_init(&made.line, 2 + 0.8 * 8 * (double)made.notebook.n_phrases + 1);
  for (size_t p = 0; p < made.notebook.n_phrases; p++) {
    double count_s[8];
    for (size_t c = 0; c < 8; c++) {
      count_s[c] = 2 + 0.8 * (double)(8 * p + c);
    }
    assert_int_equal(cw_count_line_add(&made.line, count_s, 8, count_s[7] + 0.8, 1), CW_OK);
  }
  assert_int_equal(cw_sheet_build(&made.notebook, &made.line, "x.wav", NULL, &made.sheet), CW_OK);
  cw_practice_defaults(&made.options);
  return made;
}

static void release(Dance *made)
{
  cw_sheet_free(&made->sheet);
  cw_count_line_free(&made->line);
  cw_notebook_free(&made->notebook);
  cw_messages_free(&made->messages);
}

static CwStatus plan(Dance *made, CwPractice **practice)
{
  return cw_practice_plan(&made->sheet, &made->line, NULL, &made->options, practice, &made->messages);
}

/// A recording of silence, or of a faint tone.
static void write_recording(double seconds, double height)
{
  const CwSoundOptions options = {.form = CW_SOUND_WAV, .rate_hz = RATE, .channels = 1};
  CwSoundWriter *writer = NULL;
  assert_int_equal(cw_sound_writer_open(RECORDING, true, &options, &writer), CW_OK);
  for (size_t i = 0; i < (size_t)(seconds * RATE); i++) {
    const float sample = (float)(height * sin(0.04 * (double)i));
    assert_int_equal(cw_sound_writer_write(writer, &sample, 1), CW_OK);
  }
  assert_int_equal(cw_sound_writer_end(writer), CW_OK);
}

static float *read_made(size_t *n)
{
  CwReader *reader = NULL;
  float *sample = calloc(120 * RATE, sizeof *sample);
  assert_non_null(sample);
  assert_int_equal(cw_reader_open(MADE, RATE, NULL, &reader), CW_OK);
  assert_int_equal(cw_reader_read(reader, sample, 120 * RATE, n), CW_OK);
  cw_reader_free(reader);
  return sample;
}

/// Keep what vowels have most of: about 300 to 2500 Hz, by two simple filters of first order, twice.
static void keep_vowels(float *sample, size_t n)
{
  for (int pass = 0; pass < 2; pass++) {
    float low = 0;
    float slow = 0;
    for (size_t i = 0; i < n; i++) {
      slow += 0.06F * (sample[i] - slow);
      low += 0.38F * (sample[i] - slow - low);
      sample[i] = low;
    }
  }
}

/// When the level near a time first reaches half of its highest, over windows of 10 ms.
static double swell_near(const float *sample, double at_s)
{
  enum { WINDOW = RATE / 100, STEP = RATE / 1000 };
  const size_t first = (size_t)((at_s - 0.2) * RATE);
  double level[500];
  double highest = 0;
  for (size_t k = 0; k < 500; k++) {
    double sum = 0;
    for (size_t i = 0; i < WINDOW; i++) {
      const float x = sample[first + k * STEP + i];
      sum += (double)(x * x);
    }
    level[k] = sqrt(sum);
    highest = fmax(highest, level[k]);
  }
  size_t k = 0;
  while (level[k] < 0.5 * highest) {
    k++;
  }
  return (double)(first + k * STEP + WINDOW / 2) / RATE;
}

/// By the swelling of what vowels have: where a word begins with a consonant that has no voice, that is the vowel's beginning.
static void the_vowel_of_a_spoken_count_falls_on_its_time(void **state)
{
  (void)state;
#ifndef CW_HAVE_ESPEAK
  skip();
#else
  Dance made = dance("8 walk\n8 run\n");
  CwPractice *practice = NULL;
  write_recording(16, 0);
  made.options.count_in = 0;
  assert_int_equal(plan(&made, &practice), CW_OK);
  assert_int_equal(cw_practice_write(practice, RECORDING, MADE, true, NULL, NULL), CW_OK);
  size_t n = 0;
  float *sample = read_made(&n);
  keep_vowels(sample, n);
  size_t counts = 0;
  const CwPracticeCount *count = cw_practice_counts(practice, &counts);
  assert_int_equal(counts, 16);
  for (size_t i = 0; i < counts; i++) {
    const bool voiced_before = count[i].count == 1 || count[i].count == 3; // "one", "three"
    if (!voiced_before) {
      assert_near(swell_near(sample, count[i].at_s), count[i].at_s, 0.012);
    }
  }
  free(sample);
  cw_practice_free(practice);
  release(&made);
  unlink(MADE);
  unlink(RECORDING);
#endif
}

static void counts_before_the_one_are_the_last_of_its_phrase(void **state)
{
  (void)state;
  Dance made = dance("8 walk\n8 run\n");
  made.options.spoken = false;
  made.options.clicked = true;
  made.options.count_in = 4;
  const CwPassage second = {1, 1};
  made.options.passage = &second;
  made.options.n_passages = 1;
  CwPractice *practice = NULL;
  assert_int_equal(plan(&made, &practice), CW_OK);
  size_t n = 0;
  const CwPracticeCount *count = cw_practice_counts(practice, &n);
  assert_int_equal(n, 12);
  for (size_t i = 0; i < n; i++) {
    assert_int_equal(count[i].phrase, 2);
    assert_near(count[i].count, (double)i - 3, 1e-9);
    assert_near(count[i].at_s - count[0].at_s, 0.8 * (double)i, 1e-9);
  }
  cw_practice_free(practice);
  release(&made);
}

static void phrases_that_the_recording_lacks_are_left_out(void **state)
{
  (void)state;
  Dance made = dance("8 walk\n8 run\n8 turn\n");
  const size_t kept[] = {0, SIZE_MAX, 1};
  made.options.spoken = false;
  made.options.clicked = true;
  made.options.count_in = 0;
  CwPractice *practice = NULL;
  assert_int_equal(cw_practice_plan(&made.sheet, &made.line, kept, &made.options, &practice, &made.messages), CW_OK);
  size_t n = 0;
  const CwPracticeCount *count = cw_practice_counts(practice, &n);
  assert_int_equal(n, 16);
  assert_int_equal(count[0].phrase, 1);
  assert_int_equal(count[15].phrase, 3);
  cw_practice_free(practice);
  release(&made);
}

static void bad_options_are_refused(void **state)
{
  (void)state;
  Dance made = dance("8 walk\n");
  CwPractice *practice = NULL;
  const CwPracticeOptions good = made.options;
  const double slow = 0.49;
  const double none = NAN;
  const CwPassage wrong[] = {{0, 1}, {1, 0}};
  const CwPracticeOptions bad[] = {{.speed = &slow, .n_speeds = 1, .loudness_lufs = -16},
                                   {.speed = &none, .n_speeds = 1, .loudness_lufs = -16},
                                   {.passage = &wrong[0], .n_passages = 1, .loudness_lufs = -16},
                                   {.passage = &wrong[1], .n_passages = 1, .loudness_lufs = -16},
                                   {.rest_s = -1, .loudness_lufs = -16},
                                   {.duck_db = 41, .loudness_lufs = -16},
                                   {.loudness_lufs = 0},
                                   {.pace = CW_PACE_LIKE, .loudness_lufs = -16},
                                   {.language = CW_N_LANGUAGES, .loudness_lufs = -16}};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    made.options = bad[i];
    assert_int_equal(plan(&made, &practice), CW_ERR_BAD_ARG);
    assert_null(practice);
  }
  made.options = good;
  made.options.spoken = false;
  made.options.loops = 1000;
  made.options.rest_s = 600;
  assert_int_equal(plan(&made, &practice), CW_ERR_TOO_LONG);
  assert_null(practice);
  cw_practice_free(NULL);
  release(&made);
}

static CwStatus make(Dance *made)
{
  CwPractice *practice = NULL;
  CwStatus status = plan(made, &practice);
  if (status == CW_OK) {
    status = cw_practice_write(practice, RECORDING, MADE, true, NULL, NULL);
  }
  cw_practice_free(practice);
  return status;
}

static void every_failing_allocation_is_reported(void **state)
{
  (void)state;
  Dance made = dance("piece: The Paper Harbour\n\n# Quay\n1 walk 5 turn\n8 run\n");
  write_recording(16, 0.1);
  static const double speed[] = {0.8, 1.0};
  made.options.spoken = false;
  made.options.clicked = true;
  made.options.sub_counts = true;
  made.options.speed = speed;
  made.options.n_speeds = 2;
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n += n < 60 ? 1 : 97) { // speech takes very many
    cw_fail_after(n);
    status = make(&made);
    cw_fail_after(-1);
    assert_true(status == CW_OK || (status == CW_ERR_NO_MEM && access(MADE, F_OK) != 0));
  }
  assert_int_equal(status, CW_OK);
  unlink(MADE);
  unlink(RECORDING);
  release(&made);
}

static bool stop_soon(void *user, const char *stage, double fraction)
{
  (void)stage;
  (void)fraction;
  return --*(int *)user > 0;
}

static void a_cancelled_making_leaves_nothing(void **state)
{
  (void)state;
  Dance made = dance("8 walk\n8 run\n");
  write_recording(16, 0.1);
  made.options.spoken = false;
  made.options.clicked = true;
  CwPractice *practice = NULL;
  assert_int_equal(plan(&made, &practice), CW_OK);
  CwStatus status = CW_ERR_CANCELLED;
  for (int calls = 1; status == CW_ERR_CANCELLED; calls += 61) {
    int left = calls;
    const CwReport report = {.progress = stop_soon, .user = &left};
    status = cw_practice_write(practice, RECORDING, MADE, true, &report, NULL);
    assert_int_equal(access(MADE, F_OK) == 0, status == CW_OK);
  }
  assert_int_equal(status, CW_OK);
  cw_practice_free(practice);
  unlink(MADE);
  unlink(RECORDING);
  release(&made);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_vowel_of_a_spoken_count_falls_on_its_time),
      cmocka_unit_test(counts_before_the_one_are_the_last_of_its_phrase),
      cmocka_unit_test(phrases_that_the_recording_lacks_are_left_out),
      cmocka_unit_test(bad_options_are_refused),
      cmocka_unit_test(every_failing_allocation_is_reported),
      cmocka_unit_test(a_cancelled_making_leaves_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
