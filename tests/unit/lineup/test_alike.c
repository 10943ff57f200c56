// SPDX-License-Identifier: GPL-3.0-or-later
/// Repeats in the notes as evidence for where the music repeats.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/likeness.h"
#include "unit/cw_test.h"
#include "unit/dsp/tones.h"
#include "unit/lineup/music.h"

static const double beat_s = 0.5;

/// Music made of tunes: a bar of four beats for each letter, the same letter the same harmony and melody; '.' is a bar
/// of the tonic with nothing to tell bars apart, '-' is a rest of one beat.
static CwFeatures play_tunes(const char *bars, double *bar_s)
{
  static const double root[] = {0, 5, 9, 2, 7, 4, 11, 8};
  static const double melody[] = {12, 16, 19, 14, 17, 21, 12, 19, 11, 14, 16};
  Sound sound = sound_new(1.0 + 4 * beat_s * (double)strlen(bars) + 1.0);
  double now_s = 0.8;
  for (size_t bar = 0; bars[bar]; bar++) {
    bar_s[bar] = now_s;
    if (bars[bar] == '-') {
      now_s += beat_s;
      continue;
    }
    const size_t tune = bars[bar] == '.' ? 0 : (size_t)(bars[bar] - 'a') + 1;
    const double note = 60.0 + root[tune % 8];
    for (size_t k = 0; k < 4; k++, now_s += beat_s) {
      add_struck_note(&sound, note - (k == 0 ? 24.0 : 0.0), k == 0 ? 0.2 : 0.08, now_s, now_s + beat_s);
      add_struck_note(&sound, note + 4.0, 0.08, now_s, now_s + beat_s);
      add_struck_note(&sound, 60.0 + (bars[bar] == '.' ? 0.0 : melody[(tune * 5 + k * 3) % 11]), 0.1, now_s,
                      now_s + beat_s);
    }
  }
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound.sample, sound.n, &features), CW_OK);
  features.n_heard = 0; // plain tones: nothing for the learned ear
  sound_free(&sound);
  return features;
}

static Lined line_up_told(const CwFeatures *features, const char *notes, CwEvidence *evidence)
{
  const CwLineupOptions options = {.evidence = evidence};
  Lined lined = line_up(features, notes, &options);
  assert_int_equal(lined.status, CW_OK);
  return lined;
}

/// Phrases whose one is not at the bar that it should be at.
static size_t count_wrong(const CwCountLine *line, const double *bar_s, const size_t *first_bar, size_t n)
{
  size_t wrong = n - (line->n_phrases < n ? line->n_phrases : n);
  for (size_t p = 0; p < n && p < line->n_phrases; p++) {
    wrong += fabs(cw_count_line_start(line, p) - bar_s[first_bar[p]]) > 0.07;
  }
  return wrong;
}

#define HEAD "metre: 4/4\nbeats per count: 1\n8 a\n8 b\n8 c\n8 d\nhold\n"

/// After a hold, a vamp as long as the one at the end: nothing but the repeat says where the tunes begin again.
static void repeats_tell_where_the_music_begins_again(void **state)
{
  (void)state;
  static const struct {
    const char *music;
    size_t first_bar[8];
  } row[] = {
      {"abcdefg.-..abcdefg...", {0, 2, 4, 6, 11, 13, 15, 17}},
      {".abcdefg-.abcdefg....", {0, 2, 4, 6, 9, 11, 13, 15}},
      {"abcdefgg-...abcdefgg.", {0, 2, 4, 6, 12, 14, 16, 18}},
  };
  size_t wrong[2] = {0, 0};
  for (size_t k = 0; k < sizeof row / sizeof row[0]; k++) {
    double bar_s[64];
    CwFeatures features = play_tunes(row[k].music, bar_s);
    for (int told = 0; told < 2; told++) {
      CwEvidence evidence;
      Lined lined = line_up_told(&features, told ? HEAD "repeat 1-4\n" : HEAD "8 e\n8 f\n8 g\n8 h\n", &evidence);
      const size_t here = count_wrong(&lined.line, bar_s, row[k].first_bar, 8);
      assert_int_equal(evidence.n_repeats, told ? 4 : 0);
      assert_int_equal(evidence.n_alike, told ? 4 : 0);
      assert_true(!told || here == 0);
      wrong[told] += here;
      lined_free(&lined);
    }
    cw_features_free(&features);
  }
  print_message("ones wrong: %zu without repeats, %zu with\n", wrong[0], wrong[1]);
  assert_true(wrong[0] >= 4); // or there was nothing to tell
}

