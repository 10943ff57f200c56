// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "countwright/phrases.h"
#include "unit/dsp/tones.h"
#include "unit/phrase/beat_lists.h"
#include "unit/random.h"

enum { N_BEATS = 66, PICK_UP = 2 };
static const double beat_s = 0.5;

/// Chords that change every 8 beats, after two beats with only a melody; the melody itself runs on evenly.
static CwFeatures measure_piece(void)
{
  static const double root[] = {48, 53, 55, 50, 57, 52, 53, 55};
  static const double melody[] = {72, 74, 76, 77, 79, 77, 76, 74, 72, 71, 74};
  Sound sound = sound_new(N_BEATS * beat_s + 1.5);
  for (size_t i = 0; i < N_BEATS; i++) {
    const double at_s = 0.5 + beat_s * (double)i;
    add_struck_note(&sound, melody[i % 11], 0.1, at_s, at_s + beat_s);
    if (i >= PICK_UP) {
      const double chord = root[(i - PICK_UP) / 8];
      add_struck_note(&sound, chord, 0.15, at_s, at_s + beat_s);
      add_struck_note(&sound, chord + 7, 0.1, at_s, at_s + beat_s);
      add_struck_note(&sound, chord + 16, 0.1, at_s, at_s + beat_s);
    }
  }
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound.sample, sound.n, &features), CW_OK);
  sound_free(&sound);
  return features;
}

/// What the header promises of every count line that was found.
static void assert_good(const CwCountLine *line)
{
  assert_true(line->n_phrases > 0);
  size_t counts = 0;
  for (size_t p = 0; p < line->n_phrases; p++) {
    const CwPhrase *phrase = &line->phrase[p];
    assert_int_equal(phrase->first_count, counts);
    assert_true(phrase->counts >= 1);
    assert_true(phrase->confidence >= 0 && phrase->confidence <= 1);
    counts += phrase->counts;
    assert_true(phrase->end_s > line->count_s[counts - 1]);
    assert_true(p == 0 || cw_count_line_start(line, p) >= line->phrase[p - 1].end_s - 1e-9);
  }
  assert_int_equal(counts, line->n_counts);
  for (size_t i = 1; i < counts; i++) {
    assert_true(line->count_s[i] > line->count_s[i - 1]);
  }
}

/// Bars of two or four beats, of which many begin where no phrase does: harmony must tell the phrases apart.
static void the_ones_are_found_where_the_harmony_changes(void **state)
{
  (void)state;
  CwFeatures features = measure_piece();
  for (unsigned metre = 2; metre <= 4; metre += 2) {
    CwBeats beats = {0};
    add_run(&beats, 0.5, beat_s, N_BEATS, metre, metre - 1);
    CwCountLine line;
    assert_int_equal(cw_phrases_find(&features, &beats, NULL, &line), CW_OK);
    assert_good(&line);
    assert_int_equal(line.n_phrases, 8);
    assert_int_equal(line.metre, metre);
    assert_near(line.beats_per_count, 1, 0);
    assert_near(line.duration_s, features.duration_s, 0);
    for (size_t p = 0; p < line.n_phrases; p++) {
      assert_int_equal(line.phrase[p].counts, 8);
      assert_near(cw_count_line_start(&line, p), 0.5 + beat_s * (double)(PICK_UP + 8 * p), 1e-9);
      // as sure as it can be without notes or pins: still to be checked by ear
      assert_true(line.phrase[p].confidence > 0.25 && line.phrase[p].confidence <= 0.5);
    }
    cw_count_line_free(&line);
    cw_beats_free(&beats);
  }
  cw_features_free(&features);
}

static void the_usual_length_is_what_is_asked_for(void **state)
{
  (void)state;
  CwFeatures features = {.duration_s = 60};
  CwBeats beats = {0};
  add_run(&beats, 1.0, 0.5, 60, 4, 1);
  for (unsigned usual = 4; usual <= 12; usual += 4) {
    const CwPhraseOptions options = {.counts_per_phrase = usual};
    CwCountLine line;
    assert_int_equal(cw_phrases_find(&features, &beats, &options, &line), CW_OK);
    assert_good(&line);
    for (size_t p = 0; p + 1 < line.n_phrases; p++) {
      assert_int_equal(line.phrase[p].counts, usual);
    }
    cw_count_line_free(&line);
  }
  cw_beats_free(&beats);
}

