// SPDX-License-Identifier: GPL-3.0-or-later
/// Recordings made for a test in MADE_FILE, which the test removes, and their reading.
#ifndef AUDIO_FILES_H
#define AUDIO_FILES_H

#include <stddef.h>

#include "countwright/audio.h"

/// A whole recording. Release with free(samples).
typedef struct {
  float *samples;
  size_t n;
  CwStatus status; ///< of the opening, or of the last read
  uint64_t bad_samples;
  bool truncated;
  int notices;
  char notice[512]; ///< the last
} Recording;

/// Write `n` frames of interleaved samples with libsndfile. @param format Such as SF_FORMAT_WAV | SF_FORMAT_PCM_16.
void write_sound(const char *path, int format, unsigned rate_hz, unsigned channels, const float *samples, size_t n);

/// Write `n` bytes.
void write_bytes(const char *path, const void *bytes, size_t n);

/// Read a file's bytes. Release with free().
unsigned char *read_bytes(const char *path, size_t *n);

/// Read a whole recording by `block` samples at a time.
Recording read_recording(const char *path, unsigned rate_hz, size_t block);

/// Add a pulse of half a millisecond at `time_s`, of height 0.75.
void add_pulse(float *mono, size_t n, unsigned rate_hz, double time_s);

/// The middle, in seconds, of the energy within `within_s` of `time_s`.
double pulse_time(const float *mono, size_t n, unsigned rate_hz, double time_s, double within_s);

/// A number from -1 to 1 from a generator that is the same everywhere.
float next_random(uint32_t *seed);

#endif
