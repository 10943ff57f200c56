// SPDX-License-Identifier: GPL-3.0-or-later
/// What the learned ear hears: the compressed bands of the library's own analysis, made smaller.
///
///   spectrogram OUT_FOLDER FILE.wav...
///
/// writes OUT_FOLDER/FILE.u8: rows of bands, 50 a second, row k centred on k / 50 s; each byte is the band times SCALE.
/// - Bands are cw_compress()'s, those at or above MERGE_HZ averaged in pairs from there (a last odd one stays alone).
/// - Row k is a quarter of analysis frame 2k - 1, half of 2k and a quarter of 2k + 1; what lies outside repeats the end.
///
/// Also `spectrogram bands` lists the centre of each band in Hz. Built by hand against the library's objects.
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "countwright/features.h"
#include "dsp/compress.h"
#include "dsp/filter_bank.h"
#include "dsp/spectrum.h"

#define MERGE_HZ 1000.0
#define SCALE 24.0F // 0 ... 111; steps of 1/24 are far below what can be heard or learned

/// All samples of a recording, with half a long window of silence on either side.
typedef struct {
  float *samples;
  size_t n;
  size_t capacity;
} Sound;

static CwStatus sound_push(void *user, const float *samples, size_t n)
{
  Sound *sound = user;
  if (sound->n + n > sound->capacity) {
    sound->capacity = 2 * (sound->n + n) + 65536;
    float *grown = cw_resize(sound->samples, sound->capacity, sizeof *grown);
    if (!grown) {
      return CW_ERR_NO_MEM;
    }
    sound->samples = grown;
  }
  memcpy(sound->samples + sound->n, samples, n * sizeof *samples);
  sound->n += n;
  return CW_OK;
}

/// Average bands in pairs above MERGE_HZ. @return how many are left.
static size_t merge(const CwFilterBank *bank, const float *bands, float *merged)
{
  size_t n = 0;
  size_t b = 0;
  for (; b < bank->n_bands && bank->band[b].centre_hz < MERGE_HZ; b++) {
    merged[n++] = bands[b];
  }
  for (; b < bank->n_bands; b += 2) {
    merged[n++] = b + 1 < bank->n_bands ? 0.5F * (bands[b] + bands[b + 1]) : bands[b];
  }
  return n;
}

static void list_bands(const CwFilterBank *bank)
{
  float hz[CW_MAX_BANDS] = {0};
  float merged[CW_MAX_BANDS];
  for (size_t b = 0; b < bank->n_bands; b++) {
    hz[b] = (float)bank->band[b].centre_hz;
  }
  const size_t n = merge(bank, hz, merged);
  for (size_t b = 0; b < n; b++) {
    printf("%.3f\n", (double)merged[b]);
  }
}

/// The merged bands of every analysis frame.
static float *analyse(const CwFilterBank *bank, CwSpectrum *spectrum, const Sound *sound, size_t n_frames,
                      size_t *width)
{
  float *rows = cw_new(n_frames * CW_MAX_BANDS, sizeof *rows);
  CwCompressor compressor = {0};
  for (size_t i = 0; rows && i < n_frames; i++) {
    const size_t start = (i * CW_ANALYSIS_RATE_HZ + CW_FEATURE_RATE_HZ / 2) / CW_FEATURE_RATE_HZ;
    const float *long_bins = NULL;
    const float *short_bins = NULL;
    float bands[CW_MAX_BANDS] = {0};
    cw_spectrum_measure(spectrum, sound->samples + start, &long_bins, &short_bins);
    cw_filter_bank_apply(bank, long_bins, short_bins, bands);
    cw_compress(&compressor, bands, bank->n_bands);
    *width = merge(bank, bands, rows + i * CW_MAX_BANDS);
  }
  return rows;
}

static bool write_rows(const char *path, const float *rows, size_t n_frames, size_t width)
{
  FILE *out = fopen(path, "wb");
  if (!out) {
    return false;
  }
  for (size_t i = 0; i < n_frames; i += 2) {
    const float *here = rows + i * CW_MAX_BANDS;
    const float *before = i > 0 ? here - CW_MAX_BANDS : here;
    const float *after = i + 1 < n_frames ? here + CW_MAX_BANDS : here;
    for (size_t b = 0; b < width; b++) {
      fputc((int)(SCALE * (0.25F * before[b] + 0.5F * here[b] + 0.25F * after[b]) + 0.5F), out);
    }
  }
  return fclose(out) == 0;
}

static bool convert(const CwFilterBank *bank, CwSpectrum *spectrum, const char *folder, const char *path)
{
  static const float zeros[CW_LONG_WINDOW];
  Sound sound = {0};
  size_t width = 0;
  bool good = sound_push(&sound, zeros, CW_LONG_WINDOW / 2) == CW_OK &&
              cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, NULL, sound_push, &sound, NULL) == CW_OK;
  const size_t n_frames = good ? (sound.n - CW_LONG_WINDOW / 2) * CW_FEATURE_RATE_HZ / CW_ANALYSIS_RATE_HZ : 0;
  good = good && sound_push(&sound, zeros, CW_LONG_WINDOW) == CW_OK;
  float *rows = good ? analyse(bank, spectrum, &sound, n_frames, &width) : NULL;
  const char *name = strrchr(path, '/') ? strrchr(path, '/') + 1 : path;
  const char *dot = strrchr(name, '.');
  char out[4096];
  snprintf(out, sizeof out, "%s/%.*s.u8", folder, (int)(dot ? dot - name : (long)strlen(name)), name);
  good = rows && write_rows(out, rows, n_frames, width);
  free(rows);
  free(sound.samples);
  return good;
}

int main(int argc, char **argv)
{
  CwFilterBank bank;
  CwSpectrum *spectrum = NULL;
  if (argc < 2 || cw_filter_bank_init(&bank, CW_ANALYSIS_RATE_HZ) != 0 || cw_spectrum_new(&spectrum) != CW_OK) {
    return 2;
  }
  int failed = 0;
  if (strcmp(argv[1], "bands") == 0) {
    list_bands(&bank);
  }
  for (int i = 2; i < argc; i++) {
    if (!convert(&bank, spectrum, argv[1], argv[i])) {
      fprintf(stderr, "%s: failed\n", argv[i]);
      failed = 1;
    }
  }
  cw_spectrum_free(spectrum);
  cw_filter_bank_free(&bank);
  return failed;
}
