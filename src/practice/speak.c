// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/speak.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { CALM_WPM = 210 };

/// Silence between two texts.
static const double gap_s = 0.06;

/// How long before its count a step's words have ended.
static const double ahead_s = 0.12;

/// Counts are said so fast that there is room for them, words as fast as can be understood.
static const unsigned pace_of_counts[] = {240, 300, 360, 450};
static const unsigned pace_of_words[] = {220, 280, 340};

static const float soft = 0.6F;

/// Where words sound that counts must not be said over.
typedef struct {
  double from_s;
  double to_s;
} Busy;

typedef struct {
  const CwPracticeOptions *options;
  CwClips *clips;
  unsigned rate_hz;
  CwScore *score;
  Busy *busy; ///< ascending
  size_t n_busy, room;
  size_t spoken; ///< sound of the last count that was said; SIZE_MAX before the first
} Speaking;

CwStatus cw_take_add_slot(CwTakeWords *take, const CwSlot *slot)
{
  if (!cw_grow(&take->slot, &take->slot_room, take->n_slots, sizeof *slot)) {
    return CW_ERR_NO_MEM;
  }
  take->slot[take->n_slots++] = *slot;
  return CW_OK;
}

CwStatus cw_take_add_line(CwTakeWords *take, double before_s, double not_before_s, bool announcement, const char *text)
{
  char *copy = cw_copy_text(text, strlen(text));
  if (!copy || !cw_grow(&take->line, &take->line_room, take->n_lines, sizeof *take->line)) {
    free(copy);
    return CW_ERR_NO_MEM;
  }
  take->line[take->n_lines++] = (CwLine){before_s, not_before_s, copy, announcement};
  return CW_OK;
}

void cw_take_free(CwTakeWords *take)
{
  for (size_t i = 0; i < take->n_lines; i++) {
    free(take->line[i].text);
  }
  free(take->slot);
  free(take->line);
  *take = (CwTakeWords){0};
}

/// The words of a count: those of counting where the language has one, else its number.
static const char *word_of(const Speaking *speaking, unsigned word, char number[16])
{
  const char *known = word <= CW_MOST_COUNT_WORDS ? cw_count_word(speaking->options->language, word) : NULL;
  snprintf(number, 16, "%u", word);
  return known ? known : number;
}

static CwStatus add_words(Speaking *speaking, const char *text, unsigned wpm, double from_s, const CwClip *clip,
                          float gain)
{
  CwScoreSound sound = {.kind = CW_WORDS,
                        .words_per_min = wpm,
                        .from_s = from_s,
                        .to_s = from_s + (double)clip->n / speaking->rate_hz,
                        .until_s = INFINITY,
                        .gain = gain};
  const CwStatus status = cw_score_add_text(speaking->score, text, &sound.text);
  return status == CW_OK ? cw_score_add_sound(speaking->score, &sound) : status;
}

CwStatus cw_speak_at(CwClips *clips, unsigned rate_hz, const char *text, double from_s, CwScore *score, double *to_s)
{
  Speaking speaking = {.clips = clips, .rate_hz = rate_hz, .score = score};
  CwClip clip;
  CwStatus status = cw_clips_get(clips, CW_WORDS, text, CALM_WPM, &clip);
  if (status == CW_OK) {
    *to_s = from_s + (double)clip.n / rate_hz;
    status = add_words(&speaking, text, CALM_WPM, from_s, &clip, 1);
  }
  return status;
}

/// The last end at or before `to_s` of a stretch of `length_s` that meets no other words.
static double free_end(const Speaking *speaking, double to_s, double length_s)
{
  for (size_t i = speaking->n_busy; i-- > 0;) {
    const Busy *busy = &speaking->busy[i];
    if (busy->to_s + gap_s <= to_s - length_s) {
      break;
    }
    if (busy->from_s < to_s + gap_s) {
      to_s = busy->from_s - gap_s;
    }
  }
  return to_s;
}

static CwStatus keep_busy(Speaking *speaking, double from_s, double to_s)
{
  if (!cw_grow(&speaking->busy, &speaking->room, speaking->n_busy, sizeof *speaking->busy)) {
    return CW_ERR_NO_MEM;
  }
  size_t at = speaking->n_busy++;
  for (; at > 0 && speaking->busy[at - 1].from_s > from_s; at--) {
    speaking->busy[at] = speaking->busy[at - 1];
  }
  speaking->busy[at] = (Busy){from_s, to_s};
  return CW_OK;
}

/// How much of the one's word sounds before the count itself.
static CwStatus run_up_of_one(Speaking *speaking, double *run_up_s)
{
  char number[16];
  CwClip clip = {0};
  *run_up_s = 0;
  if (!speaking->options->spoken) {
    return CW_OK;
  }
  const CwStatus status =
      cw_clips_get(speaking->clips, CW_WORDS, word_of(speaking, 1, number), pace_of_counts[0], &clip);
  *run_up_s = (double)clip.onset / speaking->rate_hz;
  return status;
}

