// SPDX-License-Identifier: GPL-3.0-or-later
// For developers; scripts/bench-align runs it.
//   bench_align maps PAIRS RECORDINGS OUT NAME...   align NAME.a.wav to NAME.b.wav, write OUT/NAME.map
//   bench_align other RECORDINGS NAME...            align every NAME.a.wav to every other's NAME.b.wav
//   bench_align gains RECORDINGS NAME...            what the search for the music gathers, for the same pairs
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "align/jumps.h"
#include "align/time_map.h"
#include "countwright/align.h"

enum { PATH_SIZE = 1024, MOST_NAMES = 256 };

static CwAlignFeatures *read_recording(const char *folder, const char *name, char which)
{
  char path[PATH_SIZE];
  CwAlignFeatures *features = NULL;
  snprintf(path, sizeof path, "%s/%s.%c.wav", folder, name, which);
  const CwStatus status = cw_align_features_read(path, NULL, &features);
  if (status) {
    fprintf(stderr, "bench_align: %s: %s\n", path, cw_strerror(status));
    exit(EXIT_FAILURE);
  }
  return features;
}

static FILE *open_or_exit(const char *folder, const char *name, const char *end, const char *mode)
{
  char path[PATH_SIZE];
  snprintf(path, sizeof path, "%s/%s%s", folder, name, end);
  FILE *file = fopen(path, mode);
  if (!file) {
    perror(path);
    exit(EXIT_FAILURE);
  }
  return file;
}

/// The time in b of the next row of a table in the order of b: music of a that b repeats is in a later segment the
/// second time.
static double next_time(const CwTimeMap *map, double a_s, double *last_b_s)
{
  for (size_t s = 0; s < map->n_segments; s++) {
    const double b_s = cw_map_segment_at(&map->segment[s], a_s);
    if (cw_map_segment_holds(&map->segment[s], a_s) && b_s > *last_b_s) {
      *last_b_s = b_s;
      return b_s;
    }
  }
  return NAN;
}

/// One line for each row of the truth: the time in b of its third column, or "-".
/// How sure each is goes to `sure` in the same way.
static void write_map(const CwTimeMap *map, FILE *truth, FILE *out, FILE *sure)
{
  char line[256];
  double last_b_s = -1;
  while (fgets(line, sizeof line, truth)) {
    double a_s = 0;
    if (sscanf(line, "%*s %*s %lf", &a_s) != 1) {
      continue; // the head
    }
    const double b_s = next_time(map, a_s, &last_b_s);
    if (isnan(b_s)) {
      fputs("-\n", out);
      fputs("-\n", sure);
    } else {
      fprintf(sure, "%.4f\n", cw_time_map_sure(map, a_s));
      fprintf(out, "%.4f\n", b_s);
    }
  }
}

static void print_map(const char *name, CwStatus status, const CwTimeMap *map)
{
  printf("%-24s %s; tuning %+.0f cents, heard %+.0f ms later;", name, cw_strerror(status), map->tuning_cents,
         1000 * map->offset_s);
  for (size_t s = 0; s < map->n_segments; s++) {
    const CwMapPoint *point = map->segment[s].point;
    const CwMapPoint *last = &point[map->segment[s].n - 1];
    printf(" %.2f-%.2f at %.2f-%.2f", point->a_s, last->a_s, point->b_s, last->b_s);
  }
  printf("\n");
}

static int write_maps(const char *pairs, const char *recordings, const char *out_folder, char **name, int n)
{
  for (int i = 0; i < n; i++) {
    CwAlignFeatures *a = read_recording(recordings, name[i], 'a');
    CwAlignFeatures *b = read_recording(recordings, name[i], 'b');
    CwTimeMap map;
    print_map(name[i], cw_align(a, b, NULL, &map), &map);
    FILE *truth = open_or_exit(pairs, name[i], "/beats.tsv", "r");
    FILE *out = open_or_exit(out_folder, name[i], ".map", "w");
    FILE *sure = open_or_exit(out_folder, name[i], ".sure", "w");
    write_map(&map, truth, out, sure);
    fclose(sure);
    fclose(truth);
    fclose(out);
    cw_time_map_free(&map);
    cw_align_features_free(a);
    cw_align_features_free(b);
  }
  return EXIT_SUCCESS;
}

