// SPDX-License-Identifier: GPL-3.0-or-later
/// A count line laid out in the ticks of a MIDI file, so that each count falls at its second and each one on a bar line
/// where the notes know of bars.
#ifndef CW_PRINT_MIDI_TIME_H
#define CW_PRINT_MIDI_TIME_H

#include "countwright/sheet.h"
#include "print/midi.h"

/// A phrase in ticks.
typedef struct {
  const CwSheetRow *row; ///< NULL when the sheet does not have it
  size_t number;
  uint32_t tick;        ///< of its one
  uint32_t count_ticks; ///< of each of its counts
  unsigned metre;       ///< beats in a bar; 0 when not known
  unsigned metre_unit;
} CwMidiPhrase;

/// The whole line. Release with cw_midi_time_free().
typedef struct {
  CwMidiPhrase *phrase; ///< one for each of the line
  uint32_t last_tick;   ///< of the recording's end
} CwMidiTime;

/// Lay a line out; tempo and time signatures go to `track`.
/// @param number The number of each phrase; NULL: from 1 on.
/// @return CW_OK, CW_ERR_TOO_LONG (more ticks than a file can tell) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_midi_time_make(const CwSheet *sheet, const CwCountLine *line, const size_t *number,
                                        CwMidiTrack *track, CwMidiTime *time);

/// The ticks after a phrase's last count, where its hold begins.
uint32_t cw_midi_phrase_end(const CwMidiPhrase *phrase, unsigned counts);

/// Release and set to empty.
void cw_midi_time_free(CwMidiTime *time);

#endif
