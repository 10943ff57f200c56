// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "unit/ear/heard.h"

enum { SMALL_REACH = 2 + 4 * 15 }; ///< rows that the small network looks to each side

static CwEar *small_ear(const CwFeatures *features)
{
  size_t size = 0;
  unsigned char *network = heard_small_network(&size);
  CwEar *ear = NULL;
  assert_int_equal(cw_ear_new_from(network, size, features, NULL, &ear), CW_OK);
  free(network);
  return ear;
}

static CwHeard listen(CwEar *ear, const CwEarHint *hint)
{
  CwHeard heard;
  assert_int_equal(cw_ear_listen(ear, hint, NULL, &heard), CW_OK);
  return heard;
}

static CwHeard hear_small(const CwFeatures *features)
{
  CwEar *ear = small_ear(features);
  const CwHeard heard = listen(ear, NULL);
  cw_ear_free(ear);
  return heard;
}

static void assert_same(const float *a, const float *b, size_t n)
{
  assert_memory_equal(a, b, n * sizeof *a);
}

static void frames_between_rows_are_their_mean(void **state)
{
  (void)state;
  for (size_t short_of = 0; short_of < 2; short_of++) { // an even and an odd number of frames
    CwFeatures features = heard_sound(40, 1);
    features.n_frames -= short_of;
    const CwHeard heard = hear_small(&features);
    assert_int_equal(heard.n, features.n_frames);
    const float *const curve[] = {heard.beat, heard.downbeat, heard.phrase};
    for (size_t o = 0; o < 3; o++) {
      for (size_t i = 1; i < heard.n; i += 2) {
        const float after = curve[o][i + 1 < heard.n ? i + 1 : i - 1];
        assert_near((double)curve[o][i], 0.5 * (double)(curve[o][i - 1] + after), 1e-6);
      }
    }
    CwHeard gone = heard;
    cw_heard_free(&gone);
    cw_features_free(&features);
  }
}

static void a_change_is_heard_as_far_as_the_network_reaches_and_no_farther(void **state)
{
  (void)state;
  enum { N = 700, AT = 350 };
  CwFeatures features = heard_sound(N, 2);
  CwHeard before = hear_small(&features);
  features.heard[AT * CW_HEARD_BANDS + 30] ^= 0x20;
  CwHeard after = hear_small(&features);
  const size_t first = (AT - SMALL_REACH) * 2;
  const size_t last = (AT + SMALL_REACH) * 2;
  assert_same(after.beat, before.beat, first - 1);
  assert_same(after.beat + last + 2, before.beat + last + 2, after.n - last - 2);
  assert_true(fabsf(after.beat[first] - before.beat[first]) > 0.0F);
  assert_true(fabsf(after.beat[last] - before.beat[last]) > 0.0F);
  cw_heard_free(&before);
  cw_heard_free(&after);
  cw_features_free(&features);
}

static void where_a_recording_is_cut_does_not_matter_far_from_there(void **state)
{
  (void)state;
  // blocks of 128 and 256 rows fall on other places in each
  static const size_t begin[] = {0, 1, 77, 130, 300};
  enum { N = 900 };
  CwFeatures features = heard_sound(N, 3);
  CwHeard whole = hear_small(&features);
  for (size_t i = 0; i < sizeof begin / sizeof begin[0]; i++) {
    CwFeatures part = features;
    part.n_heard = N - 2 * begin[i];
    part.n_frames = 2 * part.n_heard;
    part.heard = features.heard + begin[i] * CW_HEARD_BANDS;
    CwHeard heard = hear_small(&part);
    const size_t from = 2 * SMALL_REACH;
    assert_same(heard.beat + from, whole.beat + 2 * begin[i] + from, heard.n - 2 * from - 1);
    assert_same(heard.phrase + from, whole.phrase + 2 * begin[i] + from, heard.n - 2 * from - 1);
    cw_heard_free(&heard);
  }
  cw_heard_free(&whole);
  cw_features_free(&features);
}

static void an_ear_hears_the_same_again_and_heeds_another_hint(void **state)
{
  (void)state;
  enum { N = 400, FROM = 200 };
  CwFeatures features = heard_sound(N, 4);
  CwEar *ear = small_ear(&features);
  assert_int_equal(cw_ear_rows(ear), N);
  assert_true(cw_ear_takes_hints(ear));
  static CwEarHint hint[N];
  CwHeard first = listen(ear, NULL);
  CwHeard unknown = listen(ear, hint);
  assert_same(first.beat, unknown.beat, first.n);
  for (size_t i = FROM; i < N; i++) {
    hint[i] = (CwEarHint){0.6F, 3};
  }
  CwHeard hinted = listen(ear, hint);
  CwHeard again = listen(ear, NULL);
  const size_t untouched = (FROM - SMALL_REACH) * 2;
  assert_same(hinted.beat, first.beat, untouched);
  assert_true(fabsf(hinted.beat[2 * FROM] - first.beat[2 * FROM]) > 0.01F);
  assert_same(again.beat, first.beat, first.n);
  assert_same(again.downbeat, first.downbeat, first.n);
  cw_heard_free(&first);
  cw_heard_free(&unknown);
  cw_heard_free(&hinted);
  cw_heard_free(&again);
  cw_ear_free(ear);
  cw_features_free(&features);
}

