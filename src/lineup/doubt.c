// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/doubt.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { SEARCHES = 12 };

// Chosen on our own music, so that of ones shown as so sure about as many are right.
#define BEAT_SHAKEN 2.0F   // standard deviation, of log-odds of a beat
#define ACCENT_SHAKEN 1.0F // likewise, of accents
#define REACH_S 8.0        // searched to each side of the path ...
#define REACH_COUNTS 6.0   // ... or so many counts, where they are longer
#define NEAR_S 0.08        // a one found so near is found again: frames here are 50 ms apart

/// Random numbers, the same on every machine (xorshift: Marsaglia 2003).
static double next_uniform(uint64_t *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 7;
  *state ^= *state << 17;
  return (double)(*state >> 11) / 9007199254740992.0;
}

/// About normally distributed: a sum of four uniform ones, without a logarithm that might differ.
static float next_normal(uint64_t *state)
{
  double sum = -2.0;
  for (int i = 0; i < 4; i++) {
    sum += next_uniform(state);
  }
  return (float)(sum * 1.7320508075688772);
}

static void shake(const float *from, size_t n, float spread, uint64_t *state, float *to)
{
  for (size_t i = 0; i < n; i++) {
    to[i] = from[i] + spread * next_normal(state);
  }
}

/// Keep the ones of one search.
static void keep_ones(const CwPlan *plan, const double *time_s, size_t n_found, float *one_s)
{
  for (size_t i = 0, phrase = 0; i < plan->n; i++) {
    if (i == 0 || plan->count[i].phrase != plan->count[i - 1].phrase) {
      one_s[phrase++] = i < n_found ? (float)time_s[i] : NAN;
    }
  }
}

/// What a shaken search works on.
typedef struct {
  CwSight sight;
  CwBands bands;
  float *beat, *accent;
  size_t *first;
  double *time_s;
} Shaken;

static void shaken_free(Shaken *s)
{
  free(s->beat);
  free(s->accent);
  free(s->first);
  free(s->time_s);
}

/// Bands about the path.
static CwStatus shaken_init(Shaken *s, const CwPlan *plan, const CwSight *sight, const CwBands *bands,
                            const double *time_s, size_t n_found)
{
  const double reach_s = fmax(REACH_S, REACH_COUNTS * bands->likely_s);
  s->sight = *sight;
  s->bands = *bands;
  s->bands.width = (size_t)fmin(2.0 * reach_s * sight->rate_hz, (double)bands->width);
  s->sight.beat = s->beat = cw_new(sight->n, sizeof *s->beat);
  s->sight.accent = s->accent = cw_new(sight->n, sizeof *s->accent);
  s->bands.first = s->first = cw_new(plan->n, sizeof *s->first);
  s->time_s = cw_new(plan->n, sizeof *s->time_s);
  if (!s->beat || !s->accent || !s->first || !s->time_s) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < plan->n; i++) {
    const double beyond = i < n_found ? 0.0 : (double)(i + 1 - n_found) * bands->likely_s;
    const double middle_s = i < n_found ? time_s[i] : time_s[n_found - 1] + beyond;
    const double first = round(middle_s * sight->rate_hz) - (double)s->bands.width / 2.0;
    s->first[i] = first > 0 ? (size_t)first : 0;
  }
  return CW_OK;
}

CwStatus cw_doubt_search(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const double *time_s,
                         size_t n_found, const CwReport *report, CwDoubt *doubt)
{
  uint64_t state = 88172645463325252ULL;
  Shaken s = {0};
  *doubt = (CwDoubt){.n = SEARCHES, .phrases = cw_plan_phrases(plan)};
  doubt->one_s = cw_new(doubt->n * doubt->phrases, sizeof *doubt->one_s);
  CwStatus status = doubt->one_s ? shaken_init(&s, plan, sight, bands, time_s, n_found) : CW_ERR_NO_MEM;
  for (size_t k = 0; k < doubt->n && status == CW_OK; k++) {
    size_t found = 0;
    shake(sight->beat, sight->n, BEAT_SHAKEN, &state, s.beat);
    shake(sight->accent, sight->n, ACCENT_SHAKEN, &state, s.accent);
    status = cw_follow(plan, &s.sight, &s.bands, report, s.time_s, &found);
    status = status == CW_ERR_NO_PULSE ? CW_OK : status; // then none of it is sure
    keep_ones(plan, s.time_s, found, doubt->one_s + k * doubt->phrases);
  }
  shaken_free(&s);
  if (status != CW_OK) {
    cw_doubt_free(doubt);
  }
  return status;
}

double cw_doubt_sure(const CwDoubt *doubt, size_t phrase, double one_s)
{
  if (doubt->n == 0 || phrase >= doubt->phrases) {
    return -1.0;
  }
  size_t again = 0;
  for (size_t k = 0; k < doubt->n; k++) {
    again += fabs((double)doubt->one_s[k * doubt->phrases + phrase] - one_s) <= NEAR_S;
  }
  return ((double)again + 0.5) / ((double)doubt->n + 1.0);
}

void cw_doubt_free(CwDoubt *doubt)
{
  free(doubt->one_s);
  memset(doubt, 0, sizeof *doubt);
}
