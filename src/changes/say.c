// SPDX-License-Identifier: GPL-3.0-or-later
/// Changes in sentences.
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/changes.h"

enum { NAME_ROOM = 96, MOST_RUNS = 12 };

/// Write into new memory. @return Release with free(); NULL when memory runs out.
CW_PRINTF(1, 2) static char *write_new(const char *format, ...)
{
  va_list list;
  va_start(list, format);
  const int length = vsnprintf(NULL, 0, format, list);
  va_end(list);
  char *text = length >= 0 ? cw_new((size_t)length + 1, 1) : NULL;
  if (text) {
    va_start(list, format);
    vsnprintf(text, (size_t)length + 1, format, list);
    va_end(list);
  }
  return text;
}

/// "3", "3 (was 5)", "3-4 (were 5-6)".
static const char *name_numbers(size_t now, size_t was, size_t n, char out[NAME_ROOM])
{
  if (n > 1) {
    const int used = snprintf(out, NAME_ROOM, "%zu-%zu", now, now + n - 1);
    if (was > 0 && was != now) {
      snprintf(out + used, NAME_ROOM - (size_t)used, " (were %zu-%zu)", was, was + n - 1);
    }
  } else if (was > 0 && was != now) {
    snprintf(out, NAME_ROOM, "%zu (was %zu)", now, was);
  } else {
    snprintf(out, NAME_ROOM, "%zu", now);
  }
  return out;
}

/// "phrase 3 (was 5)".
static const char *name_phrase(size_t now, size_t was, size_t n, char out[NAME_ROOM])
{
  char numbers[NAME_ROOM];
  snprintf(out, NAME_ROOM, "phrase%s %.80s", n > 1 ? "s" : "", name_numbers(now, was, n, numbers));
  return out;
}

static char *say_new_or_gone(const CwChange *change)
{
  const bool is_new = change->kind == CW_CHANGE_PHRASE_NEW;
  const bool many = change->n_phrases > 1;
  const char *words = is_new ? change->after : change->before;
  char phrase[NAME_ROOM];
  name_phrase(is_new ? change->new_phrase : change->old_phrase, 0, change->n_phrases, phrase);
  return write_new("%s%s %s %s%s%s", phrase, is_new ? "" : " of the old notes", many ? "are" : "is",
                   is_new ? "new" : "gone", words && *words ? ": " : "", words ? words : "");
}

static char *say_moved(const CwChanges *changes, const CwChange *change)
{
  const bool many = change->n_phrases > 1;
  char phrase[NAME_ROOM];
  char before[NAME_ROOM];
  name_phrase(change->new_phrase, change->old_phrase, change->n_phrases, phrase);
  if (change->new_phrase == 1) {
    return write_new("%s %s moved: %s first", phrase, many ? "have" : "has", many ? "they come" : "it comes");
  }
  const size_t at = change->new_phrase - 1;
  name_phrase(at, changes->was[at - 1], 1, before);
  return write_new("%s %s moved: %s after %s%s", phrase, many ? "have" : "has", many ? "they come" : "it comes", before,
                   changes->was[at - 1] == 0 ? ", which is new" : "");
}

static char *say_places(const CwChanges *changes, const CwChange *change)
{
  char one[NAME_ROOM];
  char other[NAME_ROOM];
  const size_t partner = change->repeat[0];
  const size_t n = change->n_phrases;
  const char *were = n > 1 ? "were" : "was";
  char old_one[NAME_ROOM];
  char old_other[NAME_ROOM];
  name_numbers(change->new_phrase, 0, n, one);
  name_numbers(partner, 0, n, other);
  name_numbers(change->old_phrase, 0, n, old_one);
  name_numbers(changes->was[partner - 1], 0, n, old_other);
  return write_new("phrases %s (%s %s) and %s (%s %s) have changed places", one, were, old_one, other, were, old_other);
}

/// A change of something that phrases have one of. @param what Such as "is danced by".
static char *say_text(const CwChange *change, const char *phrase, const char *what)
{
  if (!change->before) {
    return write_new("in %s the %s '%s' is new", phrase, what, change->after);
  }
  if (!change->after) {
    return write_new("in %s the %s '%s' is gone", phrase, what, change->before);
  }
  return write_new("in %s the %s is now '%s', no longer '%s'", phrase, what, change->after, change->before);
}

