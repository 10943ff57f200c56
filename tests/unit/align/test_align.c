// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/align.h"
#include "unit/align/music.h"

enum { BARS = 24, BLOCK = 10000 };

static const TestPlaying plain = {.bpm = 100, .lead_s = 0.5};

/// Align two playings of two pieces.
static CwTimeMap align(const TestPiece *a_piece, const TestPlaying *a_playing, const TestPiece *b_piece,
                       const TestPlaying *b_playing)
{
  CwAlignFeatures *a = test_measure(a_piece, a_playing, BLOCK);
  CwAlignFeatures *b = test_measure(b_piece, b_playing, BLOCK);
  CwTimeMap map;
  assert_int_equal(cw_align(a, b, NULL, &map), CW_OK);
  cw_align_features_free(a);
  cw_align_features_free(b);
  return map;
}

/// The mean and the greatest error over beats `first` to `end` of a, which are `later` beats later in b.
static void assert_beats(const CwTimeMap *map, const TestPlaying *a, const TestPlaying *b, double first, double end,
                         double later, double mean_s, double greatest_s)
{
  double sum = 0;
  int n = 0;
  for (double beat = first; beat < end; beat += 1) {
    const double error = cw_time_map_at(map, test_beat_time(a, beat)) - test_beat_time(b, beat + later);
    assert_near(error, 0, greatest_s);
    sum += fabs(error);
    n++;
  }
  assert_near(sum / n, 0, mean_s);
}

/// A piece in two playings.
static void assert_aligned(const TestPlaying *a, const TestPlaying *b, double mean_s, double greatest_s)
{
  TestPiece piece = test_piece_make(1, BARS);
  CwTimeMap map = align(&piece, a, &piece, b);
  assert_int_equal(map.n_segments, 1);
  assert_beats(&map, a, b, 0, piece.beats, 0, mean_s, greatest_s);
  cw_time_map_free(&map);
  test_piece_free(&piece);
}

static void a_recording_aligns_with_itself(void **state)
{
  (void)state;
  assert_aligned(&plain, &plain, 0.001, 0.005);
}

/// The mean sureness over the beats of a piece in two playings.
static double mean_sureness(const TestPlaying *a, const TestPlaying *b)
{
  TestPiece piece = test_piece_make(1, BARS);
  CwTimeMap map = align(&piece, a, &piece, b);
  double sum = 0;
  for (double beat = 1; beat < piece.beats - 1; beat += 1) {
    const double sure = cw_time_map_sure(&map, test_beat_time(a, beat));
    assert_true(sure > 0 && sure < 1);
    sum += sure;
  }
  const double mean = sum / (piece.beats - 2);
  assert_true(isnan(cw_time_map_sure(&map, -1)));
  cw_time_map_free(&map);
  test_piece_free(&piece);
  return mean;
}

static void places_are_surer_the_clearer_the_notes(void **state)
{
  (void)state;
  const TestPlaying swaying = {.bpm = 108, .sway = 0.1, .lead_s = 1, .seed = 5};
  const TestPlaying blurred = {.bpm = 108, .sway = 0.1, .lead_s = 1, .spread_s = 0.12, .noise = 0.5, .seed = 5};
  const double clear = mean_sureness(&plain, &swaying);
  const double unclear = mean_sureness(&plain, &blurred);
  assert_true(clear > 0.9);
  assert_true(unclear < clear - 0.1);
}

static void silence_in_front_moves_everything_by_its_length(void **state)
{
  (void)state;
  const TestPlaying later = {.bpm = 100, .lead_s = 3.5};
  assert_aligned(&plain, &later, 0.005, 0.02);
}

static void another_tempo_is_followed(void **state)
{
  (void)state;
  const TestPlaying faster = {.bpm = 105, .lead_s = 0.5};
  const TestPlaying much_slower = {.bpm = 70, .lead_s = 1.0};
  assert_aligned(&plain, &faster, 0.005, 0.02);
  assert_aligned(&plain, &much_slower, 0.01, 0.03);
}