/// The steps are danced again, but to other music.
static void repeats_to_other_music_move_nothing(void **state)
{
  (void)state;
  static const char *const music[] = {"abcdefgh-ijklmnop", "aceg.bdf-.hkjmilon", "abababab-cdcdcdcd"};
  for (size_t k = 0; k < sizeof music / sizeof music[0]; k++) {
    double bar_s[64];
    CwFeatures features = play_tunes(music[k], bar_s);
    CwEvidence evidence;
    Lined with = line_up_told(&features, HEAD "repeat 1-4\n", &evidence);
    assert_int_equal(evidence.n_repeats, 4);
    assert_int_equal(evidence.n_moved_by_alike, 0);
    Lined without = line_up_told(&features, HEAD "8 e\n8 f\n8 g\n8 h\n", &evidence);
    assert_int_equal(with.line.n_counts, without.line.n_counts);
    for (size_t i = 0; i < with.line.n_counts; i++) {
      assert_near(with.line.count_s[i], without.line.count_s[i], 0);
    }
    lined_free(&with);
    lined_free(&without);
    cw_features_free(&features);
  }
}

/// Chroma of a single pitch class at a time, one count each.
static CwFeatures chroma_of(const unsigned char *key, size_t n)
{
  CwFeatures features = {.n_slow = n * 5};
  features.chroma = cw_new(features.n_slow * 12, sizeof *features.chroma);
  assert_non_null(features.chroma);
  for (size_t i = 0; i < features.n_slow; i++) {
    features.chroma[i * 12 + key[i / 5]] = 1.0F;
  }
  return features;
}

static void likeness_is_the_cosine_of_harmonies(void **state)
{
  (void)state;
  static const unsigned char key[] = {0, 4, 7, 9, 0, 4, 7, 9, 2, 5, 11, 1};
  static const double time_s[] = {0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5};
  CwFeatures features = chroma_of(key, 12);
  CwNotebook notebook;
  CwPlan plan;
  CwLikeness likeness;
  CwMessages messages = {0};
  static const char notes[] = "4 counts a\nsame as 1\n4 counts b\n";
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  assert_int_equal(cw_plan_make(&notebook, 1, &plan, &messages), CW_OK);
  assert_int_equal(cw_likeness_init(&likeness, &features, &notebook, &plan), CW_OK);
  assert_true(cw_likeness_any(&likeness));
  cw_likeness_place(&likeness, time_s, 12);
  for (size_t i = 0; i < 8; i++) {
    assert_near(cw_likeness_at(&likeness, i, time_s[i], 0.5), 1.0, 1e-9);
    assert_true(cw_likeness_at(&likeness, i, time_s[(i + 1) % 4], 0.5) < 0.1);
  }
  assert_near(cw_likeness_at(&likeness, 9, time_s[9], 0.5), 0.0, 0); // has no counterpart
  assert_near(cw_likeness_of_phrase(&likeness, 1, time_s, 0.0), 1.0, 1e-9);
  assert_true(cw_likeness_of_phrase(&likeness, 1, time_s, 0.5) < 0.1);
  size_t n_repeats = 0;
  size_t n_alike = 0;
  assert_false(cw_likeness_judge(&likeness, time_s, 12, &n_repeats, &n_alike));
  assert_int_equal(n_repeats, 1);
  assert_int_equal(n_alike, 1);
  static const double late_s[] = {0, 0.5, 1, 1.5, 3, 3.5, 4, 4.5, 5, 5.5, 5.6, 5.7}; // the repeat, two counts late
  cw_likeness_place(&likeness, late_s, 12);
  assert_true(cw_likeness_judge(&likeness, late_s, 12, &n_repeats, &n_alike));
  cw_likeness_free(&likeness);
  cw_plan_free(&plan);
  cw_notebook_free(&notebook);
  cw_messages_free(&messages);
  cw_features_free(&features);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  double bar_s[64];
  CwFeatures features = play_tunes("abcd-..abcd..", bar_s);
  CwNotebook notebook;
  static const char notes[] = "metre: 4/4\nbeats per count: 1\n8 a\n8 b\nhold\nrepeat 1-2\n";
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK && n < 400; n++) {
    CwEvidence evidence;
    CwCountLine line;
    CwMessages messages = {0};
    const CwLineupOptions options = {.evidence = &evidence};
    cw_fail_after(n);
    status = cw_lineup(&features, &notebook, &options, NULL, &line, &messages);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_true(status == CW_OK || line.n_counts == 0);
    assert_true(status != CW_OK || evidence.n_moved_by_alike > 0);
    cw_count_line_free(&line);
    cw_messages_free(&messages);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 40);
  cw_notebook_free(&notebook);
  cw_features_free(&features);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(repeats_tell_where_the_music_begins_again),
      cmocka_unit_test(repeats_to_other_music_move_nothing),
      cmocka_unit_test(likeness_is_the_cosine_of_harmonies),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
