// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/session.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/by_pins.h"
#include "lineup/expect.h"
#include "lineup/follow.h"
#include "lineup/kept.h"
#include "lineup/pins.h"
#include "lineup/place.h"
#include "lineup/plan.h"
#include "lineup/sound.h"
#include "pulse/look.h"

#define SAME_COUNT 1e-3

/// A pin of the session.
typedef struct {
  size_t phrase;
  CwPin pin;
} OwnPin;

struct CwSession {
  const CwFeatures *features;
  const CwNotebook *notebook;
  bool without_pins; ///< of the notes
  double beats_per_count;
  CwLook look;
  CwSound sound;
  CwCountLine line;
  OwnPin *pin;
  size_t n_pins, pin_room;
};

/// Part of a plan, and where its counts are.
typedef struct {
  CwPlan plan;
  size_t from, to; ///< counts searched again
  double *time_s;  ///< of all counts
  double *end_s;
} Change;

static void change_free(Change *c)
{
  cw_plan_free(&c->plan);
  free(c->time_s);
  free(c->end_s);
}

static bool is_on(const OwnPin *own, size_t phrase, double count)
{
  return own->phrase == phrase && fabs(own->pin.count - count) < SAME_COUNT;
}

/// The pins of a phrase: its own, but for those that the session has others for, and the session's.
static CwStatus join_pins(const CwSession *s, size_t p, CwNotePhrase *phrase)
{
  const CwNotePhrase *noted = &s->notebook->phrase[p];
  phrase->pin = cw_new(noted->n_pins + s->n_pins + 1, sizeof *phrase->pin);
  phrase->n_pins = 0;
  if (!phrase->pin) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < noted->n_pins && !s->without_pins; i++) {
    bool replaced = false;
    for (size_t k = 0; k < s->n_pins; k++) {
      replaced = replaced || is_on(&s->pin[k], p, noted->pin[i].count);
    }
    if (!replaced) {
      phrase->pin[phrase->n_pins++] = noted->pin[i];
    }
  }
  for (size_t k = 0; k < s->n_pins; k++) {
    if (s->pin[k].phrase == p) {
      phrase->pin[phrase->n_pins++] = s->pin[k].pin;
    }
  }
  return CW_OK;
}

/// Put all pins into a plan.
static CwStatus set_pins(const CwSession *s, CwPlan *plan, CwMessages *messages)
{
  CwNotebook joined = *s->notebook;
  joined.phrase = cw_new(joined.n_phrases, sizeof *joined.phrase);
  if (!joined.phrase) {
    return CW_ERR_NO_MEM;
  }
  CwStatus status = CW_OK;
  for (size_t p = 0; p < joined.n_phrases; p++) {
    joined.phrase[p] = s->notebook->phrase[p];
    joined.phrase[p].pin = NULL;
    joined.phrase[p].hold_until_s = s->without_pins ? (double)NAN : joined.phrase[p].hold_until_s;
    if (status == CW_OK) {
      status = join_pins(s, p, &joined.phrase[p]);
    }
  }
  for (size_t k = 0; k < s->n_pins; k++) { // a pin on the first one says more than the head
    joined.head.first_one_s = is_on(&s->pin[k], 0, 1.0) ? (double)NAN : joined.head.first_one_s;
  }
  joined.head.first_one_s = s->without_pins ? (double)NAN : joined.head.first_one_s;
  if (status == CW_OK) {
    status = cw_pins_set(&joined, s->features->duration_s, plan, messages);
  }
  for (size_t p = 0; p < joined.n_phrases; p++) {
    free(joined.phrase[p].pin);
  }
  free(joined.phrase);
  return status;
}

/// The plan with all pins, cut to the counts that have music.
static CwStatus make_plan(const CwSession *s, CwPlan *plan, CwMessages *messages)
{
  CwMessages said = {0}; // at the beginning of the session already
  CwStatus status = cw_plan_make(s->notebook, s->beats_per_count, plan, &said);
  cw_messages_free(&said);
  if (status == CW_OK) {
    status = set_pins(s, plan, messages);
    plan->n = s->line.n_counts < plan->n ? s->line.n_counts : plan->n;
  }
  return status;
}

