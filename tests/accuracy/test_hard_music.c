// SPDX-License-Identifier: GPL-3.0-or-later
/// The music of the hard cases itself: that what is written is played, when the truth says so, and that what spoils a
/// recording spoils it as much as it says.
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/cases.h"
#include "accuracy/hard/notes_of.h"
#include "accuracy/hard/pieces.h"
#include "accuracy/hard/play.h"
#include "accuracy/hard/spoil.h"
#include "accuracy/hard/table.h"
#include "countwright/audio.h"
#include "countwright/notebook.h"
#include "unit/cw_test.h"

static CwWritten read(const CwPiece *piece, const char *style)
{
  CwWritten written;
  assert_true(cw_written_read(piece, 1, style, &written));
  return written;
}

static void expect_wrong(const char *metres, const char *melody, const char *harmony)
{
  const CwPiece piece = {"wrong on purpose", metres, 1, NULL, melody, harmony};
  CwWritten written;
  assert_false(cw_written_read(&piece, 1, "stride", &written));
}

static void written_notes_have_their_pitches_and_lengths(void **state)
{
  (void)state;
  const CwPiece piece = {.name = "three notes", .metres = "4/4", .beat = 1, .melody = "a4:1.5 bb3+c#5:.5 ~:1 r"};
  CwWritten written = read(&piece, NULL);
  // pitch numbers: MIDI 1.0 (60 is middle C, 69 the A of 440 Hz)
  static const CwWrittenNote wanted[] = {{0, 1.5, 69, CW_MELODY}, {1.5, 1.5, 58, CW_MELODY}, {1.5, 1.5, 73, CW_MELODY}};
  assert_int_equal(written.n_notes, 3);
  for (size_t i = 0; i < 3; i++) {
    assert_near(written.note[i].at, wanted[i].at, 0);
    assert_near(written.note[i].length, wanted[i].length, 0);
    assert_near(written.note[i].pitch, wanted[i].pitch, 0);
  }
  cw_written_free(&written);
}

static void chords_have_the_notes_of_their_names(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    bool has[12]; // from C up
  } chords[] = {{"C", {1, 0, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0}},
                {"F#m", {0, 1, 0, 0, 0, 0, 1, 0, 0, 1, 0, 0}},
                {"Bb7", {0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 1, 0}},
                {"Edim", {0, 0, 0, 0, 1, 0, 0, 1, 0, 0, 1, 0}}};
  for (size_t c = 0; c < sizeof chords / sizeof *chords; c++) {
    const CwPiece piece = {"a chord", "4/4", 1, NULL, "r:4", chords[c].name};
    CwWritten written = read(&piece, "pad");
    bool has[12] = {false};
    for (size_t i = 0; i < written.n_notes; i++)
      has[(int)written.note[i].pitch % 12] = true;
    assert_memory_equal(has, chords[c].has, sizeof has);
    cw_written_free(&written);
  }
}

static void music_that_does_not_add_up_is_refused(void **state)
{
  (void)state;
  expect_wrong("4/4", "c4:3", "C");
  expect_wrong("4/4", "c4:5", "C");
  expect_wrong("4/4", "h4:4", "C");
  expect_wrong("4/4", "~:4", "C");
  expect_wrong("4/4*2", "c4:4", "C");
  expect_wrong("4/4", "c4:4 | c4:4", "C");
  expect_wrong("4/4", "c4:4", "X");
  expect_wrong("4/4", "c4:4", "C:3");
  expect_wrong("7/4", "c4:7", "C");
  expect_wrong("four", "c4:4", "C");
}

