// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/lineup/music.h"

#include <string.h>

#include "unit/cw_test.h"
#include "unit/dsp/tones.h"

void write_beats(Music *music, size_t n, double interval_s, unsigned metre)
{
  for (size_t i = 0; i < n; i++) {
    assert_true(music->n < MOST_BEATS);
    music->beat_s[music->n] = music->now_s;
    music->place[music->n++] = (unsigned)(i % metre);
    music->now_s += interval_s;
  }
}

CwFeatures play(const Music *music, double length_s)
{
  static const double root[] = {0, 5, 7, 9, 2, 7, 0, 4};
  Sound sound = sound_new(length_s);
  size_t bar = 0;
  for (size_t i = 0; i < music->n; i++) {
    bar += music->place[i] == 0;
    const double next_s = i + 1 < music->n ? music->beat_s[i + 1] : music->now_s;
    const double end_s = fmin(next_s, music->beat_s[i] + 1.5);
    const double note = 60.0 + root[bar % 8];
    if (music->place[i] == 0) {
      add_struck_note(&sound, note - 24.0, 0.2, music->beat_s[i], end_s);
    }
    add_struck_note(&sound, note + (music->place[i] % 2 ? 7.0 : 0.0), 0.08, music->beat_s[i], end_s);
    add_struck_note(&sound, note + 4.0, 0.08, music->beat_s[i], end_s);
  }
  CwFeatures features;
  assert_int_equal(cw_features_measure(sound.sample, sound.n, &features), CW_OK);
  features.n_heard = 0; // plain tones: nothing for the learned ear
  sound_free(&sound);
  return features;
}

Lined line_up(const CwFeatures *features, const char *notes, const CwLineupOptions *options)
{
  Lined lined = {0};
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &lined.notebook), CW_OK);
  lined.status = cw_lineup(features, &lined.notebook, options, NULL, &lined.line, &lined.messages);
  return lined;
}

void lined_free(Lined *lined)
{
  cw_notebook_free(&lined->notebook);
  cw_count_line_free(&lined->line);
  cw_messages_free(&lined->messages);
}

static void print_all(const CwMessages *messages)
{
  for (size_t i = 0; i < messages->n; i++) {
    print_error("said: %s\n", messages->text[i]);
  }
}

void assert_says(const CwMessages *messages, const char *text)
{
  for (size_t i = 0; i < messages->n; i++) {
    if (strstr(messages->text[i], text)) {
      return;
    }
  }
  print_all(messages);
  fail_msg("nothing says '%s'", text);
}

void assert_silent(const CwMessages *messages)
{
  print_all(messages);
  assert_int_equal(messages->n, 0);
}

void assert_on_beats(const CwCountLine *line, const Music *music, size_t first, size_t step, double tolerance_s)
{
  for (size_t i = 0; i < line->n_counts; i++) {
    const size_t beat = first + i * step;
    assert_true(beat < music->n);
    if (!(fabs(line->count_s[i] - music->beat_s[beat]) <= tolerance_s)) {
      fail_msg("count %zu is at %.4f s, not at %.4f s", i + 1, line->count_s[i], music->beat_s[beat]);
    }
  }
}

void assert_sound(const CwCountLine *line)
{
  size_t n = 0;
  double before_s = -1e-9;
  for (size_t p = 0; p < line->n_phrases; p++) {
    const CwPhrase *phrase = &line->phrase[p];
    assert_int_equal(phrase->first_count, n);
    assert_true(phrase->counts > 0);
    assert_true(phrase->confidence >= 0 && phrase->confidence <= 1);
    assert_true(line->count_s[n] >= before_s - 1e-9);
    for (unsigned k = 1; k < phrase->counts; k++) {
      assert_true(line->count_s[n + k] > line->count_s[n + k - 1]);
    }
    n += phrase->counts;
    assert_true(phrase->end_s > line->count_s[n - 1] && isfinite(phrase->end_s));
    before_s = phrase->end_s;
  }
  assert_int_equal(n, line->n_counts);
}
