// SPDX-License-Identifier: GPL-3.0-or-later
/// What listens to recordings: peaks to draw, then beats, then counts.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/measure.h"
#include "countwright/phrases.h"
#include "desk/desk.h"
#include "desk/found.h"
#include "desk/peaks.h"
#include "desk/settle.h"
#include "desk/tap_file.h"

/// Recordings of which all that was measured is kept in memory.
enum { MOST_HEARD = 4 };
static const double told_every_s = 0.15;

/// One piece being listened to.
typedef struct {
  DeskPiece *piece;
  unsigned turn;
  bool whole; ///< nothing of it is given up because the notes change
  double told_s;
  char path[40]; ///< of the open recording
  int fd;
  CwNotebook *notes; ///< NULL when there are none
  CwTaps taps;
  CwFeatures *features;   ///< the piece's, or new
  bool measured;          ///< new
  const CwFeatures *kept; ///< what the piece has in the end
  CwBeats beats;
  CwCountLine line;
  CwSession *session;
  CwMessages messages;
  CwTapsFound tapped;
} Listening;

static double now_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static bool progress(void *user, const char *stage, double fraction)
{
  Listening *l = user;
  const double now = now_s();
  if (now - l->told_s > told_every_s) {
    l->told_s = now;
    desk_events_tell(&l->piece->desk->events, json_pack("{s:s, s:s, s:s, s:f}", "what", "progress", "name",
                                                        l->piece->name, "stage", stage, "part", fraction));
  }
  return !desk_work_is_over(&l->piece->desk->work) && (l->whole || l->piece->turn == l->turn);
}

/// Take what is needed of the piece. @return false when there is nothing to do.
static bool begin(Listening *l)
{
  DeskPiece *piece = l->piece;
  l->turn = piece->turn;
  piece->queued = false;
  l->fd = *piece->recording ? desk_open_file(piece->desk->place.folder, piece->recording, NULL) : -1;
  if (l->fd < 0) {
    return false;
  }
  snprintf(l->path, sizeof l->path, "/proc/self/fd/%d", l->fd); // so that no other file can take its place
  l->measured = !piece->features;
  l->features = l->measured ? cw_new(1, sizeof *l->features) : piece->features;
  piece->in_use = l->features;
  if (!l->features) {
    return false;
  }
  if (piece->text && piece->notebook.n_phrases > 0) {
    l->notes = cw_new(1, sizeof *l->notes);
    if (!l->notes || cw_notebook_parse(piece->text, piece->size, l->notes) != CW_OK) {
      return false;
    }
  }
  desk_taps_read(piece, &l->taps);
  return true;
}

static CwStatus count(Listening *l, const CwReport *report)
{
  if (l->notes) {
    const CwLineupOptions options = {.taps = l->taps.n >= CW_LEAST_TAPS ? &l->taps : NULL, .found = &l->tapped};
    CwStatus status = cw_session_begin(l->features, l->notes, &options, report, &l->session, &l->messages);
    return status == CW_OK ? cw_count_line_copy(cw_session_line(l->session), &l->line) : status;
  }
  if (l->taps.n >= CW_LEAST_TAPS) {
    CwBeats tapped = {0};
    CwStatus status = cw_beats_by_taps(l->features, &l->taps, NULL, report, &tapped, &l->tapped);
    status = status == CW_OK ? cw_phrases_find(l->features, &tapped, NULL, &l->line) : status;
    cw_beats_free(&tapped);
    return status;
  }
  return cw_phrases_find(l->features, &l->beats, NULL, &l->line);
}

static CwStatus listen(Listening *l)
{
  const CwReport report = {.progress = progress, .user = l};
  CwStatus status = CW_OK;
  l->whole = true;
  if (l->measured) {
    status = desk_peaks_make(l->piece->desk, l->piece->recording, l->fd, l->path, &report);
    if (status == CW_OK) {
      desk_events_tell(&l->piece->desk->events, json_pack("{s:s, s:s}", "what", "peaks", "name", l->piece->name));
      status = cw_measure(l->path, l->piece->desk->cache, &report, l->features, NULL);
    }
  }
  if (status == CW_OK) {
    status = cw_beats_find(l->features, NULL, &report, &l->beats);
    status = status == CW_ERR_NO_PULSE && (l->notes || l->taps.n > 0) ? CW_OK : status;
  }
  l->whole = false;
  return status == CW_OK ? count(l, &report) : status;
}

