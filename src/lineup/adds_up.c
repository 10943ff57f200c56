// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/adds_up.h"

#include <math.h>
#include <stdio.h>

#include "countwright/time_text.h"

#define LEFT_OVER_PHRASES 0.75 // music after the last phrase, in lengths of it, that is worth a word
#define LEAST_OVERRUN 3.0      // counts after the music that are worth a word: a dance often ends in a rest
#define SLOWEST_COUNTS 25.0    // a minute; common practice, no source
#define QUICKEST_COUNTS 260.0
#define ODD_TEMPO 1.35 // ratio to the phrases on both sides that looks like a miscount

/// A number of counts in words: "1 eight", "2 eights", "4 counts".
static void name_counts(long counts, char out[32])
{
  if (counts > 0 && counts % 8 == 0) {
    snprintf(out, 32, counts == 8 ? "1 eight" : "%ld eights", counts / 8);
  } else {
    snprintf(out, 32, counts == 1 ? "1 count" : "%ld counts", counts);
  }
}

static CwStatus say_missing_music(const CwNotebook *notebook, const CwCountLine *line, CwMessages *messages)
{
  char end[24];
  char counts[32];
  long missing = 0;
  for (size_t p = line->n_phrases; p < notebook->n_phrases; p++) {
    missing += notebook->phrase[p].counts;
  }
  cw_format_time(line->phrase[line->n_phrases - 1].end_s, end);
  name_counts(missing, counts);
  if (line->n_phrases + 1 == notebook->n_phrases) {
    return cw_messages_add(messages, "the music ends %s before the notes: phrase %zu has no music; look near %s",
                           counts, notebook->n_phrases, end);
  }
  return cw_messages_add(messages, "the music ends %s before the notes: phrases %zu-%zu have no music; look near %s",
                         counts, line->n_phrases + 1, notebook->n_phrases, end);
}

/// About how many counts a stretch has room for, in words.
static void name_about(double counts, char out[32])
{
  const double eights = round(counts / 8);
  name_counts(fabs(counts - 8 * eights) <= 1.5 ? 8 * lround(eights) : lround(counts), out);
}

static double mean_count_s(const CwCountLine *line, size_t phrase)
{
  return 60.0 / cw_count_line_tempo(line, phrase);
}

/// Music before the first one is often an introduction, but it may be counts that the notes lack.
static CwStatus say_begins_late(const CwNotebook *notebook, const CwCountLine *line, double music_begin_s,
                                CwMessages *messages)
{
  const double first_s = cw_count_line_start(line, 0);
  const double before = (first_s - music_begin_s) / mean_count_s(line, 0);
  const bool pinned = notebook->phrase[0].n_pins > 0 || !isnan(notebook->head.first_one_s);
  if (pinned || before < LEFT_OVER_PHRASES * 8) {
    return CW_OK;
  }
  char first[24];
  char counts[32];
  cw_format_time(first_s, first);
  name_about(before, counts);
  return cw_messages_add(messages, "the music begins about %s before the notes: if the first one is not at %s, pin it",
                         counts, first);
}

static CwStatus say_overrun(const CwCountLine *line, double music_end_s, CwMessages *messages)
{
  const double over = (line->phrase[line->n_phrases - 1].end_s - music_end_s) / mean_count_s(line, line->n_phrases - 1);
  if (over < LEAST_OVERRUN) {
    return CW_OK;
  }
  char end[24];
  char counts[32];
  cw_format_time(music_end_s, end);
  name_about(over, counts);
  return cw_messages_add(messages, "the music ends about %s before the notes: look near %s", counts, end);
}

static CwStatus say_left_over(const CwCountLine *line, double music_end_s, CwMessages *messages)
{
  const double end_s = line->phrase[line->n_phrases - 1].end_s;
  const double left = (music_end_s - end_s) / mean_count_s(line, line->n_phrases - 1);
  if (left < LEFT_OVER_PHRASES * 8) {
    return CW_OK;
  }
  char end[24];
  char counts[32];
  cw_format_time(end_s, end);
  name_about(left, counts);
  return cw_messages_add(messages, "the notes end about %s before the music: look near %s", counts, end);
}

/// A phrase much quicker or slower than both its neighbours, which agree: the count of steps may be off by some.
static CwStatus say_odd_tempo(const CwNotebook *notebook, const CwCountLine *line, size_t p, CwMessages *messages)
{
  const CwNotePhrase *phrase = &notebook->phrase[p];
  if (phrase->beats_per_count != phrase[-1].beats_per_count || phrase->beats_per_count != phrase[1].beats_per_count) {
    return CW_OK; // another unit
  }
  if (phrase->section != phrase[-1].section || phrase->section != phrase[1].section || phrase->hold_after) {
    return CW_OK;
  }
  const double before = cw_count_line_tempo(line, p - 1);
  const double after = cw_count_line_tempo(line, p + 1);
  const double here = cw_count_line_tempo(line, p);
  const double around = sqrt(before * after);
  const double ratio = here / around;
  if (fmax(before / after, after / before) > 1.2 || (ratio < ODD_TEMPO && ratio > 1 / ODD_TEMPO)) {
    return CW_OK;
  }
  char start[24];
  char counts[32];
  cw_format_time(cw_count_line_start(line, p), start);
  const double fitting = (line->phrase[p].end_s - cw_count_line_start(line, p)) * around / 60.0;
  name_counts(lround(fmax(fitting, 1.0)), counts);
  return cw_messages_add(messages, "phrase %zu has %u counts, but the music there, at %s, has room for about %s", p + 1,
                         line->phrase[p].counts, start, counts);
}

/// Counts that nobody would count: the notes are far too short or too long for the music, or count in another unit.
static CwStatus say_unlikely_tempo(const CwCountLine *line, CwMessages *messages)
{
  double seconds = 0;
  for (size_t p = 0; p < line->n_phrases; p++) {
    seconds += line->phrase[p].end_s - cw_count_line_start(line, p);
  }
  const double per_min = 60.0 * (double)line->n_counts / seconds;
  if (per_min >= SLOWEST_COUNTS && per_min <= QUICKEST_COUNTS) {
    return CW_OK;
  }
  return cw_messages_add(messages,
                         "the notes' %zu counts would go at %.0f a minute here: are counts %s, or is a count another "
                         "number of beats?",
                         line->n_counts, per_min, per_min < SLOWEST_COUNTS ? "missing" : "too many");
}

CwStatus cw_adds_up(const CwNotebook *notebook, const CwCountLine *line, double music_begin_s, double music_end_s,
                    CwMessages *messages)
{
  if (line->n_phrases == 0) {
    return CW_OK;
  }
  CwStatus status = say_begins_late(notebook, line, music_begin_s, messages);
  if (status == CW_OK && line->n_phrases < notebook->n_phrases) {
    status = say_missing_music(notebook, line, messages);
  } else if (status == CW_OK && line->phrase[line->n_phrases - 1].end_s > music_end_s) {
    status = say_overrun(line, music_end_s, messages);
  } else if (status == CW_OK) {
    status = say_left_over(line, music_end_s, messages);
  }
  if (status == CW_OK) {
    status = say_unlikely_tempo(line, messages);
  }
  for (size_t p = 1; p + 1 < line->n_phrases && status == CW_OK; p++) {
    status = say_odd_tempo(notebook, line, p, messages);
  }
  return status;
}