static void a_swaying_tempo_is_followed(void **state)
{
  (void)state;
  const TestPlaying rehearsal = {.bpm = 96, .sway = 0.15, .seed = 2, .spread_s = 0.01};
  const TestPlaying performance = {.bpm = 104, .sway = 0.2, .seed = 5, .spread_s = 0.01, .lead_s = 2};
  assert_aligned(&rehearsal, &performance, 0.012, 0.1);
}

static void another_tuning_is_heard_and_does_no_harm(void **state)
{
  (void)state;
  const double cents[] = {30, -45, 70, 100};
  TestPiece piece = test_piece_make(1, BARS);
  for (size_t i = 0; i < sizeof cents / sizeof *cents; i++) {
    const TestPlaying tuned = {.bpm = 104, .lead_s = 0.5, .cents = cents[i]};
    CwTimeMap map = align(&piece, &plain, &piece, &tuned);
    assert_near(map.tuning_cents, cents[i], 5);
    assert_beats(&map, &plain, &tuned, 0, piece.beats, 0, 0.005, 0.02);
    cw_time_map_free(&map);
  }
  test_piece_free(&piece);
}

static void noise_does_little_harm(void **state)
{
  (void)state;
  const TestPlaying noisy = {.bpm = 96, .lead_s = 1, .noise = 0.05, .seed = 3};
  assert_aligned(&plain, &noisy, 0.008, 0.04);
}

static void slow_attacks_are_told_and_notes_still_meet(void **state)
{
  (void)state;
  const TestPlaying strings = {.bpm = 100, .lead_s = 1.5, .attack_s = 0.15};
  TestPiece piece = test_piece_make(2, BARS);
  CwTimeMap map = align(&piece, &plain, &piece, &strings);
  // half of the amplitude of an even swell comes at half its length, 75 ms, against 2.5 ms for the other
  assert_near(map.offset_s, 0.0725, 0.03);
  assert_beats(&map, &plain, &strings, 0, piece.beats, 0, 0.03, 0.12);
  cw_time_map_free(&map);
  map = align(&piece, &strings, &piece, &plain);
  assert_near(map.offset_s, -0.0725, 0.03);
  cw_time_map_free(&map);
  test_piece_free(&piece);
}

static void there_and_back_is_the_same_place(void **state)
{
  (void)state;
  const TestPlaying other = {.bpm = 92, .sway = 0.1, .lead_s = 1.2, .seed = 4};
  TestPiece piece = test_piece_make(3, BARS);
  CwTimeMap there = align(&piece, &plain, &piece, &other);
  CwTimeMap back = align(&piece, &other, &piece, &plain);
  for (double t = 1; t < test_beat_time(&plain, piece.beats); t += 0.37) {
    assert_near(cw_time_map_at(&back, cw_time_map_at(&there, t)), t, 0.05);
  }
  cw_time_map_free(&there);
  cw_time_map_free(&back);
  test_piece_free(&piece);
}

static void a_cut_is_found(void **state)
{
  (void)state;
  const TestPlaying other = {.bpm = 106, .lead_s = 1};
  TestPiece whole = test_piece_make(4, 32);
  TestPiece head = test_piece_bars(&whole, 0, 14);
  TestPiece tail = test_piece_bars(&whole, 20, 12);
  TestPiece cut = test_piece_join(&head, 0, &tail);
  CwTimeMap map = align(&whole, &plain, &cut, &other);
  assert_int_equal(map.n_segments, 2);
  assert_beats(&map, &plain, &other, 0, 56, 0, 0.006, 0.03);
  assert_beats(&map, &plain, &other, 81, 128, -24, 0.006, 0.03);
  for (double beat = 57; beat < 79; beat += 1) {
    assert_true(isnan(cw_time_map_at(&map, test_beat_time(&plain, beat))));
  }
  cw_time_map_free(&map);
  test_piece_free(&cut);
  test_piece_free(&tail);
  test_piece_free(&head);
  test_piece_free(&whole);
}

