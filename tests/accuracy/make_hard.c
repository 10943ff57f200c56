// SPDX-License-Identifier: GPL-3.0-or-later
/// Write every hard case to a folder, as NAME.wav, NAME.beats, NAME.ones and NAME.notes.txt, to be heard and for
/// scripts/bench.
#include <stdio.h>
#include <stdlib.h>

#include "accuracy/clicks.h"
#include "accuracy/hard/notes_of.h"
#include "accuracy/hard/play.h"
#include "countwright/audio.h"

static bool write_beats(const CwHardTruth *truth, FILE *file)
{
  for (size_t i = 0, bar = 0; i < truth->n_beats; i++) {
    while (bar + 1 < truth->n_downbeats && truth->downbeat_s[bar] < truth->beat_s[i])
      bar++;
    fprintf(file, "%.4f\t%s\n", truth->beat_s[i], truth->downbeat_s[bar] == truth->beat_s[i] ? "db" : "b");
  }
  return fclose(file) == 0;
}

static bool write_ones(const CwHardTruth *truth, FILE *file)
{
  for (size_t k = 0; k < truth->n_phrases; k++)
    fprintf(file, "%.4f\t%zu\t%u\n", truth->one_s[k], k + 1, truth->counts[k]);
  return fclose(file) == 0;
}

static bool write_notes(const CwHardCase *hard, const CwHardTruth *truth, FILE *file)
{
  char *notes = cw_hard_notes(hard, truth, 0);
  bool good = notes != NULL && fputs(notes, file) >= 0;
  free(notes);
  return fclose(file) == 0 && good;
}

static FILE *create(const char *folder, const char *name, const char *ending)
{
  char path[512];
  snprintf(path, sizeof path, "%s/%s.%s", folder, name, ending);
  return fopen(path, "w");
}

static bool write_case(const char *folder, const CwHardCase *hard)
{
  char wav[512];
  snprintf(wav, sizeof wav, "%s/%s.wav", folder, hard->name);
  CwPlayed played;
  if (!cw_hard_play(hard, &played))
    return false;
  FILE *beats = create(folder, hard->name, "beats"), *ones = create(folder, hard->name, "ones");
  FILE *notes = create(folder, hard->name, "notes.txt");
  bool good = beats != NULL && write_beats(&played.truth, beats);
  good = ones != NULL && write_ones(&played.truth, ones) && good;
  good = notes != NULL && write_notes(hard, &played.truth, notes) && good;
  good = cw_wav_write(wav, played.sound.sample, played.sound.n, CW_ANALYSIS_RATE_HZ) && good;
  cw_played_free(&played);
  return good;
}

int main(int argc, char **argv)
{
  if (argc != 2) {
    fputs("usage: make_hard FOLDER\n", stderr);
    return 2;
  }
  for (size_t i = 0; i < cw_n_hard_cases; i++) {
    if (!write_case(argv[1], &cw_hard_cases[i])) {
      fprintf(stderr, "make_hard: cannot write '%s'\n", cw_hard_cases[i].name);
      return 1;
    }
  }
  return 0;
}