/// Longer phrases than any that is looked for unasked.
static void a_long_usual_length_is_kept_and_one_too_long_is_refused(void **state)
{
  (void)state;
  CwFeatures features = {.duration_s = 100};
  CwBeats beats = {0};
  add_run(&beats, 1.0, 0.5, 160, 4, 1);
  CwPhraseOptions options = {.counts_per_phrase = 40};
  CwCountLine line;
  assert_int_equal(cw_phrases_find(&features, &beats, &options, &line), CW_OK);
  assert_int_equal(line.n_phrases, 4);
  for (size_t p = 0; p < line.n_phrases; p++) {
    assert_int_equal(line.phrase[p].counts, 40);
  }
  cw_count_line_free(&line);
  options.counts_per_phrase = 1000;
  assert_int_equal(cw_phrases_find(&features, &beats, &options, &line), CW_ERR_BAD_ARG);
  assert_int_equal(line.n_counts, 0);
  cw_beats_free(&beats);
}

/// A one is as sure as its being the first of a phrase, and as its beat.
static void a_phrase_is_no_surer_than_its_beat(void **state)
{
  (void)state;
  CwFeatures features = {.duration_s = 60};
  CwBeats beats = {0};
  CwCountLine sure;
  CwCountLine unsure;
  add_run(&beats, 1.0, 0.5, 60, 4, 1);
  assert_int_equal(cw_phrases_find(&features, &beats, NULL, &sure), CW_OK);
  for (size_t i = 0; i < beats.n; i++) {
    beats.beat[i].confidence *= 0.5F;
  }
  assert_int_equal(cw_phrases_find(&features, &beats, NULL, &unsure), CW_OK);
  assert_int_equal(unsure.n_phrases, sure.n_phrases);
  for (size_t p = 0; p < sure.n_phrases; p++) {
    assert_true(unsure.phrase[p].confidence > 0);
    assert_near(unsure.phrase[p].confidence, 0.5 * sure.phrase[p].confidence, 1e-6);
  }
  cw_count_line_free(&sure);
  cw_count_line_free(&unsure);
  cw_beats_free(&beats);
}

static void no_phrase_reaches_over_a_pause(void **state)
{
  (void)state;
  CwFeatures features = {.duration_s = 60};
  CwBeats beats = {0};
  add_run(&beats, 1.0, 0.5, 20, 4, 1);
  add_run(&beats, 20.0, 0.5, 21, 4, 1);
  CwCountLine line;
  assert_int_equal(cw_phrases_find(&features, &beats, NULL, &line), CW_OK);
  assert_good(&line);
  size_t phrase = 99;
  double count = 0;
  assert_true(cw_count_line_find(&line, 10.99, &phrase, &count)); // the last count of the first run ends at 11
  assert_false(cw_count_line_find(&line, 11.01, &phrase, &count));
  assert_false(cw_count_line_find(&line, 19.99, &phrase, &count));
  assert_true(cw_count_line_find(&line, 20.0, &phrase, &count));
  assert_near(count, 1, 1e-9);
  cw_count_line_free(&line);
  cw_beats_free(&beats);
}

/// Beats as cw_beats_find() may give them: runs at least 0.9 s apart, any tempo, any metre, any order of bars.
static void make_random_beats(CwBeats *beats, uint64_t *seed)
{
  static const unsigned metres[] = {2, 3, 4, 6};
  double from_s = random_between(seed, 0, 3);
  const size_t n_runs = 1 + random_below(seed, 4);
  for (size_t k = 0; k < n_runs; k++) {
    const unsigned metre = metres[random_below(seed, 4)];
    const double interval_s = exp(random_between(seed, log(0.2), log(2.2)));
    add_run(beats, from_s, interval_s, 1 + random_below(seed, 40), metre, 1 + (unsigned)random_below(seed, metre));
    while (random_below(seed, 3) == 0) {
      add_stretch(beats, interval_s, 1 + random_below(seed, 12), metres[random_below(seed, 4)]);
    }
    from_s = beats->beat[beats->n - 1].time_s + random_between(seed, 0.9, random_below(seed, 2) ? 1.1 : 4.0);
  }
  for (size_t i = 1; i + 1 < beats->n; i++) { // as attacks come
    beats->beat[i].time_s += random_between(seed, -0.045, 0.045);
  }
}