/// Where all counts are now.
static CwStatus change_init(const CwSession *s, Change *c)
{
  const size_t n = s->line.n_counts;
  c->time_s = cw_new(n + 1, sizeof *c->time_s);
  c->end_s = cw_new(n + 1, sizeof *c->end_s);
  if (!c->time_s || !c->end_s) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    c->time_s[i] = s->line.count_s[i];
    c->end_s[i] = i + 1 < n ? s->line.count_s[i + 1] : s->line.duration_s;
  }
  for (size_t p = 0; p < s->line.n_phrases; p++) {
    const CwPhrase *phrase = &s->line.phrase[p];
    c->end_s[phrase->first_count + phrase->counts - 1] = phrase->end_s;
  }
  return CW_OK;
}

static bool is_fixed(const CwPlan *plan, size_t i)
{
  return !isnan(plan->count[i].pin_s);
}

/// Which counts to search again around count `middle`: up to the pins on both sides, and not far.
static void choose_stretch(Change *c, size_t middle)
{
  c->from = middle;
  c->to = middle + 1;
  while (c->from > 0 && middle - c->from < CW_SESSION_REACH && (c->from == middle || !is_fixed(&c->plan, c->from))) {
    c->from--;
  }
  while (c->to < c->plan.n && c->to - middle <= CW_SESSION_REACH &&
         (c->to == middle + 1 || !is_fixed(&c->plan, c->to - 1))) {
    c->to++;
  }
}

/// Where the counts of a stretch would go if they followed its pins evenly.
static void follow_evenly(const Change *c, const double *time_s, double *out)
{
  const size_t n = c->to - c->from;
  size_t left = 0;
  double left_s = 0; // how far the pin on the left moves its count
  for (size_t i = 0; i <= n; i++) {
    const bool end = i == n;
    if (!end && !is_fixed(&c->plan, c->from + i)) {
      continue;
    }
    const double right_s = end ? left_s : c->plan.count[c->from + i].pin_s - time_s[c->from + i];
    const bool first = left == 0 && c->from == 0 && !is_fixed(&c->plan, c->from);
    for (size_t k = left; k < i; k++) {
      const double share = i > left ? (double)(k - left) / (double)(i - left) : 0.0;
      const double moved_s = first ? right_s : left_s + share * (right_s - left_s);
      out[k] = fmax(time_s[c->from + k] + moved_s, 0.0);
    }
    left = i;
    left_s = right_s;
  }
}

/// Fix the ends of the stretch where they are, unless it ends with the notes.
static void fix_ends(const Change *c, CwPlanCount *count)
{
  if (c->from > 0 && isnan(count[0].pin_s)) {
    count[0].pin_s = c->time_s[c->from];
  }
  if (c->to < c->plan.n && isnan(count[c->to - c->from - 1].pin_s)) {
    count[c->to - c->from - 1].pin_s = c->time_s[c->to - 1];
  }
}

static CwStatus search(const CwSession *s, const CwPlan *part, double *time_s)
{
  const CwActivation *a = &s->look.activation;
  const CwSight sight = {CW_FEATURE_RATE_HZ, a->n, a->beat, a->downbeat, s->sound.before_s, s->look.offbeat_weight};
  const size_t width = (size_t)(2 * CW_FINE_REACH_S * CW_FEATURE_RATE_HZ);
  size_t *first = cw_new(part->n, sizeof *first);
  if (!first) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < part->n; i++) {
    const double middle = isnan(part->count[i].pin_s) ? time_s[i] : part->count[i].pin_s;
    first[i] = (size_t)fmax(round(middle * CW_FEATURE_RATE_HZ) - (double)width / 2.0, 0.0);
  }
  const CwBands bands = {first, width, CW_FINE_RATIO, cw_likely_count(part, &s->sound), CW_TEMPO_SPREAD};
  size_t n_found = 0;
  CwStatus status = cw_follow(part, &sight, &bands, NULL, time_s, &n_found);
  free(first);
  return status == CW_OK && n_found < part->n ? CW_ERR_NO_PULSE : status;
}

