// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/midi.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/clean.h"

enum { META = 0xFF, TEMPO = 0x51, TIME_SIGNATURE = 0x58, END_OF_TRACK = 0x2F, DRUMS = 9, LONGEST_NUMBER = 4 };

/// A number in sevens of bits, the highest first, all but the last marked. @return Its length.
static size_t number_bytes(uint32_t number, uint8_t out[LONGEST_NUMBER])
{
  size_t n = 1;
  while (n < LONGEST_NUMBER && number >> (7 * n)) {
    n++;
  }
  for (size_t i = 0; i < n; i++) {
    out[i] = (uint8_t)(((number >> (7 * (n - 1 - i))) & 0x7F) | (i + 1 < n ? 0x80u : 0));
  }
  return n;
}

static void put_bytes(CwMidiTrack *track, const void *bytes, size_t n)
{
  if (track->failed || n == 0) {
    return;
  }
  while (track->bytes_capacity - track->n_bytes < n) {
    if (!cw_grow(&track->bytes, &track->bytes_capacity, track->bytes_capacity, 1)) {
      track->failed = true;
      return;
    }
  }
  memcpy(track->bytes + track->n_bytes, bytes, n);
  track->n_bytes += n;
}

/// An event of up to two runs of bytes.
static void add(CwMidiTrack *track, uint32_t tick, const void *head, size_t n_head, const void *rest, size_t n_rest)
{
  if (track->failed || !cw_grow(&track->event, &track->capacity, track->n, sizeof *track->event)) {
    track->failed = true;
    return;
  }
  track->event[track->n++] = (CwMidiEvent){tick, track->n_bytes, n_head + n_rest};
  put_bytes(track, head, n_head);
  put_bytes(track, rest, n_rest);
}

void cw_midi_add_text(CwMidiTrack *track, uint32_t tick, CwMidiText kind, const char *text)
{
  if (!text || !*text) {
    return;
  }
  char *clean = cw_clean_line(text);
  if (!clean) {
    track->failed = true;
    return;
  }
  const size_t length = strlen(clean) < CW_MIDI_LAST_TICK ? strlen(clean) : CW_MIDI_LAST_TICK;
  uint8_t head[2 + LONGEST_NUMBER] = {META, (uint8_t)kind};
  const size_t n = 2 + number_bytes((uint32_t)length, head + 2);
  add(track, tick, head, n, clean, length);
  free(clean);
}

void cw_midi_add_tempo(CwMidiTrack *track, uint32_t tick, uint32_t quarter_us)
{
  const uint8_t event[] = {
      META, TEMPO, 3, (uint8_t)(quarter_us >> 16), (uint8_t)(quarter_us >> 8), (uint8_t)quarter_us};
  add(track, tick, event, sizeof event, NULL, 0);
}

void cw_midi_add_metre(CwMidiTrack *track, uint32_t tick, unsigned metre, unsigned unit)
{
  uint8_t power = 0;
  while (unit >> (power + 1)) {
    power++;
  }
  // a click each beat, of 24 MIDI clocks to the quarter, which has eight thirty-seconds
  const uint8_t clocks = (uint8_t)(96 >> power ? 96 >> power : 1);
  const uint8_t event[] = {META, TIME_SIGNATURE, 4, (uint8_t)metre, power, clocks, 8};
  add(track, tick, event, sizeof event, NULL, 0);
}

void cw_midi_add_stroke(CwMidiTrack *track, uint32_t tick, uint32_t length, unsigned drum, unsigned velocity)
{
  const uint8_t on[] = {0x90 | DRUMS, (uint8_t)drum, (uint8_t)velocity};
  const uint8_t off[] = {0x80 | DRUMS, (uint8_t)drum, 0};
  add(track, tick, on, sizeof on, NULL, 0);
  add(track, tick + length, off, sizeof off, NULL, 0);
}

static void put_number(FILE *out, uint32_t number, int bytes)
{
  for (int shift = 8 * (bytes - 1); shift >= 0; shift -= 8) {
    fputc((int)((number >> shift) & 0xFF), out);
  }
}

static int by_tick(const void *left, const void *right)
{
  const CwMidiEvent *a = left;
  const CwMidiEvent *b = right;
  return a->tick != b->tick ? (a->tick < b->tick ? -1 : 1) : (a->begin > b->begin) - (a->begin < b->begin);
}

static uint32_t length_of(const CwMidiTrack *track, uint32_t last_tick)
{
  uint8_t delta[LONGEST_NUMBER];
  uint32_t before = 0;
  size_t length = track->n_bytes;
  for (size_t i = 0; i < track->n; i++) {
    length += number_bytes(track->event[i].tick - before, delta);
    before = track->event[i].tick;
  }
  return (uint32_t)(length + number_bytes(last_tick - before, delta) + 3);
}

static void write_track(const CwMidiTrack *track, uint32_t last_tick, FILE *out)
{
  uint8_t delta[LONGEST_NUMBER];
  uint32_t before = 0;
  fputs("MTrk", out);
  put_number(out, length_of(track, last_tick), 4);
  for (size_t i = 0; i < track->n; i++) {
    const CwMidiEvent *event = &track->event[i];
    fwrite(delta, 1, number_bytes(event->tick - before, delta), out);
    fwrite(track->bytes + event->begin, 1, event->length, out);
    before = event->tick;
  }
  fwrite(delta, 1, number_bytes(last_tick - before, delta), out);
  fwrite((const uint8_t[]){META, END_OF_TRACK, 0}, 1, 3, out);
}

CwStatus cw_midi_write(CwMidiTrack *track, size_t n, uint32_t last_tick, FILE *out)
{
  for (size_t i = 0; i < n; i++) {
    if (track[i].failed) {
      return CW_ERR_NO_MEM;
    }
    if (track[i].n) {
      qsort(track[i].event, track[i].n, sizeof *track[i].event, by_tick);
    }
  }
  fputs("MThd", out);
  put_number(out, 6, 4);
  put_number(out, 1, 2);
  put_number(out, (uint32_t)n, 2);
  put_number(out, CW_MIDI_QUARTER, 2);
  for (size_t i = 0; i < n; i++) {
    write_track(&track[i], last_tick, out);
  }
  return fflush(out) == 0 && !ferror(out) ? CW_OK : CW_ERR_WRITE;
}

void cw_midi_free(CwMidiTrack *track)
{
  free(track->event);
  free(track->bytes);
  *track = (CwMidiTrack){0};
}