static void silence_and_the_loudest_sound_are_heard_without_harm(void **state)
{
  (void)state;
  for (int value = 0; value <= 255; value += 255) { // beyond what features hold
    CwFeatures features = heard_sound(300, 5);
    memset(features.heard, value, 300 * CW_HEARD_BANDS);
    CwHeard heard = {0};
    assert_int_equal(cw_ear_hear(CW_EAR_LEARNED, &features, NULL, &heard), CW_OK);
    for (size_t i = 0; i < heard.n; i++) {
      assert_true(isfinite(heard.beat[i]) && isfinite(heard.downbeat[i]));
    }
    cw_heard_free(&heard);
    cw_features_free(&features);
  }
}

static void only_the_learned_ear_hears_and_only_what_was_measured(void **state)
{
  (void)state;
  CwFeatures features = heard_sound(50, 6);
  CwFeatures unheard = {.n_frames = 100};
  CwHeard heard;
  CwEar *ear = NULL;
  assert_int_equal(cw_ear_hear(CW_EAR_PLAIN, &features, NULL, &heard), CW_OK);
  assert_true(heard.n == 0 && !heard.beat);
  assert_int_equal(cw_ear_hear(CW_EAR_LEARNED, &unheard, NULL, &heard), CW_OK);
  assert_true(heard.n == 0 && !heard.beat);
  assert_int_equal(cw_ear_new(&unheard, NULL, &ear), CW_ERR_BAD_ARG);
  assert_null(ear);
  assert_int_equal(cw_ear_hear(CW_EAR_LEARNED, &features, NULL, &heard), CW_OK);
  assert_true(heard.n == 100 && heard.beat && heard.downbeat);
  cw_heard_free(&heard);
  assert_true(heard.n == 0 && !heard.beat);
  cw_ear_free(NULL);
  cw_features_free(&features);
}

static void listening_once_is_the_same_as_listening_again(void **state)
{
  (void)state;
  CwFeatures features = heard_sound(600, 9);
  CwEar *ear = NULL;
  CwHeard once;
  assert_int_equal(cw_ear_hear(CW_EAR_LEARNED, &features, NULL, &once), CW_OK);
  assert_int_equal(cw_ear_new(&features, NULL, &ear), CW_OK);
  for (int i = 0; i < 2; i++) {
    CwHeard heard = listen(ear, NULL);
    assert_int_equal(heard.n, once.n);
    assert_same(heard.beat, once.beat, once.n);
    assert_same(heard.downbeat, once.downbeat, once.n);
    cw_heard_free(&heard);
  }
  cw_heard_free(&once);
  cw_ear_free(ear);
  cw_features_free(&features);
}

static void a_network_that_is_none_is_refused(void **state)
{
  (void)state;
  CwFeatures features = heard_sound(50, 6);
  CwEar *ear = NULL;
  assert_int_equal(cw_ear_new_from((const unsigned char *)"CWEARNET", 8, &features, NULL, &ear), CW_ERR_SYNTAX);
  assert_null(ear);
  cw_features_free(&features);
}

/// Says no after a number of calls.
static bool tire(void *user, const char *stage, double fraction)
{
  long *left = user;
  assert_non_null(stage);
  assert_true(fraction >= 0 && fraction <= 1);
  return (*left)-- > 0;
}

static void listening_can_be_cancelled_at_every_step(void **state)
{
  (void)state;
  CwFeatures features = heard_sound(700, 7);
  size_t size = 0;
  unsigned char *network = heard_small_network(&size);
  long steps = 0;
  for (CwStatus status = CW_ERR_CANCELLED; status != CW_OK; steps++) {
    long left = steps;
    const CwReport report = {.progress = tire, .user = &left};
    CwEar *ear = NULL;
    CwHeard heard = {0};
    status = cw_ear_new_from(network, size, &features, &report, &ear);
    if (status == CW_OK) {
      status = cw_ear_listen(ear, NULL, &report, &heard);
    }
    assert_true(status == CW_OK || (status == CW_ERR_CANCELLED && !heard.beat));
    cw_heard_free(&heard);
    cw_ear_free(ear);
    assert_true(steps < 100);
  }
  assert_true(steps > 6);
  free(network);
  cw_features_free(&features);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  CwFeatures features = heard_sound(30, 8);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 100; n++) {
    CwEar *ear = NULL;
    CwHeard heard = {0};
    cw_fail_after(n);
    status = cw_ear_new(&features, NULL, &ear);
    if (status == CW_OK) {
      memset(&heard, 0x55, sizeof heard);
      status = cw_ear_listen(ear, NULL, NULL, &heard);
    }
    cw_fail_after(-1);
    cw_ear_free(ear);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_int_equal(heard.beat != NULL, status == CW_OK);
    cw_heard_free(&heard);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 15);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(frames_between_rows_are_their_mean),
      cmocka_unit_test(a_change_is_heard_as_far_as_the_network_reaches_and_no_farther),
      cmocka_unit_test(where_a_recording_is_cut_does_not_matter_far_from_there),
      cmocka_unit_test(an_ear_hears_the_same_again_and_heeds_another_hint),
      cmocka_unit_test(silence_and_the_loudest_sound_are_heard_without_harm),
      cmocka_unit_test(only_the_learned_ear_hears_and_only_what_was_measured),
      cmocka_unit_test(listening_once_is_the_same_as_listening_again),
      cmocka_unit_test(a_network_that_is_none_is_refused),
      cmocka_unit_test(listening_can_be_cancelled_at_every_step),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
