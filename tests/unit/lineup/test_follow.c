// SPDX-License-Identifier: GPL-3.0-or-later
/// The decoding under the notes against all paths of the same model.
#include <stdbool.h>
#include <string.h>

#include "lineup/follow.h"
#include "unit/cw_test.h"
#include "unit/lineup/all_paths.h"
#include "unit/random.h"

enum { COUNTS = 4, FRAMES = 30 };

/// A tiny piece with its notes.
typedef struct {
  CwPlanCount count[COUNTS];
  float beat[FRAMES];
  float accent[FRAMES];
  double sounding[FRAMES + 1];
  size_t first[COUNTS];
  CwPlan plan;
  CwSight sight;
  CwBands bands;
} Piece;

/// What may be in a piece.
typedef struct {
  bool pins, parts, holds, narrow;
} Kind;

static void dream_count(uint64_t *seed, const Kind *kind, CwPlanCount *count)
{
  static const double beats[] = {1, 1, 1, 2, 0.5, 1.5, 3};
  static const float accents[] = {0.45F, -0.22F, 0.1F, 0.0F};
  count->beats = beats[random_below(seed, 7)];
  count->on_beat = random_share(seed) < 0.8;
  count->to_beat = count->on_beat ? 1.0 : 0.5;
  count->accent = count->on_beat ? accents[random_below(seed, 4)] : 0.0F;
  count->pin_s = kind->pins && random_share(seed) < 0.4 ? 0.0 : (double)NAN;
  if (kind->parts && random_share(seed) < 0.4) {
    count->part = random_between(seed, 0.1, 0.9);
    count->part_s = random_between(seed, 0.0, 3.0);
  }
}

static void dream(uint64_t seed, const Kind *kind, Piece *piece)
{
  memset(piece, 0, sizeof *piece);
  for (size_t i = 0; i < COUNTS; i++) {
    CwPlanCount *count = &piece->count[i];
    dream_count(&seed, kind, count);
    const double earliest_s = random_between(&seed, 0.0, 0.6) + 0.6 * (double)i;
    count->pin_s = isnan(count->pin_s) ? count->pin_s : earliest_s; // pins ascend
    const bool new_phrase = i > 0 && random_share(&seed) < 0.5;
    count->phrase = i > 0 ? count[-1].phrase + new_phrase : 0;
    count->new_section = new_phrase && random_share(&seed) < 0.4;
    count->after_hold = kind->holds && new_phrase && random_share(&seed) < 0.7;
    count->hold_s = count->after_hold && random_share(&seed) < 0.5 ? random_between(&seed, 0.1, 1.5) : 0.0;
    piece->first[i] = kind->narrow ? random_below(&seed, 10) + 4 * i : 0;
  }
  for (size_t f = 0; f < FRAMES; f++) {
    piece->beat[f] = (float)random_between(&seed, -3, 3);
    piece->accent[f] = (float)random_between(&seed, -2, 2);
    piece->sounding[f + 1] = piece->sounding[f] + (random_share(&seed) < 0.7 ? 0.1 : 0.0);
  }
  piece->plan = (CwPlan){piece->count, COUNTS};
  piece->sight = (CwSight){10.0, FRAMES, piece->beat, piece->accent, piece->sounding, 0.5F};
  piece->bands = (CwBands){piece->first, kind->narrow ? 12 : FRAMES + 1, random_between(&seed, 1.3, 1.7),
                           random_between(&seed, 0.3, 1.0), 0.4};
}

