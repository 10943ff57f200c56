// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/cues.h"

#include <string.h>

static const char *const name[] = {"all",    "slow",   "low",      "harmonic", "bass",
                                   "accent", "steady", "offbeats", "tempo",    "length"};
enum { N_CUES = sizeof name / sizeof name[0] };

const char *cw_cue_name(size_t i)
{
  return i < N_CUES ? name[i] : NULL;
}

/// The bit of the cue whose name is the first `length` bytes of `text`, 0 when there is none.
static unsigned find_cue(const char *text, size_t length)
{
  for (size_t i = 0; i < N_CUES; i++) {
    if (strlen(name[i]) == length && memcmp(name[i], text, length) == 0) {
      return 1U << i;
    }
  }
  return 0;
}

bool cw_cues_parse(const char *names, unsigned *cues)
{
  unsigned found = 0;
  *cues = 0;
  for (;;) {
    const size_t length = strcspn(names, ",");
    const unsigned cue = find_cue(names, length);
    if (cue == 0) {
      return false;
    }
    found |= cue;
    if (names[length] == '\0') {
      break;
    }
    names += length + 1;
  }
  *cues = found;
  return true;
}