static void a_final_ritardando_takes_as_long_as_its_curve_says(void **state)
{
  (void)state;
  // Friberg and Sundberg (1999): v(x) = (1 + (w^q - 1) x)^(1/q); its time is the integral of 1 / v over x, for q = 3
  // 3 (1 - w^2) / (2 (1 - w^3))
  assert_near(cw_final_ritardando(0, 0.4), 1, 1e-12);
  assert_near(cw_final_ritardando(1, 0.4), 0.4, 1e-12);
  assert_near(cw_final_ritardando(0.5, 0.5), 0.825482, 1e-6); // the cube root of 0.5625
  const double w = 0.4, curve = 3 * (1 - w * w) / (2 * (1 - w * w * w));
  const CwTempo tempo = {.bpm = 60, .cadence = w, .cadence_beats = 8};
  const CwHold none = {0};
  CwBeatMap map;
  cw_beat_map_make(&tempo, &none, 0, 20, 0, &map);
  assert_near(cw_beat_map_time(&map, 12), 12, 1e-9);
  assert_near(cw_beat_map_time(&map, 20) - 12, 8 * curve, 0.01);
  cw_beat_map_free(&map);
}

static void tempo_curves_have_their_shapes(void **state)
{
  (void)state;
  const CwTempo wave = {.bpm = 100, .wave = 0.2, .wave_beats = 16};
  assert_near(cw_tempo_at(&wave, 64, 4), 120, 1e-9);
  assert_near(cw_tempo_at(&wave, 64, 12), 80, 1e-9);
  const CwTempo arch = {.bpm = 100, .arch = 0.3, .arch_beats = 16};
  assert_near(cw_tempo_at(&arch, 64, 8), 100, 1e-9);
  assert_near(cw_tempo_at(&arch, 64, 16), 70, 1e-9);
  const CwTempo faster = {.bpm = 80, .end_bpm = 120};
  assert_near(cw_tempo_at(&faster, 64, 32), 100, 1e-9);
  const CwTempo doubled = {.bpm = 70, .change_at = 32, .change = 2};
  assert_near(cw_tempo_at(&doubled, 64, 31), 70, 1e-9);
  assert_near(cw_tempo_at(&doubled, 64, 32), 140, 1e-9);
}

static void a_hold_moves_what_comes_after_it(void **state)
{
  (void)state;
  const CwTempo tempo = {.bpm = 120};
  const CwHold hold[] = {{8, 3}, {0, 0}};
  CwBeatMap map;
  cw_beat_map_make(&tempo, hold, -2, 16, 1, &map);
  assert_near(cw_beat_map_time(&map, -2), 1, 1e-9);
  assert_near(cw_beat_map_time(&map, 7), 5.5, 1e-9);
  assert_near(cw_beat_map_end(&map, 8), 6, 1e-9);
  assert_near(cw_beat_map_time(&map, 8), 9, 1e-9);
  cw_beat_map_free(&map);
}

static void a_note_sounds_from_its_time_at_its_pitch(void **state)
{
  (void)state;
  for (CwVoice voice = CW_STRUCK; voice <= CW_WIND; voice++) {
    Sound sound = sound_new(2);
    cw_voice_play(&sound, voice, 69, 0.5, 0.5, 1.5, 1);
    const size_t begin = CW_ANALYSIS_RATE_HZ / 2;
    for (size_t i = 0; i < begin; i++)
      assert_true(sound.sample[i] == 0);
    double soft = 0, sine = 0, cosine = 0, all = 0;
    for (size_t i = begin; i < begin + CW_ANALYSIS_RATE_HZ / 4; i++) {
      const double x = (double)sound.sample[i], turn = 2 * 3.14159265358979 * (double)i / CW_ANALYSIS_RATE_HZ;
      soft = fmax(soft, i < begin + 220 ? fabs(x) : 0);
      sine += x * sin(440 * turn);
      cosine += x * cos(440 * turn);
      all += x * x;
    }
    assert_true(soft > 1e-4); // within 10 ms it is heard
    // a good part of the power lies at 440 Hz
    assert_true(2 * (sine * sine + cosine * cosine) / (CW_ANALYSIS_RATE_HZ / 4) > 0.15 * all);
    sound_free(&sound);
  }
}

