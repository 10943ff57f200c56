// SPDX-License-Identifier: GPL-3.0-or-later
/// How sure ones are, on a pulse that is plain, faint or nowhere.
#include <string.h>

#include "base/memory.h"
#include "lineup/doubt.h"
#include "unit/cw_test.h"

enum { COUNTS = 32, PHRASES = COUNTS / 8, BEAT_FRAMES = 10, FRAMES = (COUNTS + 4) * BEAT_FRAMES };
#define RATE_HZ 20.0

typedef struct {
  CwPlanCount count[COUNTS];
  float beat[FRAMES], accent[FRAMES];
  double sounding[FRAMES + 1];
  size_t first[COUNTS];
  double time_s[COUNTS];
  CwPlan plan;
  CwSight sight;
  CwBands bands;
} Piece;

/// A pulse every half a second from 2 s on, to the end of the counts, so much above what is between; its bars of four begin with accents.
static void make(Piece *p, float clear)
{
  memset(p, 0, sizeof *p);
  for (size_t f = 0; f < FRAMES; f++) {
    const bool on = f >= 40 && f % BEAT_FRAMES == 0;
    p->beat[f] = on ? clear : -clear;
    p->accent[f] = on && (f - 40) % (4 * BEAT_FRAMES) == 0 ? 0.5F * clear : -0.25F * clear;
    p->sounding[f + 1] = p->sounding[f] + (f >= 40 ? 1.0 / RATE_HZ : 0.0);
  }
  for (size_t i = 0; i < COUNTS; i++) {
    p->count[i] = (CwPlanCount){.beats = 1.0,
                                .on_beat = true,
                                .to_beat = 1.0,
                                .phrase = i / 8,
                                .pin_s = NAN,
                                .accent = i % 4 == 0 ? 0.45F : -0.22F};
    p->time_s[i] = 2.0 + 0.5 * (double)i;
  }
  p->plan = (CwPlan){p->count, COUNTS};
  p->sight = (CwSight){RATE_HZ, FRAMES, p->beat, p->accent, p->sounding, 0.0F};
  p->bands = (CwBands){p->first, FRAMES + 1, 1.09, 0.5, 0.4};
}

static double mean_sure(const Piece *p, double shift_s)
{
  CwDoubt doubt;
  double sum = 0;
  assert_int_equal(cw_doubt_search(&p->plan, &p->sight, &p->bands, p->time_s, COUNTS, NULL, &doubt), CW_OK);
  for (size_t phrase = 0; phrase < PHRASES; phrase++) {
    const double sure = cw_doubt_sure(&doubt, phrase, p->time_s[8 * phrase] + shift_s);
    assert_true(sure > 0 && sure < 1);
    sum += sure / PHRASES;
  }
  cw_doubt_free(&doubt);
  return sum;
}

static void a_plain_pulse_is_sure_and_a_faint_one_less(void **state)
{
  (void)state;
  static Piece plain;
  static Piece faint;
  static Piece none;
  make(&plain, 5.0F);
  make(&faint, 0.7F);
  make(&none, 0.0F);
  assert_true(mean_sure(&plain, 0) > 0.9);
  assert_true(mean_sure(&faint, 0) < mean_sure(&plain, 0));
  assert_true(mean_sure(&none, 0) < 0.5);
}

static void a_one_a_beat_away_is_not_sure(void **state)
{
  (void)state;
  static Piece piece;
  make(&piece, 5.0F);
  assert_true(mean_sure(&piece, 0.5) < 0.1);
}

static void the_same_in_gives_the_same_out(void **state)
{
  (void)state;
  static Piece piece;
  make(&piece, 1.0F);
  assert_near(mean_sure(&piece, 0), mean_sure(&piece, 0), 0.0);
}

static void nothing_is_known_where_nothing_was_searched(void **state)
{
  (void)state;
  CwDoubt none = {0};
  assert_true(cw_doubt_sure(&none, 0, 1.0) < 0);
}

static void phrases_without_music_are_not_sure(void **state)
{
  (void)state;
  static Piece piece;
  CwDoubt doubt;
  make(&piece, 5.0F);
  piece.sight.n = 28 * BEAT_FRAMES; // 2 s of silence, 24 counts
  assert_int_equal(cw_doubt_search(&piece.plan, &piece.sight, &piece.bands, piece.time_s, 24, NULL, &doubt), CW_OK);
  assert_true(cw_doubt_sure(&doubt, 0, 2.0) > 0.8);
  assert_true(cw_doubt_sure(&doubt, 3, 14.0) < 0.5);
  cw_doubt_free(&doubt);
}

static void it_runs_out_of_memory_cleanly(void **state)
{
  (void)state;
  static Piece piece;
  CwStatus status = CW_ERR_NO_MEM;
  make(&piece, 5.0F);
  for (int n = 0; n < 1000 && status != CW_OK; n++) {
    CwDoubt doubt;
    cw_fail_after(n);
    status = cw_doubt_search(&piece.plan, &piece.sight, &piece.bands, piece.time_s, COUNTS, NULL, &doubt);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_true(status == CW_OK || !doubt.one_s);
    cw_doubt_free(&doubt);
  }
  assert_int_equal(status, CW_OK);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_plain_pulse_is_sure_and_a_faint_one_less),
      cmocka_unit_test(a_one_a_beat_away_is_not_sure),
      cmocka_unit_test(the_same_in_gives_the_same_out),
      cmocka_unit_test(nothing_is_known_where_nothing_was_searched),
      cmocka_unit_test(phrases_without_music_are_not_sure),
      cmocka_unit_test(it_runs_out_of_memory_cleanly),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
