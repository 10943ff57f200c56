// SPDX-License-Identifier: GPL-3.0-or-later
/// Which takes there are, one after the other.
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "practice/practice.h"
#include "practice/take.h"

enum { MOST_LOOPS = 1000 };

void cw_practice_defaults(CwPracticeOptions *options)
{
  *options =
      (CwPracticeOptions){.spoken = true, .count_in = -1, .rest_s = 2, .duck_db = 6, .loudness_lufs = CW_PRACTICE_LUFS};
}

static bool is_within(double value, double least, double most)
{
  return value >= least && value <= most; // false for what is no number, too
}

static bool are_good(const CwSheet *sheet, const CwPracticeOptions *options)
{
  for (size_t i = 0; i < options->n_passages; i++) {
    const CwPassage *passage = &options->passage[i];
    if (passage->first > passage->last || passage->last >= sheet->n_rows) {
      return false;
    }
  }
  for (size_t i = 0; i < options->n_speeds; i++) {
    if (!is_within(options->speed[i], CW_SLOWEST, CW_FASTEST)) {
      return false;
    }
  }
  return is_within(options->rest_s, 0, 600) && is_within(options->duck_db, 0, 40) &&
         is_within(options->loudness_lufs, -40, -8) && options->loops <= MOST_LOOPS && options->count_in <= 64 &&
         options->language < CW_N_LANGUAGES && (options->pace != CW_PACE_LIKE || (options->like && options->like_kept));
}

/// A plan being made.
typedef struct {
  CwTakes takes;
  const CwPracticeOptions *options;
  size_t n_rows;
  double at_s;
  size_t *own; ///< the row's phrase in the line
} Planning;

static bool follows(const Planning *planning, size_t row)
{
  return planning->own[row] != SIZE_MAX && planning->own[row + 1] != SIZE_MAX &&
         planning->own[row + 1] == planning->own[row] + 1;
}

static CwStatus add_take(Planning *planning, const CwTake *take)
{
  const unsigned loops = planning->options->loops ? planning->options->loops : 1;
  CwStatus status = CW_OK;
  for (unsigned i = 0; i < loops && status == CW_OK; i++) {
    CwTake now = *take;
    now.first_loop = i == 0;
    planning->at_s += planning->takes.score->n_spans > 0 ? planning->options->rest_s : 0;
    status = cw_take_append(&planning->takes, &now, &planning->at_s);
    if (status == CW_OK && planning->at_s > CW_AUDIO_LIMIT_S) {
      status = CW_ERR_TOO_LONG;
    }
  }
  return status;
}

/// Add the rows of a run, which follow each other in the recording.
static CwStatus add_run(Planning *planning, size_t first, size_t last, double speed)
{
  const CwPracticeOptions *options = planning->options;
  const CwTake take = {.first = first,
                       .speed = speed,
                       .announce_speed = options->n_speeds > 1,
                       .announce_rows = options->chain || options->n_passages > 1,
                       .with_beginning = options->n_passages == 0 && first == 0 && !options->chain,
                       .with_end = options->n_passages == 0 && last + 1 == planning->n_rows && !options->chain};
  CwStatus status = CW_OK;
  for (size_t r = options->chain ? first : last; r <= last && status == CW_OK; r++) {
    CwTake link = take;
    link.last = r;
    status = add_take(planning, &link);
  }
  return status;
}

/// Add a passage, in as many runs as the recording has it.
static CwStatus add_passage(Planning *planning, const CwPassage *passage, double speed)
{
  CwStatus status = CW_OK;
  size_t first = passage->first;
  for (size_t r = passage->first; r <= passage->last && status == CW_OK; r++) {
    const bool ends = r == passage->last || !follows(planning, r);
    if (planning->own[r] != SIZE_MAX && ends) {
      status = add_run(planning, first, r, speed);
    }
    first = ends ? r + 1 : first;
  }
  return status;
}

static CwStatus add_all(Planning *planning)
{
  static const double own_speed = 1;
  const CwPracticeOptions *options = planning->options;
  const CwPassage whole = {0, planning->n_rows - 1};
  const double *speed = options->n_speeds ? options->speed : &own_speed;
  const size_t n_speeds = options->n_speeds ? options->n_speeds : 1;
  const CwPassage *passage = options->n_passages ? options->passage : &whole;
  const size_t n_passages = options->n_passages ? options->n_passages : 1;
  CwStatus status = CW_OK;
  for (size_t s = 0; s < n_speeds; s++) {
    for (size_t p = 0; p < n_passages && status == CW_OK; p++) {
      status = add_passage(planning, &passage[p], speed[s]);
    }
  }
  return status == CW_OK && planning->takes.score->n_spans == 0 ? CW_ERR_TOO_SHORT : status;
}

