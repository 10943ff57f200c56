// SPDX-License-Identifier: GPL-3.0-or-later
/// What is made of features that are set by hand.
#include "unit/cw_test.h"

#include <string.h>

#include "base/memory.h"
#include "pulse/activation.h"
#include "pulse/look.h"

enum { N = 3000, INTERVAL = 60, FIRST = 30, ROWS = N / CW_SLOW_STEP };

/// Every curve that the activation is made from.
typedef struct {
  float onset[N], onset_slow[N], onset_low[N], harmonic[N], bass_change[N], level_db[N], steadiness[ROWS];
  CwFeatures features;
} Curves;

static bool is_beat(size_t i)
{
  return i % INTERVAL == FIRST;
}

/// A sound that is held, with an attack on every beat; harmony and bass change with every fourth.
static CwFeatures *even_beats(Curves *c)
{
  memset(c, 0, sizeof *c);
  for (size_t i = 0; i < N; i++) {
    const bool first = i % (4 * INTERVAL) == FIRST;
    c->onset[i] = is_beat(i) ? 0.8F : 0.0F;
    c->onset_slow[i] = is_beat(i) ? 0.6F : 0.0F;
    c->onset_low[i] = is_beat(i) ? (first ? 0.6F : 0.3F) : 0.0F;
    c->harmonic[i] = c->bass_change[i] = first ? 0.5F : 0.0F;
    c->level_db[i] = -20.0F;
  }
  for (size_t i = 0; i < ROWS; i++) {
    c->steadiness[i] = 0.7F;
  }
  c->features = (CwFeatures){.n_frames = N,
                             .duration_s = (double)N / CW_FEATURE_RATE_HZ,
                             .onset = c->onset,
                             .onset_slow = c->onset_slow,
                             .onset_low = c->onset_low,
                             .harmonic = c->harmonic,
                             .bass_change = c->bass_change,
                             .level_db = c->level_db,
                             .steadiness = c->steadiness,
                             .n_slow = ROWS};
  return &c->features;
}

static CwActivation make(const CwFeatures *features)
{
  CwActivation a;
  assert_int_equal(cw_activation_make(features, 0, &a), CW_OK);
  assert_int_equal(a.n, N);
  return a;
}

static void attacks_speak_for_beats_and_what_is_between_against_them(void **state)
{
  (void)state;
  static Curves c;
  CwActivation a = make(even_beats(&c));
  for (size_t i = 100; i < N - 100; i++) {
    const size_t away = (i + INTERVAL - FIRST) % INTERVAL;
    assert_true(!is_beat(i) || a.beat[i] > 0.5F);
    if (away > 3 && away < INTERVAL - 3) {
      assert_true(a.beat[i] < -0.3F && a.beat[i] > CW_NO_BEAT);
    }
    if (is_beat(i)) { // as much a little early as a little late
      assert_near((double)a.beat[i - 1], (double)a.beat[i + 1], 0.05);
      assert_near((double)a.beat[i - 2], (double)a.beat[i + 2], 0.05);
      assert_true(a.beat[i - 1] <= a.beat[i] + 1e-3F && a.beat[i - 2] < a.beat[i]);
    }
  }
  cw_activation_free(&a);
  assert_null(a.beat);
}

static void first_beats_are_the_most_accented(void **state)
{
  (void)state;
  static Curves c;
  CwActivation a = make(even_beats(&c));
  for (size_t i = 4 * INTERVAL + FIRST; i + 4 * INTERVAL < N; i += 4 * INTERVAL) {
    for (size_t k = 1; k < 4; k++) {
      assert_true(a.downbeat[i] > a.downbeat[i + k * INTERVAL] + 0.2F);
    }
  }
  cw_activation_free(&a);
}

static void a_louder_beat_is_more_accented(void **state)
{
  (void)state;
  static Curves c;
  even_beats(&c);
  for (size_t i = 0; i < N; i++) {
    c.harmonic[i] = c.bass_change[i] = 0;
    c.onset_low[i] = is_beat(i) ? 0.3F : 0.0F;
    const size_t beat = (i + INTERVAL - FIRST) / INTERVAL;
    const bool struck = (i + INTERVAL - FIRST) % INTERVAL < 20; // then the sound dies away
    c.level_db[i] = !struck ? -30.0F : beat % 3 == 0 ? -14.0F : -20.0F;
  }
  CwActivation a = make(&c.features);
  for (size_t beat = 9; beat < 40; beat++) {
    const size_t i = (beat - 1) * INTERVAL + FIRST;
    const size_t louder = (beat / 3 * 3 - 1) * INTERVAL + FIRST;
    assert_true(beat % 3 == 0 || a.downbeat[louder] > a.downbeat[i] + 0.1F);
  }
  cw_activation_free(&a);
}

