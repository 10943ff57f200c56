// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>

#include "countwright/notebook.h"

static CwNotedTempo tempo_of(const char *before, const char *words)
{
  char text[200];
  CwNotebook notebook;
  snprintf(text, sizeof text, "%s%s\n8 walk\n", before, words);
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  assert_int_equal(notebook.n_phrases, 1);
  assert_int_equal(notebook.n_diagnostics, 0);
  const CwNotedTempo tempo = notebook.phrase[0].tempo;
  cw_notebook_free(&notebook);
  return tempo;
}

/// Ranges as the Haskell music library Haskore has them (module Haskore.Basic.Tempo, of 0.2.0.8).
static void words_mean_about_what_another_library_says(void **state)
{
  (void)state;
  static const struct {
    const char *word;
    double low, high;
  } row[] = {
      {"Largo", 40, 60},      {"Larghetto", 60, 68}, {"Adagio", 66, 76},   {"Andante", 76, 108},
      {"Moderato", 108, 120}, {"Allegro", 120, 168}, {"Presto", 168, 200}, {"Prestissimo", 200, 208},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    const CwNotedTempo line = tempo_of("tempo: ", row[i].word);
    assert_near(line.low_bpm, row[i].low, 2);
    assert_near(line.high_bpm, row[i].high, 2);
    const CwNotedTempo heading = tempo_of("# No. 4, ", row[i].word);
    assert_near(heading.low_bpm, line.low_bpm, 0);
    assert_near(heading.high_bpm, line.high_bpm, 0);
  }
}

static void numbers_are_beats_a_minute(void **state)
{
  (void)state;
  static const char *const about_96[] = {"96",      "ca. 96",       "\u2669 = 96", "96 bpm",
                                         "M.M. 96", "Allegro (96)", "quarter = 96"};
  for (size_t i = 0; i < sizeof about_96 / sizeof about_96[0]; i++) {
    const CwNotedTempo tempo = tempo_of("tempo: ", about_96[i]);
    assert_true(tempo.low_bpm < 96 && tempo.low_bpm > 90 && tempo.high_bpm > 96 && tempo.high_bpm < 102);
  }
  static const char *const from_92_to_100[] = {"92-100", "92 \u2013 100", "\u2669 = 92-100"};
  for (size_t i = 0; i < sizeof from_92_to_100 / sizeof from_92_to_100[0]; i++) {
    const CwNotedTempo tempo = tempo_of("tempo: ", from_92_to_100[i]);
    assert_near(tempo.low_bpm, 92, 0);
    assert_near(tempo.high_bpm, 100, 0);
  }
}

static void what_is_no_tempo_is_none(void **state)
{
  (void)state;
  static const char *const nothing[] = {"as in class", "4",   "1000", "40 counts",  "30 bars",
                                        "100-90",      "6/8", "3rd",  "prestowork", "tempo di walzer"};
  for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++) {
    assert_near(tempo_of("tempo: ", nothing[i]).high_bpm, 0, 0);
  }
  static const char *const heading[] = {"Scene 40", "32 bars", "96", "Finale"};
  for (size_t i = 0; i < sizeof heading / sizeof heading[0]; i++) {
    assert_near(tempo_of("# ", heading[i]).high_bpm, 0, 0);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(words_mean_about_what_another_library_says),
      cmocka_unit_test(numbers_are_beats_a_minute),
      cmocka_unit_test(what_is_no_tempo_is_none),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
