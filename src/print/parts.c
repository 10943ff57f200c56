// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/parts.h"

#include <math.h>
#include <stdlib.h>

#include "print/clean.h"
#include "print/look.h"
#include "print/words.h"

CwSheetRow cw_part_row(const CwSheetRow *row, const CwSheetPart *part)
{
  return (CwSheetRow){.number = row->number,
                      .counts = row->counts,
                      .start_s = NAN,
                      .end_s = NAN,
                      .counts_per_min = NAN,
                      .confidence = -1,
                      .step = part->step,
                      .n_steps = part->n_steps,
                      .remark = part->remark,
                      .role = part->role};
}

/// Add a text cleaned, between two signs.
static void join_name(CwBuffer *out, const char *separator, const char *before, const char *name, const char *after)
{
  char *clean = cw_clean_line(name);
  if (clean) {
    cw_buffer_join(out, separator, "%s%s%s", before, clean, after);
  } else {
    out->failed = true;
  }
  free(clean);
}

/// "in canon, 4 counts after [Ilse]".
static void put_leader(CwLanguage language, const char *leader, const char *counts, const char *separator,
                       CwBuffer *out)
{
  char *clean = cw_clean_line(leader);
  if (clean) {
    cw_buffer_join(out, separator, cw_label(language, "in canon, %s after [%s]"), counts, clean);
  } else {
    out->failed = true;
  }
  free(clean);
}

void cw_put_part_tags(CwLanguage language, const CwSheetPart *part, const char *separator, CwBuffer *out)
{
  if (part->role && part->role[0]) {
    join_name(out, separator, "+ [", part->role, "]");
  } else {
    cw_buffer_join(out, separator, "+ %s", cw_label(language, CW_SAY_SAME_TIME));
  }
  if (part->delay > 0) {
    char counts[CW_WORD_ROOM];
    cw_counts_label(language, part->after, counts);
    if (part->leader && part->leader[0]) {
      put_leader(language, part->leader, counts, separator, out);
    } else {
      cw_buffer_join(out, separator, cw_label(language, "in canon, %s later"), counts);
    }
  }
  char like[CW_WORD_ROOM];
  const CwRepeat repeat = {part->like, part->other_side, false};
  cw_like_label(language, &repeat, like);
  if (*like) {
    cw_buffer_join(out, separator, "%s", like);
  }
}

void cw_put_together_tags(CwLanguage language, const CwSheetRow *row, const char *separator, CwBuffer *out)
{
  if (row->canon_apart > 0) {
    char counts[CW_WORD_ROOM];
    cw_counts_label(language, row->canon_apart, counts);
    cw_buffer_join(out, separator, cw_label(language, "in canon, %s apart"), counts);
  }
  if (row->others) {
    cw_buffer_join(out, separator, "%s", cw_label(language, row->off ? CW_SAY_OFF : CW_SAY_OTHERS));
  }
}
