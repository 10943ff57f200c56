// SPDX-License-Identifier: GPL-3.0-or-later
/// Sounds whose features are known: tones, chords, clicks.
#ifndef CW_TEST_TONES_H
#define CW_TEST_TONES_H

#include <stddef.h>

/// Mono samples at CW_ANALYSIS_RATE_HZ. Release with sound_free().
typedef struct {
  float *sample;
  size_t n;
} Sound;

/// Silence of a given length.
Sound sound_new(double length_s);
/// `lead_s` of silence, then `sound`.
Sound sound_after_silence(const Sound *sound, double lead_s);
void sound_free(Sound *sound);

/// Frequency of a note, numbered as MIDI does (69 is A, 440 Hz: MIDI Tuning Standard).
double note_hz(double note);

/// A sine of constant amplitude, with ramps of 5 ms at both ends.
void add_tone(Sound *sound, double hz, double amplitude, double from_s, double to_s);
/// A held note: six harmonics, each weaker than the one below it.
void add_note(Sound *sound, double note, double amplitude, double from_s, double to_s);
/// A struck note: the same, dying away.
void add_struck_note(Sound *sound, double note, double amplitude, double from_s, double to_s);
/// A short bright sound that begins at once.
void add_click(Sound *sound, double amplitude, double at_s);
/// White noise, the same every time.
void add_noise(Sound *sound, double amplitude);

#endif