/// Search a stretch again.
static CwStatus search_stretch(const CwSession *s, Change *c)
{
  CwPlan part = {NULL, c->to - c->from};
  double *time_s = cw_new(part.n, sizeof *time_s);
  double *end_s = cw_new(part.n, sizeof *end_s);
  part.count = cw_new(part.n, sizeof *part.count);
  CwStatus status = part.count && time_s && end_s ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    memcpy(part.count, c->plan.count + c->from, part.n * sizeof *part.count);
    fix_ends(c, part.count);
    follow_evenly(c, c->time_s, time_s);
    status = search(s, &part, time_s);
    const bool found = status == CW_OK;
    if (status == CW_ERR_NO_PULSE && cw_pins_end(&part) > 0) { // nothing fits: evenly from pin to pin
      cw_times_by_pins(&part, time_s);
      status = CW_OK;
    }
    if (status == CW_OK) {
      status = cw_place_finely(s->features, &part, part.n, cw_likely_count(&part, &s->sound), found, time_s, end_s);
    }
  }
  for (size_t i = 0; i < part.n && status == CW_OK; i++) {
    c->time_s[c->from + i] = time_s[i];
    c->end_s[c->from + i] = end_s[i];
  }
  free(part.count);
  free(time_s);
  free(end_s);
  return status;
}

/// Make a line of the changed times; phrases keep their confidence, pinned ones are certain.
static CwStatus make_line(const CwSession *s, Change *c, CwCountLine *line)
{
  cw_count_line_init(line, s->line.duration_s);
  line->metre = s->line.metre;
  line->beats_per_count = s->line.beats_per_count;
  CwStatus status = cw_pins_obey(&c->plan, c->time_s, c->end_s);
  for (size_t p = 0; p < s->line.n_phrases && status == CW_OK; p++) {
    const size_t first = s->line.phrase[p].first_count;
    const unsigned counts = s->line.phrase[p].counts;
    const size_t next = first + counts;
    const double end_s = cw_plan_is_cut(&c->plan, next - 1) ? c->end_s[next - 1] : c->time_s[next];
    const bool pinned = is_fixed(&c->plan, first) && !c->plan.count[first].spread;
    status = cw_count_line_add(line, c->time_s + first, counts, end_s, pinned ? 1.0 : s->line.phrase[p].confidence);
  }
  if (status != CW_OK) {
    cw_count_line_free(line);
  }
  return status;
}

/// Bring the line up to date after a pin on a count came or went.
static CwStatus update(CwSession *s, size_t phrase, double count, CwMessages *messages)
{
  Change c = {.from = 0};
  CwCountLine line;
  CwStatus status = make_plan(s, &c.plan, messages);
  if (status == CW_OK) {
    status = change_init(s, &c);
  }
  if (status == CW_OK && c.plan.n > 0 && phrase < s->line.n_phrases) {
    const size_t of_all = s->line.phrase[phrase].first_count + (size_t)fmax(count - 1.0, 0.0);
    choose_stretch(&c, of_all < c.plan.n ? of_all : c.plan.n - 1);
    status = search_stretch(s, &c);
  }
  if (status == CW_OK) {
    status = make_line(s, &c, &line);
  }
  if (status == CW_OK) {
    cw_count_line_free(&s->line);
    s->line = line;
  }
  change_free(&c);
  return status;
}

/// Index of the session's pin on a count; n_pins when there is none.
static size_t find_pin(const CwSession *s, size_t phrase, double count)
{
  size_t i = 0;
  while (i < s->n_pins && !is_on(&s->pin[i], phrase, count)) {
    i++;
  }
  return i;
}