/// Number the sections: an even tempo is even within one, and begins anew where beats are counted otherwise.
static void number_sections(const CwSheet *sheet, size_t *section)
{
  size_t n = 0;
  for (size_t r = 0; r < sheet->n_rows; r++) {
    const CwSheetRow *row = &sheet->row[r];
    n += r > 0 && (row->section || row->beats_per_count > 0 || row->metre > 0);
    section[r] = n;
  }
}

/// Which phrase of the line each row is.
static void place_rows(const CwSheet *sheet, const CwCountLine *line, const size_t *kept, size_t *own)
{
  for (size_t r = 0; r < sheet->n_rows; r++) {
    const size_t k = kept ? kept[r] : r;
    own[r] = sheet->row[r].timed && k < line->n_phrases ? k : SIZE_MAX;
  }
}

/// Whether anything is to be said that can only be said.
static bool needs_voice(const CwPracticeOptions *options)
{
  return options->spoken || options->say_phrases || options->say_sections || options->say_steps;
}

/// Open the voice. A build without one still clicks, and does not announce.
static CwStatus open_clips(CwTakes *takes, CwMessages *messages)
{
  const CwPracticeOptions *options = takes->options;
  const bool announced = options->n_speeds > 1 || options->chain || options->n_passages > 1;
  takes->voice = needs_voice(options) || announced;
  CwStatus status = cw_clips_new(takes->rate_hz, takes->voice, options->language, &takes->clips);
  if (status == CW_ERR_UNSUPPORTED && !needs_voice(options)) {
    takes->voice = false;
    status = cw_clips_new(takes->rate_hz, false, options->language, &takes->clips);
    if (status == CW_OK) {
      status = cw_messages_add(messages, "there is no voice here to announce speeds and phrases");
    }
  }
  return status;
}

static CwStatus tell_dropped(const CwTakes *takes, CwMessages *messages)
{
  if (takes->dropped == 0) {
    return CW_OK;
  }
  return takes->dropped == 1
             ? cw_messages_add(messages, "the words of 1 step are not said: there is no time before its count")
             : cw_messages_add(messages, "the words of %zu steps are not said: there is no time before their counts",
                               takes->dropped);
}

/// The rate at which all is made.
///
/// Up to 32 kHz the stretcher works with windows of half the length of those that it has at 44.1 kHz: three times as fast,
/// and strokes stay as sharp. What is lost lies above 16 kHz.
static unsigned rate_for(const CwPracticeOptions *options)
{
  bool own = options->pace == CW_PACE_LIVING;
  for (size_t i = 0; i < options->n_speeds; i++) {
    own = own && options->speed[i] == 1;
  }
  return own ? 44100 : 32000;
}

static CwStatus plan(Planning *planning, const CwCountLine *line, const size_t *kept, CwMessages *messages)
{
  CwTakes *takes = &planning->takes;
  const CwSheet *sheet = takes->sheet;
  planning->own = cw_new(sheet->n_rows, sizeof *planning->own);
  takes->section = cw_new(sheet->n_rows, sizeof *takes->section);
  if (!planning->own || !takes->section) {
    return CW_ERR_NO_MEM;
  }
  place_rows(sheet, line, kept, planning->own);
  number_sections(sheet, takes->section);
  takes->own = (CwPlacedLine){line, planning->own};
  takes->like = (CwPlacedLine){planning->options->like, planning->options->like_kept};
  CwStatus status = open_clips(takes, messages);
  if (status == CW_OK) {
    status = add_all(planning);
  }
  if (status == CW_OK) {
    status = tell_dropped(takes, messages);
  }
  cw_score_finish(takes->score);
  takes->score->duration_s = planning->at_s;
  return status;
}

CwStatus cw_practice_plan(const CwSheet *sheet, const CwCountLine *line, const size_t *kept,
                          const CwPracticeOptions *options, CwPractice **practice, CwMessages *messages)
{
  *practice = NULL;
  if (!are_good(sheet, options)) {
    return CW_ERR_BAD_ARG;
  }
  if (sheet->n_rows == 0) {
    return CW_ERR_TOO_SHORT;
  }
  CwPractice *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  Planning planning = {.options = options, .n_rows = sheet->n_rows};
  planning.takes = (CwTakes){.sheet = sheet, .options = options, .rate_hz = rate_for(options), .score = &made->score};
  CwStatus status = plan(&planning, line, kept, messages);
  free(planning.own);
  free(planning.takes.section);
  made->clips = planning.takes.clips;
  made->rate_hz = planning.takes.rate_hz;
  if (status == CW_OK) {
    status = cw_practice_name(sheet, options, made);
  }
  if (status != CW_OK) {
    cw_practice_free(made);
    return status;
  }
  *practice = made;
  return CW_OK;
}
