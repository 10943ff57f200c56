// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include "base/memory.h"
#include "countwright/audio.h"
#include "pulse/refine.h"
#include "unit/dsp/tones.h"

enum { N = 800 };

static const double value_s = 1.0 / CW_ATTACK_RATE_HZ;

/// Features with nothing but an attack envelope.
static CwFeatures envelope(float *attack, double level)
{
  for (size_t i = 0; i < N; i++) {
    attack[i] = (float)level;
  }
  return (CwFeatures){.attack = attack, .n_attack = N, .duration_s = N * value_s};
}

static void add_attack(float *attack, size_t at, double height)
{
  for (size_t i = at; i < N && i < at + 40; i++) {
    attack[i] += (float)(height * exp(-0.1 * (double)(i - at)));
  }
}

static void a_time_moves_to_the_attack_nearby(void **state)
{
  (void)state;
  float attack[N];
  for (size_t at = 380; at <= 420; at++) {
    CwFeatures f = envelope(attack, 0.001);
    add_attack(attack, at, 0.2);
    for (double away_s = -0.045; away_s <= 0.0451; away_s += 0.005) {
      const double attack_s = ((double)at + 0.5) * value_s;
      assert_near(cw_refine_time(&f, attack_s + away_s), attack_s, 0.6 * value_s);
    }
    // too far away to be this beat's
    for (double away_s = 0.055; away_s < 0.1; away_s += 0.005) {
      assert_near(cw_refine_time(&f, (double)at * value_s - away_s), (double)at * value_s - away_s, 0);
      assert_near(cw_refine_time(&f, (double)at * value_s + away_s), (double)at * value_s + away_s, 0);
    }
  }
}

static void where_no_attack_stands_out_a_time_stays(void **state)
{
  (void)state;
  float attack[N];
  static const double level[] = {0, 1e-6, 0.01, 1};
  for (size_t k = 0; k < sizeof level / sizeof level[0]; k++) {
    const CwFeatures f = envelope(attack, level[k]);
    for (double t = 0.0; t < 2.0; t += 0.0713) {
      // the ends of the envelope are not heard as attacks of what is there all the time
      if (t > 0.06) {
        assert_near(cw_refine_time(&f, t), t, 0);
      }
    }
  }
  CwFeatures f = envelope(attack, 0.1);
  add_attack(attack, 400, 0.05); // a swell, no attack
  assert_near(cw_refine_time(&f, 1.01), 1.01, 0);
}

static void of_two_attacks_alike_the_nearer_is_taken_and_a_clear_one_before_a_faint_one(void **state)
{
  (void)state;
  float attack[N];
  CwFeatures f = envelope(attack, 0.001);
  add_attack(attack, 390, 0.2);
  for (size_t i = 400; i < N; i++) { // as silent between as before
    attack[i] = 0.001F;
  }
  add_attack(attack, 408, 0.2);
  assert_near(cw_refine_time(&f, 397 * value_s), 390.5 * value_s, 1.1 * value_s);
  assert_near(cw_refine_time(&f, 402 * value_s), 408.5 * value_s, 1.1 * value_s);
  f = envelope(attack, 0.001);
  attack[398] = attack[399] = 0.006F;
  add_attack(attack, 408, 0.5);
  assert_near(cw_refine_time(&f, 398 * value_s), 408.5 * value_s, 1.1 * value_s);
}

static void what_is_far_below_the_music_is_no_attack(void **state)
{
  (void)state;
  float attack[N];
  CwFeatures f = envelope(attack, 0.0);
  add_attack(attack, 400, 0.0005);
  assert_near(cw_refine_time(&f, 1.02), 400.5 * value_s, value_s); // alone it is heard
  for (size_t i = 440; i < 470; i++) {
    attack[i] = 0.3F; // 55 dB above it, 50 ms later
  }
  assert_near(cw_refine_time(&f, 1.02), 1.02, 0);
}

static void times_at_and_beyond_the_ends_are_safe(void **state)
{
  (void)state;
  float attack[N];
  CwFeatures f = envelope(attack, 0.0);
  add_attack(attack, 0, 0.5);
  add_attack(attack, N - 1, 0.5);
  assert_near(cw_refine_time(&f, 0.0), 0.5 * value_s, value_s);
  assert_near(cw_refine_time(&f, 2.0), (N - 0.5) * value_s, value_s);
  assert_near(cw_refine_time(&f, 9.0), 9.0, 0);
  assert_true(cw_refine_time(&f, -0.02) >= 0.0);
  f.n_attack = 0;
  assert_near(cw_refine_time(&f, 1.0), 1.0, 0);
}

static void clicks_and_struck_notes_are_placed_within_3_ms(void **state)
{
  (void)state;
  Sound sound = sound_new(30.0);
  double at_s[28];
  for (int k = 0; k < 28; k++) {
    at_s[k] = 0.5 + k + 0.0037 * k;
    if (k % 2) {
      add_click(&sound, 0.3, at_s[k]);
    } else {
      add_struck_note(&sound, 50 + k, 0.3, at_s[k], at_s[k] + 0.9);
    }
  }
  CwFeatures f;
  assert_int_equal(cw_features_measure(sound.sample, sound.n, &f), CW_OK);
  for (int k = 0; k < 28; k++) {
    for (double away_s = -0.035; away_s < 0.036; away_s += 0.01) {
      assert_near(cw_refine_time(&f, at_s[k] + away_s), at_s[k], 0.003);
    }
  }
  cw_features_free(&f);
  sound_free(&sound);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_time_moves_to_the_attack_nearby),
      cmocka_unit_test(where_no_attack_stands_out_a_time_stays),
      cmocka_unit_test(of_two_attacks_alike_the_nearer_is_taken_and_a_clear_one_before_a_faint_one),
      cmocka_unit_test(what_is_far_below_the_music_is_no_attack),
      cmocka_unit_test(times_at_and_beyond_the_ends_are_safe),
      cmocka_unit_test(clicks_and_struck_notes_are_placed_within_3_ms),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
