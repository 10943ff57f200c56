// SPDX-License-Identifier: GPL-3.0-or-later
/// Plain lists: a time in seconds on a line, and what falls on it.
#include <math.h>
#include <string.h>

#include "base/format.h"
#include "cli/write.h"

/// Beats are told apart to this part of one, and holds from gaps of this many seconds.
#define CLOSE 1e-6

/// Where the beats of a count line are.
typedef struct {
  unsigned metre;
  double beats_per_count;
  double into_bar; ///< beats from the downbeat to the phrase's one
} Bars;

static void write_time(double time_s, FILE *out)
{
  char time[32];
  fputs(cw_format_fixed(time, sizeof time, time_s, 3), out);
}

static void write_beat(double time_s, bool downbeat, FILE *out)
{
  write_time(time_s, out);
  fputs(downbeat ? "\tdb\n" : "\tb\n", out);
}

static size_t number_of(const CliContent *content, size_t p)
{
  return content->number ? content->number[p] : p + 1;
}

/// As the notes say, a bar begins with the first phrase, after a hold, and where the metre changes.
static void begin_phrase(const CliContent *content, size_t p, Bars *bars)
{
  const CwCountLine *line = content->line;
  const CwNotePhrase *phrase = content->notebook ? &content->notebook->phrase[number_of(content, p) - 1] : NULL;
  const unsigned metre = phrase ? phrase->metre : line->metre;
  const bool held = p > 0 && cw_count_line_start(line, p) > line->phrase[p - 1].end_s + CLOSE;
  if (p == 0 || held || metre != bars->metre) {
    bars->into_bar = 0;
  }
  bars->metre = metre;
  const bool own = phrase && phrase->beats_per_count > 0 && content->beats_per_count == 0;
  bars->beats_per_count = own ? phrase->beats_per_count : line->beats_per_count;
}

/// Beats where no tracker found any: they divide the counts evenly.
static void write_counted_beats(const CliContent *content, FILE *out)
{
  const CwCountLine *line = content->line;
  Bars bars = {0};
  for (size_t p = 0; p < line->n_phrases; p++) {
    begin_phrase(content, p, &bars);
    const double end = bars.into_bar + line->phrase[p].counts * bars.beats_per_count;
    const unsigned first = (unsigned)ceil(bars.into_bar - CLOSE);
    for (unsigned beat = first; beat < end - CLOSE; beat++) {
      const double count = 1 + fmax(0, beat - bars.into_bar) / bars.beats_per_count;
      write_beat(cw_count_line_time(line, p, count), bars.metre > 1 && beat % bars.metre == 0, out);
    }
    bars.into_bar = bars.metre > 1 ? fmod(end, bars.metre) : end - floor(end);
  }
}

static CwStatus write_beats(const CliContent *content, FILE *out)
{
  if (!content->beats) {
    write_counted_beats(content, out);
  }
  for (size_t i = 0; content->beats && i < content->beats->n; i++) {
    const CwBeat *beat = &content->beats->beat[i];
    write_beat(beat->time_s, beat->position == 1 && beat->metre > 1, out); // a metre of 1: bars are not known
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

static CwStatus write_counts(const CliContent *content, FILE *out)
{
  const CwCountLine *line = content->line;
  for (size_t p = 0; p < line->n_phrases; p++) {
    const CwPhrase *phrase = &line->phrase[p];
    char confidence[32] = "-";
    if (phrase->confidence >= 0) { // only what is pinned is certain
      cw_format_fixed(confidence, sizeof confidence, phrase->confidence < 1 ? fmin(phrase->confidence, 0.999) : 1, 3);
    }
    for (unsigned i = 0; i < phrase->counts; i++) {
      write_time(line->count_s[phrase->first_count + i], out);
      fprintf(out, "\t%zu\t%u\t%s\n", number_of(content, p), i + 1, confidence);
    }
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

static CwStatus write_ones(const CliContent *content, FILE *out)
{
  for (size_t i = 0; i < content->line->n_phrases; i++) {
    write_time(cw_count_line_start(content->line, i), out);
    fprintf(out, "\t%zu\t%u\n", number_of(content, i), content->line->phrase[i].counts);
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

/// Music with less than this between its counts is one stretch.
#define APART_S 5.0

static CwStatus write_stretches(const CliContent *content, FILE *out)
{
  const CwCountLine *line = content->line;
  for (size_t p = 0; p < line->n_phrases;) {
    const size_t first = p++;
    while (p < line->n_phrases && cw_count_line_start(line, p) - line->phrase[p - 1].end_s < APART_S) {
      p++;
    }
    write_time(cw_count_line_start(line, first), out);
    fputc('\t', out);
    write_time(line->phrase[p - 1].end_s, out);
    fprintf(out, "\t%zu\t%zu\n", number_of(content, first), number_of(content, p - 1));
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

CliWriter cli_list_writer(const char *name)
{
  return strcmp(name, "beats") == 0       ? write_beats
         : strcmp(name, "counts") == 0    ? write_counts
         : strcmp(name, "stretches") == 0 ? write_stretches
                                          : write_ones;
}