static void a_repeat_is_found(void **state)
{
  (void)state;
  TestPiece whole = test_piece_make(5, 28);
  TestPiece head = test_piece_bars(&whole, 0, 20);
  TestPiece tail = test_piece_bars(&whole, 12, 16);
  TestPiece longer = test_piece_join(&head, 0, &tail);
  CwTimeMap map = align(&whole, &plain, &longer, &plain);
  assert_int_equal(map.n_segments, 2);
  assert_near(map.segment[0].point[map.segment[0].n - 1].a_s, test_beat_time(&plain, 80), 0.5);
  assert_near(map.segment[1].point[0].a_s, test_beat_time(&plain, 48), 0.5);
  assert_beats(&map, &plain, &plain, 0, 79, 0, 0.005, 0.02);
  assert_beats(&map, &plain, &plain, 81, 112, 32, 0.005, 0.02);
  cw_time_map_free(&map);
  test_piece_free(&longer);
  test_piece_free(&tail);
  test_piece_free(&head);
  test_piece_free(&whole);
}

/// A piece that stops in the middle for so many beats of 0.6 s.
static void assert_pause_found(uint32_t seed, double beats)
{
  const TestPlaying noisy = {.bpm = 100, .lead_s = 0.5, .noise = 0.01, .seed = 8};
  TestPiece whole = test_piece_make(seed, 24);
  TestPiece head = test_piece_bars(&whole, 0, 12);
  TestPiece tail = test_piece_bars(&whole, 12, 12);
  TestPiece paused = test_piece_join(&head, beats, &tail);
  CwTimeMap map = align(&whole, &plain, &paused, &noisy);
  assert_int_equal(map.n_segments, 2);
  assert_beats(&map, &plain, &noisy, 0, 47, 0, 0.005, 0.02);
  assert_beats(&map, &plain, &noisy, 49, 96, beats, 0.005, 0.02);
  cw_time_map_free(&map);
  test_piece_free(&paused);
  test_piece_free(&tail);
  test_piece_free(&head);
  test_piece_free(&whole);
}

static void a_pause_is_found(void **state)
{
  (void)state;
  assert_pause_found(6, 20);
}

static void a_pause_shorter_than_a_jump_is_worth_is_found(void **state)
{
  (void)state;
  assert_pause_found(6, 10);
  assert_pause_found(11, 9);
}

static void other_music_is_refused(void **state)
{
  (void)state;
  for (uint32_t seed = 10; seed < 14; seed++) {
    TestPiece one = test_piece_make(seed, BARS);
    TestPiece other = test_piece_make(seed + 10, BARS);
    CwAlignFeatures *a = test_measure(&one, &plain, BLOCK);
    CwAlignFeatures *b = test_measure(&other, &plain, BLOCK);
    CwTimeMap map;
    assert_int_equal(cw_align(a, b, NULL, &map), CW_ERR_OTHER_MUSIC);
    assert_int_equal(map.n_segments, 0);
    cw_align_features_free(a);
    cw_align_features_free(b);
    test_piece_free(&one);
    test_piece_free(&other);
  }
}

static void silence_is_other_music(void **state)
{
  (void)state;
  const TestPiece rest = {.beats = 20};
  TestPiece piece = test_piece_make(1, BARS);
  CwAlignFeatures *a = test_measure(&piece, &plain, BLOCK);
  CwAlignFeatures *b = test_measure(&rest, &plain, BLOCK);
  CwTimeMap map;
  assert_int_equal(cw_align(a, b, NULL, &map), CW_ERR_OTHER_MUSIC);
  assert_int_equal(cw_align(b, a, NULL, &map), CW_ERR_OTHER_MUSIC);
  assert_int_equal(cw_align(b, b, NULL, &map), CW_ERR_OTHER_MUSIC);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&piece);
}

