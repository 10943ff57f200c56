// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/harmony.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { CHORD_NOTES = 4 };

typedef struct {
  double at;   ///< in crotchets
  bool struck; ///< false: held over from the bar before
  double bass, fifth;
  double note[CHORD_NOTES]; ///< ascending, around middle C
} Chord;

typedef struct {
  Chord *chord;
  size_t n, capacity;
} Harmony;

/// What is played in a bar: "B" the bass, "b" its fifth, "C" the chord, "1" to "4" its notes; lengths as in a melody.
typedef struct {
  const char *style;
  double length, beat; ///< of the bar and the beat, in crotchets
  const char *text;
} Pattern;

static const Pattern patterns[] = {
    {"stride", 2, 1, "B:1 C"},
    {"stride", 3, 1, "B:1 C C"},
    {"stride", 4, 1, "B:1 C b C"},
    {"stride", 5, 1, "B:1 C C b C"},
    {"stride", 3, 1.5, "B:1 C:.5 b:1 C:.5"},
    {"broken", 2, 1, "B:.5 2 3 2"},
    {"broken", 3, 1, "B:.5 2 3 4 3 2"},
    {"broken", 4, 1, "B:.5 2 3 2 b 2 3 2"},
    {"broken", 5, 1, "B:.5 2 3 4 3 2 b 2 3 2"},
    {"broken", 3, 1.5, "B:.5 2 3 b 3 2"},
    {"pad", 2, 1, "B+C:2"},
    {"pad", 3, 1, "B+C:3"},
    {"pad", 4, 1, "B+C:4"},
    {"pad", 5, 1, "B+C:3 b+C:2"},
    {"pad", 3, 1.5, "B+C:3"},
    {"half", 2, 1, "B+C:2"},
    {"half", 3, 1, "B+C:2 C:1"},
    {"half", 4, 1, "B+C:2 b+C"},
    {"half", 5, 1, "B+C:3 b+C:2"},
    {"half", 3, 1.5, "B+C:1.5 b+C"},
};

double cw_read_pitch_class(const char **at)
{
  static const char letters[] = "c d ef g a b";
  const char *place = **at && **at != ' ' ? strchr(letters, tolower((unsigned char)**at)) : NULL;
  if (place == NULL)
    return NAN;
  double pitch = (double)(place - letters);
  for ((*at)++; **at == '#' || **at == 'b'; (*at)++)
    pitch += **at == '#' ? 1 : -1;
  return pitch;
}

/// The notes of a chord, each in the octave from g3 up, so that chords follow each other closely.
static void voice_chord(double root, const double third_fifth_seventh[3], Chord *chord)
{
  chord->bass = 36 + fmod(root + 8, 12) + 4; // e2 to d#3
  chord->fifth = chord->bass + third_fifth_seventh[1] - (third_fifth_seventh[1] + chord->bass > 50 ? 12 : 0);
  for (int i = 0; i < CHORD_NOTES; i++)
    chord->note[i] = 55 + fmod(root + (i == 0 ? 0 : third_fifth_seventh[i - 1]) + 17, 12);
  for (int i = 1; i < CHORD_NOTES; i++)
    for (int k = i; k > 0 && chord->note[k] < chord->note[k - 1]; k--) {
      double higher = chord->note[k - 1];
      chord->note[k - 1] = chord->note[k];
      chord->note[k] = higher;
    }
}

/// "F#m", "Bb7", "Edim". @return false when it is no chord.
static bool read_chord(const char **at, Chord *chord)
{
  if (!isupper((unsigned char)**at))
    return false;
  double root = cw_read_pitch_class(at);
  if (isnan(root))
    return false;
  const bool dim = strncmp(*at, "dim", 3) == 0;
  const bool minor = !dim && **at == 'm';
  *at += dim ? 3 : minor;
  const bool seventh = **at == '7';
  *at += seventh;
  voice_chord(root, (double[]){dim || minor ? 3 : 4, dim ? 6 : 7, seventh ? 10 : 12}, chord);
  return true;
}

static size_t tokens_in_bar(const char *at)
{
  size_t n = 0;
  for (at += strspn(at, " "); *at && *at != '|'; at += strspn(at, " ")) {
    n++;
    at += strcspn(at, " |");
  }
  return n;
}

