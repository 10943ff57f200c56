// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase/group.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "base/memory.h"

enum { LONGEST = 32 }; // unless the usual length is longer

#define NOVELTY_WEIGHT 0.45 // for each standard deviation
#define BAR_WEIGHT 1.5      // for a phrase that begins with a bar, against one that does not
#define EARLY_COST 1.0      // for a first phrase that begins before the first bar
#define LATE_COST 3.0       // for one that begins after it: music begins with a one, most often
#define SKIP_COST 0.5       // for each count left out before it from the first bar on
#define PICK_UP_COST 0.3    // for each count before the first phrase where there are no bars
#define REST_COST 1.0       // for a last phrase of another length

/// Sums (or, for the best path, maxima) over ways to group the counts.
typedef struct {
  const CwCount *count;
  const double *novelty;
  size_t n;
  size_t first_bar; ///< the first count that begins a bar; `n` when there is none
  unsigned usual;
  double *before; ///< n + 1 values: log sum over ways to group the counts before a boundary
  double *after;  ///< n + 1 values: likewise after it
  double *best;   ///< n + 1 values: as `before`, of the best way
  size_t *from;   ///< n + 1 values: where the best way's last phrase begins
} Sums;

/// Log probability, up to a constant, of a phrase of `counts` counts.
static double length_score(const Sums *s, size_t counts)
{
  if (counts == s->usual) {
    return 0.0;
  }
  if (counts == (size_t)s->usual + s->usual / 2 || counts * 2 == s->usual) {
    return -3.5; // half a phrase more or less
  }
  return counts % 2 == 0 ? -4.5 : -6.0;
}

static double begin_score(const Sums *s, size_t i)
{
  const double bar = s->count[i].bar_start ? 0.5 * BAR_WEIGHT : -0.5 * BAR_WEIGHT;
  return bar + NOVELTY_WEIGHT * fmin(fmax(s->novelty[i], -2.0), 3.0);
}

static double add_logs(double a, double b)
{
  const double high = fmax(a, b);
  return isinf(high) ? high : high + log(exp(a - high) + exp(b - high));
}

/// The first count that begins a bar.
static size_t find_bar(const CwCount *count, size_t n)
{
  size_t i = 0;
  while (i < n && !count[i].bar_start) {
    i++;
  }
  return i;
}

/// What it costs that the counts before `i` are the pick-up.
static double pick_up_score(const Sums *s, size_t i)
{
  if (i >= (size_t)s->usual * 2) {
    return -INFINITY;
  }
  if (s->first_bar >= s->n || s->first_bar >= s->usual) {
    return -PICK_UP_COST * (double)i;
  }
  if (i <= s->first_bar) {
    return i < s->first_bar ? -EARLY_COST : 0.0;
  }
  return -LATE_COST - SKIP_COST * (double)(i - s->first_bar);
}

/// The longest phrase looked at where there are `n` counts.
static size_t longest(const Sums *s, size_t n)
{
  const size_t limit = s->usual > LONGEST ? s->usual : LONGEST;
  return n < limit ? n : limit;
}

static void forward(Sums *s)
{
  for (size_t i = 0; i <= s->n; i++) {
    double best = i < s->n ? pick_up_score(s, i) : -INFINITY;
    s->before[i] = best;
    s->from[i] = SIZE_MAX; // no phrase before: the pick-up
    for (size_t length = 1; length <= longest(s, i); length++) {
      const bool last = i == s->n;
      const double end =
          last && length != s->usual ? fmax(-REST_COST, length_score(s, length)) : length_score(s, length);
      const double score = begin_score(s, i - length) + end;
      s->before[i] = add_logs(s->before[i], s->before[i - length] + score);
      if (s->best[i - length] + score > best) {
        best = s->best[i - length] + score;
        s->from[i] = i - length;
      }
    }
    s->best[i] = best;
  }
}

static void backward(Sums *s)
{
  for (size_t i = s->n + 1; i-- > 0;) {
    s->after[i] = i == s->n ? 0.0 : -INFINITY;
    for (size_t length = 1; length <= longest(s, s->n - i); length++) {
      const bool last = i + length == s->n;
      const double end =
          last && length != s->usual ? fmax(-REST_COST, length_score(s, length)) : length_score(s, length);
      s->after[i] = add_logs(s->after[i], s->after[i + length] + begin_score(s, i) + end);
    }
  }
}

CwStatus cw_group(const CwCount *count, const double *novelty, size_t n, unsigned usual, bool *begins,
                  double *probability)
{
  Sums s = {count, novelty, n, find_bar(count, n), usual, NULL, NULL, NULL, NULL};
  s.before = cw_new(n + 1, sizeof *s.before);
  s.after = cw_new(n + 1, sizeof *s.after);
  s.best = cw_new(n + 1, sizeof *s.best);
  s.from = cw_new(n + 1, sizeof *s.from);
  const bool good = s.before && s.after && s.best && s.from;
  if (good) {
    forward(&s);
    backward(&s);
    for (size_t i = 0; i < n; i++) {
      begins[i] = false;
      probability[i] = exp(fmin(0.0, s.before[i] + s.after[i] - s.before[n]));
    }
    for (size_t i = n; i > 0 && s.from[i] < i;) {
      i = s.from[i];
      begins[i] = true;
    }
  }
  free(s.before);
  free(s.after);
  free(s.best);
  free(s.from);
  return good ? CW_OK : CW_ERR_NO_MEM;
}
