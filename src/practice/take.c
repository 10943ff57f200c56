// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/take.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "practice/titles.h"

/// Silence before the first sound of a take, and between an announcement and what it announces.
static const double breath_s = 0.25;
static const double pause_s = 0.6;

/// How the music of a passage comes in and goes out, where it is cut out of the recording.
static const double fade_in_s = 0.04;
static const double fade_out_s = 0.4;

enum { USUAL_COUNT_IN = 4 };

/// A take being laid out.
typedef struct {
  CwTakes *takes;
  const CwTake *take;
  CwPaceCurve curve;
  CwTakeWords words;
  double begin_s;
  double one_s; ///< when its first one comes out
  double beats_per_count;
  unsigned metre;
} Laying;

static const CwPhrase *phrase_of(const Laying *laying, size_t row)
{
  return &laying->takes->own.line->phrase[laying->takes->own.phrase[row]];
}

/// When a time of the recording comes out.
static double out_of(const Laying *laying, double from_s)
{
  return laying->one_s + cw_pace_at(&laying->curve, from_s);
}

static double start_of(const Laying *laying, size_t row)
{
  return laying->takes->own.line->count_s[phrase_of(laying, row)->first_count];
}

/// Mean length of a count of a row, as it comes out.
static double count_length(const Laying *laying, size_t row)
{
  const CwPhrase *phrase = phrase_of(laying, row);
  return (out_of(laying, phrase->end_s) - out_of(laying, start_of(laying, row))) / phrase->counts;
}

static CwStatus add_slot(Laying *laying, size_t row, double at_s, double count, unsigned word, bool between)
{
  const CwSlot slot = {at_s, word, !between && count == 1, between};
  CwStatus status = cw_take_add_slot(&laying->words, &slot);
  if (status == CW_OK && !between) {
    const CwPracticeCount counted = {at_s, laying->takes->sheet->row[row].number, count, laying->take->speed};
    status = cw_score_add_count(laying->takes->score, &counted);
  }
  return status;
}

/// Counts given before a row: the last of as many as it has. @param not_before_s Those that would be earlier are left out.
static CwStatus count_in(Laying *laying, size_t row, unsigned n, double not_before_s)
{
  const unsigned counts = phrase_of(laying, row)->counts;
  const double length_s = count_length(laying, row);
  const double one_s = out_of(laying, start_of(laying, row));
  CwStatus status = CW_OK;
  for (unsigned k = n; k > 0 && status == CW_OK; k--) {
    const unsigned word = n <= counts ? counts - k + 1 : n - k + 1;
    if (one_s - k * length_s >= not_before_s) {
      status = add_slot(laying, row, one_s - k * length_s, 1.0 - k, word, false);
    }
  }
  return status;
}

/// What lies between two counts: the 2 and 3 of a bar counted in one, else "and".
static CwStatus add_between(Laying *laying, size_t row, double at_s, double next_s, unsigned count)
{
  const bool thirds = laying->metre == 3 && laying->beats_per_count == 3;
  const unsigned parts = thirds ? 3 : 2;
  CwStatus status = CW_OK;
  for (unsigned k = 1; k < parts && status == CW_OK; k++) {
    const double part = (double)k / parts;
    status = add_slot(laying, row, at_s + (next_s - at_s) * part, count + part, thirds ? k + 1 : 0, true);
  }
  return status;
}

static CwStatus add_counts(Laying *laying, size_t row)
{
  const CwPhrase *phrase = phrase_of(laying, row);
  const double *count_s = laying->takes->own.line->count_s + phrase->first_count;
  CwStatus status = CW_OK;
  for (unsigned c = 0; c < phrase->counts && status == CW_OK; c++) {
    const double at_s = out_of(laying, count_s[c]);
    const double next_s = out_of(laying, c + 1 < phrase->counts ? count_s[c + 1] : phrase->end_s);
    status = add_slot(laying, row, at_s, c + 1, c + 1, false);
    if (status == CW_OK && laying->takes->options->sub_counts) {
      status = add_between(laying, row, at_s, next_s, c + 1);
    }
  }
  return status;
}

/// The time of a count of a row, which may lie beyond its last.
static double time_of(const Laying *laying, size_t row, double count)
{
  const CwPhrase *phrase = phrase_of(laying, row);
  const double *count_s = laying->takes->own.line->count_s + phrase->first_count;
  const double last_s = phrase->end_s - count_s[phrase->counts - 1];
  if (count >= phrase->counts) {
    return out_of(laying, count_s[phrase->counts - 1] + (count - phrase->counts) * last_s);
  }
  const size_t whole = count > 1 ? (size_t)count - 1 : 0;
  return out_of(laying, count_s[whole] + (count - 1 - (double)whole) * (count_s[whole + 1] - count_s[whole]));
}

static CwStatus add_steps(Laying *laying, size_t row)
{
  const CwSheetRow *danced = &laying->takes->sheet->row[row];
  const double reach_s = 4 * count_length(laying, row); // words said earlier would not be taken for this step
  CwStatus status = CW_OK;
  for (size_t i = 0; i < danced->n_steps && status == CW_OK; i++) {
    char text[200];
    if (cw_title_of_step(danced->step[i].text, text, sizeof text)) {
      const double at_s = time_of(laying, row, danced->step[i].count);
      status = cw_take_add_line(&laying->words, at_s, fmax(laying->begin_s, at_s - reach_s), false, text);
    }
  }
  return status;
}

