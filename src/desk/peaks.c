// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/peaks.h"

#include <fcntl.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "countwright/audio.h"
#include "desk/desk.h"
#include "desk/names.h"
#include "desk/piece.h"
#include "desk/routes.h"
#include "desk/save.h"

/// Samples of a pair at zoom 0.
enum { SAMPLES = CW_ANALYSIS_RATE_HZ / DESK_PEAK_RATE_HZ };

/// At the beginning of a file; the pairs of zoom 0, 1 ... follow, a byte for the least and one for the greatest.
typedef struct {
  uint64_t magic;
  uint64_t size;          ///< of the recording
  int64_t changed_s;      ///< when it was
  int64_t changed_ns;     ///<
  uint64_t n[DESK_ZOOMS]; ///< pairs
} Head;

static const uint64_t magic = 0x3130736B61657057U;

/// Pairs being made.
typedef struct {
  signed char *pair; ///< two for each
  size_t n, room;
  float low, high;
  size_t n_samples; ///< of the pair being made
  CwStatus status;
} Peaks;

static signed char to_byte(float x)
{
  const float scaled = roundf(127.0F * x);
  return (signed char)(scaled > 127 ? 127 : scaled < -127 ? -127 : scaled);
}

static bool put(Peaks *peaks)
{
  if (peaks->n + 1 > peaks->room) {
    const size_t room = peaks->room ? 2 * peaks->room : 16384;
    signed char *pair = cw_resize(peaks->pair, room, 2);
    if (!pair) {
      return false;
    }
    peaks->pair = pair;
    peaks->room = room;
  }
  peaks->pair[2 * peaks->n] = to_byte(peaks->low);
  peaks->pair[2 * peaks->n + 1] = to_byte(peaks->high);
  peaks->n++;
  peaks->low = 0;
  peaks->high = 0;
  peaks->n_samples = 0;
  return true;
}

static CwStatus take(void *user, const float *samples, size_t n)
{
  Peaks *peaks = user;
  for (size_t i = 0; i < n; i++) {
    peaks->low = samples[i] < peaks->low ? samples[i] : peaks->low;
    peaks->high = samples[i] > peaks->high ? samples[i] : peaks->high;
    if (++peaks->n_samples == SAMPLES && !put(peaks)) {
      return CW_ERR_NO_MEM;
    }
  }
  return CW_OK;
}

/// Where a zoom's pairs begin, and how many there are; all is in one array.
static size_t lay_out(uint64_t n, uint64_t out[DESK_ZOOMS])
{
  size_t all = 0;
  for (size_t z = 0; z < DESK_ZOOMS; z++) {
    out[z] = n;
    all += (size_t)n;
    n = (n + DESK_PEAK_STEP - 1) / DESK_PEAK_STEP;
  }
  return all;
}

/// Make a zoom's pairs of those of the zoom before.
static void join(const signed char *from, size_t n, signed char *to)
{
  for (size_t i = 0; i < n; i++) {
    const size_t k = i / DESK_PEAK_STEP;
    const bool first = i % DESK_PEAK_STEP == 0;
    to[2 * k] = first || from[2 * i] < to[2 * k] ? from[2 * i] : to[2 * k];
    to[2 * k + 1] = first || from[2 * i + 1] > to[2 * k + 1] ? from[2 * i + 1] : to[2 * k + 1];
  }
}

static CwStatus keep(CwDesk *desk, const char *recording, const Peaks *peaks, Head head)
{
  const size_t all = lay_out(peaks->n, head.n);
  char *data = cw_new(sizeof head + 2 * all + 1, 1);
  const int folder = desk_place_part(&desk->place, "peaks");
  CwStatus status = data && folder >= 0 ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    memcpy(data, &head, sizeof head);
    signed char *pair = (signed char *)data + sizeof head;
    memcpy(pair, peaks->pair, 2 * peaks->n);
    for (size_t z = 1; z < DESK_ZOOMS; z++) {
      join(pair, (size_t)head.n[z - 1], pair + 2 * head.n[z - 1]);
      pair += 2 * head.n[z - 1];
    }
    const CwStatus kept = desk_save(folder, recording, data, sizeof head + 2 * all, -1);
    (void)kept; // nothing is drawn then
  }
  if (folder >= 0) {
    close(folder);
  }
  free(data);
  return status;
}

static Head head_of(const struct stat *facts)
{
  return (Head){.magic = magic,
                .size = (uint64_t)facts->st_size,
                .changed_s = facts->st_mtim.tv_sec,
                .changed_ns = facts->st_mtim.tv_nsec};
}

/// Open what is kept of a recording. @param facts Of the recording. @return -1 when there is nothing, or of another.
static int open_kept(CwDesk *desk, const char *recording, const struct stat *facts, Head *head)
{
  const int folder = desk_place_part(&desk->place, "peaks");
  const int fd = folder >= 0 ? desk_open_file(folder, recording, NULL) : -1;
  if (folder >= 0) {
    close(folder);
  }
  const Head wanted = head_of(facts);
  if (fd >= 0 &&
      (pread(fd, head, sizeof *head, 0) != (ssize_t)sizeof *head || memcmp(head, &wanted, offsetof(Head, n)) != 0)) {
    close(fd);
    return -1;
  }
  return fd;
}

CwStatus desk_peaks_make(CwDesk *desk, const char *recording, int fd, const char *path, const CwReport *report)
{
  struct stat facts;
  Head head;
  if (fstat(fd, &facts) != 0) {
    return CW_ERR_READ;
  }
  const int kept = open_kept(desk, recording, &facts, &head);
  if (kept >= 0) {
    close(kept);
    return CW_OK;
  }
  Peaks peaks = {0};
  CwStatus status = cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, report, take, &peaks, NULL);
  if (status == CW_OK) {
    status = keep(desk, recording, &peaks, head_of(&facts));
  }
  free(peaks.pair);
  return status;
}

void desk_get_peaks(CwDesk *desk, const DeskRequest *request, DeskResponse *response)
{
  const char *name = desk_query(request, "name");
  uint64_t zoom = 0;
  uint64_t from = 0;
  uint64_t n = 0;
  struct stat facts;
  if (!desk_is_name(name) || !desk_query_number(request, "zoom", 0, DESK_ZOOMS - 1, &zoom) ||
      !desk_query_number(request, "from", 0, UINT32_MAX, &from) || !desk_query_number(request, "n", 1, 1 << 20, &n)) {
    desk_answer_problem(response, 400, "expected a name, a zoom, from and n");
    return;
  }
  const int recording = desk_open_file(desk->place.folder, name, &facts);
  Head head;
  const int fd = recording >= 0 ? open_kept(desk, name, &facts, &head) : -1;
  if (recording >= 0) {
    close(recording);
  }
  if (fd < 0) { // not drawn yet
    desk_answer_text(response, "application/octet-stream", cw_copy_text("", 0), 0);
    return;
  }
  uint64_t offset = sizeof head;
  for (size_t z = 0; z < zoom; z++) {
    offset += 2 * head.n[z];
  }
  from = from < head.n[zoom] ? from : head.n[zoom];
  n = n < head.n[zoom] - from ? n : head.n[zoom] - from;
  *response = (DeskResponse){.form = DESK_FILE,
                             .status = 200,
                             .type = "application/octet-stream",
                             .fd = fd,
                             .offset = offset + 2 * from,
                             .size = (size_t)(2 * n)};
}
