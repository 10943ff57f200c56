// SPDX-License-Identifier: GPL-3.0-or-later
/// The plain ear's cues of beats at true beats and between them, for fit_cues.py to weigh.
///
///   cues NAME.wav...   (NAME.beats beside each: seconds TAB db|b)
///
/// prints, for each pair of beats 0.2 to 6 s apart, a line for the beat and for five places between it and the next (a
/// half, the thirds, the quarters): file, pair, place, then the cues all, slow, low, harmonic (as activation.c joins
/// them). Built by hand against the library's objects; activation.c is part of it, since its cues are its own affair.
#include <stdio.h>

#include "pulse/activation.c" // NOLINT: for what is static there

/// Write what the cues are about a time: where they come to most, within `reach` frames.
static void print_place(const Cues *cues, size_t n, double time_s, size_t reach)
{
  const size_t middle = (size_t)lround(time_s * CW_FEATURE_RATE_HZ);
  float best[4] = {0};
  float most = -1;
  for (size_t i = middle > reach ? middle - reach : 0; i <= middle + reach && i < n; i++) {
    const float change = fminf(cues->harmonic[i], 2.5F) * fminf(cues->slow[i], 1.0F);
    const float sum =
        WEIGHT_ALL * cues->all[i] + WEIGHT_SLOW * cues->slow[i] + WEIGHT_LOW * cues->low[i] + WEIGHT_HARMONIC * change;
    if (sum > most) {
      most = sum;
      best[0] = cues->all[i];
      best[1] = cues->slow[i];
      best[2] = cues->low[i];
      best[3] = change;
    }
  }
  printf("\t%g\t%g\t%g\t%g\n", (double)best[0], (double)best[1], (double)best[2], (double)best[3]);
}

static void print_pairs(const char *name, FILE *beats, const Cues *cues, size_t n)
{
  static const double place[] = {0, 0.5, 1.0 / 3, 2.0 / 3, 0.25, 0.75};
  char line[200];
  double before = -1;
  for (size_t pair = 0; fgets(line, sizeof line, beats); pair++) {
    const double at = strtod(line, NULL);
    for (size_t k = 0; k < 6 && before >= 0 && at - before > 0.2 && at - before < 6; k++) {
      printf("%s\t%zu\t%zu", name, pair, k);
      print_place(cues, n, before + place[k] * (at - before), k == 0 ? 2 : 1);
    }
    before = at;
  }
}

int main(int argc, char **argv)
{
  for (int i = 1; i < argc; i++) {
    CwFeatures features;
    Cues cues;
    char truth[4096];
    snprintf(truth, sizeof truth, "%.*s.beats", (int)strlen(argv[i]) - 4, argv[i]);
    FILE *beats = fopen(truth, "r");
    if (!beats || cw_features_read(argv[i], NULL, &features) != CW_OK || !cues_make(&features, &cues)) {
      fprintf(stderr, "cues: '%s' or its beats cannot be read\n", argv[i]);
      return 1;
    }
    print_pairs(argv[i], beats, &cues, features.n_frames);
    fclose(beats);
    cues_free(&cues);
    cw_features_free(&features);
  }
  return 0;
}
