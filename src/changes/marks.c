// SPDX-License-Identifier: GPL-3.0-or-later
#include "changes/marks.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "base/memory.h"

enum { MARK_ROOM = 40 };

CwWholeStep cw_whole_step(const CwStep *step, size_t n, size_t i)
{
  CwWholeStep whole = {&step[i], 1};
  while (i + whole.n < n && step[i + whole.n].text[0] == '\0') {
    whole.n++;
  }
  return whole;
}

/// What follows a whole count: of a half "&", of the first and last quarter or third "e" and "a".
static const char *sub_mark(double count)
{
  const double part = count - floor(count);
  return part < 0.1 ? "" : part < 0.4 ? "e" : part < 0.6 ? "&" : "a";
}

/// Add one count to the marks before it.
static void add_mark(const CwStep *step, const CwStep *before, char *out)
{
  const char *sub = sub_mark(step->count);
  const double whole = floor(step->count);
  const size_t used = strlen(out);
  if (before && floor(before->until) == whole && *sub) {
    snprintf(out + used, MARK_ROOM, "%s", sub);
  } else if (whole < 1) {
    snprintf(out + used, MARK_ROOM, "%s", sub); // "&1": the number is that of the next
  } else {
    const bool joined = before && *sub_mark(before->until) && whole - floor(before->until) <= 1;
    snprintf(out + used, MARK_ROOM, "%s%.0f%s", before && !joined ? ", " : "", whole, sub);
  }
  if (step->until > step->count) {
    const size_t so_far = strlen(out);
    snprintf(out + so_far, MARK_ROOM, "-%.0f%s", floor(step->until), sub_mark(step->until));
  }
}

char *cw_marks_text(CwWholeStep whole)
{
  char *out = cw_new(whole.n * 2 + 1, MARK_ROOM);
  for (size_t i = 0; out && i < whole.n; i++) {
    add_mark(&whole.step[i], i > 0 ? &whole.step[i - 1] : NULL, out);
  }
  return out;
}
