// SPDX-License-Identifier: GPL-3.0-or-later
/// A small synthesiser: single notes of instruments whose attacks differ as those of real ones do.
#ifndef CW_TEST_HARD_VOICES_H
#define CW_TEST_HARD_VOICES_H

#include "unit/dsp/tones.h"

typedef enum {
  CW_STRUCK,  ///< piano: hammer, slightly stretched partials that die away, the high ones first
  CW_PLUCKED, ///< pizzicato: a short dark pluck
  CW_BOWED,   ///< a group of strings: swells in 50 to 110 ms, vibrato
  CW_WIND,    ///< clarinet-like: 40 ms, odd partials, breath
} CwVoice;

/// Add a note. Its attack begins exactly at `from_s`; it is let go at `to_s` and dies away after it.
/// @param pitch As MIDI numbers it. @param loudness Amplitude of its first partial, about.
/// @param seed Of what is chance in it: the same note twice is never the same.
void cw_voice_play(Sound *sound, CwVoice voice, double pitch, double loudness, double from_s, double to_s,
                   unsigned seed);

/// Add the sound of a room: echoes that die away in about `decay_s`, `wet` of the sound itself.
void cw_voice_room(Sound *sound, double decay_s, double wet);

#endif
