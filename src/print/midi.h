// SPDX-License-Identifier: GPL-3.0-or-later
/// Tracks of a Standard MIDI File, by the Standard MIDI Files Specification 1.0 (MIDI Manufacturers Association, 1988).
#ifndef CW_PRINT_MIDI_H
#define CW_PRINT_MIDI_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "countwright/status.h"

/// Ticks of a quarter note: divisible by 2, 3, 4, 5, 6, 8 and 16.
enum { CW_MIDI_QUARTER = 960 };

/// The latest tick that a file can tell, and the longest quarter in microseconds.
#define CW_MIDI_LAST_TICK 0x0FFFFFFFu
#define CW_MIDI_SLOWEST_US 0xFFFFFFu

/// Texts by their meta event.
typedef enum { CW_MIDI_TEXT = 1, CW_MIDI_TRACK_NAME = 3, CW_MIDI_LYRIC = 5, CW_MIDI_MARKER = 6 } CwMidiText;

/// An event of a track.
typedef struct {
  uint32_t tick;
  size_t begin; ///< of its bytes
  size_t length;
} CwMidiEvent;

/// A track; zero it to begin. Events may be added in any order; those of one tick stay in the order they were added in.
typedef struct {
  CwMidiEvent *event;
  size_t n;
  size_t capacity;
  uint8_t *bytes;
  size_t n_bytes;
  size_t bytes_capacity;
  bool failed; ///< an allocation failed; what was added since is lost
} CwMidiTrack;

/// Add a text, cleaned (clean.h). NULL or an empty one adds nothing.
void cw_midi_add_text(CwMidiTrack *track, uint32_t tick, CwMidiText kind, const char *text);

/// Add the length of a quarter in microseconds, 1 to CW_MIDI_SLOWEST_US.
void cw_midi_add_tempo(CwMidiTrack *track, uint32_t tick, uint32_t quarter_us);

/// Add a time signature. @param unit 4 in 3/4; a power of two.
void cw_midi_add_metre(CwMidiTrack *track, uint32_t tick, unsigned metre, unsigned unit);

/// Add a short stroke on General MIDI's drum channel, and where it ends.
void cw_midi_add_stroke(CwMidiTrack *track, uint32_t tick, uint32_t length, unsigned drum, unsigned velocity);

/// Sort the events and write a file of format 1: tracks that are played together, the first with the tempo map.
/// @param last_tick Where all tracks end; not before any event.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM (also when a track has failed).
CW_NODISCARD CwStatus cw_midi_write(CwMidiTrack *track, size_t n, uint32_t last_tick, FILE *out);

/// Release and set to empty.
void cw_midi_free(CwMidiTrack *track);

#endif
