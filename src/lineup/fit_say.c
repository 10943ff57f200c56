// SPDX-License-Identifier: GPL-3.0-or-later
/// Changes that would make notes and music fit, in words.
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "countwright/fit.h"
#include "countwright/time_text.h"

enum { ROOM = 120 };

#define AS_GOOD 2.0 // ln less than another and still as good

/// "phrase 7", "one of phrases 3-7".
static const char *name_phrases(const CwFit *fit, char out[ROOM])
{
  if (fit->first < fit->last) {
    snprintf(out, ROOM, "one of phrases %zu-%zu", fit->first > 0 ? fit->first : 1, fit->last);
  } else {
    snprintf(out, ROOM, "phrase %zu", fit->phrase);
  }
  return out;
}

static const char *name_fit(const CwFit *fit, char out[2 * ROOM])
{
  char phrase[ROOM];
  name_phrases(fit, phrase);
  switch (fit->kind) {
  case CW_FIT_MISSING:
    if (fit->last == 0) {
      snprintf(out, 2 * ROOM, "a phrase of %u is missing before phrase 1", fit->counts);
    } else {
      snprintf(out, 2 * ROOM, "a phrase of %u is missing %s%s", fit->counts,
               fit->first == 0 ? "before the first, or after " : "after ", phrase);
    }
    break;
  case CW_FIT_EXTRA:
    snprintf(out, 2 * ROOM, "%s is not there", phrase);
    break;
  case CW_FIT_LENGTH:
    snprintf(out, 2 * ROOM, "%s has %u counts", phrase, fit->counts);
    break;
  }
  return out;
}

CwStatus cw_fits_explain(const CwFits *fits, CwMessages *messages)
{
  CwStatus status = CW_OK;
  for (size_t i = 0; i < fits->n && status == CW_OK;) {
    char first[2 * ROOM];
    char second[2 * ROOM];
    char time[24];
    const bool also = i + 1 < fits->n && fits->fit[i].gain - fits->fit[i + 1].gain < AS_GOOD;
    cw_format_time(fits->fit[i].at_s, time);
    name_fit(&fits->fit[i], first);
    status = cw_messages_add(messages, "%s: %s%s%s, near %s", i == 0 ? "it may fit better so" : "or else so", first,
                             also ? ", or " : "", also ? name_fit(&fits->fit[i + 1], second) : "", time);
    i += also ? 2 : 1;
  }
  return status;
}