static CwFeatures random_features(double duration_s, uint64_t *seed)
{
  CwFeatures f = {.duration_s = duration_s, .n_slow = (size_t)(duration_s * CW_FEATURE_RATE_HZ / CW_SLOW_STEP)};
  f.chroma = cw_new(f.n_slow * 12, sizeof *f.chroma);
  f.timbre = cw_new(f.n_slow * CW_TIMBRE_BANDS, sizeof *f.timbre);
  assert_true(f.chroma && f.timbre);
  for (size_t i = 0; i < f.n_slow * 12; i++) {
    f.chroma[i] = (float)random_share(seed);
    f.timbre[i] = (float)random_between(seed, 0, 5);
  }
  return f;
}

static void times_ascend_whatever_the_beats(void **state)
{
  (void)state;
  static const double per_count[] = {0, 0, 0, 0.5, 1, 2, 3, 4, 6};
  uint64_t seed = 71;
  size_t found = 0;
  for (int k = 0; k < 500; k++) {
    CwBeats beats = {0};
    make_random_beats(&beats, &seed);
    // the recording may end before the beats do, as when it was cut
    CwFeatures features = random_features(beats.beat[beats.n - 1].time_s * random_between(&seed, 0.5, 1.1), &seed);
    const CwPhraseOptions options = {.beats_per_count = per_count[random_below(&seed, 9)],
                                     .counts_per_phrase = (unsigned)random_below(&seed, 17)};
    CwCountLine line;
    const CwStatus status = cw_phrases_find(&features, &beats, k % 5 ? &options : NULL, &line);
    if (status == CW_OK) {
      assert_good(&line);
      found++;
    } else {
      if (status != CW_ERR_NO_PULSE) {
        print_error("case %d: %s\n", k, cw_strerror(status));
      }
      assert_int_equal(status, CW_ERR_NO_PULSE);
      assert_int_equal(line.n_phrases, 0);
    }
    cw_count_line_free(&line);
    cw_features_free(&features);
    cw_beats_free(&beats);
  }
  assert_true(found > 450);
}

static void no_beats_are_no_pulse(void **state)
{
  (void)state;
  const CwFeatures features = {.duration_s = 60};
  const CwBeats beats = {0};
  CwCountLine line;
  memset(&line, 0x55, sizeof line);
  assert_int_equal(cw_phrases_find(&features, &beats, NULL, &line), CW_ERR_NO_PULSE);
  assert_int_equal(line.n_phrases, 0);
  assert_null(line.phrase);
  assert_null(line.count_s);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  uint64_t seed = 72;
  CwFeatures features = random_features(30, &seed);
  CwBeats beats = {0};
  add_run(&beats, 1.0, 0.5, 25, 4, 1);
  add_run(&beats, 17.0, 0.5, 20, 4, 1);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 200; n++) {
    CwCountLine line;
    memset(&line, 0x55, sizeof line);
    cw_fail_after(n);
    status = cw_phrases_find(&features, &beats, NULL, &line);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_int_equal(line.n_phrases > 0, status == CW_OK);
    assert_int_equal(line.count_s != NULL, status == CW_OK);
    cw_count_line_free(&line);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 15);
  cw_beats_free(&beats);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_ones_are_found_where_the_harmony_changes),
      cmocka_unit_test(the_usual_length_is_what_is_asked_for),
      cmocka_unit_test(a_long_usual_length_is_kept_and_one_too_long_is_refused),
      cmocka_unit_test(a_phrase_is_no_surer_than_its_beat),
      cmocka_unit_test(no_phrase_reaches_over_a_pause),
      cmocka_unit_test(times_ascend_whatever_the_beats),
      cmocka_unit_test(no_beats_are_no_pulse),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
