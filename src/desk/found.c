// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/found.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <jansson.h>

#include "base/memory.h"
#include "base/pack.h"
#include "desk/desk.h"
#include "desk/save.h"

/// At the beginning of a file; counts, phrases and beats follow. Another build, or another machine, does not match.
typedef struct {
  char made_by[32];
  char version[DESK_VERSION]; ///< of the notes
  char recording[DESK_NAME];
  int64_t size;
  int64_t changed_s;
  int64_t changed_ns;
} Stamp;

static const char folder_name[] = "found";

static bool stamp(const DeskPiece *piece, Stamp *stamp)
{
  struct stat facts;
  const int fd = desk_open_file(piece->desk->place.folder, piece->recording, &facts);
  if (fd < 0) {
    return false;
  }
  close(fd);
  memset(stamp, 0, sizeof *stamp);
  snprintf(stamp->made_by, sizeof stamp->made_by, "countwright " CW_VERSION);
  snprintf(stamp->version, sizeof stamp->version, "%s", piece->version);
  snprintf(stamp->recording, sizeof stamp->recording, "%s", piece->recording);
  stamp->size = facts.st_size;
  stamp->changed_s = facts.st_mtim.tv_sec;
  stamp->changed_ns = facts.st_mtim.tv_nsec;
  return true;
}

/// The numbers that are no arrays.
typedef struct {
  uint64_t n_counts, n_phrases, n_beats;
  double duration_s, beats_per_count, bpm;
  uint32_t metre, beats_metre;
} Numbers;

static void put(CwPack *pack, const Stamp *mark, const DeskPiece *piece)
{
  const CwCountLine *line = &piece->line;
  const Numbers numbers = {line->n_counts,        line->n_phrases,  piece->beats.n, line->duration_s,
                           line->beats_per_count, piece->beats.bpm, line->metre,    piece->beats.metre};
  cw_pack_put(pack, mark, 1, sizeof *mark);
  cw_pack_put(pack, &numbers, 1, sizeof numbers);
  cw_pack_put(pack, line->count_s, line->n_counts, sizeof *line->count_s);
  cw_pack_put(pack, line->phrase, line->n_phrases, sizeof *line->phrase);
  cw_pack_put(pack, piece->beats.beat, piece->beats.n, sizeof *piece->beats.beat);
}

void desk_found_keep(const DeskPiece *piece)
{
  Stamp mark;
  CwPack pack = {0};
  const int folder = desk_place_part(&piece->desk->place, folder_name);
  if (folder < 0) {
    return;
  }
  if (stamp(piece, &mark)) {
    put(&pack, &mark, piece); // counts the bytes
    pack.size = pack.at;
    pack.at = 0;
    pack.data = cw_new(pack.size + 1, 1);
    if (pack.data) {
      put(&pack, &mark, piece);
      const CwStatus status = desk_save(folder, piece->name, (const char *)pack.data, pack.size, -1);
      (void)status;
      free(pack.data);
    }
  }
  close(folder);
}

/// Whether counts and phrases are what a count line may be.
static bool is_sound(const CwCountLine *line)
{
  size_t next = 0;
  for (size_t p = 0; p < line->n_phrases; p++) {
    if (line->phrase[p].first_count != next || line->phrase[p].counts == 0 ||
        line->phrase[p].counts > line->n_counts - next) {
      return false;
    }
    next += line->phrase[p].counts;
  }
  for (size_t i = 1; i < line->n_counts; i++) {
    if (!(line->count_s[i] > line->count_s[i - 1])) {
      return false;
    }
  }
  return next == line->n_counts;
}

static bool take(CwPack *pack, const Stamp *wanted, CwCountLine *line, CwBeats *beats)
{
  Stamp mark;
  Numbers numbers = {0};
  cw_pack_take(pack, &mark, 1, sizeof mark);
  if (pack->failed || memcmp(&mark, wanted, sizeof mark) != 0) {
    return false;
  }
  cw_pack_take(pack, &numbers, 1, sizeof numbers);
  if (pack->failed) {
    return false;
  }
  cw_count_line_init(line, numbers.duration_s);
  line->n_counts = (size_t)numbers.n_counts;
  line->n_phrases = (size_t)numbers.n_phrases;
  line->metre = numbers.metre;
  line->beats_per_count = numbers.beats_per_count;
  line->count_s = cw_pack_take_new(pack, line->n_counts, sizeof *line->count_s);
  line->phrase = cw_pack_take_new(pack, line->n_phrases, sizeof *line->phrase);
  *beats = (CwBeats){.n = (size_t)numbers.n_beats, .metre = numbers.beats_metre, .bpm = numbers.bpm};
  beats->beat = cw_pack_take_new(pack, beats->n, sizeof *beats->beat);
  return cw_pack_is_over(pack) && is_sound(line);
}

bool desk_found_load(DeskPiece *piece)
{
  Stamp wanted;
  char *data = NULL;
  size_t size = 0;
  const int folder = desk_place_part(&piece->desk->place, folder_name);
  if (folder < 0 || !stamp(piece, &wanted)) {
    if (folder >= 0) {
      close(folder);
    }
    return false;
  }
  CwCountLine line = {0};
  CwBeats beats = {0};
  bool found = false;
  if (desk_read_file(folder, piece->name, &data, &size, NULL) == CW_OK) {
    CwPack pack = {.data = (unsigned char *)data, .size = size};
    found = take(&pack, &wanted, &line, &beats);
  }
  close(folder);
  free(data);
  if (!found) {
    cw_count_line_free(&line);
    cw_beats_free(&beats);
    return false;
  }
  cw_count_line_free(&piece->line);
  cw_beats_free(&piece->beats);
  piece->line = line;
  piece->beats = beats;
  piece->state = DESK_READY;
  return true;
}