/// The chords of one bar. @return false when a chord is wrong or the bar is not full.
static bool read_bar(const char **at, const CwWrittenBar *bar, Harmony *harmony)
{
  double now = bar->at, length = bar->length / fmax(1, (double)tokens_in_bar(*at));
  for (*at += strspn(*at, " "); **at && **at != '|'; *at += strspn(*at, " ")) {
    if (!cw_grow(&harmony->chord, &harmony->capacity, harmony->n, sizeof *harmony->chord))
      return false;
    Chord *chord = &harmony->chord[harmony->n];
    const bool held = **at == '~' && harmony->n > 0;
    if (held) {
      *chord = chord[-1];
      (*at)++;
    } else if (!read_chord(at, chord)) {
      return false;
    }
    chord->at = now;
    chord->struck = !held;
    harmony->n++;
    length = cw_read_length(at, length);
    now += length;
  }
  return fabs(now - bar->at - bar->length) < 1e-6;
}

static bool read_harmony(const CwPiece *piece, const CwWritten *written, Harmony *harmony)
{
  const char *at = piece->harmony;
  for (size_t i = 0; i < written->n_bars; i++)
    if (!read_bar(&at, &written->bar[i], harmony) || !cw_next_bar(piece->harmony, &at, i, written)) {
      fprintf(stderr, "%s: harmony of bar %zu is wrong at '%.12s'\n", piece->name, i + 1, at);
      return false;
    }
  return true;
}

static const Chord *chord_at(const Harmony *harmony, double at)
{
  const Chord *chord = harmony->chord;
  for (size_t i = 0; i < harmony->n && harmony->chord[i].at <= at + 1e-6; i++)
    chord = &harmony->chord[i];
  return chord;
}

static bool play_role(char role, const Chord *chord, double at, double length, CwWritten *written)
{
  if (role == 'B' || role == 'b')
    return cw_written_add(written, (CwWrittenNote){at, length, role == 'B' ? chord->bass : chord->fifth, CW_BASS});
  bool good = true;
  for (int i = 0; i < CHORD_NOTES; i++)
    if (role == 'C' || role == '1' + i)
      good &= cw_written_add(written, (CwWrittenNote){at, length, chord->note[i], CW_CHORDS});
  return good;
}

static bool play_pattern(const char *text, const CwWrittenBar *bar, const Harmony *harmony, CwWritten *written)
{
  double now = bar->at, length = 1;
  for (const char *at = text; *at; at += strspn(at, " ")) {
    const char *roles = at;
    at += strcspn(at, ": ");
    length = cw_read_length(&at, length);
    for (; *roles && *roles != ':' && *roles != ' '; roles++)
      if (*roles != '+' && !play_role(*roles, chord_at(harmony, now), now, length, written))
        return false;
    now += length;
  }
  return true;
}

/// Bass and chord wherever the harmony moves in this bar.
static bool play_changes(const CwWrittenBar *bar, const Harmony *harmony, CwWritten *written)
{
  const double end = written->length;
  for (size_t i = 0; i < harmony->n; i++) {
    const Chord *chord = &harmony->chord[i];
    if (!chord->struck || chord->at < bar->at - 1e-6 || chord->at > bar->at + bar->length - 1e-6)
      continue;
    size_t next = i + 1;
    while (next < harmony->n && !harmony->chord[next].struck)
      next++;
    double length = (next < harmony->n ? harmony->chord[next].at : end) - chord->at;
    if (!play_role('B', chord, chord->at, length, written) || !play_role('C', chord, chord->at, length, written))
      return false;
  }
  return true;
}

/// A chord is held over the bar's first or last bar line.
static bool is_tied(const CwWrittenBar *bar, const Harmony *harmony)
{
  return !chord_at(harmony, bar->at)->struck || !chord_at(harmony, bar->at + bar->length)->struck;
}

static const char *pattern_for(const char *style, double length, double beat)
{
  for (size_t i = 0; i < sizeof patterns / sizeof *patterns; i++)
    if (strcmp(patterns[i].style, style) == 0 && patterns[i].length == length && patterns[i].beat == beat)
      return patterns[i].text;
  return NULL;
}

static bool play_bars(const CwPiece *piece, const char *style, const Harmony *harmony, CwWritten *written)
{
  for (size_t i = 0; i < written->n_bars; i++) {
    const CwWrittenBar *bar = &written->bar[i];
    const char *pattern = pattern_for(style, bar->length, written->beat);
    if (pattern == NULL) {
      fprintf(stderr, "%s: bar %zu: no pattern for '%s'\n", piece->name, i + 1, style);
      return false;
    }
    if (!(is_tied(bar, harmony) ? play_changes(bar, harmony, written) : play_pattern(pattern, bar, harmony, written)))
      return false;
  }
  return true;
}

bool cw_accompany(const CwPiece *piece, const char *style, CwWritten *written)
{
  if (style == NULL)
    return true;
  Harmony harmony = {0};
  bool good = read_harmony(piece, written, &harmony) && play_bars(piece, style, &harmony, written);
  free(harmony.chord);
  return good;
}
