// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/midi_time.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"

/// A sixty-fourth, the shortest note that bars are made of here.
enum { GRAIN = CW_MIDI_QUARTER / 16, MOST_BEATS = 255 };

/// Gaps under this many seconds are none.
#define NO_GAP_S 1e-6

/// Where the layout has come to.
typedef struct {
  CwMidiTrack *track;
  double now_s;  ///< where the ticks so far end when played, whole microseconds in each quarter
  uint32_t tick; ///< and how many they are
  uint32_t bars; ///< tick from which the bars count
  unsigned metre;
  unsigned metre_unit;
  unsigned told_metre; ///< the time signature in force
  unsigned told_unit;
  bool too_long;
} Walk;

/// Play the next ticks until a time. What rounding leaves over, the next ticks make up for.
static void go_on(Walk *walk, uint32_t ticks, double until_s)
{
  if (walk->too_long || ticks > CW_MIDI_LAST_TICK - walk->tick) {
    walk->too_long = true;
    return;
  }
  const double quarters = (double)ticks / CW_MIDI_QUARTER;
  const double quarter_us = round(fmax(1, fmin(CW_MIDI_SLOWEST_US, (until_s - walk->now_s) * 1e6 / quarters)));
  cw_midi_add_tempo(walk->track, walk->tick, (uint32_t)quarter_us);
  walk->now_s += quarter_us * quarters / 1e6;
  walk->tick += ticks;
}

static uint32_t bar_ticks(const Walk *walk)
{
  return walk->metre * (4 * CW_MIDI_QUARTER / walk->metre_unit);
}

static void tell_metre(Walk *walk, uint32_t tick, unsigned metre, unsigned unit)
{
  if (metre != walk->told_metre || unit != walk->told_unit) {
    cw_midi_add_metre(walk->track, tick, metre, unit);
    walk->told_metre = metre;
    walk->told_unit = unit;
  }
}

/// A bar of its own for ticks that fill none.
static void tell_short_bar(Walk *walk, uint32_t tick, uint32_t ticks)
{
  for (unsigned unit = 4; unit <= 64; unit *= 2) {
    const uint32_t beat = 4 * CW_MIDI_QUARTER / unit;
    if (ticks > 0 && ticks % beat == 0 && ticks / beat <= MOST_BEATS) {
      tell_metre(walk, tick, ticks / beat, unit);
      return;
    }
  }
}

/// End the bars here, so that the next begins one. @param first Whether what is left over comes first: a pick-up.
static void end_bars(Walk *walk, bool first)
{
  if (walk->metre && walk->tick > walk->bars && !walk->too_long) {
    const uint32_t left = (walk->tick - walk->bars) % bar_ticks(walk);
    const bool whole = walk->tick - walk->bars > left;
    if (first) {
      tell_short_bar(walk, walk->bars, left);
    }
    if (whole) {
      tell_metre(walk, walk->bars + (first ? left : 0), walk->metre, walk->metre_unit);
    }
    if (!first) {
      tell_short_bar(walk, walk->tick - left, left);
    }
  }
  walk->bars = walk->tick;
}

/// Time without counts, at about the tempo of a phrase beside it.
static void pass_gap(Walk *walk, double until_s, double quarter_s, bool first)
{
  if (!(until_s > walk->now_s + NO_GAP_S)) {
    return;
  }
  const double gap_s = until_s - walk->now_s;
  double quarters = round(gap_s / quarter_s);
  if (quarters < 1) {
    quarters = fmax(1, round(gap_s / quarter_s * CW_MIDI_QUARTER / GRAIN)) * GRAIN / CW_MIDI_QUARTER;
  }
  quarters = fmax(quarters, ceil(gap_s * 1e6 / CW_MIDI_SLOWEST_US));
  const bool fits = quarters * CW_MIDI_QUARTER < CW_MIDI_LAST_TICK;
  walk->too_long = walk->too_long || !fits;
  go_on(walk, fits ? (uint32_t)round(quarters * CW_MIDI_QUARTER) : 0, until_s);
  end_bars(walk, first);
}

/// Bars and counts as they are at a row of the sheet.
typedef struct {
  unsigned metre;
  unsigned metre_unit;
  double beats_per_count;
} Bars;

static Bars bars_of(unsigned metre, unsigned unit, double beats_per_count)
{
  Bars bars = {metre <= MOST_BEATS ? metre : 0, unit, beats_per_count > 0 ? beats_per_count : 1};
  if (unit == 0 || unit > 64 || (unit & (unit - 1)) != 0) {
    bars.metre_unit = 4; // a beat is a quarter where nobody says
  }
  return bars;
}

