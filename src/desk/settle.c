// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/settle.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/// Counts to each side that follow one that is moved by hand.
enum { BEND_REACH = 12 };

void desk_piece_forget_session(DeskPiece *piece)
{
  cw_session_free(piece->session);
  piece->session = NULL;
  if (piece->session_notes) {
    cw_notebook_free(piece->session_notes);
    free(piece->session_notes);
  }
  piece->session_notes = NULL;
}

void desk_piece_forget_features(DeskPiece *piece)
{
  desk_piece_forget_session(piece);
  if (piece->features && piece->features != piece->in_use) {
    cw_features_free(piece->features);
    free(piece->features);
  }
  piece->features = NULL;
}

void desk_piece_forget_music(DeskPiece *piece)
{
  desk_piece_forget_features(piece);
  cw_beats_free(&piece->beats);
  cw_count_line_free(&piece->line);
  cw_messages_free(&piece->messages);
  piece->state = DESK_NO_MUSIC;
  piece->turn++;
}

static bool same_number(double a, double b)
{
  return a == b || (isnan(a) && isnan(b));
}

static bool same_text(const char *a, const char *b)
{
  return a == b || (a && b && strcmp(a, b) == 0);
}

/// Whether two phrases are the same to the music, but for their pins.
static bool is_same_phrase(const CwNotePhrase *a, const CwNotePhrase *b)
{
  return a->counts == b->counts && a->like == b->like && a->hold_after == b->hold_after && a->hold_s == b->hold_s &&
         same_number(a->hold_until_s, b->hold_until_s) && a->metre == b->metre && a->metre_unit == b->metre_unit &&
         a->beats_per_count == b->beats_per_count && a->tempo.low_bpm == b->tempo.low_bpm &&
         a->tempo.high_bpm == b->tempo.high_bpm && a->section == b->section && a->counts_given == b->counts_given;
}

/// Whether notes ask for the same of the music, but for their pins.
static bool is_same_music(const CwNotebook *a, const CwNotebook *b)
{
  bool same = a->n_phrases == b->n_phrases && same_text(a->head.recording, b->head.recording) &&
              same_number(a->head.first_one_s, b->head.first_one_s);
  for (size_t p = 0; p < a->n_phrases && same; p++) {
    same = is_same_phrase(&a->phrase[p], &b->phrase[p]);
  }
  return same;
}

static const CwPin *find_pin(const CwNotePhrase *phrase, double count)
{
  for (size_t k = 0; k < phrase->n_pins; k++) {
    if (fabs(phrase->pin[k].count - count) < 1e-3) {
      return &phrase->pin[k];
    }
  }
  return NULL;
}

bool desk_bend(CwCountLine *line, size_t phrase, double count, double time_s)
{
  const double old_s = cw_count_line_time(line, phrase, count);
  if (!isfinite(old_s)) {
    return false;
  }
  const size_t at = line->phrase[phrase].first_count + (size_t)fmax(count - 1, 0);
  const size_t left = at > BEND_REACH ? at - BEND_REACH : 0;
  const size_t right = at + BEND_REACH < line->n_counts ? at + BEND_REACH : line->n_counts - 1;
  const double left_s = left < at ? line->count_s[left] : 0.0;
  const double right_s = right > at ? line->count_s[right] : line->duration_s;
  if (!(left_s < time_s && time_s < right_s && left_s < old_s && old_s < right_s)) {
    return false;
  }
  for (size_t i = 0; i < line->n_counts + line->n_phrases; i++) { // the counts, then the phrases' ends
    double *t = i < line->n_counts ? &line->count_s[i] : &line->phrase[i - line->n_counts].end_s;
    if (*t > left_s && *t <= old_s) {
      *t = left_s + (*t - left_s) * (time_s - left_s) / (old_s - left_s);
    } else if (*t > old_s && *t < right_s) {
      *t = right_s - (right_s - *t) * (right_s - time_s) / (right_s - old_s);
    }
  }
  return true;
}

/// Bring one pin into the line.
static void settle_pin(DeskPiece *piece, size_t phrase, const CwPin *pin)
{
  CwMessages messages = {0};
  if (!piece->session || cw_session_set_pin(piece->session, phrase, pin->count, pin->time_s, &messages) != CW_OK) {
    desk_bend(&piece->line, phrase, pin->count, pin->time_s);
  }
  cw_messages_free(&messages);
}

/// Bring the pins that are new into the line, and take those away that are gone. @return Whether there were any.
static bool settle_pins(DeskPiece *piece, const CwNotebook *before)
{
  bool any = false;
  for (size_t p = 0; p < before->n_phrases; p++) {
    const CwNotePhrase *was = &before->phrase[p];
    const CwNotePhrase *is = &piece->notebook.phrase[p];
    for (size_t k = 0; k < was->n_pins; k++) {
      if (!find_pin(is, was->pin[k].count)) {
        any = true;
        const CwStatus gone = piece->session ? cw_session_remove_pin(piece->session, p, was->pin[k].count) : CW_OK;
        (void)gone; // one that the session began with goes when it is listened to again
      }
    }
    for (size_t k = 0; k < is->n_pins; k++) {
      const CwPin *old = find_pin(was, is->pin[k].count);
      if (!old || old->time_s != is->pin[k].time_s) {
        any = true;
        settle_pin(piece, p, &is->pin[k]);
      }
    }
  }
  return any;
}

/// Take the session's line.
static void take_line(DeskPiece *piece)
{
  CwCountLine line;
  if (piece->session && cw_count_line_copy(cw_session_line(piece->session), &line) == CW_OK) {
    cw_count_line_free(&piece->line);
    piece->line = line;
  }
}

/// Where the count before `next` ends: where a phrase of the line ended there, as it did, else with the next count.
static double end_before(const CwCountLine *line, size_t next)
{
  for (size_t p = 0; p < line->n_phrases; p++) {
    if (line->phrase[p].first_count + line->phrase[p].counts == next) {
      return line->phrase[p].end_s;
    }
  }
  return line->count_s[next];
}

/// Part the counts as the notes do now, where there are as many as before: so phrases are parted and joined at once.
static void part_again(DeskPiece *piece)
{
  const CwCountLine *old = &piece->line;
  CwCountLine line;
  cw_count_line_init(&line, old->duration_s);
  line.metre = old->metre;
  line.beats_per_count = old->beats_per_count;
  CwStatus status = CW_OK;
  size_t next = 0;
  for (size_t p = 0; p < piece->notebook.n_phrases && status == CW_OK; p++) {
    const unsigned counts = piece->notebook.phrase[p].counts;
    status = counts <= old->n_counts - next ? CW_OK : CW_ERR_BAD_ARG;
    if (status == CW_OK) {
      status = cw_count_line_add(&line, old->count_s + next, counts, end_before(old, next + counts), -1.0);
      next += counts;
    }
  }
  if (status == CW_OK && next == old->n_counts && next > 0) {
    cw_count_line_free(&piece->line);
    piece->line = line;
  } else {
    cw_count_line_free(&line);
  }
}

void desk_settle(DeskPiece *piece, const CwNotebook *before)
{
  if (!*piece->recording) {
    piece->state = DESK_NO_MUSIC;
    return;
  }
  if (piece->state == DESK_NO_MUSIC || !is_same_music(before, &piece->notebook)) {
    desk_piece_forget_session(piece);
    part_again(piece);
    desk_piece_listen(piece);
  } else if (settle_pins(piece, before)) {
    take_line(piece);
    desk_piece_listen(piece); // a whole search may know better
  }
}