static void the_size_of_the_blocks_makes_no_difference(void **state)
{
  (void)state;
  const TestPlaying playing = {.bpm = 90, .cents = 20};
  TestPiece piece = test_piece_make(7, 16);
  CwAlignFeatures *one = test_measure(&piece, &playing, 997);
  CwAlignFeatures *other = test_measure(&piece, &playing, 10000000);
  assert_int_equal(one->n, other->n);
  // the scout is at most a block further ahead, so that the tuning may differ by a little
  for (size_t i = 0; i < 12 * one->n; i++) {
    assert_near(one->chroma[i], other->chroma[i], 0.1);
  }
  cw_align_features_free(one);
  cw_align_features_free(other);
  test_piece_free(&piece);
}

/// Plain warping of the whole matrix with the textbook's recursion, on smoothed chroma at 10 Hz, in `n_a` by `n_b`.
static size_t *plain_warp(const CwAlignFeatures *a, const CwAlignFeatures *b)
{
  const size_t n_a = a->n / 5;
  const size_t n_b = b->n / 5;
  double *sum = malloc(n_a * n_b * sizeof *sum);
  size_t *b_of_a = calloc(n_a, sizeof *b_of_a);
  assert_true(sum && b_of_a);
  for (size_t i = 0; i < n_a; i++) {
    for (size_t j = 0; j < n_b; j++) {
      double likeness = 0;
      for (size_t k = 0; k < 12; k++) {
        likeness += (double)(a->chroma[k * a->n + 5 * i] * b->chroma[k * b->n + 5 * j]);
      }
      double before = i + j == 0 ? 0 : (double)INFINITY;
      before = i && j ? fmin(before, sum[(i - 1) * n_b + j - 1]) : before;
      before = i ? fmin(before, sum[(i - 1) * n_b + j]) : before;
      before = j ? fmin(before, sum[i * n_b + j - 1]) : before;
      sum[i * n_b + j] = before + 1 - likeness;
    }
  }
  size_t i = n_a - 1;
  size_t j = n_b - 1;
  b_of_a[i] = j;
  while (i + j > 0) {
    const double diagonal = i && j ? sum[(i - 1) * n_b + j - 1] : (double)INFINITY;
    const double up = i ? sum[(i - 1) * n_b + j] : (double)INFINITY;
    const double left = j ? sum[i * n_b + j - 1] : (double)INFINITY;
    const bool by_up = up < diagonal && up <= left;
    const bool by_left = left < diagonal && left < up;
    i -= !by_left;
    j -= !by_up;
    b_of_a[i] = j;
  }
  free(sum);
  return b_of_a;
}

static void it_agrees_with_plain_warping_of_the_whole_matrix(void **state)
{
  (void)state;
  const TestPlaying rehearsal = {.bpm = 96, .sway = 0.1, .seed = 2, .lead_s = 0.3};
  const TestPlaying performance = {.bpm = 110, .sway = 0.2, .seed = 5, .lead_s = 0.4};
  TestPiece piece = test_piece_make(9, 20);
  CwAlignFeatures *a = test_measure(&piece, &rehearsal, BLOCK);
  CwAlignFeatures *b = test_measure(&piece, &performance, BLOCK);
  CwTimeMap map;
  assert_int_equal(cw_align(a, b, NULL, &map), CW_OK);
  size_t *b_of_a = plain_warp(a, b);
  for (size_t i = 10; i < a->n / 5 - 30; i++) {
    assert_near(cw_time_map_at(&map, 0.1 * (double)i), 0.1 * (double)b_of_a[i], 0.5);
  }
  free(b_of_a);
  cw_time_map_free(&map);
  cw_align_features_free(a);
  cw_align_features_free(b);
  test_piece_free(&piece);
}

