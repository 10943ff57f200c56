// SPDX-License-Identifier: GPL-3.0-or-later
/// Our beats and those of aubio 0.4.9 on a steady click track.
#include "unit/cw_test.h"

#include <stdio.h>

#include "accuracy/clicks.h"
#include "countwright/audio.h"
#include "countwright/beats.h"

enum { SKIPPED = 77, FILE_RATE_HZ = 44100 };

static const double settled_s = 5.0;     ///< aubio needs some seconds to find the tempo
static const double near_s = 0.005;      ///< ours
static const double aubio_near_s = 0.03; ///< aubio strays by up to 29 ms here: its intervals are whole hops of 11.6 ms
static const char *const path = "test_by_aubio.wav";

/// Every beat between `settled_s` and the last click lies on a click, and every click has a beat.
static void assert_on_clicks(const CwBeats *beats, const CwClickTrack *track, double tolerance_s)
{
  size_t n_beats = 0;
  size_t n_clicks = 0;
  const double end_s = track->click_s[track->n_clicks - 1] - 0.25;
  for (size_t k = 0; k < track->n_clicks; k++) {
    n_clicks += track->click_s[k] > settled_s && track->click_s[k] < end_s;
  }
  for (size_t i = 0; i < beats->n; i++) {
    if (beats->beat[i].time_s < settled_s || beats->beat[i].time_s > end_s) {
      continue;
    }
    double away_s = 1e9;
    for (size_t k = 0; k < track->n_clicks; k++) {
      const double from_click_s = beats->beat[i].time_s - track->click_s[k];
      away_s = fabs(from_click_s) < fabs(away_s) ? from_click_s : away_s;
    }
    assert_near(away_s, 0, tolerance_s);
    n_beats++;
  }
  assert_int_equal(n_beats, n_clicks);
}

static void both_trackers_find_the_clicks(void **state)
{
  (void)state;
  CwClickTrack track;
  CwBeats beats;
  CwFeatures features;
  assert_true(cw_click_track_make(cw_click_spec("steady-120"), FILE_RATE_HZ, &track));
  assert_true(cw_wav_write(path, track.sample, track.n_samples, FILE_RATE_HZ));
  assert_int_equal(cw_beats_by_aubio(path, NULL, &beats), CW_OK);
  assert_on_clicks(&beats, &track, aubio_near_s);
  assert_near(beats.bpm, 120.0, 1.0);
  assert_true(beats.n > 0 && beats.beat[0].run_start);
  assert_int_equal(beats.beat[0].position, 1);
  assert_int_equal(beats.metre, 1);
  cw_beats_free(&beats);
  assert_int_equal(cw_features_read(path, NULL, &features), CW_OK);
  assert_int_equal(cw_beats_find(&features, NULL, NULL, &beats), CW_OK);
  assert_on_clicks(&beats, &track, near_s);
  assert_near(beats.bpm, 120.0, 0.5);
  cw_beats_free(&beats);
  cw_features_free(&features);
  cw_click_track_free(&track);
  remove(path);
}

static bool cancel(void *user, const char *stage, double fraction)
{
  (void)user;
  (void)stage;
  (void)fraction;
  return false;
}

static void errors_come_through(void **state)
{
  (void)state;
  CwBeats beats = {.n = 9};
  assert_int_equal(cw_beats_by_aubio("no/such/recording.wav", NULL, &beats), CW_ERR_NOT_FOUND);
  assert_int_equal(beats.n, 0);
  assert_null(beats.beat);
  const float silence[FILE_RATE_HZ] = {0};
  assert_true(cw_wav_write(path, silence, FILE_RATE_HZ, FILE_RATE_HZ));
  assert_int_equal(cw_beats_by_aubio(path, NULL, &beats), CW_ERR_NO_PULSE);
  const CwReport report = {.progress = cancel};
  assert_int_equal(cw_beats_by_aubio(path, &report, &beats), CW_ERR_CANCELLED);
  assert_null(beats.beat);
  remove(path);
}

int main(void)
{
  CwBeats beats;
  if (cw_beats_by_aubio("no/such/recording.wav", NULL, &beats) == CW_ERR_UNSUPPORTED) {
    print_message("skipped: built without aubio\n");
    return SKIPPED;
  }
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(both_trackers_find_the_clicks),
      cmocka_unit_test(errors_come_through),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
