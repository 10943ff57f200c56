// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/written.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/harmony.h"
#include "base/memory.h"

void *cw_must_new(size_t n, size_t size)
{
  void *memory = cw_new(n, size);
  if (memory == NULL && n > 0) {
    fprintf(stderr, "memory ran out\n");
    exit(EXIT_FAILURE);
  }
  return memory;
}

static bool wrong(const char *piece, const char *what, size_t bar, const char *where)
{
  fprintf(stderr, "%s: bar %zu: %s at '%.12s'\n", piece, bar + 1, what, where);
  return false;
}

bool cw_written_add(CwWritten *written, CwWrittenNote note)
{
  if (!cw_grow(&written->note, &written->capacity, written->n_notes, sizeof *written->note))
    return false;
  written->note[written->n_notes++] = note;
  return true;
}

/// "4/4*8 2/4": the bars, `times` over.
static bool read_bars(const CwPiece *piece, unsigned times, CwWritten *written)
{
  size_t capacity = 0;
  for (unsigned turn = 0; turn < times; turn++) {
    for (const char *at = piece->metres; *at;) {
      unsigned beats, unit, repeat = 1;
      int used = 0;
      if (sscanf(at, "%u/%u%n", &beats, &unit, &used) != 2 || beats == 0 || unit == 0)
        return wrong(piece->name, "expected a metre", written->n_bars, at);
      at += used;
      if (sscanf(at, "*%u%n", &repeat, &used) == 1)
        at += used;
      for (; repeat > 0; repeat--) {
        if (!cw_grow(&written->bar, &capacity, written->n_bars, sizeof *written->bar))
          return false;
        written->bar[written->n_bars++] = (CwWrittenBar){written->length, 4.0 * beats / unit};
        written->length += 4.0 * beats / unit;
      }
      at += strspn(at, " ");
    }
  }
  written->n_bars_once = written->n_bars / times;
  return true;
}

/// "f#4" as a MIDI number; moves `at` on. NaN when there is none.
static double read_pitch(const char **at)
{
  double pitch = cw_read_pitch_class(at);
  char *end;
  long octave = strtol(*at, &end, 10);
  if (isnan(pitch) || end == *at)
    return NAN;
  *at = end;
  return pitch + 12.0 * (double)(octave + 1);
}

double cw_read_length(const char **at, double before)
{
  if (**at != ':')
    return before;
  char *end;
  double length = strtod(*at + 1, &end);
  *at = end;
  return length;
}

/// Let the last notes of the melody sound on. @return false when there are none that end here.
static bool hold_on(CwWritten *written, double now, double length)
{
  bool held = false;
  for (size_t i = 0; i < written->n_notes; i++) {
    CwWrittenNote *note = &written->note[i];
    if (note->part == CW_MELODY && fabs(note->at + note->length - now) < 1e-6) {
      note->length += length;
      held = true;
    }
  }
  return held;
}

/// One note, chord, rest or "~" of the melody.
static bool read_melody_note(const char **at, double now, double *length, CwWritten *written)
{
  const size_t first = written->n_notes;
  const char head = **at;
  if (head == 'r' || head == '~') {
    (*at)++;
  } else {
    do {
      *at += **at == '+';
      double pitch = read_pitch(at);
      if (isnan(pitch) || !cw_written_add(written, (CwWrittenNote){now, 0, pitch, CW_MELODY}))
        return false;
    } while (**at == '+');
  }
  *length = cw_read_length(at, *length);
  for (size_t i = first; i < written->n_notes; i++)
    written->note[i].length = *length;
  return *length > 0 && (head != '~' || hold_on(written, now, *length));
}

/// The notes from `*at` to the end of the bar. @param[out] now Where they end.
static bool read_melody_bar(const char **at, double *now, double *length, CwWritten *written)
{
  for (*at += strspn(*at, " "); **at && **at != '|'; *at += strspn(*at, " ")) {
    if (!read_melody_note(at, *now, length, written))
      return false;
    *now += *length;
  }
  return true;
}

bool cw_next_bar(const char *text, const char **at, size_t bar, const CwWritten *written)
{
  const bool is_last = (bar + 1) % written->n_bars_once == 0;
  if ((**at != '|') != is_last)
    return false;
  *at = is_last ? text : *at + 1; // played again from the start
  return true;
}

static bool read_pick_up(const CwPiece *piece, CwWritten *written)
{
  if (piece->pick_up == NULL)
    return true;
  const char *at = piece->pick_up;
  double length = 1;
  if (!read_melody_bar(&at, &written->pick_up, &length, written))
    return wrong(piece->name, "pick-up: expected a note", 0, at);
  for (size_t i = 0; i < written->n_notes; i++)
    written->note[i].at -= written->pick_up;
  return true;
}

static bool read_melody(const CwPiece *piece, CwWritten *written)
{
  const char *at = piece->melody;
  double length = 1;
  for (size_t i = 0; i < written->n_bars; i++) {
    const CwWrittenBar *bar = &written->bar[i];
    double now = bar->at;
    if (!read_melody_bar(&at, &now, &length, written))
      return wrong(piece->name, "expected a note", i, at);
    if (fabs(now - bar->at - bar->length) > 1e-6)
      return wrong(piece->name, "the bar is not full", i, at);
    if (!cw_next_bar(piece->melody, &at, i, written))
      return wrong(piece->name, "more or fewer bars than metres", i, at);
  }
  return true;
}

bool cw_written_read(const CwPiece *piece, unsigned times, const char *style, CwWritten *written)
{
  *written = (CwWritten){.beat = piece->beat};
  if (read_bars(piece, times, written) && read_pick_up(piece, written) && read_melody(piece, written) &&
      cw_accompany(piece, style, written))
    return true;
  cw_written_free(written);
  return false;
}

void cw_written_free(CwWritten *written)
{
  free(written->note);
  free(written->bar);
  *written = (CwWritten){0};
}