static char *say_role(const CwChange *change, const char *phrase)
{
  const char *quote_new = change->after ? "'" : "";
  const char *quote_old = change->before ? "'" : "";
  return write_new("%s is for %s%s%s now, no longer for %s%s%s", phrase, quote_new,
                   change->after ? change->after : "everybody", quote_new, quote_old,
                   change->before ? change->before : "everybody", quote_old);
}

static char *say_music(const CwChange *change, const char *phrase)
{
  const char *what = change->kind == CW_CHANGE_METRE ? "the metre" : "beats per count";
  if (!change->before) {
    return write_new("from %s on %s: %s, which the old notes do not say", phrase, what, change->after);
  }
  if (!change->after) {
    return write_new("from %s on %s: no longer said; it was %s", phrase, what, change->before);
  }
  return write_new("from %s on %s: %s, no longer %s", phrase, what, change->after, change->before);
}

static char *say_frame(const CwChange *change, const char *phrase)
{
  switch (change->kind) {
  case CW_CHANGE_COUNTS:
    return write_new("%s has %s counts, no longer %s", phrase, change->after, change->before);
  case CW_CHANGE_SIDE:
    return write_new("%s is %s on the other side", phrase, change->after ? "now" : "no longer");
  case CW_CHANGE_ROLE:
    return say_role(change, phrase);
  case CW_CHANGE_COUNT_IN:
    return change->after ? write_new("%s is counted in with %s counts now", phrase, change->after)
                         : write_new("%s is no longer counted in", phrase);
  case CW_CHANGE_HOLD:
    return !change->after    ? write_new("%s after %s is gone", change->before, phrase)
           : !change->before ? write_new("%s after %s is new", change->after, phrase)
                             : write_new("after %s comes %s, no longer %s", phrase, change->after, change->before);
  case CW_CHANGE_REMARK:
    return say_text(change, phrase, "remark");
  case CW_CHANGE_PART:
    return say_text(change, phrase, "part of another role");
  default:
    return say_music(change, phrase);
  }
}

static char *say_step(const CwChange *change, const char *phrase)
{
  switch (change->kind) {
  case CW_CHANGE_STEP_NEW:
    return write_new("in %s, on %s: '%s' is new", phrase, change->new_on, change->after);
  case CW_CHANGE_STEP_GONE:
    return write_new("in %s: '%s' on %s is gone", phrase, change->before, change->old_on);
  case CW_CHANGE_COUNT:
    return write_new("in %s: '%s' is on %s now, no longer on %s", phrase, change->after, change->new_on,
                     change->old_on);
  case CW_CHANGE_PLACE:
    return write_new("in %s, on %s: at another place: '%s' is now '%s'", phrase, change->new_on, change->before,
                     change->after);
  case CW_CHANGE_SPELLING:
    return write_new("in %s, on %s: '%s' is only spelt otherwise: '%s'", phrase, change->new_on, change->before,
                     change->after);
  default:
    return write_new("in %s, on %s: '%s' is now '%s'", phrase, change->new_on, change->before, change->after);
  }
}

static char *say_heading(const CwChange *change)
{
  char phrase[NAME_ROOM];
  if (!change->after) {
    name_phrase(change->old_phrase, 0, 1, phrase);
    return write_new("the heading '%s' before %s of the old notes is gone", change->before, phrase);
  }
  name_phrase(change->new_phrase, change->old_phrase, 1, phrase);
  return change->before
             ? write_new("the heading before %s is now '%s', no longer '%s'", phrase, change->after, change->before)
             : write_new("the heading '%s' before %s is new", change->after, phrase);
}

/// Add which phrases changed in the same way.
static char *add_repeats(char *text, const CwChange *change)
{
  for (size_t i = 0; text && i < change->n_repeats; i++) {
    const bool last = i + 1 == change->n_repeats;
    const char *join = i > 0 ? (last ? " and " : ", ") : change->n_repeats > 1 ? "; so in phrases " : "; so in phrase ";
    char *longer = write_new("%s%s%zu%s", text, join, change->repeat[i],
                             !last                   ? ""
                             : change->n_repeats > 1 ? ", which repeat it"
                                                     : ", which repeats it");
    free(text);
    text = longer;
  }
  return text;
}

