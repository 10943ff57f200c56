// SPDX-License-Identifier: GPL-3.0-or-later
/// Pins are obeyed to the last digit and never passed over, whatever the music says.
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>

#include "base/memory.h"
#include "unit/pulse/activations.h"
#include "unit/pulse/pieces.h"
#include "unit/random.h"

enum { N_BEATS = 40 };
static const double lead_s = 1.013;

static CwFeatures music(double bpm)
{
  Sound sound = piece_play(bpm, 4, N_BEATS, lead_s);
  CwFeatures features = piece_measure(&sound);
  sound_free(&sound);
  return features;
}

static const CwBeat *beat_at(const CwBeats *beats, double time_s)
{
  for (size_t i = 0; i < beats->n; i++) {
    if (fabs(beats->beat[i].time_s - time_s) < 1e-12) {
      return &beats->beat[i];
    }
  }
  return NULL;
}

static void assert_obeyed(const CwBeats *beats, const CwBeatPin *pin, size_t n)
{
  for (size_t k = 0; k < n; k++) {
    const CwBeat *beat = beat_at(beats, pin[k].time_s);
    if (!beat) {
      print_error("no beat at the pin of %.4f s\n", pin[k].time_s);
    }
    assert_non_null(beat);
    assert_near((double)beat->confidence, 1.0, 0);
    assert_true(!pin[k].downbeat || beat->position == 1);
  }
  for (size_t i = 1; i < beats->n; i++) {
    assert_true(beats->beat[i].time_s > beats->beat[i - 1].time_s);
  }
}

static void pins_with_the_music_are_obeyed_to_the_last_digit(void **state)
{
  (void)state;
  CwFeatures features = music(100);
  CwBeatPin pin[5];
  for (size_t k = 0; k < 5; k++) {
    // up to 20 ms beside the beat, as a finger taps
    pin[k] = (CwBeatPin){piece_beat_s(100, lead_s, 7 * k + 2) + 0.01 * (double)k - 0.0204321, false};
  }
  const CwBeatOptions options = {.pin = pin, .n_pins = 5};
  CwBeats beats = piece_find(&features, &options);
  assert_obeyed(&beats, pin, 5);
  assert_int_equal(beats.n, N_BEATS);
  for (size_t i = 0; i < beats.n; i++) { // and the others stay where they are
    const double there = piece_beat_s(100, lead_s, i);
    assert_near(beats.beat[i].time_s, there, beat_at(&beats, there) ? 0 : 0.025);
  }
  cw_beats_free(&beats);
  cw_features_free(&features);
}

static void a_pinned_downbeat_begins_a_bar(void **state)
{
  (void)state;
  CwFeatures features = music(100);
  for (size_t first = 4; first < 8; first++) { // only one of them by the music's accents
    const CwBeatPin pin = {piece_beat_s(100, lead_s, first), true};
    const CwBeatOptions options = {.metre = 4, .pin = &pin, .n_pins = 1};
    CwBeats beats = piece_find(&features, &options);
    assert_obeyed(&beats, &pin, 1);
    for (size_t i = 1; i < beats.n; i++) {
      assert_int_equal(beats.beat[i].metre, 4);
      assert_true(beats.beat[i].run_start || beats.beat[i].position == beats.beat[i - 1].position % 4 + 1);
    }
    cw_beats_free(&beats);
  }
  cw_features_free(&features);
}

static void pins_against_the_music_are_obeyed_too(void **state)
{
  (void)state;
  CwFeatures features = music(100);
  // half a beat off; where all is silent, before the music and after it
  const CwBeatPin pin[] = {{0.0, false},           {0.304, false},
                           {lead_s + 3.3, true},   {lead_s + 9.123456, false},
                           {lead_s + 23.9, false}, {features.duration_s - 0.02, false}};
  const CwBeatOptions options = {.pin = pin, .n_pins = sizeof pin / sizeof pin[0]};
  CwBeats beats = piece_find(&features, &options);
  assert_obeyed(&beats, pin, options.n_pins);
  cw_beats_free(&beats);
  cw_features_free(&features);
}

static void pins_put_beats_into_silence_and_noise(void **state)
{
  (void)state;
  for (int noise = 0; noise < 2; noise++) {
    Sound sound = sound_new(20.0);
    if (noise) {
      add_noise(&sound, 0.2);
    }
    CwFeatures features = piece_measure(&sound);
    const CwBeatPin pin[] = {{3.0015, true}, {4.2, false}, {4.95, false}, {12.3456789, true}};
    const CwBeatOptions options = {.pin = pin, .n_pins = 4};
    CwBeats beats = piece_find(&features, &options);
    assert_obeyed(&beats, pin, 4);
    cw_beats_free(&beats);
    cw_features_free(&features);
    sound_free(&sound);
  }
}