static void assert_same(const float *a, const float *b, double tolerance)
{
  for (size_t i = 0; i < N; i++) {
    assert_near((double)a[i], (double)b[i], tolerance);
  }
}

/// The unrest of a sustained sound (a tremolo, a wide vibrato) is there all the time and says nothing.
static void steady_unrest_does_not_matter(void **state)
{
  (void)state;
  static Curves c;
  CwActivation plain = make(even_beats(&c));
  for (size_t i = 0; i < N; i++) {
    c.onset[i] += 0.2F;
    c.onset_slow[i] += 0.2F;
    c.onset_low[i] += 0.2F;
  }
  CwActivation unrest = make(&c.features);
  assert_same(unrest.beat, plain.beat, 1e-3);
  assert_same(unrest.downbeat, plain.downbeat, 1e-3);
  cw_activation_free(&plain);
  cw_activation_free(&unrest);
}

static void the_scale_of_the_features_does_not_matter(void **state)
{
  (void)state;
  static Curves c;
  CwActivation plain = make(even_beats(&c));
  for (size_t i = 0; i < N; i++) {
    c.onset[i] *= 1.7F;
    c.onset_slow[i] *= 1.7F;
    c.onset_low[i] *= 1.7F;
    c.level_db[i] -= 10.0F;
  }
  CwActivation scaled = make(&c.features);
  assert_same(scaled.beat, plain.beat, 1e-3);
  assert_same(scaled.strength, plain.strength, 1e-3);
  assert_same(scaled.downbeat, plain.downbeat, 1e-3);
  cw_activation_free(&plain);
  cw_activation_free(&scaled);
}

static void where_nothing_sounds_is_no_beat(void **state)
{
  (void)state;
  static Curves c;
  even_beats(&c);
  for (size_t i = 1000; i < 2000; i++) {
    c.level_db[i] = -75.0F; // 55 dB below the rest
  }
  CwActivation a = make(&c.features);
  for (size_t i = 0; i < N; i++) {
    if (i >= 1005 && i < 1995) {
      assert_near((double)a.beat[i], (double)CW_NO_BEAT, 0);
    } else if (i < 1000 || i >= 2000) {
      assert_true(a.beat[i] > CW_NO_BEAT);
    }
  }
  cw_activation_free(&a);
}

static void where_no_note_is_held_is_no_beat(void **state)
{
  (void)state;
  static Curves c;
  CwActivation plain = make(even_beats(&c));
  CwActivation a = make(&c.features);
  for (size_t i = ROWS / 2; i < ROWS; i++) {
    c.steadiness[i] = 0.1F; // talk
  }
  cw_activation_keep_tonal(&c.features, &a);
  for (size_t i = 0; i < N / 2 - 200; i++) {
    assert_near((double)a.beat[i], (double)plain.beat[i], 0);
  }
  for (size_t i = N / 2 + 200; i < N; i++) {
    assert_true(a.beat[i] <= CW_NO_BEAT);
  }
  cw_activation_free(&plain);
  cw_activation_free(&a);
}

static void accents_are_weighed_over_the_beats(void **state)
{
  (void)state;
  static Curves c;
  static float probability[N];
  CwActivation a = make(even_beats(&c));
  double weight = 0;
  double sum = 0;
  double square = 0;
  for (size_t i = 0; i < N; i++) {
    probability[i] = is_beat(i) ? 0.8F : 0.0F;
  }
  cw_activation_weigh_bars(&a, probability);
  for (size_t i = 0; i < N; i++) {
    const double x = (double)a.downbeat[i];
    assert_true(fabs(x) <= 2.0);
    weight += (double)probability[i];
    sum += (double)probability[i] * x;
    square += (double)probability[i] * x * x;
  }
  assert_near(sum / weight, 0, 0.02);
  assert_near(square / weight, 1, 0.05);
  memset(probability, 0, sizeof probability);
  cw_activation_weigh_bars(&a, probability); // no beat anywhere
  for (size_t i = 0; i < N; i++) {
    assert_true(fabs((double)a.downbeat[i]) <= 2.0);
  }
  cw_activation_free(&a);
}

/// Whether two activations are alike in what speaks for beats and for downbeats.
static bool are_alike(const CwActivation *a, const CwActivation *b)
{
  return memcmp(a->beat, b->beat, N * sizeof *a->beat) == 0 &&
         memcmp(a->downbeat, b->downbeat, N * sizeof *a->downbeat) == 0;
}

