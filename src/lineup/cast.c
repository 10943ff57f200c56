// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/cast.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/names.h"

/// Roles that are followed at most: no sheet has room for more, and each is looked for in all phrases.
enum { MOST_ROLES = 64 };

/// A place in the notes.
typedef struct {
  size_t phrase;
  double count;
} Place;

/// A role comes on or goes off.
typedef struct {
  Place at;
  bool on;
  bool written; ///< as an entrance or exit; else she just dances
} Turn;

/// What is being found out.
typedef struct {
  const CwNotebook *notebook;
  const CwCountLine *line;
  const size_t *kept;
  double *counts_before; ///< of each phrase, and of the end
  CwNames names;
  CwCast *cast;
  size_t stay_capacity;
} Finder;

bool cw_role_names(const char *brackets, const char *role)
{
  static const char *const everybody[] = {"all", "everybody", "everyone", "tous", "toutes", "tutti"};
  bool named = cw_name_is(brackets, role);
  const char *name = NULL;
  for (size_t length = 0; !named && (length = cw_name_next(&brackets, &name)) > 0;) {
    char *one = cw_copy_text(name, length);
    named = one && cw_name_is(one, role);
    for (size_t i = 0; one && !named && i < sizeof everybody / sizeof everybody[0]; i++) {
      named = cw_name_is(one, everybody[i]);
    }
    free(one);
  }
  return named;
}

static bool put_names(Finder *finder, const char *roles)
{
  const char *name = NULL;
  for (size_t length = 0; roles && (length = cw_name_next(&roles, &name)) > 0;) {
    CwCast *cast = finder->cast;
    if (cw_names_find(&finder->names, name, length) != CW_NO_NAME || cast->n_roles == MOST_ROLES) {
      continue;
    }
    CwCastRole *grown = cw_resize(cast->role, cast->n_roles + 1, sizeof *grown);
    if (!grown || !cw_names_put(&finder->names, name, length, cast->n_roles)) {
      cast->role = grown ? grown : cast->role;
      return false;
    }
    cast->role = grown;
    cast->role[cast->n_roles] = (CwCastRole){.role = cw_copy_text(name, length)};
    if (!cast->role[cast->n_roles++].role) {
      return false;
    }
  }
  return true;
}

/// All roles that the notes name; one without a name when there is none.
static bool find_roles(Finder *finder)
{
  const CwNotebook *notebook = finder->notebook;
  bool good = put_names(finder, notebook->head.cast);
  for (size_t k = 0; k < notebook->n_phrases && good; k++) {
    good = put_names(finder, notebook->phrase[k].role);
    for (size_t i = 0; i < notebook->phrase[k].n_parts && good; i++) {
      good = put_names(finder, notebook->phrase[k].part[i].role);
    }
  }
  for (size_t i = 0; i < notebook->n_moves && good; i++) {
    good = put_names(finder, notebook->move[i].role);
  }
  if (notebook->n_moves == 0) {
    return good;
  }
  if (good && finder->cast->n_roles == 0) {
    good = put_names(finder, notebook->head.role);
  }
  if (good && finder->cast->n_roles == 0) {
    finder->cast->role = cw_new(1, sizeof *finder->cast->role);
    good = finder->cast->role != NULL;
    finder->cast->n_roles = good;
  }
  return good;
}

static double position(const Finder *finder, Place at)
{
  return finder->counts_before[at.phrase] + at.count - 1;
}

/// A place on or after which a phrase has begun belongs to that phrase; an exit right after a phrase's last count stays.
static Place settle(const Finder *finder, Place at)
{
  const CwNotebook *notebook = finder->notebook;
  while (at.count > notebook->phrase[at.phrase].counts + 1.0 && at.phrase + 1 < notebook->n_phrases) {
    at.count -= notebook->phrase[at.phrase].counts;
    at.phrase++;
  }
  at.count = fmax(1, fmin(at.count, notebook->phrase[at.phrase].counts + 1.0));
  return at;
}

static double time_of(const Finder *finder, Place at)
{
  if (!finder->line) {
    return NAN;
  }
  const size_t place = finder->kept ? finder->kept[at.phrase] : at.phrase;
  return place < finder->line->n_phrases ? cw_count_line_time(finder->line, place, at.count) : (double)NAN;
}

/// Whether a role dances in a phrase in its own name.
static bool dances(const CwNotePhrase *phrase, const char *role)
{
  bool found = role && phrase->role && cw_role_names(phrase->role, role);
  for (size_t i = 0; i < phrase->n_parts && role && !found; i++) {
    found = phrase->part[i].role && cw_role_names(phrase->part[i].role, role);
  }
  return found;
}

/// Lay down a stretch from `from` to `until`. One of no length is left out, and one like the last makes that longer.
static bool add_stay(Finder *finder, CwCastRole *role, bool on, Place from, Place until)
{
  const double counts = position(finder, until) - position(finder, from);
  CwStay *last = role->n_stays > 0 ? &role->stay[role->n_stays - 1] : NULL;
  if (!(counts > 0)) {
    return true;
  }
  if (last && last->on == on) {
    from = (Place){last->number - 1, last->count};
    role->n_stays--;
  } else if (!cw_grow(&role->stay, &finder->stay_capacity, role->n_stays, sizeof *role->stay)) {
    return false;
  }
  role->stay[role->n_stays++] = (CwStay){.on = on,
                                         .number = (unsigned)from.phrase + 1,
                                         .count = from.count,
                                         .until_number = (unsigned)until.phrase + 1,
                                         .until_count = until.count,
                                         .in_counts = finder->notebook->phrase[from.phrase].counts,
                                         .until_in_counts = finder->notebook->phrase[until.phrase].counts,
                                         .counts = position(finder, until) - position(finder, from),
                                         .start_s = time_of(finder, from),
                                         .end_s = time_of(finder, until),
                                         .warm_s = NAN};
  return true;
}