/// @return Whether there was a path.
static bool check(uint64_t seed, const Kind *kind)
{
  Piece piece;
  double time_s[COUNTS];
  size_t frame[COUNTS];
  size_t n_found = 0;
  dream(seed, kind, &piece);
  const double best = best_of_all_paths(&piece.plan, &piece.sight, &piece.bands, NULL, 0);
  const CwStatus status = cw_follow(&piece.plan, &piece.sight, &piece.bands, NULL, time_s, &n_found);
  if (isinf(best)) {
    assert_int_equal(status, CW_ERR_NO_PULSE);
    return false;
  }
  assert_int_equal(status, CW_OK);
  for (size_t i = 0; i < COUNTS; i++) {
    assert_int_equal(isnan(time_s[i]) != 0, i >= n_found);
    frame[i] = i < n_found ? (size_t)lround(time_s[i] * 10.0) : 0;
  }
  const double found = best_of_all_paths(&piece.plan, &piece.sight, &piece.bands, frame, n_found);
  if (!(fabs(found - best) < 1e-3)) {
    fail_msg("piece %llu: the path found is worth %.4f, the best %.4f", (unsigned long long)seed, found, best);
  }
  return true;
}

static void check_many(Kind kind, int least)
{
  int n_paths = 0;
  for (uint64_t seed = 1; seed <= 100; seed++) {
    n_paths += check(seed, &kind);
  }
  assert_true(n_paths >= least);
}

static void the_path_found_is_the_best_of_all(void **state)
{
  (void)state;
  check_many((Kind){0}, 60);
}

static void it_is_the_best_within_narrow_bands(void **state)
{
  (void)state;
  check_many((Kind){.narrow = true}, 55);
}

static void it_is_the_best_through_pins(void **state)
{
  (void)state;
  check_many((Kind){.pins = true}, 20);
}

static void it_is_the_best_through_pins_between_counts(void **state)
{
  (void)state;
  check_many((Kind){.parts = true, .pins = true}, 10);
  check_many((Kind){.parts = true}, 20);
}

static void it_is_the_best_through_holds(void **state)
{
  (void)state;
  check_many((Kind){.holds = true}, 60);
  check_many((Kind){.holds = true, .narrow = true}, 50);
  check_many((Kind){.holds = true, .pins = true}, 20);
}

enum { LONG_COUNTS = 400, LONG_FRAMES = 4400 };

/// Phrases of 4 counts with short holds between them, too many to keep the way back for all at once.
static void a_long_search_finds_its_way_back(void **state)
{
  (void)state;
  static CwPlanCount count[LONG_COUNTS];
  static float beat[LONG_FRAMES];
  static float accent[LONG_FRAMES];
  static double sounding[LONG_FRAMES + 1];
  static size_t first[LONG_COUNTS];
  static size_t truth[LONG_COUNTS];
  static double time_s[LONG_COUNTS];
  for (size_t f = 0; f < LONG_FRAMES; f++) {
    beat[f] = -2.0F;
  }
  for (size_t i = 0, f = 17; i < LONG_COUNTS; i++, f += 10) {
    const bool held = i > 0 && i % 4 == 0;
    f += held ? 2 + i % 3 : 0;
    count[i] =
        (CwPlanCount){.phrase = i / 4, .beats = 1.0, .on_beat = true, .to_beat = 1.0, .after_hold = held, .pin_s = NAN};
    truth[i] = f;
    beat[f] = 3.0F;
  }
  const CwPlan plan = {count, LONG_COUNTS};
  const CwSight sight = {20.0, LONG_FRAMES, beat, accent, sounding, 0.5F};
  const CwBands bands = {first, LONG_FRAMES, 1.05, 0.5, 0.4};
  size_t n_found = 0;
  assert_int_equal(cw_follow(&plan, &sight, &bands, NULL, time_s, &n_found), CW_OK);
  assert_int_equal(n_found, LONG_COUNTS);
  for (size_t i = 0; i < LONG_COUNTS; i++) {
    assert_near(time_s[i], (double)truth[i] / 20.0, 1e-9);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_path_found_is_the_best_of_all), cmocka_unit_test(it_is_the_best_within_narrow_bands),
      cmocka_unit_test(it_is_the_best_through_pins),       cmocka_unit_test(it_is_the_best_through_pins_between_counts),
      cmocka_unit_test(it_is_the_best_through_holds),      cmocka_unit_test(a_long_search_finds_its_way_back),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