/// The bars of row `i`, from what the rows up to it change.
static Bars bars_at(const CwSheet *sheet, const CwCountLine *line, size_t i, Bars *so_far, size_t *done)
{
  if (*done == 0 || i < *done - 1) { // another order than that of the sheet
    const double beats = sheet->beats_per_count > 0 ? sheet->beats_per_count : line->beats_per_count;
    *so_far = bars_of(sheet->metre ? sheet->metre : line->metre, sheet->metre_unit, beats);
    *done = 0;
  }
  for (; *done <= i && *done < sheet->n_rows; (*done)++) {
    const CwSheetRow *row = &sheet->row[*done];
    const double beats = row->beats_per_count > 0 ? row->beats_per_count : so_far->beats_per_count;
    *so_far =
        row->metre ? bars_of(row->metre, row->metre_unit, beats) : bars_of(so_far->metre, so_far->metre_unit, beats);
  }
  return *so_far;
}

static double quarter_of(const CwCountLine *line, size_t p, const CwMidiPhrase *phrase)
{
  const double length_s = line->phrase[p].end_s - cw_count_line_start(line, p);
  return length_s * CW_MIDI_QUARTER / ((double)phrase->count_ticks * line->phrase[p].counts);
}

static void pass_counts(Walk *walk, const CwCountLine *line, size_t p, CwMidiPhrase *phrase)
{
  const CwPhrase *its = &line->phrase[p];
  phrase->tick = walk->tick;
  for (unsigned i = 0; i < its->counts && !walk->too_long; i++) {
    const size_t next = its->first_count + i + 1;
    go_on(walk, phrase->count_ticks, i + 1 < its->counts ? line->count_s[next] : its->end_s);
  }
}

static void lay_out(const CwSheet *sheet, const CwCountLine *line, const size_t *number, Walk *walk, CwMidiTime *time)
{
  Bars bars = {0};
  size_t done = 0;
  double quarter_s = 0.5;
  for (size_t p = 0; p < line->n_phrases && !walk->too_long; p++) {
    CwMidiPhrase *phrase = &time->phrase[p];
    phrase->number = number ? number[p] : p + 1;
    const size_t first = sheet->n_rows ? sheet->row[0].number : 1; // the sheet may have a passage of the whole only
    const size_t i = phrase->number > first ? phrase->number - first : 0;
    phrase->row = phrase->number >= first && i < sheet->n_rows ? &sheet->row[i] : NULL;
    bars = bars_at(sheet, line, i, &bars, &done);
    phrase->metre = bars.metre;
    phrase->metre_unit = bars.metre_unit;
    phrase->count_ticks = (uint32_t)fmax(1, fmin(1e7, bars.beats_per_count * 4 * CW_MIDI_QUARTER / bars.metre_unit));
    const bool gap = cw_count_line_start(line, p) > walk->now_s + NO_GAP_S;
    if (walk->tick > walk->bars && (gap || bars.metre != walk->metre || bars.metre_unit != walk->metre_unit)) {
      end_bars(walk, false);
    }
    walk->metre = bars.metre;
    walk->metre_unit = bars.metre_unit;
    pass_gap(walk, cw_count_line_start(line, p), p ? quarter_s : quarter_of(line, p, phrase), p == 0);
    quarter_s = quarter_of(line, p, phrase);
    pass_counts(walk, line, p, phrase);
  }
  end_bars(walk, false);
  pass_gap(walk, line->duration_s, quarter_s, false);
}

CwStatus cw_midi_time_make(const CwSheet *sheet, const CwCountLine *line, const size_t *number, CwMidiTrack *track,
                           CwMidiTime *time)
{
  *time = (CwMidiTime){.phrase = cw_new(line->n_phrases, sizeof *time->phrase)};
  if (!time->phrase) {
    return CW_ERR_NO_MEM;
  }
  Walk walk = {.track = track};
  lay_out(sheet, line, number, &walk, time);
  time->last_tick = walk.tick;
  if (walk.too_long) {
    cw_midi_time_free(time);
    return CW_ERR_TOO_LONG;
  }
  return CW_OK;
}

uint32_t cw_midi_phrase_end(const CwMidiPhrase *phrase, unsigned counts)
{
  return phrase->tick + counts * phrase->count_ticks;
}

void cw_midi_time_free(CwMidiTime *time)
{
  free(time->phrase);
  *time = (CwMidiTime){0};
}