static void too_short_a_recording_is_told(void **state)
{
  (void)state;
  const float second[22050] = {0};
  CwAlignStream *stream = NULL;
  CwAlignFeatures *features = NULL;
  assert_int_equal(cw_align_stream_new(&stream), CW_OK);
  assert_int_equal(cw_align_stream_finish(stream, &features), CW_ERR_TOO_SHORT);
  assert_int_equal(cw_align_stream_push(stream, second, 22050), CW_OK);
  assert_int_equal(cw_align_stream_finish(stream, &features), CW_ERR_TOO_SHORT);
  assert_null(features);
  cw_align_stream_free(stream);
  assert_int_equal(cw_align_features_read("no/such/recording", NULL, &features), CW_ERR_NOT_FOUND);
  assert_null(features);
}

static bool refuse(void *user, const char *stage, double fraction)
{
  int *calls = user;
  assert_true(fraction <= 1);
  assert_true(strlen(stage) > 0);
  return --*calls >= 0;
}

static void it_can_be_cancelled_anywhere(void **state)
{
  (void)state;
  TestPiece piece = test_piece_make(1, 8);
  CwAlignFeatures *a = test_measure(&piece, &plain, BLOCK);
  CwStatus status = CW_ERR_CANCELLED;
  int allowed = 0;
  for (; status == CW_ERR_CANCELLED; allowed++) {
    int calls = allowed;
    const CwReport report = {.progress = refuse, .user = &calls};
    CwTimeMap map;
    status = cw_align(a, a, &report, &map);
    assert_true(status == CW_OK || map.segment == NULL);
    cw_time_map_free(&map);
  }
  assert_int_equal(status, CW_OK);
  assert_true(allowed > 2);
  cw_align_features_free(a);
  test_piece_free(&piece);
}

/// Everything from sound to map. @return The first error.
static CwStatus align_once(const TestSound *sound)
{
  CwAlignStream *stream = NULL;
  CwAlignFeatures *features = NULL;
  CwTimeMap map = {0};
  CwStatus status = cw_align_stream_new(&stream);
  if (!status) {
    status = cw_align_stream_push(stream, sound->sample, sound->n);
  }
  if (!status) {
    status = cw_align_stream_finish(stream, &features);
  }
  cw_align_stream_free(stream);
  if (!status) {
    status = cw_align(features, features, NULL, &map);
    assert_true(status == CW_OK || map.segment == NULL);
  }
  cw_align_features_free(features);
  cw_time_map_free(&map);
  return status;
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  TestPiece piece = test_piece_make(1, 5);
  TestSound sound = test_play(&piece, &plain);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    cw_fail_after(n);
    status = align_once(&sound);
    cw_fail_after(-1);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 50);
  free(sound.sample);
  test_piece_free(&piece);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_recording_aligns_with_itself),
      cmocka_unit_test(places_are_surer_the_clearer_the_notes),
      cmocka_unit_test(silence_in_front_moves_everything_by_its_length),
      cmocka_unit_test(another_tempo_is_followed),
      cmocka_unit_test(a_swaying_tempo_is_followed),
      cmocka_unit_test(another_tuning_is_heard_and_does_no_harm),
      cmocka_unit_test(noise_does_little_harm),
      cmocka_unit_test(slow_attacks_are_told_and_notes_still_meet),
      cmocka_unit_test(there_and_back_is_the_same_place),
      cmocka_unit_test(a_cut_is_found),
      cmocka_unit_test(a_repeat_is_found),
      cmocka_unit_test(a_pause_is_found),
      cmocka_unit_test(a_pause_shorter_than_a_jump_is_worth_is_found),
      cmocka_unit_test(other_music_is_refused),
      cmocka_unit_test(silence_is_other_music),
      cmocka_unit_test(the_size_of_the_blocks_makes_no_difference),
      cmocka_unit_test(it_agrees_with_plain_warping_of_the_whole_matrix),
      cmocka_unit_test(too_short_a_recording_is_told),
      cmocka_unit_test(it_can_be_cancelled_anywhere),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
