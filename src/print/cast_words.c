// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/cast_words.h"

#include <math.h>
#include <stdlib.h>

#include "countwright/time_text.h"
#include "print/buffer.h"
#include "print/clean.h"
#include "print/words.h"

/// Add when a stretch begins, where that is known.
static void put_start(const CwStay *stay, CwBuffer *out)
{
  if (isfinite(stay->start_s)) {
    char time[24];
    cw_format_time(stay->start_s, time);
    cw_buffer_join(out, ", ", "%s", time);
  }
}

static bool is_eight(const CwStay *stay)
{
  return stay->in_counts == 8;
}

/// "at eight 41, count 3, 9:40.0".
static void put_on(CwLanguage language, const CwStay *stay, CwBuffer *out)
{
  if (stay->count > 1) {
    char count[CW_WORD_ROOM];
    cw_count_label(stay->count, count);
    cw_buffer_join(
        out, "",
        cw_label(language, is_eight(stay) ? CW_MSG("at eight %u, count %s") : CW_MSG("at phrase %u, count %s")),
        stay->number, count);
  } else {
    cw_buffer_join(out, "", cw_label(language, is_eight(stay) ? CW_MSG("at eight %u") : CW_MSG("at phrase %u")),
                   stay->number);
  }
  put_start(stay, out);
}

/// "after eight 12, 6:28.0".
static void put_off(CwLanguage language, const CwStay *stay, CwBuffer *out)
{
  if (stay->count >= stay->in_counts + 1.0) {
    cw_buffer_join(out, "", cw_label(language, is_eight(stay) ? CW_MSG("after eight %u") : CW_MSG("after phrase %u")),
                   stay->number);
  } else if (stay->count <= 1) {
    cw_buffer_join(out, "", cw_label(language, is_eight(stay) ? CW_MSG("before eight %u") : CW_MSG("before phrase %u")),
                   stay->number);
  } else {
    char count[CW_WORD_ROOM];
    cw_count_label(stay->count - 1, count);
    cw_buffer_join(out, "",
                   cw_label(language, is_eight(stay) ? CW_MSG("in eight %u after count %s")
                                                     : CW_MSG("in phrase %u after count %s")),
                   stay->number, count);
  }
  put_start(stay, out);
}

/// How long a wait is, and when to move again.
static void put_wait(CwLanguage language, const CwStay *stay, CwBuffer *line)
{
  char wait[CW_WORD_ROOM];
  if (isfinite(stay->end_s) && isfinite(stay->start_s)) {
    cw_format_time(stay->end_s - stay->start_s, wait);
  } else {
    cw_counts_label(language, (unsigned)lround(stay->counts), wait);
  }
  cw_buffer_join(line, ": ", cw_label(language, "a wait of %s"), wait);
  if (stay->stay_warm) {
    cw_buffer_join(line, "; ", "%s", cw_label(language, "stay warm"));
  } else if (isfinite(stay->warm_s)) {
    char warm[24];
    cw_format_time(stay->warm_s, warm);
    cw_buffer_join(line, "; ", cw_label(language, "move again from %s"), warm);
  }
}

/// A stretch off stage, with what comes after it.
static void put_off_stage(CwLanguage language, const CwStay *stay, const CwStay *next, CwBuffer *line)
{
  CwBuffer off = {0};
  CwBuffer on = {0};
  put_off(language, stay, &off);
  if (next) {
    put_on(language, next, &on);
    cw_buffer_join(line, "", cw_label(language, "off %s; on again %s"), cw_buffer_text(&off), cw_buffer_text(&on));
    put_wait(language, stay, line);
  } else {
    cw_buffer_join(line, "", cw_label(language, "off %s; not on again"), cw_buffer_text(&off));
  }
  line->failed = line->failed || off.failed || on.failed;
  cw_buffer_free(&off);
  cw_buffer_free(&on);
}

/// The line of a stretch off stage, or of the first one on it. @return false when there is nothing to say.
static bool put_stay(const CwCastRole *role, size_t i, CwLanguage language, CwBuffer *line)
{
  const CwStay *stay = &role->stay[i];
  const CwStay *next = i + 1 < role->n_stays ? stay + 1 : NULL;
  cw_buffer_clear(line);
  if (stay->on) {
    cw_buffer_put(line, next ? cw_label(language, "on from the beginning")
                             : cw_label(language, "on from the beginning to the end"));
    put_start(stay, line);
    return i == 0;
  }
  if (i == 0 && next) {
    CwBuffer on = {0};
    put_on(language, next, &on);
    cw_buffer_join(line, "", cw_label(language, "first on %s"), cw_buffer_text(&on));
    if (isfinite(stay->warm_s)) {
      char warm[24];
      cw_format_time(stay->warm_s, warm);
      cw_buffer_join(line, "; ", cw_label(language, "move from %s"), warm);
    }
    line->failed = line->failed || on.failed;
    cw_buffer_free(&on);
    return true;
  }
  put_off_stage(language, stay, next, line);
  return true;
}

static CwStatus put_role(const CwCastRole *role, CwLanguage language, CwMessages *lines)
{
  CwBuffer line = {0};
  char *name = role->role ? cw_clean_line(role->role) : NULL;
  CwStatus status =
      role->role && !name ? CW_ERR_NO_MEM : cw_messages_add(lines, "%s", name ? name : cw_label(language, "All"));
  free(name);
  for (size_t i = 0; i < role->n_stays && status == CW_OK; i++) {
    if (put_stay(role, i, language, &line)) {
      status = line.failed ? CW_ERR_NO_MEM : cw_messages_add(lines, "  %s", cw_buffer_text(&line));
    }
  }
  cw_buffer_free(&line);
  return status;
}

CwStatus cw_cast_lines(const CwCast *cast, CwLanguage language, CwMessages *lines)
{
  CwStatus status = CW_OK;
  bool reminded = false;
  for (size_t i = 0; i < cast->n_roles && status == CW_OK; i++) {
    const CwCastRole *role = &cast->role[i];
    status = put_role(role, language, lines);
    for (size_t k = 0; k < role->n_stays; k++) {
      reminded = reminded || role->stay[k].stay_warm || isfinite(role->stay[k].warm_s);
    }
  }
  if (status == CW_OK && reminded) {
    char time[24];
    cw_format_time(cast->lead_s, time);
    status = cw_messages_add(
        lines,
        cw_label(language, "'Move' is %s before an entrance: common practice, no rule. Bodies differ; teachers, "
                           "physiotherapists and the rules of the house come first."),
        time);
  }
  return status;
}
