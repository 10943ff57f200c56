// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/follow.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/pins.h"
#include "lineup/trellis.h"

#define BLOCK_BYTES 64e6 // kept to find the way back; longer searches are done again block by block

/// The search. The way back is kept for one block of counts; for the others, the scores where they begin.
typedef struct {
  CwTrellis trellis;
  size_t n;        ///< counts
  size_t cells;    ///< states of a count
  size_t block;    ///< counts in a block
  uint8_t *from;   ///< by count of the block, next tempo, place: tempo before
  uint16_t **held; ///< by count of the block: for one with a hold after it, see cw_trellis_hold()
  float **begin;   ///< by block: scores before it
} Search;

static CwStatus search_init(Search *s, const CwPlan *plan, const CwSight *sight, const CwBands *bands)
{
  memset(s, 0, sizeof *s);
  if (cw_trellis_init(&s->trellis, plan, sight, bands) != CW_OK) {
    return CW_ERR_NO_MEM;
  }
  size_t n_holds = 0;
  for (size_t i = 0; i < plan->n; i++) {
    n_holds += plan->count[i].after_hold;
  }
  s->n = plan->n;
  s->cells = s->trellis.n_tempos * bands->width;
  const double bytes = (double)s->cells * (1.0 + 2.0 * (double)n_holds / (double)s->n);
  s->block = (size_t)fmin(fmax(BLOCK_BYTES / bytes, 1.0), (double)s->n);
  s->from = cw_new(s->block * s->cells, sizeof *s->from);
  s->held = cw_new(s->block, sizeof *s->held);
  s->begin = cw_new(s->n / s->block + 1, sizeof *s->begin);
  return s->from && s->held && s->begin ? CW_OK : CW_ERR_NO_MEM;
}

static void free_holds(Search *s)
{
  for (size_t k = 0; s->held && k < s->block; k++) {
    free(s->held[k]);
    s->held[k] = NULL;
  }
}

static void search_free(Search *s)
{
  for (size_t b = 0; s->begin && b <= s->n / s->block; b++) {
    free(s->begin[b]);
  }
  free_holds(s);
  free(s->from);
  free(s->held);
  free(s->begin);
  cw_trellis_free(&s->trellis);
}

/// Keep the scores before a block, or take them up again.
static CwStatus enter_block(Search *s, size_t block)
{
  free_holds(s);
  if (block == 0) {
    return CW_OK;
  }
  const size_t bytes = s->cells * sizeof(float);
  if (s->begin[block]) {
    memcpy(s->trellis.before, s->begin[block], bytes);
    return CW_OK;
  }
  s->begin[block] = cw_new(s->cells, sizeof(float));
  if (!s->begin[block]) {
    return CW_ERR_NO_MEM;
  }
  memcpy(s->begin[block], s->trellis.before, bytes);
  return CW_OK;
}

/// Search the counts of one block.
/// @param end NULL when the end is known already.
static CwStatus search_block(Search *s, size_t block, const CwReport *report, CwTrellisEnd *end)
{
  CwTrellis *t = &s->trellis;
  const CwPlanCount *count = t->plan->count;
  const size_t pins_end = cw_pins_end(t->plan);
  CwStatus status = enter_block(s, block);
  for (size_t k = 0, i = block * s->block; k < s->block && i < s->n && status == CW_OK; k++, i++) {
    if (i == 0) {
      cw_trellis_begin(t);
    } else {
      cw_trellis_arrive(t, i);
    }
    cw_trellis_leave(t, i, s->from + k * s->cells);
    const bool last = i + 1 == s->n;
    if (end && i + 1 >= pins_end && (last || count[i + 1].phrase != count[i].phrase)) {
      cw_trellis_consider_end(t, i, end);
    }
    if (!last && count[i + 1].after_hold) {
      s->held[k] = cw_new(s->cells, sizeof **s->held);
      if (!s->held[k]) {
        return CW_ERR_NO_MEM;
      }
      cw_trellis_hold(t, i, s->held[k]);
    }
    if (i % 16 == 0) {
      status = cw_report_progress(report, "lining up", (double)i / (double)s->n);
    }
  }
  return status;
}

/// Go the way back from the end.
static CwStatus trace(Search *s, const CwTrellisEnd *end, const CwReport *report, double *time_s)
{
  const CwTrellis *t = &s->trellis;
  const size_t width = t->bands->width;
  size_t present = (s->n - 1) / s->block;
  size_t place = end->place;
  size_t tempo = end->tempo;
  for (size_t i = end->count + 1; i-- > 0;) {
    if (i / s->block != present) {
      present = i / s->block;
      const CwStatus status = search_block(s, present, report, NULL);
      if (status != CW_OK) {
        return status;
      }
    }
    const size_t k = i % s->block;
    if (i < end->count) { // `tempo` leads to the next count, which is at `place`
      const size_t next = t->bands->first[i + 1] + place;
      place =
          s->held[k] ? s->held[k][tempo * width + place] : next - cw_trellis_frames(t, i, tempo) - t->bands->first[i];
    }
    time_s[i] = (double)(t->bands->first[i] + place) / t->sight->rate_hz;
    tempo = s->from[k * s->cells + tempo * width + place];
  }
  return CW_OK;
}

static CwStatus search(Search *s, const CwReport *report, double *time_s, size_t *n_found, double *score)
{
  CwTrellisEnd end = {-INFINITY, 0, 0, 0};
  for (size_t block = 0; block * s->block < s->n; block++) {
    const CwStatus status = search_block(s, block, report, &end);
    if (status != CW_OK) {
      return status;
    }
  }
  if (!isfinite(end.score)) {
    return CW_ERR_NO_PULSE;
  }
  for (size_t i = end.count + 1; i < s->n; i++) {
    time_s[i] = NAN;
  }
  *n_found = end.count + 1;
  *score = (double)end.score;
  return trace(s, &end, report, time_s);
}

CwStatus cw_follow_scored(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const CwReport *report,
                          double *time_s, size_t *n_found, double *score)
{
  Search s;
  *n_found = 0;
  CwStatus status = search_init(&s, plan, sight, bands);
  if (status == CW_OK) {
    status = search(&s, report, time_s, n_found, score);
  }
  search_free(&s);
  return status;
}

CwStatus cw_follow(const CwPlan *plan, const CwSight *sight, const CwBands *bands, const CwReport *report,
                   double *time_s, size_t *n_found)
{
  double score = 0;
  return cw_follow_scored(plan, sight, bands, report, time_s, n_found, &score);
}
