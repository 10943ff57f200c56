// SPDX-License-Identifier: GPL-3.0-or-later
/// Finding beats as a call: progress, cancelling, a full memory.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "unit/pulse/pieces.h"

/// A short piece and a narrow range of tempo: each call is quick.
static const CwBeatOptions narrow = {.min_bpm = 90, .max_bpm = 130};

static int set_up(void **state)
{
  static CwFeatures features;
  Sound sound = piece_play(110, 4, 20, 0.5);
  features = piece_measure(&sound);
  sound_free(&sound);
  *state = &features;
  return 0;
}

static int tear_down(void **state)
{
  cw_features_free(*state);
  return 0;
}

/// What a progress callback was told.
typedef struct {
  unsigned calls;
  unsigned cancel_at; ///< the call that cancels
  double last;
} Told;

static bool listen(void *user, const char *stage, double fraction)
{
  Told *told = user;
  assert_non_null(stage);
  assert_true(fraction >= told->last && fraction <= 1.0);
  told->last = fraction;
  return ++told->calls != told->cancel_at;
}

static void progress_ascends_and_each_report_may_cancel(void **state)
{
  const CwFeatures *features = *state;
  Told told = {0};
  CwReport report = {.progress = listen, .user = &told};
  CwBeats beats;
  assert_int_equal(cw_beats_find(features, &narrow, &report, &beats), CW_OK);
  cw_beats_free(&beats);
  const unsigned calls = told.calls;
  assert_true(calls > 0);
  for (unsigned i = 1; i <= calls; i++) {
    told = (Told){.cancel_at = i};
    memset(&beats, 0x55, sizeof beats);
    assert_int_equal(cw_beats_find(features, &narrow, &report, &beats), CW_ERR_CANCELLED);
    assert_int_equal(told.calls, i); // no more is told
    assert_int_equal(beats.n, 0);
    assert_null(beats.beat);
  }
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  const CwFeatures *features = *state;
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 1000; n++) {
    CwBeats beats;
    memset(&beats, 0x55, sizeof beats);
    cw_fail_after(n);
    status = cw_beats_find(features, &narrow, NULL, &beats);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_int_equal(beats.n > 0, status == CW_OK);
    assert_int_equal(beats.beat != NULL, status == CW_OK);
    cw_beats_free(&beats);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 10);
}

/// Where no note is held the search is made twice.
static void a_full_memory_is_told_in_the_second_search_too(void **state)
{
  (void)state;
  Sound sound = sound_new(6.0);
  for (int k = 0; k < 10; k++) {
    add_click(&sound, 0.5, 0.5 + 0.5 * k);
  }
  CwFeatures features = piece_measure(&sound);
  sound_free(&sound);
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status != CW_OK && n < 1000; n++) {
    CwBeats beats;
    cw_fail_after(n);
    status = cw_beats_find(&features, &narrow, NULL, &beats);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_int_equal(beats.n > 0, status == CW_OK);
    cw_beats_free(&beats);
  }
  assert_int_equal(status, CW_OK);
  cw_features_free(&features);
}

static void the_same_call_gives_the_same_beats(void **state)
{
  const CwFeatures *features = *state;
  CwBeats a = piece_find(features, &narrow);
  CwBeats b = piece_find(features, &narrow);
  assert_int_equal(a.n, b.n);
  for (size_t i = 0; i < a.n; i++) {
    assert_near(a.beat[i].time_s, b.beat[i].time_s, 0);
    assert_near((double)a.beat[i].confidence, (double)b.beat[i].confidence, 0);
  }
  cw_beats_free(&a);
  cw_beats_free(&b);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(progress_ascends_and_each_report_may_cancel),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
      cmocka_unit_test(a_full_memory_is_told_in_the_second_search_too),
      cmocka_unit_test(the_same_call_gives_the_same_beats),
  };
  return cmocka_run_group_tests(tests, set_up, tear_down);
}