/// Give the music of pieces back that were not looked at for longest.
static void make_room(CwDesk *desk)
{
  for (;;) {
    size_t n = 0;
    DeskPiece *oldest = NULL;
    for (DeskPiece *piece = desk->pieces; piece; piece = piece->next) {
      const bool heard = piece->features != NULL;
      n += heard;
      oldest = heard && (!oldest || piece->used_s < oldest->used_s) ? piece : oldest;
    }
    if (n <= MOST_HEARD) {
      return;
    }
    desk_piece_forget_features(oldest);
  }
}

/// Put what was found into the piece, whose notes are still the same.
static void install(Listening *l)
{
  DeskPiece *piece = l->piece;
  desk_piece_forget_session(piece);
  cw_beats_free(&piece->beats);
  cw_count_line_free(&piece->line);
  cw_messages_free(&piece->messages);
  piece->beats = l->beats;
  piece->line = l->line;
  piece->messages = l->messages;
  piece->session = l->session;
  piece->session_notes = l->notes;
  piece->tapped = l->tapped;
  piece->has_taps = l->taps.n > 0;
  piece->state = DESK_READY;
  l->beats = (CwBeats){0};
  l->line = (CwCountLine){0};
  l->messages = (CwMessages){0};
  l->session = NULL;
  l->notes = NULL;
}

static void finish(Listening *l, CwStatus status)
{
  DeskPiece *piece = l->piece;
  if (piece->turn != l->turn) {
    return; // it is in the queue again
  }
  if (l->measured && l->features && l->features->n_frames > 0) {
    piece->features = l->features;
  }
  piece->listening = false;
  if (status == CW_OK) {
    install(l);
    desk_found_keep(piece);
  } else if (status != CW_ERR_CANCELLED) {
    piece->state = DESK_FAILED;
    snprintf(piece->problem, sizeof piece->problem, "%s", cw_strerror(status));
  }
  make_room(piece->desk);
  desk_events_tell(&piece->desk->events, json_pack("{s:s, s:s}", "what", "counts", "name", piece->name));
}

static void release(Listening *l)
{
  cw_session_free(l->session);
  if (l->notes) {
    cw_notebook_free(l->notes);
    free(l->notes);
  }
  if (l->features && l->features != l->kept) {
    cw_features_free(l->features);
    free(l->features);
  }
  cw_taps_free(&l->taps);
  cw_beats_free(&l->beats);
  cw_count_line_free(&l->line);
  cw_messages_free(&l->messages);
  if (l->fd >= 0) {
    close(l->fd);
  }
}

static void run(void *user)
{
  DeskPiece *piece = user;
  CwDesk *desk = piece->desk;
  Listening l = {.piece = piece, .fd = -1};
  pthread_mutex_lock(&desk->lock);
  const bool any = begin(&l);
  pthread_mutex_unlock(&desk->lock);
  const CwStatus status = any ? listen(&l) : CW_ERR_NOT_FOUND;
  pthread_mutex_lock(&desk->lock);
  finish(&l, status);
  piece->in_use = NULL;
  l.kept = piece->features;
  pthread_mutex_unlock(&desk->lock);
  release(&l);
}

void desk_piece_listen(DeskPiece *piece)
{
  piece->turn++;
  if (!*piece->recording) {
    return;
  }
  if (piece->state != DESK_READY && !desk_found_load(piece)) {
    piece->state = DESK_WAITING;
  }
  if (!piece->queued) {
    piece->queued = desk_work_add(&piece->desk->work, (DeskTask){run, piece});
  }
  piece->listening = true;
}
