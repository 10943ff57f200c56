// SPDX-License-Identifier: GPL-3.0-or-later
/// What the learned ear hears, as evidence for the decoding.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "pulse/lanes.h"
#include "pulse/look.h"
#include "unit/pulse/pieces.h"

enum { N = 5 };

/// Put log-odds in place of an activation that has an onset everywhere but in frame `quiet`.
static void put(const float beat[N], const float downbeat[N], size_t quiet, float got_beat[N], float got_accent[N])
{
  float b[N];
  float d[N];
  float strength[N] = {0};
  memcpy(b, beat, sizeof b);
  memcpy(d, downbeat, sizeof d);
  const CwHeard heard = {.beat = b, .downbeat = d, .n = N};
  for (size_t i = 0; i < N; i++) {
    got_beat[i] = i == quiet ? CW_NO_BEAT : 1.0F;
    got_accent[i] = 0.0F;
  }
  CwActivation activation = {got_beat, got_accent, strength, N};
  cw_activation_hear(&heard, &activation);
}

static void likelier_beats_and_downbeats_are_more_evidence(void **state)
{
  (void)state;
  static const float beat[N] = {-30, -5, -2, 2, 30};
  static const float downbeat[N] = {-9, -5, -3, -1, 1};
  float got_beat[N];
  float got_accent[N];
  put(beat, downbeat, N, got_beat, got_accent);
  for (size_t i = 1; i < N; i++) {
    assert_true(got_beat[i] > got_beat[i - 1]);
  }
  assert_true(got_beat[0] > CW_NO_BEAT && got_beat[N - 1] < 10.0F); // nothing is beyond doubt
  assert_true(got_beat[1] < 0 && got_beat[2] > 0);
  static const float alike[N] = {2, 2, 2, 2, 2};
  put(alike, downbeat, N, got_beat, got_accent);
  for (size_t i = 2; i < N; i++) { // the first two are both as unlikely as can be
    assert_true(got_accent[i] > got_accent[i - 1]);
  }
}

static void where_nothing_sounds_there_is_no_beat(void **state)
{
  (void)state;
  static const float sure[N] = {5, 5, 5, 5, 5};
  float got_beat[N];
  float got_accent[N];
  put(sure, sure, 2, got_beat, got_accent);
  for (size_t i = 0; i < N; i++) {
    assert_true(i == 2 ? got_beat[i] <= CW_NO_BEAT : got_beat[i] > 1.0F);
  }
}

static void an_accent_tells_firsts_from_weak_beats_as_the_odds_do(void **state)
{
  (void)state;
  // of beats that are sure, downbeats with probability 0.3 (as usual), 0.5, 0.9, 0.1; the last is no more than 0.98
  static const float beat[N] = {20, 20, 20, 20, 20};
  const double share[N] = {0.3, 0.5, 0.9, 0.1, 0.98};
  float downbeat[N];
  float got_beat[N];
  float got_accent[N];
  for (size_t i = 0; i < N; i++) {
    // what counts as sure is a probability of 1 / (1 + exp(-5))
    const double p = share[i] / (1.0 + exp(-5.0));
    downbeat[i] = (float)log(p / (1.0 - p));
  }
  put(beat, downbeat, N, got_beat, got_accent);
  const double first = (double)CW_ACCENT_FIRST;
  const double weak = (double)CW_ACCENT_WEAK;
  for (size_t i = 0; i < N; i++) {
    const double bar = (double)got_accent[i];
    const double evidence = first * (bar - 0.5 * first) - weak * (bar - 0.5 * weak); // as decode.c weighs it
    const double odds = share[i] / (1.0 - share[i]) / (0.3 / 0.7);
    assert_near(evidence, 0.4 * log(odds), 1e-4);
  }
}

static void without_anything_heard_the_model_is_the_usual_one(void **state)
{
  (void)state;
  const CwHeard nothing = {0};
  const CwModel usual = cw_model_default();
  const CwModel model = cw_model_for(&nothing);
  assert_null(model.heard);
  assert_near(model.offbeat_weight, usual.offbeat_weight, 0.0);
  float curve[N] = {0};
  const CwHeard heard = {.beat = curve, .downbeat = curve, .n = N};
  assert_ptr_equal(cw_model_for(&heard).heard, &heard);
}

/// Share of the beats after the first few that lie within 70 ms of a true one.
static double share_right(const CwBeats *beats, double bpm, double lead_s)
{
  size_t right = 0;
  for (size_t i = 0; i < beats->n; i++) {
    const double place = (beats->beat[i].time_s - lead_s) * bpm / 60.0;
    right += fabs(place - round(place)) * 60.0 / bpm <= 0.07;
  }
  return (double)right / (double)beats->n;
}

static void both_ears_find_the_beats_of_a_plain_piece(void **state)
{
  (void)state;
  Sound sound = piece_play(100, 3, 75, 0.5);
  CwFeatures features = piece_measure_heard(&sound);
  for (CwEarChoice ear = CW_EAR_USUAL; ear <= CW_EAR_LEARNED; ear++) {
    const CwBeatOptions options = {.ear = ear};
    CwBeats beats = piece_find(&features, &options);
    assert_true(beats.n >= 60 && beats.n <= 80);
    assert_true(share_right(&beats, 100, 0.5) > 0.95);
    assert_int_equal(beats.metre, 3);
    cw_beats_free(&beats);
  }
  cw_features_free(&features);
  sound_free(&sound);
}

static void the_learned_ear_needs_sound_and_else_the_plain_one_hears(void **state)
{
  (void)state;
  Sound sound = piece_play(120, 4, 40, 0.5);
  CwFeatures features = piece_measure_heard(&sound);
  const size_t n_heard = features.n_heard;
  const CwBeatOptions options[] = {{.ear = CW_EAR_PLAIN}, {.ear = CW_EAR_LEARNED}};
  CwBeats beats[2];
  features.n_heard = 0;
  for (size_t i = 0; i < 2; i++) {
    beats[i] = piece_find(&features, &options[i]);
  }
  assert_int_equal(beats[0].n, beats[1].n);
  for (size_t i = 0; i < beats[0].n; i++) {
    assert_near(beats[1].beat[i].time_s, beats[0].beat[i].time_s, 0.0);
    assert_near((double)beats[1].beat[i].confidence, (double)beats[0].beat[i].confidence, 0.0);
  }
  for (size_t i = 0; i < 2; i++) {
    cw_beats_free(&beats[i]);
  }
  features.n_heard = n_heard;
  cw_features_free(&features);
  sound_free(&sound);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  Sound sound = piece_play(120, 4, 8, 0.2);
  CwFeatures features = piece_measure_heard(&sound);
  const CwBeatOptions options = {.ear = CW_EAR_LEARNED};
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM && n < 200; n++) {
    CwBeats beats;
    cw_fail_after(n);
    status = cw_beats_find(&features, &options, NULL, &beats);
    cw_fail_after(-1);
    assert_int_equal(beats.beat != NULL, status == CW_OK);
    cw_beats_free(&beats);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 40);
  cw_features_free(&features);
  sound_free(&sound);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(likelier_beats_and_downbeats_are_more_evidence),
      cmocka_unit_test(where_nothing_sounds_there_is_no_beat),
      cmocka_unit_test(an_accent_tells_firsts_from_weak_beats_as_the_odds_do),
      cmocka_unit_test(without_anything_heard_the_model_is_the_usual_one),
      cmocka_unit_test(both_ears_find_the_beats_of_a_plain_piece),
      cmocka_unit_test(the_learned_ear_needs_sound_and_else_the_plain_one_hears),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