static void a_cue_left_out_does_not_matter(void **state)
{
  (void)state;
  static Curves c;
  static const unsigned cue[] = {CW_CUE_ALL, CW_CUE_LOW, CW_CUE_HARMONIC, CW_CUE_BASS, CW_CUE_ACCENT};
  float *const curve[] = {c.onset, c.onset_low, c.harmonic, c.bass_change, c.level_db};
  for (size_t k = 0; k < sizeof cue / sizeof cue[0]; k++) {
    CwActivation with[2];
    CwActivation without[2];
    for (size_t changed = 0; changed < 2; changed++) {
      even_beats(&c);
      for (size_t i = 40; changed && i < 1000; i += 70) {
        curve[k][i] += 0.7F;
      }
      with[changed] = make(&c.features);
      assert_int_equal(cw_activation_make(&c.features, cue[k], &without[changed]), CW_OK);
    }
    assert_false(are_alike(&with[0], &with[1]));
    assert_true(are_alike(&without[0], &without[1]));
    for (size_t i = FIRST; k < 3 && i < N; i += INTERVAL) { // the others speak the louder
      assert_true(without[0].beat[i] > 0.5F);
    }
    for (size_t changed = 0; changed < 2; changed++) {
      cw_activation_free(&with[changed]);
      cw_activation_free(&without[changed]);
    }
  }
}

static void without_steadiness_talk_may_have_beats(void **state)
{
  (void)state;
  static Curves c;
  even_beats(&c);
  memset(c.steadiness, 0, sizeof c.steadiness);
  for (unsigned left_out = 0; left_out <= CW_CUE_STEADY; left_out += CW_CUE_STEADY) {
    CwLook look;
    CwModel model = cw_model_default();
    model.left_out = left_out;
    assert_int_equal(cw_look(&c.features, &model, true, &look), CW_OK);
    assert_int_equal(look.activation.beat[20 * INTERVAL + FIRST] > 0.5F, left_out != 0);
    cw_look_free(&look);
  }
}

static void a_look_tells_how_sure_a_beat_is(void **state)
{
  (void)state;
  static Curves c;
  CwLook look;
  const CwModel model = cw_model_default();
  assert_int_equal(cw_look(even_beats(&c), &model, true, &look), CW_OK);
  for (size_t i = 10 * INTERVAL + FIRST; i < N - 10 * INTERVAL; i += INTERVAL) {
    double near = 0;
    for (size_t k = i - 7; k <= i + 7; k++) {
      near += (double)look.probability[k];
    }
    const double time_s = (double)i / CW_FEATURE_RATE_HZ;
    assert_near((double)cw_look_near(&look, time_s), fmin(near, 1.0), 1e-6);
    assert_near((double)cw_look_near(&look, time_s + 0.004), fmin(near, 1.0), 1e-6);
    assert_true(cw_look_near(&look, time_s + 0.3) < 0.3F * cw_look_near(&look, time_s));
  }
  for (size_t i = 0; i < N; i++) {
    look.probability[i] = 0.2F;
  }
  assert_near((double)cw_look_near(&look, 15.0), 1.0, 0); // never more
  assert_near((double)cw_look_near(&look, 0.0), 1.0, 0);
  assert_near((double)cw_look_near(&look, 99.0), 0.0, 0);
  look.probability[2999] = 0.1F;
  assert_near((double)cw_look_near(&look, 30.06), 0.1, 1e-6);
  cw_look_free(&look);
}

static void a_full_memory_is_told_and_nothing_leaks(void **state)
{
  (void)state;
  static Curves c;
  const CwModel model = {.min_bpm = 90, .max_bpm = 110, .likely_bpm = 100, .tempo_spread = 1};
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  even_beats(&c);
  for (; status != CW_OK && n < 100; n++) {
    CwLook look;
    memset(&look, 0x55, sizeof look);
    cw_fail_after(n);
    status = cw_look(&c.features, &model, true, &look);
    cw_fail_after(-1);
    assert_int_equal(look.probability != NULL, status == CW_OK);
    assert_int_equal(look.activation.beat != NULL, status == CW_OK);
    cw_look_free(&look);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 15);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(attacks_speak_for_beats_and_what_is_between_against_them),
      cmocka_unit_test(first_beats_are_the_most_accented),
      cmocka_unit_test(a_louder_beat_is_more_accented),
      cmocka_unit_test(steady_unrest_does_not_matter),
      cmocka_unit_test(the_scale_of_the_features_does_not_matter),
      cmocka_unit_test(where_nothing_sounds_is_no_beat),
      cmocka_unit_test(where_no_note_is_held_is_no_beat),
      cmocka_unit_test(accents_are_weighed_over_the_beats),
      cmocka_unit_test(a_cue_left_out_does_not_matter),
      cmocka_unit_test(without_steadiness_talk_may_have_beats),
      cmocka_unit_test(a_look_tells_how_sure_a_beat_is),
      cmocka_unit_test(a_full_memory_is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