/// Say one text where there is room, faster if need be.
static CwStatus place_line(Speaking *speaking, const CwLine *line, double end_s, bool *placed)
{
  *placed = false;
  const size_t n = sizeof pace_of_words / sizeof pace_of_words[0];
  for (size_t i = 0; i < n && !*placed; i++) {
    CwClip clip;
    CwStatus status = cw_clips_get(speaking->clips, CW_WORDS, line->text, pace_of_words[i], &clip);
    if (status != CW_OK) {
      return status;
    }
    const double length_s = (double)clip.n / speaking->rate_hz;
    const double from_s = free_end(speaking, end_s, length_s) - length_s;
    // what announces a phrase is said at any rate, if only fast and over the phrase before
    *placed = clip.n > 0 && (from_s >= line->not_before_s || (line->announcement && i + 1 == n && from_s >= 0));
    if (*placed) {
      status = add_words(speaking, line->text, pace_of_words[i], from_s, &clip, 1);
      status = status == CW_OK ? keep_busy(speaking, from_s, from_s + length_s) : status;
    }
    if (status != CW_OK) {
      return status;
    }
  }
  return CW_OK;
}

static CwStatus place_lines(Speaking *speaking, const CwTakeWords *take, bool announcements, size_t *dropped)
{
  double run_up_s = 0;
  CwStatus status = run_up_of_one(speaking, &run_up_s);
  for (size_t i = 0; i < take->n_lines && status == CW_OK; i++) {
    const CwLine *line = &take->line[i];
    if (line->announcement != announcements) {
      continue;
    }
    bool placed = false;
    const double end_s = line->before_s - (announcements ? run_up_s + gap_s : ahead_s);
    status = place_line(speaking, line, end_s, &placed);
    *dropped += !placed;
  }
  return status;
}

static bool is_busy(const Speaking *speaking, double from_s, double to_s)
{
  size_t low = 0;
  size_t high = speaking->n_busy;
  while (low < high) { // the first that ends after `from_s`; they do not overlap
    const size_t middle = low + (high - low) / 2;
    if (speaking->busy[middle].to_s <= from_s) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low < speaking->n_busy && speaking->busy[low].from_s < to_s;
}

/// Say a count with its vowel on its time. @param room_s Until the next one. @param[out] said False where there is no room.
static CwStatus say_count(Speaking *speaking, const CwSlot *slot, double room_s, bool *said)
{
  char number[16];
  const char *text = word_of(speaking, slot->word, number);
  const size_t n = sizeof pace_of_counts / sizeof pace_of_counts[0];
  CwClip clip = {0};
  size_t i = 0;
  for (bool fits = false; !fits && i < n; i += !fits) {
    const CwStatus status = cw_clips_get(speaking->clips, CW_WORDS, text, pace_of_counts[i], &clip);
    if (status != CW_OK) {
      return status;
    }
    fits = (double)clip.n / speaking->rate_hz <= 0.92 * room_s;
  }
  i = i < n ? i : n - 1;
  const double from_s = slot->at_s - (double)clip.onset / speaking->rate_hz;
  const double to_s = from_s + (double)clip.n / speaking->rate_hz;
  *said = clip.n > 0 && from_s >= 0 && !is_busy(speaking, from_s - 0.02, to_s - 0.05);
  if (!*said) {
    return CW_OK;
  }
  if (speaking->spoken != SIZE_MAX) {
    CwScoreSound *before = &speaking->score->sound[speaking->spoken];
    before->until_s = before->to_s > from_s ? from_s : INFINITY;
  }
  speaking->spoken = speaking->score->n_sounds;
  return add_words(speaking, text, pace_of_counts[i], from_s, &clip, slot->between ? soft : 1);
}

static CwStatus click(Speaking *speaking, const CwSlot *slot, float gain)
{
  CwScoreSound sound = {.kind = slot->one       ? CW_CLICK_ONE
                                : slot->between ? CW_CLICK_SUB
                                                : CW_CLICK_COUNT,
                        .from_s = slot->at_s,
                        .until_s = INFINITY,
                        .gain = gain};
  CwClip clip;
  const CwStatus status = cw_clips_get(speaking->clips, sound.kind, NULL, 0, &clip);
  sound.to_s = sound.from_s + (double)clip.n / speaking->rate_hz;
  return status == CW_OK ? cw_score_add_sound(speaking->score, &sound) : status;
}

/// Between counts there is often no room for a word: at least so many seconds to the next.
static const double least_between_s = 0.22;

static CwStatus place_count(Speaking *speaking, const CwTakeWords *take, size_t i)
{
  const CwSlot *slot = &take->slot[i];
  const double room_s = i + 1 < take->n_slots ? take->slot[i + 1].at_s - slot->at_s : 1;
  CwStatus status = CW_OK;
  bool said = false;
  if (speaking->options->spoken && !(slot->between && room_s < least_between_s)) {
    status = say_count(speaking, slot, room_s, &said);
  }
  if (status == CW_OK && speaking->options->clicked) {
    status = click(speaking, slot, said ? soft : 1);
  } else if (status == CW_OK && speaking->options->spoken && !said) {
    status = click(speaking, slot, soft); // so that the pulse goes on under other words
  }
  return status;
}

CwStatus cw_speak(const CwPracticeOptions *options, CwClips *clips, unsigned rate_hz, CwTakeWords *take, CwScore *score,
                  size_t *dropped)
{
  Speaking speaking = {.options = options, .clips = clips, .rate_hz = rate_hz, .score = score, .spoken = SIZE_MAX};
  size_t never = 0;
  CwStatus status = place_lines(&speaking, take, true, &never);
  if (status == CW_OK) {
    status = place_lines(&speaking, take, false, dropped);
  }
  for (size_t i = 0; i < take->n_slots && status == CW_OK; i++) {
    status = place_count(&speaking, take, i);
  }
  free(speaking.busy);
  return status;
}