static int compare_all(const char *recordings, char **name, int n)
{
  CwAlignFeatures *a[MOST_NAMES];
  CwAlignFeatures *b[MOST_NAMES];
  int false_alarms = 0;
  int misses = 0;
  for (int i = 0; i < n; i++) {
    a[i] = read_recording(recordings, name[i], 'a');
    b[i] = read_recording(recordings, name[i], 'b');
  }
  for (int i = 0; i < n * n; i++) {
    const bool same = i / n == i % n;
    CwTimeMap map;
    const bool taken = cw_align(a[i / n], b[i % n], NULL, &map) == CW_OK;
    if (taken != same) {
      printf("%s and %s: %s\n", name[i / n], name[i % n],
             taken ? "taken for the same music" : "not found to be the same");
      *(taken ? &false_alarms : &misses) += 1;
    }
    cw_time_map_free(&map);
  }
  printf("%d of %d pairs of other music taken for the same, %d of %d of the same missed\n", false_alarms, n * (n - 1),
         misses, n);
  for (int i = 0; i < n; i++) {
    cw_align_features_free(a[i]);
    cw_align_features_free(b[i]);
  }
  return EXIT_SUCCESS;
}

/// What is gathered at best, as src/align/align.c looks for it: how much the two are the same music.
static double best_gain(const CwAlignFeatures *a, const CwAlignFeatures *b)
{
  static const int transpositions[] = {0, 1, -1, 2, -2};
  enum { STEP = 10 };
  double best = 0;
  for (size_t t = 0; t < 5; t++) {
    CwFrames a_frames;
    CwFrames b_frames;
    CwTrail trail;
    if (cw_frames_thin(a, STEP, 2, 0, 0.2, &a_frames) ||
        cw_frames_thin(b, STEP, 2, transpositions[t], 0.2, &b_frames) ||
        cw_jumps_find(&a_frames, &b_frames, (double)CW_ALIGN_RATE_HZ / STEP, NULL, &trail)) {
      exit(EXIT_FAILURE);
    }
    best = fmax(best, trail.gain);
    cw_trail_free(&trail);
    cw_frames_free(&a_frames);
    cw_frames_free(&b_frames);
  }
  return best;
}

static int print_gains(const char *recordings, char **name, int n)
{
  CwAlignFeatures *b[MOST_NAMES];
  for (int i = 0; i < n; i++) {
    b[i] = read_recording(recordings, name[i], 'b');
  }
  for (int i = 0; i < n; i++) {
    CwAlignFeatures *a = read_recording(recordings, name[i], 'a');
    for (int j = 0; j < n; j++) {
      printf("%s %s %.4f\n", name[i], name[j], best_gain(a, b[j]));
    }
    cw_align_features_free(a);
  }
  for (int i = 0; i < n; i++) {
    cw_align_features_free(b[i]);
  }
  return EXIT_SUCCESS;
}

int main(int argc, char **argv)
{
  if (argc > 5 && strcmp(argv[1], "maps") == 0) {
    return write_maps(argv[2], argv[3], argv[4], argv + 5, argc - 5);
  }
  if (argc > 3 && argc - 3 <= MOST_NAMES && strcmp(argv[1], "other") == 0) {
    return compare_all(argv[2], argv + 3, argc - 3);
  }
  if (argc > 3 && argc - 3 <= MOST_NAMES && strcmp(argv[1], "gains") == 0) {
    return print_gains(argv[2], argv + 3, argc - 3);
  }
  fputs("usage: bench_align maps PAIRS RECORDINGS OUT NAME... | other RECORDINGS NAME... | gains RECORDINGS NAME...\n",
        stderr);
  return 2;
}