static void every_case_is_played_as_its_phrases_say(void **state)
{
  (void)state;
  for (size_t i = 0; i < cw_n_hard_cases; i++) {
    const CwHardCase *hard = &cw_hard_cases[i];
    CwPlayed played;
    assert_true(cw_hard_play(hard, &played));
    const CwHardTruth *truth = &played.truth;
    assert_true(cw_sound_rms(&played.sound) > 0.03);
    assert_near(truth->one_s[0], truth->count_s[0], 0);
    assert_near(truth->downbeat_s[0], truth->one_s[0], 0);
    for (size_t k = 1; k < truth->n_beats; k++)
      assert_true(truth->beat_s[k] > truth->beat_s[k - 1] + 0.2);
    assert_true(truth->beat_s[truth->n_beats - 1] < (double)played.sound.n / CW_ANALYSIS_RATE_HZ);
    for (CwMode mode = 0; mode < CW_N_MODES; mode++)
      assert_non_null(cw_hard_line(hard->name, mode));
    cw_played_free(&played);
  }
}

static void the_notes_of_a_case_say_its_phrases(void **state)
{
  (void)state;
  const CwHardCase *hard = cw_hard_case("metre-6-8");
  CwPlayed played;
  assert_true(cw_hard_play(hard, &played));
  char *text = cw_hard_notes(hard, &played.truth, 2);
  assert_non_null(text);
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  assert_int_equal(notebook.n_diagnostics, 0);
  assert_int_equal(notebook.n_phrases, played.truth.n_phrases);
  assert_int_equal(notebook.phrase[0].counts, 8);
  assert_near(notebook.phrase[0].beats_per_count, 3, 0); // a count is three quavers
  assert_near(notebook.phrase[0].pin[0].time_s, played.truth.one_s[0], 0.0006);
  cw_notebook_free(&notebook);
  free(text);
  cw_played_free(&played);
}

/// Ratio of music to what was added, in dB.
static double ratio_db(const Sound *clean, const Sound *spoilt)
{
  Sound added = sound_after_silence(spoilt, 0);
  for (size_t i = 0; i < added.n; i++)
    added.sample[i] -= clean->sample[i];
  const double db = 20 * log10(cw_sound_rms(clean) / cw_sound_rms(&added));
  sound_free(&added);
  return db;
}

static void what_spoils_a_recording_is_as_loud_as_it_says(void **state)
{
  (void)state;
  assert_true(cw_spoil_read_speech(CW_FIXTURES "/speech.ogg"));
  CwPlayed played;
  assert_true(cw_hard_play(cw_hard_case("metre-2-4"), &played));
  for (size_t i = 0; i < cw_n_spoils; i++) {
    Sound sound = sound_after_silence(&played.sound, 0);
    cw_spoils[i].spoil(&sound, &played.truth);
    const double db = ratio_db(&played.sound, &sound);
    print_message("%s: %.1f dB\n", cw_spoils[i].name, db);
    if (strcmp(cw_spoils[i].name, "room noise") == 0)
      assert_near(db, 10, 0.5);
    if (strcmp(cw_spoils[i].name, "talk") == 0 || strncmp(cw_spoils[i].name, "hum", 3) == 0)
      assert_near(db, 3, 0.5);
    assert_true(db < 20);
    sound_free(&sound);
  }
  cw_played_free(&played);
  cw_spoil_forget_speech();
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(written_notes_have_their_pitches_and_lengths),
      cmocka_unit_test(chords_have_the_notes_of_their_names),
      cmocka_unit_test(music_that_does_not_add_up_is_refused),
      cmocka_unit_test(a_final_ritardando_takes_as_long_as_its_curve_says),
      cmocka_unit_test(tempo_curves_have_their_shapes),
      cmocka_unit_test(a_hold_moves_what_comes_after_it),
      cmocka_unit_test(a_note_sounds_from_its_time_at_its_pitch),
      cmocka_unit_test(every_case_is_played_as_its_phrases_say),
      cmocka_unit_test(the_notes_of_a_case_say_its_phrases),
      cmocka_unit_test(what_spoils_a_recording_is_as_loud_as_it_says),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