/// Whether all pins can be true together. Those of the notes that cannot were told at the beginning.
static CwStatus check_pins(CwSession *s, const OwnPin *wanted, CwMessages *messages)
{
  CwMessages said = {0};
  CwMessages said_before = {0};
  CwPlan plan = {0};
  const size_t n_pins = s->n_pins;
  CwStatus status = make_plan(s, &plan, &said);
  cw_plan_free(&plan);
  if (status == CW_OK) { // the same without the new one
    const size_t at = find_pin(s, wanted->phrase, wanted->pin.count);
    const OwnPin kept = s->pin[at];
    s->pin[at] = s->pin[n_pins - 1];
    s->n_pins--;
    status = make_plan(s, &plan, &said_before);
    cw_plan_free(&plan);
    s->pin[n_pins - 1] = s->pin[at];
    s->pin[at] = kept;
    s->n_pins = n_pins;
  }
  if (status == CW_OK && said.n > said_before.n) {
    status = cw_messages_add(messages, "%s", said.text[said.n - 1]) == CW_OK ? CW_ERR_BAD_ARG : CW_ERR_NO_MEM;
  }
  cw_messages_free(&said);
  cw_messages_free(&said_before);
  return status;
}

CwStatus cw_session_set_pin(CwSession *s, size_t phrase, double count, double time_s, CwMessages *messages)
{
  if (phrase >= s->line.n_phrases) {
    return cw_messages_add(messages, "there is no phrase %zu in the music", phrase + 1) == CW_OK ? CW_ERR_BAD_ARG
                                                                                                 : CW_ERR_NO_MEM;
  }
  const size_t at = find_pin(s, phrase, count);
  if (at == s->n_pins && !cw_grow(&s->pin, &s->pin_room, s->n_pins, sizeof *s->pin)) {
    return CW_ERR_NO_MEM;
  }
  const OwnPin before = at < s->n_pins ? s->pin[at] : (OwnPin){0};
  const size_t n_before = s->n_pins;
  s->pin[at] = (OwnPin){phrase, {.count = count, .time_s = time_s}};
  s->n_pins = at < n_before ? n_before : n_before + 1;
  CwStatus status = check_pins(s, &s->pin[at], messages);
  if (status == CW_OK) {
    CwMessages said = {0};
    status = update(s, phrase, count, &said);
    cw_messages_free(&said);
  }
  if (status != CW_OK) {
    s->n_pins = n_before;
    if (at < n_before) {
      s->pin[at] = before;
    }
  }
  return status;
}

CwStatus cw_session_remove_pin(CwSession *s, size_t phrase, double count)
{
  const size_t at = find_pin(s, phrase, count);
  if (at == s->n_pins) {
    return CW_ERR_NOT_FOUND;
  }
  const OwnPin removed = s->pin[at];
  s->pin[at] = s->pin[--s->n_pins];
  CwMessages said = {0};
  const CwStatus status = update(s, phrase, count, &said);
  cw_messages_free(&said);
  if (status != CW_OK) {
    s->pin[s->n_pins++] = s->pin[at];
    s->pin[at] = removed;
  }
  return status;
}

static CwStatus begin(CwSession *s, const CwLineupOptions *options, const CwReport *report, CwMessages *messages)
{
  CwKept kept;
  const CwStatus status = cw_lineup_kept(s->features, s->notebook, options, report, &s->line, messages, &kept);
  s->look = kept.look;
  s->sound = kept.sound;
  s->without_pins = options && options->without_pins;
  s->beats_per_count = options ? options->beats_per_count : 0.0;
  if (!cw_plan_level_is_given(s->notebook, s->beats_per_count)) {
    s->beats_per_count = s->line.beats_per_count;
  }
  return status;
}

CwStatus cw_session_begin(const CwFeatures *features, const CwNotebook *notebook, const CwLineupOptions *options,
                          const CwReport *report, CwSession **session, CwMessages *messages)
{
  *session = cw_new(1, sizeof **session);
  if (!*session) {
    return CW_ERR_NO_MEM;
  }
  (*session)->features = features;
  (*session)->notebook = notebook;
  const CwStatus status = begin(*session, options, report, messages);
  if (status != CW_OK) {
    cw_session_free(*session);
    *session = NULL;
  }
  return status;
}

const CwCountLine *cw_session_line(const CwSession *session)
{
  return &session->line;
}

void cw_session_free(CwSession *s)
{
  if (!s) {
    return;
  }
  cw_count_line_free(&s->line);
  cw_look_free(&s->look);
  cw_sound_free(&s->sound);
  free(s->pin);
  free(s);
}
