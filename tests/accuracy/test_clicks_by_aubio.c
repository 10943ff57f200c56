// SPDX-License-Identifier: GPL-3.0-or-later
/// aubio's beat tracker on our click tracks: an outside witness that the tracks are what they say, and that what comes
/// through cw_beats_by_aubio() are aubio's beats. Floors lie a little under what aubio 0.4.9 reached (F from 0.96 to 1).
#include <stdio.h>
#include <stdlib.h>

#include "accuracy/clicks.h"
#include "accuracy/expect.h"
#include "accuracy/measure.h"
#include "countwright/beats.h"
#include "unit/cw_test.h"

static const char *const tracks[] = {"steady-60",  "steady-72",  "steady-80",  "steady-90",  "steady-100", "steady-110",
                                     "steady-120", "steady-132", "steady-144", "steady-160", "metre-3-4",  "noise-83"};
enum { N_TRACKS = sizeof tracks / sizeof *tracks, RATE_HZ = 44100 };

static const double settled_s = 5; ///< it needs some seconds to find the tempo
static const double least_f = 0.95;
static const double hit_s = 0.07;

static size_t first_after(const double *time_s, size_t n, double from_s)
{
  size_t i = 0;
  while (i < n && time_s[i] < from_s)
    i++;
  return i;
}

static CwScore score_settled(const CwBeats *beats, const CwClickTrack *track)
{
  double *found = calloc(beats->n + 1, sizeof *found);
  assert_non_null(found);
  for (size_t i = 0; i < beats->n; i++)
    found[i] = beats->beat[i].time_s;
  size_t t = first_after(track->click_s, track->n_clicks, settled_s), f = first_after(found, beats->n, settled_s);
  CwScore score = cw_score(track->click_s + t, track->n_clicks - t, found + f, beats->n - f, hit_s);
  free(found);
  return score;
}

static void aubio_hears_the_clicks(void **state)
{
  const char *name = *state;
  char path[128];
  snprintf(path, sizeof path, "by-aubio-%s.wav", name);
  CwClickTrack track;
  assert_true(cw_click_track_make(cw_click_spec(name), RATE_HZ, &track));
  assert_true(cw_wav_write(path, track.sample, track.n_samples, RATE_HZ));
  CwBeats beats = {0};
  CwStatus status = cw_beats_by_aubio(path, NULL, &beats);
  CwScore score = score_settled(&beats, &track);
  remove(path);
  cw_click_track_free(&track);
  cw_beats_free(&beats);
  if (status == CW_ERR_UNSUPPORTED)
    skip();
  assert_int_equal(status, CW_OK);
  print_message("%s: F %.3f, mean error %.1f ms\n", name, score.f, 1000 * score.mean_error_s);
  assert_true(cw_at_least(name, "F by aubio", score.f, least_f));
}

int main(void)
{
  struct CMUnitTest tests[N_TRACKS];
  char name[N_TRACKS][64];
  for (size_t i = 0; i < N_TRACKS; i++) {
    snprintf(name[i], sizeof name[i], "aubio_hears_the_clicks_of_%s", tracks[i]);
    tests[i] = (struct CMUnitTest){
        .name = name[i], .test_func = aubio_hears_the_clicks, .initial_state = (void *)(uintptr_t)tracks[i]};
  }
  return cmocka_run_group_tests(tests, NULL, NULL);
}
