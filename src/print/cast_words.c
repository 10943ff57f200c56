// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/cast_words.h"

#include <math.h>
#include <stdlib.h>

#include "countwright/time_text.h"
#include "print/buffer.h"
#include "print/clean.h"
#include "print/words.h"

/// "eight 41", "phrase 5" where it has another number of counts.
static void put_phrase(unsigned number, unsigned in_counts, CwBuffer *line)
{
  cw_buffer_join(line, "", "%s %u", in_counts == 8 ? "eight" : "phrase", number);
}

static void put_time(double time_s, const char *before, CwBuffer *line)
{
  if (isfinite(time_s)) {
    char time[24];
    cw_format_time(time_s, time);
    cw_buffer_join(line, "", "%s%s", before, time);
  }
}

/// "at eight 41, count 3, 9:40.0".
static void put_on(const CwStay *stay, CwBuffer *line)
{
  cw_buffer_put(line, "at ");
  put_phrase(stay->number, stay->in_counts, line);
  if (stay->count > 1) {
    char count[CW_WORD_ROOM];
    cw_count_label(stay->count, count);
    cw_buffer_join(line, "", ", count %s", count);
  }
  put_time(stay->start_s, ", ", line);
}

/// "after eight 12, 6:28.0".
static void put_off(const CwStay *stay, CwBuffer *line)
{
  const bool whole = stay->count >= stay->in_counts + 1.0;
  cw_buffer_put(line, whole ? "after " : stay->count <= 1 ? "before " : "in ");
  put_phrase(stay->number, stay->in_counts, line);
  if (!whole && stay->count > 1) {
    char count[CW_WORD_ROOM];
    cw_count_label(stay->count - 1, count);
    cw_buffer_join(line, "", " after count %s", count);
  }
  put_time(stay->start_s, ", ", line);
}

/// How long a wait is, and when to move again.
static void put_wait(const CwStay *stay, CwBuffer *line)
{
  if (isfinite(stay->end_s) && isfinite(stay->start_s)) {
    put_time(stay->end_s - stay->start_s, ": a wait of ", line);
  } else {
    char text[CW_WORD_ROOM];
    cw_counts_label((unsigned)lround(stay->counts), text);
    cw_buffer_join(line, "", ": a wait of %s", text);
  }
  if (stay->stay_warm) {
    cw_buffer_put(line, "; stay warm");
  } else {
    put_time(stay->warm_s, "; move again from ", line);
  }
}

/// The line of a stretch off stage, or of the first one on it. @return false when there is nothing to say.
static bool put_stay(const CwCastRole *role, size_t i, CwBuffer *line)
{
  const CwStay *stay = &role->stay[i];
  const CwStay *next = i + 1 < role->n_stays ? stay + 1 : NULL;
  cw_buffer_clear(line);
  if (stay->on) {
    cw_buffer_put(line, next ? "  on from the beginning" : "  on from the beginning to the end");
    put_time(stay->start_s, ", ", line);
    return i == 0;
  }
  if (i == 0 && next) {
    cw_buffer_put(line, "  first on ");
    put_on(next, line);
    put_time(stay->warm_s, "; move from ", line);
    return true;
  }
  cw_buffer_put(line, "  off ");
  put_off(stay, line);
  if (next) {
    cw_buffer_put(line, "; on again ");
    put_on(next, line);
    put_wait(stay, line);
  } else {
    cw_buffer_put(line, "; not on again");
  }
  return true;
}

static CwStatus put_role(const CwCastRole *role, CwMessages *lines)
{
  CwBuffer line = {0};
  char *name = role->role ? cw_clean_line(role->role) : NULL;
  CwStatus status = role->role && !name ? CW_ERR_NO_MEM : cw_messages_add(lines, "%s", name ? name : "All");
  free(name);
  for (size_t i = 0; i < role->n_stays && status == CW_OK; i++) {
    if (put_stay(role, i, &line)) {
      status = line.failed ? CW_ERR_NO_MEM : cw_messages_add(lines, "%s", cw_buffer_text(&line));
    }
  }
  cw_buffer_free(&line);
  return status;
}

CwStatus cw_cast_lines(const CwCast *cast, CwMessages *lines)
{
  CwStatus status = CW_OK;
  bool reminded = false;
  for (size_t i = 0; i < cast->n_roles && status == CW_OK; i++) {
    const CwCastRole *role = &cast->role[i];
    status = put_role(role, lines);
    for (size_t k = 0; k < role->n_stays; k++) {
      reminded = reminded || role->stay[k].stay_warm || isfinite(role->stay[k].warm_s);
    }
  }
  if (status == CW_OK && reminded) {
    char time[24];
    cw_format_time(cast->lead_s, time);
    status = cw_messages_add(lines,
                             "'Move' is %s before an entrance: common practice, no rule. Bodies differ; teachers, "
                             "physiotherapists and the rules of the house come first.",
                             time);
  }
  return status;
}
