// SPDX-License-Identifier: GPL-3.0-or-later
/// The sheet as a Standard MIDI File: a tempo map, markers at the ones, counts as strokes, steps as text.
#include <math.h>

#include "countwright/print.h"
#include "print/label.h"
#include "print/look.h"
#include "print/midi_time.h"
#include "print/words.h"

enum { TEMPO_TRACK, COUNTS_TRACK, STEPS_TRACK, N_TRACKS };

/// General MIDI's wood blocks.
enum { HIGH_BLOCK = 76, LOW_BLOCK = 77, LOUD = 112, SOFT = 80 };

/// A stroke is a thirty-second, or half a count where that is shorter.
static uint32_t stroke_ticks(const CwMidiPhrase *phrase)
{
  const uint32_t half = phrase->count_ticks / 2;
  return half < CW_MIDI_QUARTER / 8 ? half : CW_MIDI_QUARTER / 8;
}

static void put_marker(CwMidiTrack *track, const CwMidiPhrase *phrase)
{
  const char *section = phrase->row->section;
  CwBuffer text = {0};
  cw_buffer_join(&text, "", "%zu", phrase->number);
  if (section && *section) {
    cw_buffer_join(&text, " ", "%s", section);
  }
  track->failed = track->failed || text.failed;
  cw_midi_add_text(track, phrase->tick, CW_MIDI_MARKER, cw_buffer_text(&text));
  cw_buffer_free(&text);
}

static void put_counts(CwMidiTrack *track, const CwMidiPhrase *phrase, unsigned counts)
{
  for (unsigned i = 0; i < counts; i++) {
    const uint32_t tick = cw_midi_phrase_end(phrase, i);
    char label[CW_WORD_ROOM];
    cw_count_label(i + 1, label);
    cw_midi_add_text(track, tick, CW_MIDI_LYRIC, label);
    cw_midi_add_stroke(track, tick, stroke_ticks(phrase), i ? LOW_BLOCK : HIGH_BLOCK, i ? SOFT : LOUD);
  }
}

static void put_steps(CwMidiTrack *track, const CwMidiPhrase *phrase, uint32_t last_tick)
{
  for (size_t i = 0; i < phrase->row->n_steps; i++) {
    const CwStep *step = &phrase->row->step[i];
    const double tick = round(phrase->tick + (step->count - 1) * phrase->count_ticks);
    if (tick >= 0 && tick <= last_tick) {
      cw_midi_add_text(track, (uint32_t)tick, CW_MIDI_TEXT, step->text);
    }
  }
}

static void put_phrases(CwLanguage language, const CwCountLine *line, const CwMidiTime *time, CwMidiTrack *track)
{
  for (size_t p = 0; p < line->n_phrases; p++) {
    const CwMidiPhrase *phrase = &time->phrase[p];
    const unsigned counts = line->phrase[p].counts;
    if (!phrase->row) {
      continue;
    }
    put_marker(&track[TEMPO_TRACK], phrase);
    put_counts(&track[COUNTS_TRACK], phrase, counts);
    put_steps(&track[STEPS_TRACK], phrase, time->last_tick);
    const uint32_t end = cw_midi_phrase_end(phrase, counts);
    if (p + 1 < line->n_phrases && time->phrase[p + 1].tick > end) {
      cw_midi_add_text(&track[TEMPO_TRACK], end, CW_MIDI_MARKER, cw_label(language, "hold"));
    }
  }
}

CwStatus cw_sheet_midi(const CwSheet *sheet, const CwCountLine *line, const size_t *number, FILE *out)
{
  if (line->n_phrases == 0) {
    return CW_ERR_BAD_ARG;
  }
  CwMidiTrack track[N_TRACKS] = {0};
  CwMidiTime time = {0};
  const bool named = sheet->piece && *sheet->piece;
  cw_midi_add_text(&track[TEMPO_TRACK], 0, CW_MIDI_TRACK_NAME,
                   named ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  cw_midi_add_text(&track[COUNTS_TRACK], 0, CW_MIDI_TRACK_NAME, cw_label(sheet->labels, "Counts"));
  cw_midi_add_text(&track[STEPS_TRACK], 0, CW_MIDI_TRACK_NAME, cw_label(sheet->labels, "Steps"));
  CwStatus status = cw_midi_time_make(sheet, line, number, &track[TEMPO_TRACK], &time);
  if (status == CW_OK) {
    put_phrases(sheet->labels, line, &time, track);
    status = cw_midi_write(track, N_TRACKS, time.last_tick, out);
  }
  cw_midi_time_free(&time);
  for (size_t i = 0; i < N_TRACKS; i++) {
    cw_midi_free(&track[i]);
  }
  return status;
}