static void a_pin_outside_the_recording_does_no_harm(void **state)
{
  (void)state;
  CwFeatures features = music(110);
  CwBeats plain = piece_find(&features, NULL);
  const CwBeatPin pin[] = {{500.0, true}, {1e9, false}};
  const CwBeatOptions options = {.pin = pin, .n_pins = 2};
  CwBeats beats = piece_find(&features, &options);
  assert_int_equal(beats.n, plain.n);
  for (size_t i = 0; i < plain.n; i++) {
    assert_near(beats.beat[i].time_s, plain.beat[i].time_s, 0);
  }
  cw_beats_free(&beats);
  cw_beats_free(&plain);
  cw_features_free(&features);
}

/// Pins by chance on evidence by chance: as near to each other as beats can be, with gaps, across the blocks' seams.
static void no_pin_is_passed_over_in_random_activations(void **state)
{
  (void)state;
  uint64_t seed = 41;
  for (int k = 0; k < 24; k++) {
    CwBeatPin pin[64];
    size_t n_pins = 0;
    CwActivation a = activation_random(k % 8 == 0 ? 9500 : 2500, 40, 70, 2.0, &seed);
    CwModel model = cw_model_default();
    model.metre = k % 3 ? 0 : 4;
    size_t t = random_below(&seed, 300);
    for (size_t gap = 0; n_pins < 64 && t < a.n; t += gap) {
      const double time_s = ((double)t + random_between(&seed, -0.49, 0.49)) / CW_FEATURE_RATE_HZ;
      // in a gap this long there is room for as many beats as the bar needs
      pin[n_pins++] = (CwBeatPin){time_s, gap >= 200 && random_below(&seed, 2) == 0};
      gap = random_below(&seed, 3) ? 25 + random_below(&seed, 75) : 100 + random_below(&seed, 1400);
    }
    CwBeats beats;
    assert_int_equal(cw_decode(&a, &model, pin, n_pins, NULL, &beats), CW_OK);
    for (size_t p = 0; p < n_pins; p++) {
      const double frame_s = (double)lround(pin[p].time_s * CW_FEATURE_RATE_HZ) / CW_FEATURE_RATE_HZ;
      const CwBeat *beat = beat_at(&beats, frame_s);
      if (!beat) {
        print_error("case %d: no beat at pin %zu of %zu, at %.4f s\n", k, p, n_pins, pin[p].time_s);
      }
      assert_non_null(beat);
      assert_true(!pin[p].downbeat || beat->position == 1);
    }
    cw_beats_free(&beats);
    cw_activation_free(&a);
  }
}

static void keep_notice(void *user, const char *text)
{
  char *said = user;
  snprintf(said, 200, "%s", text);
}

static void of_pins_that_contradict_both_are_named(void **state)
{
  (void)state;
  CwFeatures features = music(100);
  char said[200] = "";
  const CwReport report = {.notice = keep_notice, .user = said};
  const CwBeatPin pin[2] = {{5.0, false}, {5.08, false}};
  const CwBeatOptions options = {.pin = pin, .n_pins = 2};
  CwBeats beats;
  assert_int_equal(cw_beats_find(&features, &options, &report, &beats), CW_OK);
  assert_non_null(strstr(said, "5.000 s"));
  assert_non_null(strstr(said, "5.080 s"));
  cw_beats_free(&beats);
  const CwBeatPin apart[2] = {{5.0, false}, {7.0, false}};
  const CwBeatOptions good = {.pin = apart, .n_pins = 2};
  said[0] = '\0';
  assert_int_equal(cw_beats_find(&features, &good, &report, &beats), CW_OK);
  assert_string_equal(said, "");
  cw_beats_free(&beats);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(pins_with_the_music_are_obeyed_to_the_last_digit),
      cmocka_unit_test(a_pinned_downbeat_begins_a_bar),
      cmocka_unit_test(pins_against_the_music_are_obeyed_too),
      cmocka_unit_test(pins_put_beats_into_silence_and_noise),
      cmocka_unit_test(a_pin_outside_the_recording_does_no_harm),
      cmocka_unit_test(no_pin_is_passed_over_in_random_activations),
      cmocka_unit_test(of_pins_that_contradict_both_are_named),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