/// The next turn of a role: a written one, or a phrase that she dances though she is off.
static bool next_turn(const Finder *finder, const char *role, bool on, size_t *move, size_t *phrase, Turn *turn)
{
  const CwNotebook *notebook = finder->notebook;
  for (; *move < notebook->n_moves; ++*move) {
    const CwNoteMove *here = &notebook->move[*move];
    if (!here->role || !role || cw_role_names(here->role, role)) {
      break;
    }
  }
  const bool any = *move < notebook->n_moves;
  const CwNoteMove *here = any ? &notebook->move[*move] : NULL;
  const size_t end = any ? here->phrase : notebook->n_phrases;
  for (; !on && *phrase < end; ++*phrase) {
    if (dances(&notebook->phrase[*phrase], role)) {
      *turn = (Turn){{*phrase, 1}, true, false};
      return true;
    }
  }
  if (any) {
    *turn = (Turn){settle(finder, (Place){here->phrase, here->count}), here->on, true};
    ++*move;
  }
  return any;
}

/// On from the beginning, unless the first thing she does is to enter.
static bool begins_on(const Finder *finder, const char *role)
{
  size_t move = 0;
  size_t phrase = 0;
  Turn turn;
  const bool any = next_turn(finder, role, false, &move, &phrase, &turn);
  return !any || !turn.written || !turn.on;
}

static bool find_stays(Finder *finder, CwCastRole *role)
{
  const CwNotebook *notebook = finder->notebook;
  const size_t n = notebook->n_phrases;
  if (n == 0) {
    return true;
  }
  size_t move = 0;
  size_t phrase = 0;
  bool on = begins_on(finder, role->role);
  Place from = {0, 1};
  Turn turn;
  finder->stay_capacity = 0;
  while (next_turn(finder, role->role, on, &move, &phrase, &turn)) {
    if (turn.on == on || position(finder, turn.at) < position(finder, from)) {
      continue;
    }
    if (!add_stay(finder, role, on, from, turn.at)) {
      return false;
    }
    on = turn.on;
    from = turn.at;
    phrase = from.phrase + 1;
  }
  return add_stay(finder, role, on, from, (Place){n - 1, notebook->phrase[n - 1].counts + 1.0});
}

/// A wait ends with an entrance; before it one should move again.
static void remind(CwCastRole *role, double lead_s)
{
  for (size_t i = 0; i + 1 < role->n_stays; i++) {
    CwStay *stay = &role->stay[i];
    stay->again = !stay->on && i > 0;
    if (!stay->on && isfinite(stay->end_s)) {
      const double from_s = isfinite(stay->start_s) ? stay->start_s : 0;
      stay->stay_warm = stay->again && stay->end_s - from_s <= lead_s;
      stay->warm_s = stay->stay_warm ? (double)NAN : fmax(0, stay->end_s - lead_s);
    }
  }
}

void cw_cast_remind(CwCast *cast, double lead_s)
{
  cast->lead_s = lead_s;
  for (size_t i = 0; i < cast->n_roles; i++) {
    remind(&cast->role[i], lead_s);
  }
}

static bool begin(const CwNotebook *notebook, Finder *finder)
{
  finder->counts_before = cw_new(notebook->n_phrases + 1, sizeof *finder->counts_before);
  for (size_t k = 0; finder->counts_before && k < notebook->n_phrases; k++) {
    finder->counts_before[k + 1] = finder->counts_before[k] + notebook->phrase[k].counts;
  }
  return finder->counts_before && find_roles(finder);
}

CwStatus cw_cast_find(const CwNotebook *notebook, const CwCountLine *line, const size_t *kept, CwCast *cast)
{
  *cast = (CwCast){.role = NULL};
  Finder finder = {.notebook = notebook, .line = line, .kept = kept, .cast = cast};
  bool good = begin(notebook, &finder);
  for (size_t i = 0; i < cast->n_roles && good; i++) {
    good = find_stays(&finder, &cast->role[i]);
  }
  cw_cast_remind(cast, CW_WARM_LEAD_S);
  free(finder.counts_before);
  cw_names_free(&finder.names);
  if (!good) {
    cw_cast_free(cast);
    return CW_ERR_NO_MEM;
  }
  return CW_OK;
}

static void free_role(CwCastRole *role)
{
  free(role->role);
  free(role->stay);
}

bool cw_cast_keep(CwCast *cast, const char *role)
{
  for (size_t i = 0; i < cast->n_roles; i++) {
    if (!cast->role[i].role || !cw_name_is(cast->role[i].role, role)) {
      continue;
    }
    const CwCastRole kept = cast->role[i];
    for (size_t k = 0; k < cast->n_roles; k++) {
      if (k != i) {
        free_role(&cast->role[k]);
      }
    }
    cast->role[0] = kept;
    cast->n_roles = 1;
    return true;
  }
  return false;
}

void cw_cast_free(CwCast *cast)
{
  if (!cast) {
    return;
  }
  for (size_t i = 0; i < cast->n_roles; i++) {
    free_role(&cast->role[i]);
  }
  free(cast->role);
  memset(cast, 0, sizeof *cast);
}
