// SPDX-License-Identifier: GPL-3.0-or-later
/// Write every click track of the tests to a folder, as NAME.wav and NAME.beats, for scripts/bench.
#include <stdio.h>
#include <stdlib.h>

#include "accuracy/clicks.h"

enum { RATE_HZ = 44100 };

static bool write_truth(const char *path, const CwClickTrack *track)
{
  FILE *file = fopen(path, "w");
  if (file == NULL)
    return false;
  for (size_t i = 0; i < track->n_clicks; i++)
    fprintf(file, "%.4f\t%s\n", track->click_s[i], track->accent[i] ? "db" : "b");
  return fclose(file) == 0;
}

static bool write_track(const char *folder, const CwClickSpec *spec)
{
  char wav[512], beats[512];
  snprintf(wav, sizeof wav, "%s/%s.wav", folder, spec->name);
  snprintf(beats, sizeof beats, "%s/%s.beats", folder, spec->name);
  CwClickTrack track;
  if (!cw_click_track_make(spec, RATE_HZ, &track))
    return false;
  bool good = cw_wav_write(wav, track.sample, track.n_samples, RATE_HZ) && write_truth(beats, &track);
  cw_click_track_free(&track);
  return good;
}

int main(int argc, char **argv)
{
  if (argc != 2) {
    fputs("usage: make_clicks FOLDER\n", stderr);
    return 2;
  }
  for (size_t i = 0; i < cw_n_click_specs; i++) {
    if (!write_track(argv[1], &cw_click_specs[i])) {
      fprintf(stderr, "make_clicks: cannot write '%s'\n", cw_click_specs[i].name);
      return 1;
    }
  }
  return 0;
}
