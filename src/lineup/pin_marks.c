// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/pin_marks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/time_text.h"

#define WHOLE 1e-3 // a smaller part of a count is none

static CwStatus leave_out(CwMessages *messages, double time_s, size_t phrase, const char *why)
{
  char time[24];
  cw_format_time(time_s, time);
  return cw_messages_add(messages, "the pin at %s in phrase %zu %s: it is left out", time, phrase + 1, why);
}

/// Add the pin of a phrase whose one is count `first` of all.
static CwStatus add(const CwNotebook *notebook, size_t phrase, size_t first, double count, double time_s,
                    double duration_s, CwPinMarks *marks, CwMessages *messages)
{
  if (!(time_s >= 0.0 && time_s <= duration_s)) {
    return leave_out(messages, time_s, phrase, "lies outside the recording");
  }
  const bool before_one = count < 1.0 && count >= 0.0 && phrase > 0 && !notebook->phrase[phrase - 1].hold_after;
  if (!before_one && !(count >= 1.0 && count < notebook->phrase[phrase].counts + 1.0)) {
    return leave_out(messages, time_s, phrase, "is on no count of a phrase");
  }
  double whole = floor(count + WHOLE);
  double part = count - whole;
  part = part < WHOLE ? 0.0 : part;
  const size_t of_all = before_one ? first - (whole < 1.0 ? 1 : 0) : first + (size_t)whole - 1;
  marks->mark[marks->n] =
      (CwPinMark){.count = of_all, .part = part, .time_s = time_s, .phrase = phrase, .order = marks->n};
  marks->n++;
  return CW_OK;
}

static CwStatus add_all(const CwNotebook *notebook, double duration_s, CwPinMarks *marks, CwMessages *messages)
{
  CwStatus status = CW_OK;
  size_t first = 0;
  if (!isnan(notebook->head.first_one_s) && notebook->n_phrases > 0) {
    status = add(notebook, 0, 0, 1.0, notebook->head.first_one_s, duration_s, marks, messages);
  }
  for (size_t p = 0; p < notebook->n_phrases && status == CW_OK; p++) {
    const CwNotePhrase *phrase = &notebook->phrase[p];
    for (size_t i = 0; i < phrase->n_pins && status == CW_OK; i++) {
      const size_t before = marks->n;
      status = add(notebook, p, first, phrase->pin[i].count, phrase->pin[i].time_s, duration_s, marks, messages);
      if (marks->n > before) {
        marks->mark[before].line = phrase->pin[i].line;
        marks->mark[before].column = phrase->pin[i].column;
      }
    }
    first += phrase->counts;
    const bool until = phrase->hold_after && !isnan(phrase->hold_until_s) && p + 1 < notebook->n_phrases;
    if (until && status == CW_OK) { // the hold ends where the next phrase begins
      status = add(notebook, p + 1, first, 1.0, phrase->hold_until_s, duration_s, marks, messages);
    }
  }
  return status;
}

static int by_place(const void *a, const void *b)
{
  const CwPinMark *left = a;
  const CwPinMark *right = b;
  if (left->count != right->count) {
    return left->count < right->count ? -1 : 1;
  }
  if (left->part != right->part) {
    return left->part < right->part ? -1 : 1;
  }
  return left->order < right->order ? -1 : 1;
}

CwStatus cw_pin_marks_read(const CwNotebook *notebook, double duration_s, CwPinMarks *marks, CwMessages *messages)
{
  size_t most = 1 + notebook->n_phrases;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    most += notebook->phrase[p].n_pins;
  }
  *marks = (CwPinMarks){.mark = cw_new(most, sizeof *marks->mark)};
  const CwStatus status = marks->mark ? add_all(notebook, duration_s, marks, messages) : CW_ERR_NO_MEM;
  if (status != CW_OK) {
    cw_pin_marks_free(marks);
  } else if (marks->n > 1) {
    qsort(marks->mark, marks->n, sizeof *marks->mark, by_place);
  }
  return status;
}

void cw_pin_marks_free(CwPinMarks *marks)
{
  free(marks->mark);
  memset(marks, 0, sizeof *marks);
}
