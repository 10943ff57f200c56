// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/tempo.h"

#include <math.h>

#include "notes/words.h"

#define SLOWEST_NUMBER 10 // beats a minute
#define FASTEST_NUMBER 400
#define ABOUT 1.04 // a single number is meant as nearly as this

/// Beats a minute of the usual words, as printed on metronomes and in primers; the values are those of "Tempo Markings"
/// at instrument.bible/theory/rhythm/tempo. "Adage" is the ballet class's word for adagio.
static const struct {
  const char *word;
  double low, high;
} word_tempo[] = {
    {"grave", 25, 40},         {"largo", 40, 60},      {"lento", 45, 60},         {"larghetto", 60, 66},
    {"adagio", 66, 76},        {"adage", 66, 76},      {"adagietto", 72, 76},     {"andante", 76, 108},
    {"andantino", 80, 108},    {"moderato", 108, 120}, {"allegretto", 112, 120},  {"allegro", 120, 168},
    {"vivace", 168, 176},      {"vivo", 168, 176},     {"vivacissimo", 172, 176}, {"presto", 168, 200},
    {"prestissimo", 200, 208},
};

enum { WORDS = sizeof word_tempo / sizeof word_tempo[0] };

/// A number of beats a minute at `i`, or two of them with a dash between.
static bool read_number(const CwLineText *text, size_t i, size_t end, CwNotedTempo *tempo)
{
  unsigned low = 0;
  unsigned high = 0;
  size_t after = cw_read_digits(text, i, end, &low);
  const size_t dash = cw_skip_blanks(text, after, end);
  if (dash < end && text->key[dash] == '-') {
    after = cw_read_digits(text, cw_skip_blanks(text, dash + 1, end), end, &high);
  }
  if (low < SLOWEST_NUMBER || low > FASTEST_NUMBER || (high > 0 && (high < low || high > FASTEST_NUMBER)) ||
      (after < end && (cw_is_word_character(text->key[after]) || text->key[after] == '/'))) {
    return false;
  }
  size_t next = 0;
  after = cw_skip_blanks(text, after, end);
  if (cw_match_words(text, after, end, "counts", &next) || cw_match_words(text, after, end, "bars", &next)) {
    return false; // not of beats
  }
  *tempo = (CwNotedTempo){low / (high ? 1.0 : ABOUT), high ? high : low * ABOUT};
  return true;
}

/// The first number after "=", or, outside a heading, the first at all.
static bool find_number(const CwLineText *text, size_t i, size_t end, bool heading, CwNotedTempo *tempo)
{
  bool open = !heading;
  for (; i < end; i++) {
    open = open || text->key[i] == '=';
    if (cw_is_digit(text->key[i])) {
      if (open && read_number(text, i, end, tempo)) {
        return true;
      }
      while (i + 1 < end && (cw_is_word_character(text->key[i + 1]) || text->key[i + 1] == '-')) {
        i++;
      }
    }
  }
  return false;
}

bool cw_read_tempo(const CwLineText *text, size_t i, size_t end, bool heading, CwNotedTempo *tempo)
{
  if (find_number(text, i, end, heading, tempo)) {
    return true;
  }
  CwNotedTempo found = {0, 0};
  while (i < end) {
    size_t next = i;
    for (size_t k = 0; k < WORDS; k++) {
      if (cw_match_words(text, i, end, word_tempo[k].word, &next)) { // of two words, from the one to the other
        found.low_bpm = found.low_bpm > 0 ? fmin(found.low_bpm, word_tempo[k].low) : word_tempo[k].low;
        found.high_bpm = fmax(found.high_bpm, word_tempo[k].high);
        break;
      }
    }
    for (i = next > i ? next : i; i < end && cw_is_word_character(text->key[i]); i++) {
    }
    for (; i < end && !cw_is_word_character(text->key[i]); i++) {
    }
  }
  if (found.high_bpm > 0) {
    *tempo = found;
  }
  return found.high_bpm > 0;
}