CwStatus cw_change_say(const CwChanges *changes, size_t index, char **text)
{
  const CwChange *change = &changes->change[index];
  char phrase[NAME_ROOM];
  name_phrase(change->new_phrase, change->old_phrase, 1, phrase);
  switch (change->kind) {
  case CW_CHANGE_PHRASE_NEW:
  case CW_CHANGE_PHRASE_GONE:
    *text = say_new_or_gone(change);
    break;
  case CW_CHANGE_PHRASE_MOVED:
    *text = say_moved(changes, change);
    break;
  case CW_CHANGE_PHRASE_PLACES:
    *text = say_places(changes, change);
    break;
  case CW_CHANGE_HEADING:
    *text = say_heading(change);
    break;
  default:
    *text = change->new_on || change->old_on ? say_step(change, phrase) : say_frame(change, phrase);
    *text = add_repeats(*text, change);
    break;
  }
  return *text ? CW_OK : CW_ERR_NO_MEM;
}

/// "2 are new" with a comma before it, where there are any.
static void add_number(size_t n, const char *one, const char *many, char *out, size_t size)
{
  const size_t used = strlen(out);
  if (n > 0) {
    snprintf(out + used, size - used, ", %zu %s", n, n == 1 ? one : many);
  }
}

static CwStatus explain_sum(const CwChanges *changes, CwMessages *messages)
{
  char more[200] = "";
  if (changes->n == 0) {
    return cw_messages_add(messages, "nothing has changed in %zu phrase%s", changes->n_new,
                           changes->n_new == 1 ? "" : "s");
  }
  add_number(changes->n_added, "is new", "are new", more, sizeof more);
  add_number(changes->n_moved, "has moved", "have moved", more, sizeof more);
  add_number(changes->n_removed, "of the old ones is gone", "of the old ones are gone", more, sizeof more);
  return cw_messages_add(messages, "of %zu phrase%s %zu %s danced as before%s", changes->n_new,
                         changes->n_new == 1 ? "" : "s", changes->n_same, changes->n_same == 1 ? "is" : "are", more);
}

/// How phrases are numbered now: runs of them that keep their distance.
static CwStatus explain_numbers(const CwChanges *changes, CwMessages *messages)
{
  size_t runs = 0;
  CwStatus status = CW_OK;
  for (size_t k = 0; k < changes->n_new && status == CW_OK && runs < MOST_RUNS;) {
    size_t n = 1;
    while (k + n < changes->n_new && changes->was[k] && changes->was[k + n] == changes->was[k] + n) {
      n++;
    }
    if (changes->was[k] && changes->was[k] != k + 1) {
      status = n > 1 ? cw_messages_add(messages, "phrases %zu-%zu were numbered %zu-%zu", k + 1, k + n, changes->was[k],
                                       changes->was[k] + n - 1)
                     : cw_messages_add(messages, "phrase %zu was numbered %zu", k + 1, changes->was[k]);
      runs++;
    }
    k += n;
  }
  return status;
}

CwStatus cw_changes_explain(const CwChanges *changes, CwMessages *messages)
{
  CwStatus status = explain_sum(changes, messages);
  for (size_t i = 0; i < changes->n && status == CW_OK; i++) {
    char *text = NULL;
    status = cw_change_say(changes, i, &text);
    if (status == CW_OK) {
      status = cw_messages_add(messages, "%s", text);
    }
    free(text);
  }
  return status == CW_OK ? explain_numbers(changes, messages) : status;
}

const char *cw_change_name(CwChangeKind kind)
{
  static const char *const name[] = {
      [CW_CHANGE_PHRASE_NEW] = "phrase-new",
      [CW_CHANGE_PHRASE_GONE] = "phrase-gone",
      [CW_CHANGE_PHRASE_MOVED] = "phrase-moved",
      [CW_CHANGE_PHRASE_PLACES] = "phrases-changed-places",
      [CW_CHANGE_COUNTS] = "counts",
      [CW_CHANGE_SIDE] = "side",
      [CW_CHANGE_ROLE] = "role",
      [CW_CHANGE_METRE] = "metre",
      [CW_CHANGE_BEATS] = "beats-per-count",
      [CW_CHANGE_COUNT_IN] = "count-in",
      [CW_CHANGE_HOLD] = "hold",
      [CW_CHANGE_REMARK] = "remark",
      [CW_CHANGE_PART] = "part",
      [CW_CHANGE_STEP_NEW] = "step-new",
      [CW_CHANGE_STEP_GONE] = "step-gone",
      [CW_CHANGE_STEP] = "step",
      [CW_CHANGE_PLACE] = "place",
      [CW_CHANGE_COUNT] = "count",
      [CW_CHANGE_SPELLING] = "spelling",
      [CW_CHANGE_HEADING] = "heading",
  };
  return kind <= CW_CHANGE_HEADING ? name[kind] : "unknown";
}