/// What is said before a row that is not the take's first.
static CwStatus announce_row(Laying *laying, size_t row)
{
  char text[300];
  const CwPracticeOptions *options = laying->takes->options;
  const CwSheetRow *danced = &laying->takes->sheet->row[row];
  const char *section = options->say_sections ? danced->section : NULL;
  cw_title_of_row(options->language, section, options->say_phrases ? danced->number : 0, text, sizeof text);
  const double at_s = out_of(laying, start_of(laying, row));
  const double reach_s = 3 * count_length(laying, row - 1);
  return text[0] ? cw_take_add_line(&laying->words, at_s, at_s - reach_s, true, text) : CW_OK;
}

/// Follow what the notes say of how beats are counted.
static void follow_level(Laying *laying, size_t row)
{
  const CwSheetRow *danced = &laying->takes->sheet->row[row];
  laying->beats_per_count = danced->beats_per_count > 0 ? danced->beats_per_count : laying->beats_per_count;
  laying->metre = danced->metre > 0 ? danced->metre : laying->metre;
}

static CwStatus add_row(Laying *laying, size_t row)
{
  const CwSheetRow *danced = &laying->takes->sheet->row[row];
  CwStatus status = CW_OK;
  follow_level(laying, row);
  if (row > laying->take->first) {
    status = announce_row(laying, row);
    const double free_s = out_of(laying, phrase_of(laying, row - 1)->end_s);
    if (status == CW_OK && danced->count_in > 0) {
      status = count_in(laying, row, danced->count_in, free_s);
    }
  }
  if (status == CW_OK) {
    status = add_counts(laying, row);
  }
  if (status == CW_OK && laying->takes->options->say_steps) {
    status = add_steps(laying, row);
  }
  return status;
}

/// Say what comes, and move `at_s` past it.
static CwStatus introduce(const Laying *laying, double *at_s)
{
  const CwTakes *takes = laying->takes;
  char text[400];
  cw_take_announcement(takes, laying->take, text, sizeof text);
  if (!takes->voice || !laying->take->first_loop || !text[0]) {
    return CW_OK;
  }
  double end_s = 0;
  const CwStatus status = cw_speak_at(takes->clips, takes->rate_hz, text, *at_s + breath_s, takes->score, &end_s);
  *at_s = end_s + pause_s;
  return status;
}

/// Choose when the first one comes, after what must come before it, and count in.
static CwStatus begin(Laying *laying, double at_s)
{
  const CwTake *take = laying->take;
  const CwTakes *takes = laying->takes;
  const unsigned noted = takes->sheet->row[take->first].count_in;
  const unsigned given =
      takes->options->count_in >= 0 ? (unsigned)takes->options->count_in : (noted ? noted : USUAL_COUNT_IN);
  const double before_s = take->with_beginning ? start_of(laying, take->first) * laying->curve.outer : 0;
  laying->begin_s = at_s;
  laying->one_s = 0; // so that lengths can be asked for
  laying->one_s = at_s + fmax(before_s, breath_s + given * count_length(laying, take->first));
  return count_in(laying, take->first, given, at_s);
}

static CwStatus add_music(Laying *laying, double *at_s)
{
  const CwTake *take = laying->take;
  const CwCountLine *line = laying->takes->own.line;
  const double last_s = phrase_of(laying, take->last)->end_s;
  const double start_s = start_of(laying, take->first);
  CwScoreSpan span = {
      .zero_s = laying->one_s,
      .from_s = take->with_beginning ? laying->one_s - start_s * laying->curve.outer : laying->one_s - fade_in_s,
      .to_s = take->with_end ? out_of(laying, fmax(line->duration_s, last_s)) : out_of(laying, last_s) + fade_out_s,
      .fade_in_s = take->with_beginning ? 0 : fade_in_s,
      .fade_out_s = take->with_end ? 0 : fade_out_s};
  span.curve = laying->curve;
  laying->curve = (CwPaceCurve){0};
  *at_s = span.to_s;
  return cw_score_add_span(laying->takes->score, &span);
}

static CwStatus add_chapters(const Laying *laying)
{
  const CwTake *take = laying->take;
  CwStatus status = CW_OK;
  for (size_t r = take->first; r <= take->last && take->first_loop && status == CW_OK; r++) {
    char title[300];
    if (r == take->first || laying->takes->sheet->row[r].section) {
      cw_take_title(laying->takes, take, r, title, sizeof title);
      const double at_s = r == take->first ? laying->begin_s : out_of(laying, start_of(laying, r));
      status = cw_score_add_chapter(laying->takes->score, at_s, title);
    }
  }
  return status;
}

static CwStatus lay_out(Laying *laying, double *at_s)
{
  const CwTake *take = laying->take;
  const double before_s = *at_s;
  CwStatus status = introduce(laying, at_s);
  if (status == CW_OK) {
    status = begin(laying, *at_s);
  }
  laying->begin_s = before_s;
  for (size_t r = take->first; r <= take->last && status == CW_OK; r++) {
    status = add_row(laying, r);
  }
  if (status == CW_OK) {
    status = add_chapters(laying);
  }
  return status == CW_OK ? add_music(laying, at_s) : status;
}

CwStatus cw_take_append(CwTakes *takes, const CwTake *take, double *at_s)
{
  Laying laying = {
      .takes = takes, .take = take, .beats_per_count = takes->sheet->beats_per_count, .metre = takes->sheet->metre};
  for (size_t r = 0; r < take->first; r++) {
    follow_level(&laying, r);
  }
  CwStatus status = cw_pace_make(&takes->own, take->first, take->last, takes->section, takes->options->pace,
                                 &takes->like, take->speed, &laying.curve);
  if (status == CW_OK) {
    status = lay_out(&laying, at_s);
  }
  if (status == CW_OK) {
    status = cw_speak(takes->options, takes->clips, takes->rate_hz, &laying.words, takes->score, &takes->dropped);
  }
  cw_take_free(&laying.words);
  cw_pace_free(&laying.curve);
  return status;
}
