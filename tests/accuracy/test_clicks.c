// SPDX-License-Identifier: GPL-3.0-or-later
/// Beats of click tracks: every click is a beat, at its time, at its tempo, in its metre.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/clicks.h"
#include "accuracy/expect.h"
#include "accuracy/measure.h"
#include "countwright/audio.h"
#include "countwright/beats.h"
#include "unit/cw_test.h"

static const double hit_s = 0.07; ///< further off is a miss (the usual window of beat scores)

/// What is required of the beats of one track.
typedef struct {
  const char *track;
  double least_recall, least_precision;
  double greatest_error_s, mean_error_s;
  double tempo_error; ///< as a part of the tempo; 0: the tempo changes
  unsigned metre;     ///< 0: nothing to tell it by
} Requirement;

#define STEADY(bpm)                                                                                                    \
  {                                                                                                                    \
    "steady-" #bpm, 1, 1, 0.010, 0.003, 0.001, 0                                                                       \
  }

static const Requirement requirements[] = {
    // track, recall, precision, greatest error, mean error, tempo, metre
    STEADY(40),
    STEADY(50),
    STEADY(60),
    STEADY(72),
    STEADY(80),
    STEADY(90),
    STEADY(100),
    STEADY(110),
    STEADY(120),
    STEADY(132),
    STEADY(144),
    STEADY(160),
    STEADY(180),
    STEADY(200),
    STEADY(220),
    {"ramp-80-120", 1, 1, 0.020, 0.006, 0, 0},
    {"ramp-120-80", 1, 1, 0.020, 0.006, 0, 0},
    {"jump-90-126", 0.96, 0.96, 0.020, 0.004, 0, 0},
    {"pause-100", 1, 1, 0.010, 0.003, 0.001, 0},
    {"metre-2-4", 1, 1, 0.010, 0.003, 0.001, 2},
    {"metre-3-4", 1, 1, 0.010, 0.003, 0.001, 3},
    {"metre-4-4", 1, 1, 0.010, 0.003, 0.001, 4},
    {"metre-6-8", 1, 1, 0.010, 0.003, 0.001, 6},
    {"digital-120", 1, 1, 0.010, 0.003, 0.001, 0},
    {"noise-83", 1, 1, 0.010, 0.003, 0.001, 0},
    {"noise-117", 1, 1, 0.010, 0.003, 0.001, 0},
    {"noise-3-4", 1, 1, 0.010, 0.003, 0.001, 3},
};
enum { N_TRACKS = sizeof requirements / sizeof *requirements };

/// Times of beats, or of downbeats alone. Release with free().
static double *times_of(const CwBeats *beats, bool downbeats, size_t *n)
{
  double *time_s = calloc(beats->n + 1, sizeof *time_s);
  assert_non_null(time_s);
  *n = 0;
  for (size_t i = 0; i < beats->n; i++)
    if (!downbeats || beats->beat[i].position == 1)
      time_s[(*n)++] = beats->beat[i].time_s;
  return time_s;
}

static CwScore score_beats(const CwBeats *beats, const CwClickTrack *track)
{
  size_t n;
  double *found = times_of(beats, false, &n);
  CwScore score = cw_score(track->click_s, track->n_clicks, found, n, hit_s);
  free(found);
  return score;
}

/// Share of accented clicks and found downbeats that are each other's.
static double score_downbeats(const CwBeats *beats, const CwClickTrack *track)
{
  double *accents = calloc(track->n_clicks, sizeof *accents);
  assert_non_null(accents);
  size_t n = 0, n_accents = 0;
  for (size_t i = 0; i < track->n_clicks; i++)
    if (track->accent[i])
      accents[n_accents++] = track->click_s[i];
  double *found = times_of(beats, true, &n);
  double f = cw_score(accents, n_accents, found, n, hit_s).f;
  free(found);
  free(accents);
  return f;
}

static bool meets(const CwBeats *beats, const CwClickTrack *track, const CwClickSpec *spec, const Requirement *line)
{
  const char *name = line->track;
  CwScore score = score_beats(beats, track);
  print_message(
      "%s: %zu clicks, recall %.3f, precision %.3f, error mean %.1f ms, greatest %.1f ms, %.2f bpm, metre %u\n", name,
      score.n_true, score.recall, score.precision, 1000 * score.mean_error_s, 1000 * score.greatest_error_s, beats->bpm,
      beats->metre);
  bool good = cw_at_least(name, "recall", score.recall, line->least_recall);
  good &= cw_at_least(name, "precision", score.precision, line->least_precision);
  good &= cw_at_most(name, "greatest error in s", score.greatest_error_s, line->greatest_error_s);
  good &= cw_at_most(name, "mean error in s", score.mean_error_s, line->mean_error_s);
  if (line->tempo_error > 0)
    good &= cw_at_most(name, "tempo error", fabs(beats->bpm / spec->start_bpm - 1), line->tempo_error);
  if (line->metre > 0) {
    good &= cw_at_most(name, "distance of metre", fabs((double)beats->metre - line->metre), 0);
    good &= cw_at_least(name, "downbeats", score_downbeats(beats, track), 1);
  }
  return good;
}

static CwStatus find_beats(const float *sample, size_t n, CwBeats *beats)
{
  CwFeatures features = {0};
  assert_int_equal(cw_features_measure(sample, n, &features), CW_OK);
  CwStatus status = cw_beats_find(&features, NULL, NULL, beats);
  cw_features_free(&features);
  return status;
}

static void clicks_are_found(void **state)
{
  const Requirement *line = *state;
  const CwClickSpec *spec = cw_click_spec(line->track);
  assert_non_null(spec);
  CwClickTrack track;
  assert_true(cw_click_track_make(spec, CW_ANALYSIS_RATE_HZ, &track));
  CwBeats beats = {0};
  assert_int_equal(find_beats(track.sample, track.n_samples, &beats), CW_OK);
  assert_true(meets(&beats, &track, spec, line));
  cw_beats_free(&beats);
  cw_click_track_free(&track);
}

int main(void)
{
  struct CMUnitTest tests[N_TRACKS];
  char name[N_TRACKS][64];
  for (size_t i = 0; i < N_TRACKS; i++) {
    snprintf(name[i], sizeof name[i], "the_clicks_of_%s_are_beats", requirements[i].track);
    tests[i] =
        (struct CMUnitTest){.name = name[i], .test_func = clicks_are_found, .initial_state = (void *)&requirements[i]};
  }
  return cmocka_run_group_tests(tests, NULL, NULL);
}
