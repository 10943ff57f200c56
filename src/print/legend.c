// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "countwright/drift.h"
#include "print/look.h"
#include "print/words.h"

/// What occurs on a sheet.
typedef struct {
  bool half, quarter, third, span, like, other_side, pinned, check, role, count_in, timed, faster, slower, other,
      no_words, part, canon, next, over;
} Used;

static void look_at_step(const CwStep *step, Used *used)
{
  const double part = step->count - floor(step->count);
  used->half = used->half || fabs(part - 0.5) < 2e-3;
  used->quarter = used->quarter || fabs(part - 0.25) < 2e-3 || fabs(part - 0.75) < 2e-3;
  used->third = used->third || fabs(part * 3 - 1) < 6e-3 || fabs(part * 3 - 2) < 6e-3;
  used->span = used->span || step->until > step->count;
  used->no_words = used->no_words || (!step->text[0] && part < 2e-3);
}

static void look_at_steps(const CwStep *step, size_t n, unsigned counts, Used *used)
{
  for (size_t i = 0; i < n; i++) {
    look_at_step(&step[i], used);
    used->next = used->next || step[i].count >= counts + 1.0;
    used->over = used->over || (step[i].until >= counts + 1.0 && step[i].count < counts + 1.0);
  }
}

static void look_at_row(const CwSheetRow *row, bool only_repeats, Used *used)
{
  used->like = used->like || row->like;
  used->other_side = used->other_side || row->other_side;
  used->pinned = used->pinned || row->pinned;
  used->check = used->check || row->check_by_ear;
  used->role = used->role || (row->role && row->role[0]);
  used->count_in = used->count_in || row->count_in;
  used->timed = used->timed || row->timed;
  used->faster = used->faster || row->change_percent >= CW_JUST_NOTICEABLE_PERCENT;
  used->slower = used->slower || row->change_percent <= -CW_JUST_NOTICEABLE_PERCENT;
  used->other = used->other || row->other.present;
  if (only_repeats) {
    return;
  }
  look_at_steps(row->step, row->n_steps, row->counts, used);
  used->part = used->part || row->n_parts > 0;
  used->canon = used->canon || row->canon_apart;
  for (size_t i = 0; i < row->n_parts; i++) {
    look_at_steps(row->part[i].step, row->part[i].n_steps, row->counts, used);
    used->canon = used->canon || row->part[i].delay;
  }
}

size_t cw_legend(const CwSheet *sheet, const CwRepeat *repeats, CwLegend legend[CW_LEGEND_ROOM])
{
  Used used = {0};
  const CwLanguage in = sheet->labels;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    look_at_row(&sheet->row[i], repeats[i].is_enough, &used);
  }
  const struct {
    bool shown;
    const char *sign;
    const char *words;
  } all[] = {
      {used.timed, "0:32.4", CW_MSG("where the phrase's one is in the recording: minutes, seconds, tenths")},
      {used.timed, CW_MSG("58/min"), CW_MSG("counts a minute, mean of the phrase")},
      {used.faster, CW_SAY_FASTER_SIGN " 7 %",
       CW_MSG("so much faster than the phrase before; less than 2.5 percent is hardly heard and not shown")},
      {used.slower, CW_SAY_SLOWER_SIGN " 7 %", CW_MSG("so much slower than the phrase before")},
      {used.other, CW_SAY_OTHER " 0:31.0",
       CW_MSG("where its one is in the other recording, how fast it goes there and what will be felt")},
      {used.half, "3&", CW_MSG("half-way from 3 to 4")},
      {used.quarter, "3e 3a", CW_MSG("a quarter and three quarters of the way from 3 to 4")},
      {used.third, "3e 3a", CW_MSG("the second and third beat of a bar of three counted as 3")},
      {used.span, "1" CW_TEXT_RULE "4", CW_MSG("one step that takes counts 1 to 4")},
      {used.no_words, "4" CW_SAY_GOES_ON, CW_MSG("a further count of the step before it")},
      {used.like || used.other_side, CW_MSG("like 5"),
       CW_MSG("the steps of phrase 5 again; other side: left for right")},
      {used.count_in, CW_MSG("count-in 4"), CW_MSG("four counts are given before the phrase")},
      {used.role, CW_MSG("[name]"), CW_MSG("for that role alone")},
      {used.part, CW_MSG("+ [name]"), CW_MSG("danced by that role at the same time")},
      {used.canon, CW_MSG("in canon"), CW_MSG("the same steps so many counts later")},
      {used.over, CW_MSG("(on to 2)"), CW_MSG("the step runs on into the next phrase, up to its count 2")},
      {used.next, "+1", CW_MSG("count 1 of the next phrase")},
      {used.pinned, CW_SAY_PINNED, CW_MSG("its one was set by hand")},
      {used.check, CW_SAY_CHECK, CW_MSG("its one is not certain: listen before you rely on it")},
  };
  size_t n = 0;
  for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
    if (all[i].shown) {
      const char *question = strcmp(all[i].sign, CW_SAY_CHECK) == 0 ? "? " : "";
      snprintf(legend[n].sign, sizeof legend[n].sign, "%s%.100s", question, cw_label(in, all[i].sign));
      legend[n++].words = cw_label(in, all[i].words);
    }
  }
  return n;
}
