// SPDX-License-Identifier: GPL-3.0-or-later
/// The same music with room noise, talk, footfalls, a badly placed phone, clipping, hum: the counts stay.
/// -v prints every figure; --table prints the table anew, with what holds now.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/judge.h"
#include "accuracy/hard/spoil.h"
#include "accuracy/hard/table.h"
#include "accuracy/hard/table_print.h"
#include "unit/cw_test.h"

/// Clean, these are counted rightly: winds and pizzicato, piano, strings, violin and piano in rubato.
static const char *const pieces[] = {"metre-2-4", "metre-3-4", "metre-4-4", "adagio-by-half-bars"};
enum { N_PIECES = sizeof pieces / sizeof *pieces, N_MODES = 2, MOST_SPOILS = 16 };

static bool is_wordy;
static CwPlayed played[N_PIECES];
static CwVerdict clean[N_PIECES][N_MODES];
static double falls[MOST_SPOILS][N_MODES][CW_N_MEASURES]; ///< mean over the pieces

static void judge(size_t piece, const Sound *sound, CwVerdict verdict[N_MODES])
{
  CwFeatures features = {0};
  assert_int_equal(cw_features_measure(sound->sample, sound->n, &features), CW_OK);
  features.n_heard = 0; // held for the plain ear
  for (int mode = 0; mode < N_MODES; mode++)
    verdict[mode] = cw_judge(cw_hard_case(pieces[piece]), &played[piece].truth, &features, (CwMode)mode);
  cw_features_free(&features);
}

static int play_clean(void **state)
{
  (void)state;
  if (!cw_spoil_read_speech(CW_FIXTURES "/speech.ogg"))
    return -1;
  for (size_t i = 0; i < N_PIECES; i++) {
    if (!cw_hard_play(cw_hard_case(pieces[i]), &played[i]))
      return -1;
    judge(i, &played[i].sound, clean[i]);
  }
  return 0;
}

static int forget(void **state)
{
  (void)state;
  for (size_t i = 0; i < N_PIECES; i++)
    cw_played_free(&played[i]);
  cw_spoil_forget_speech();
  return 0;
}

static void spoil_and_judge(const CwSpoil *spoil, size_t piece, CwVerdict verdict[N_MODES])
{
  Sound sound = sound_after_silence(&played[piece].sound, 0);
  spoil->spoil(&sound, &played[piece].truth);
  judge(piece, &sound, verdict);
  sound_free(&sound);
}

static void note_falls(const CwSpoil *spoil, size_t piece, const CwVerdict verdict[N_MODES])
{
  for (int mode = 0; mode < N_MODES; mode++) {
    double *fall = falls[spoil - cw_spoils][mode];
    for (CwMeasure m = 0; m < CW_N_MEASURES; m++) {
      const double before = clean[piece][mode].value[m], now = verdict[mode].value[m];
      if (is_wordy && !isnan(now))
        print_message("%-12s %-20s %-5s %-9s %.2f, clean %.2f\n", spoil->name, pieces[piece], cw_mode_names[mode],
                      cw_measure_names[m], now, before);
      fall[m] += isnan(now) ? 0 : (before - now) / N_PIECES;
    }
    if (is_wordy)
      print_message("    %s\n", verdict[mode].reading);
  }
}

/// Whether no measure falls by more than is held; says how much is wanted.
static bool holds(const CwSpoilLine *line, const double fall[CW_N_MEASURES])
{
  bool good = true;
  for (CwMeasure m = 0; m < CW_N_MEASURES; m++) {
    const bool held = fall[m] <= line->held[m] + 1e-9;
    if (is_wordy || !held)
      print_message("%-12s %-5s %-9s falls by %.2f, held %.2f%s%s\n", line->spoil, cw_mode_names[line->mode],
                    cw_measure_names[m], fall[m], line->held[m], fall[m] > cw_wanted_fall ? ", too far" : "",
                    held ? "" : ": LOST");
    good &= held;
  }
  return good;
}

static void the_counts_stay_in_a_spoilt_recording(void **state)
{
  const CwSpoil *spoil = *state;
  for (size_t i = 0; i < N_PIECES; i++) {
    CwVerdict verdict[N_MODES];
    spoil_and_judge(spoil, i, verdict);
    note_falls(spoil, i, verdict);
  }
  bool good = true;
  for (int mode = 0; mode < N_MODES; mode++) {
    const CwSpoilLine *line = cw_spoil_line(spoil->name, (CwMode)mode);
    assert_non_null(line);
    good &= holds(line, falls[spoil - cw_spoils][mode]);
  }
  assert_true(good);
}

static void print_table(void)
{
  for (size_t i = 0; i < cw_n_spoils; i++)
    for (int mode = 0; mode < N_MODES; mode++)
      cw_spoil_print_line(cw_spoil_line(cw_spoils[i].name, (CwMode)mode), falls[i][mode]);
}

int main(int argc, char **argv)
{
  bool table = false;
  for (int i = 1; i < argc; i++) {
    is_wordy |= strcmp(argv[i], "-v") == 0;
    table |= strcmp(argv[i], "--table") == 0;
  }
  static struct CMUnitTest tests[MOST_SPOILS];
  static char name[MOST_SPOILS][64];
  if (cw_n_spoils > MOST_SPOILS)
    return EXIT_FAILURE;
  for (size_t i = 0; i < cw_n_spoils; i++) {
    snprintf(name[i], sizeof name[i], "the_counts_stay_with_%s", cw_spoils[i].name);
    tests[i] = (struct CMUnitTest){
        .name = name[i], .test_func = the_counts_stay_in_a_spoilt_recording, .initial_state = (void *)&cw_spoils[i]};
  }
  int failed = _cmocka_run_group_tests("spoilt recordings", tests, cw_n_spoils, play_clean, forget);
  if (table)
    print_table();
  return failed;
}
