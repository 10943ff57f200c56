// SPDX-License-Identifier: GPL-3.0-or-later
/// Click tracks whose clicks are known to the sample, and noise with no pulse.
#ifndef CW_TEST_CLICKS_H
#define CW_TEST_CLICKS_H

#include <stdbool.h>
#include <stddef.h>

/// What a click track is.
typedef struct {
  const char *name;
  double length_s;
  double start_bpm;       ///< clicks a minute at the start
  double end_bpm;         ///< at the end; the tempo changes evenly with time, or at once at jump_at_s
  double jump_at_s;       ///< 0: no jump
  double pause_at_s;      ///< no click from here ...
  double pause_s;         ///< ... for so long; 0: no pause
  unsigned metre;         ///< clicks from accent to accent; 0: all alike
  unsigned second_accent; ///< place in the bar of a weaker accent; 0: none
  double noise_db;        ///< signal to noise ratio by mean power; 0: only the faint hiss of any recording
  bool digital_silence;   ///< not even hiss between the clicks
} CwClickSpec;

/// Every click track of the tests.
extern const CwClickSpec cw_click_specs[];
extern const size_t cw_n_click_specs;

/// A rendered click track. Release with cw_click_track_free().
typedef struct {
  float *sample; ///< mono
  size_t n_samples;
  double *click_s; ///< when each click begins
  bool *accent;    ///< it is the first of a bar
  size_t n_clicks;
} CwClickTrack;

/// Render a click track at a sample rate. @return false when memory ran out.
bool cw_click_track_make(const CwClickSpec *spec, unsigned rate_hz, CwClickTrack *track);

/// The click track called `name`, or NULL.
const CwClickSpec *cw_click_spec(const char *name);

void cw_click_track_free(CwClickTrack *track);

/// Add noise of a given root mean square: white, or pink (as much power in every octave). The same every time.
void cw_noise_add(float *sample, size_t n, double rms, bool pink);

/// Write mono 16 bit samples to a WAV file. @return false on failure.
bool cw_wav_write(const char *path, const float *sample, size_t n, unsigned rate_hz);

#endif
