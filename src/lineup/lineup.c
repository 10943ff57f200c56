// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/lineup.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lineup/adds_up.h"
#include "lineup/alike.h"
#include "lineup/alone.h"
#include "lineup/by_pins.h"
#include "lineup/compare.h"
#include "lineup/doubt.h"
#include "lineup/expect.h"
#include "lineup/follow.h"
#include "lineup/kept.h"
#include "lineup/listen.h"
#include "lineup/pins.h"
#include "lineup/place.h"
#include "lineup/plan.h"
#include "lineup/sound.h"
#include "lineup/tapped.h"
#include "pulse/look.h"

#define SHORTEST_S 2.0
#define SHORTEST_BEAT_S 0.15 // quicker than can be followed
#define UNFOLLOWED 0.1       // how sure a one is that only lies evenly between pins
#define COARSE_STEP 5        // frames put together for the first search
#define COARSE_RATIO 1.09
#define COARSE_MOST 60000  // frames of a band: the search counts them in 16 bits
#define COARSE_CELLS 2.2e6 // counts times frames of the band: keeps the first search under a second

/// What is worked out on the way.
typedef struct {
  const CwFeatures *features;
  const CwNotebook *notebook;
  CwEvidence *evidence;
  CwPlan plan;
  CwEar *ear; ///< NULL: the plain one
  CwLook look;
  bool tonal;           ///< notes are held in it
  CwAlone alone;        ///< the music without the notes, where that was needed
  float *beat, *accent; ///< of the coarse sight
  CwSound sound;
  double *coarse_sounding; ///< seconds of sound before each coarse frame
  size_t *first;           ///< of the bands, by count
  double *time_s;          ///< of the counts
  double *end_s;           ///< of the counts: the next one, but before a hold or the end
  size_t n_found;
  CwDoubt doubt;
  float *sure;  ///< of tapped counts: probability that the time is right; NULL when nobody tapped
  bool sought;  ///< there was a pulse to search for
  bool by_pins; ///< nothing could be followed: attacks mean nothing
} Work;

static void work_free(Work *w)
{
  cw_plan_free(&w->plan);
  cw_ear_free(w->ear);
  cw_look_free(&w->look);
  cw_alone_free(&w->alone);
  free(w->beat);
  free(w->accent);
  cw_sound_free(&w->sound);
  free(w->coarse_sounding);
  free(w->first);
  free(w->time_s);
  free(w->end_s);
  free(w->sure);
  cw_doubt_free(&w->doubt);
}

static CwStatus work_init(Work *w)
{
  const size_t n = w->features->n_frames;
  const size_t n_coarse = n / COARSE_STEP + 1;
  w->beat = cw_new(n_coarse, sizeof *w->beat);
  w->accent = cw_new(n_coarse, sizeof *w->accent);
  w->coarse_sounding = cw_new(n_coarse + 1, sizeof *w->coarse_sounding);
  w->first = cw_new(w->plan.n, sizeof *w->first);
  w->time_s = cw_new(w->plan.n, sizeof *w->time_s);
  w->end_s = cw_new(w->plan.n, sizeof *w->end_s);
  return w->beat && w->accent && w->coarse_sounding && w->first && w->time_s && w->end_s ? CW_OK : CW_ERR_NO_MEM;
}

static CwSight coarse_sight(Work *w)
{
  const CwActivation *a = &w->look.activation;
  const size_t n = a->n / COARSE_STEP;
  for (size_t i = 0; i < n; i++) {
    w->beat[i] = a->beat[i * COARSE_STEP];
    w->accent[i] = a->downbeat[i * COARSE_STEP];
    for (size_t k = 1; k < COARSE_STEP; k++) {
      w->beat[i] = fmaxf(w->beat[i], a->beat[i * COARSE_STEP + k]);
      w->accent[i] = fmaxf(w->accent[i], a->downbeat[i * COARSE_STEP + k]);
    }
    w->coarse_sounding[i + 1] = w->sound.before_s[(i + 1) * COARSE_STEP];
  }
  return (CwSight){
      (double)CW_FEATURE_RATE_HZ / COARSE_STEP, n, w->beat, w->accent, w->coarse_sounding, w->look.offbeat_weight};
}

/// Bands of `width` frames around the times in `time_s`.
static void set_bands(Work *w, double rate_hz, size_t width)
{
  for (size_t i = 0; i < w->plan.n; i++) {
    const double middle = isnan(w->plan.count[i].pin_s) ? w->time_s[i] : w->plan.count[i].pin_s;
    const double first = round(middle * rate_hz) - (double)width / 2.0;
    w->first[i] = first > 0 ? (size_t)first : 0;
  }
}

static CwStatus follow(Work *w, const CwReport *report)
{
  const CwSight coarse = coarse_sight(w);
  const double most = fmin(fmax(COARSE_CELLS / (double)w->plan.n, 40.0), COARSE_MOST);
  CwBands bands = {w->first, (size_t)fmin(most, (double)coarse.n + 1), COARSE_RATIO,
                   cw_likely_count(&w->plan, &w->sound), CW_TEMPO_SPREAD};
  cw_expect_times(&w->plan, &w->sound, w->time_s);
  cw_expect_stretches(&w->plan, &w->sound, bands.likely_s);
  set_bands(w, coarse.rate_hz, bands.width);
  double score = 0;
  CwStatus status = cw_follow_scored(&w->plan, &coarse, &bands, report, w->time_s, &w->n_found, &score);
  if (status == CW_OK) {
    status = cw_follow_alike(w->features, w->notebook, &w->plan, &coarse, &bands, score, report, w->time_s, &w->n_found,
                             w->evidence);
  }
  if (status == CW_OK) {
    status = cw_doubt_search(&w->plan, &coarse, &bands, w->time_s, w->n_found, report, &w->doubt);
  }
  if (status != CW_OK) {
    return status;
  }
  w->plan.n = w->n_found; // what has no music needs no finer search
  const CwActivation *a = &w->look.activation;
  const CwSight fine = {CW_FEATURE_RATE_HZ, a->n, a->beat, a->downbeat, w->sound.before_s, w->look.offbeat_weight};
  bands.width = (size_t)(2 * CW_FINE_REACH_S * CW_FEATURE_RATE_HZ);
  bands.tempo_ratio = CW_FINE_RATIO;
  set_bands(w, fine.rate_hz, bands.width);
  return cw_follow(&w->plan, &fine, &bands, report, w->time_s, &w->n_found);
}

/// How many of the taps are within the recording; 0 when they are too few to tell anything.
static size_t usable_taps(const CwFeatures *features, const CwLineupOptions *options)
{
  size_t n = options && options->taps ? options->taps->n : 0;
  while (n > 0 && options->taps->time_s[n - 1] >= features->duration_s) {
    n--;
  }
  return n >= CW_LEAST_TAPS ? n : 0;
}

/// Search for the counts that lie far from any tap, those tapped being as good as pinned. Where none fit, go evenly.
static CwStatus follow_rest(Work *w, const CwReport *report)
{
  CwPlanCount *count = w->plan.count;
  const size_t n = w->plan.n;
  CwPlan pinned = {cw_new(n, sizeof *count), n};
  if (!pinned.count) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < n; i++) {
    pinned.count[i] = count[i];
    pinned.count[i].pin_s = isnan(count[i].pin_s) ? w->time_s[i] : count[i].pin_s;
  }
  w->plan = pinned;
  CwStatus status = follow(w, report);
  if (status == CW_ERR_NO_PULSE) {
    cw_times_by_pins(&pinned, w->time_s);
    w->n_found = n;
    status = CW_OK;
  }
  w->plan = (CwPlan){count, status == CW_OK ? w->n_found : n};
  free(pinned.count);
  return status;
}

/// Go by taps.
static CwStatus follow_taps(Work *w, const CwLineupOptions *options, size_t n_taps, const CwReport *report)
{
  CwTapsFound found;
  w->sure = cw_new(w->plan.n, sizeof *w->sure);
  if (!w->sure) {
    return CW_ERR_NO_MEM;
  }
  const CwStatus status =
      cw_plan_by_taps(&w->plan, options->taps->time_s, n_taps, options->taps_on, &w->look, cw_sound_begin(&w->sound),
                      w->time_s, w->sure, options->found ? options->found : &found);
  bool all = true;
  for (size_t i = 0; i < w->plan.n && status == CW_OK; i++) {
    all = all && !isnan(w->time_s[i]);
  }
  w->n_found = w->plan.n;
  return status == CW_OK && !all ? follow_rest(w, report) : status;
}

/// Probability that the one of a phrase is right.
static double sureness(const Work *w, size_t phrase, size_t begin)
{
  const CwPlanCount *one = &w->plan.count[begin];
  if (!isnan(one->pin_s) && !one->spread) {
    return 1.0;
  }
  if (w->sure && w->sure[begin] > 0) {
    return (double)w->sure[begin];
  }
  const double sure = cw_doubt_sure(&w->doubt, phrase, w->time_s[begin]);
  return sure >= 0 ? sure : UNFOLLOWED;
}

static CwStatus make_line(const Work *w, const CwNotebook *notebook, CwCountLine *line)
{
  line->metre = notebook->head.metre;
  line->beats_per_count = w->plan.count[0].beats;
  for (size_t begin = 0, next = 0, phrase = 0; begin < w->n_found; begin = next, phrase++) {
    while (next < w->n_found && w->plan.count[next].phrase == w->plan.count[begin].phrase) {
      next++;
    }
    const double confidence = sureness(w, phrase, begin);
    const double end_s = cw_plan_is_cut(&w->plan, next - 1) ? w->end_s[next - 1] : w->time_s[next];
    const CwStatus status = cw_count_line_add(line, w->time_s + begin, (unsigned)(next - begin), end_s, confidence);
    if (status != CW_OK) {
      return status;
    }
  }
  return CW_OK;
}

/// Index of the first count of the phrase that count `i` is in.
static size_t phrase_begin(const CwPlan *plan, size_t i)
{
  while (i > 0 && plan->count[i - 1].phrase == plan->count[i].phrase) {
    i--;
  }
  return i;
}

/// Drop phrases from the end of the plan that not even the quickest beats would bring into the recording.
static void drop_hopeless(Work *w)
{
  const size_t pins_end = cw_pins_end(&w->plan);
  double beats = 0;
  size_t n = 0;
  while (n < w->plan.n && (n < pins_end || beats * SHORTEST_BEAT_S < w->features->duration_s)) {
    beats += w->plan.count[n++].beats;
  }
  while (n < w->plan.n && w->plan.count[n].phrase == w->plan.count[n - 1].phrase) {
    n++;
  }
  w->plan.n = n;
}

/// Where nothing can be followed: from pin to pin, as far as the recording goes.
static void go_by_pins(Work *w)
{
  const size_t pins_end = cw_pins_end(&w->plan);
  cw_times_by_pins(&w->plan, w->time_s);
  size_t begin = phrase_begin(&w->plan, w->plan.n - 1);
  while (begin >= pins_end && w->time_s[begin] >= w->features->duration_s) {
    w->plan.n = begin;
    begin = phrase_begin(&w->plan, begin - 1);
  }
  w->n_found = w->plan.n;
  w->by_pins = true;
}

static CwStatus line_up(Work *w, const CwNotebook *notebook, const CwLineupOptions *options, const CwReport *report,
                        CwCountLine *line, CwMessages *messages)
{
  drop_hopeless(w);
  const size_t n_taps = usable_taps(w->features, options);
  CwStatus status = work_init(w);
  if (status == CW_OK && !w->tonal && w->alone.beats.n == 0 &&
      n_taps == 0) { // where no notes are held, only a plain pulse is one
    status = CW_ERR_NO_PULSE;
  }
  if (status == CW_OK) {
    w->sought = true;
    status = n_taps > 0 ? follow_taps(w, options, n_taps, report) : follow(w, report);
  }
  if (status == CW_ERR_NO_PULSE && cw_pins_end(&w->plan) > 0) {
    go_by_pins(w);
    status = CW_OK;
  } else if (status == CW_ERR_NO_PULSE && w->sought) {
    return cw_messages_add(messages, "the music is too short for any phrase of the notes");
  }
  if (status == CW_OK) {
    const double likely_s = cw_likely_count(&w->plan, &w->sound);
    status = cw_place_finely(w->features, &w->plan, w->n_found, likely_s, !w->by_pins && !w->sure, w->time_s, w->end_s);
  }
  if (status != CW_OK) {
    return status;
  }
  status = make_line(w, notebook, line);
  return status == CW_OK ? cw_adds_up(notebook, line, cw_sound_begin(&w->sound), cw_sound_end(&w->sound), messages)
                         : status;
}

/// Look at the music, and count it alone where something depends on that.
static CwStatus look_at(Work *w, CwEarChoice ear, bool alone, const CwReport *report)
{
  CwModel model;
  w->tonal = cw_tonal_share(w->features) > 0.2;
  CwStatus status = cw_ear_open(w->tonal ? ear : CW_EAR_PLAIN, w->features, report, &w->ear);
  if (status == CW_OK) {
    status = cw_listen(w->features, w->ear, NULL, 0, w->tonal, report, &model, &w->look);
  }
  if (status == CW_OK) {
    status = cw_sound_measure(w->features, &w->look.activation, &w->sound);
  }
  if (status == CW_OK && (alone || !w->tonal)) {
    status = cw_alone_count(w->features, &model, &w->look, w->tonal, report, &w->alone);
  }
  return status;
}

static CwStatus make_plan(Work *w, const CwNotebook *notebook, const CwLineupOptions *options, bool level_given,
                          CwMessages *messages)
{
  double beats_per_count = options ? options->beats_per_count : 0.0;
  if (!level_given) {
    const double sound_s = cw_sound_between(&w->sound, 0.0, w->features->duration_s);
    beats_per_count = cw_fitting_beats(&w->alone, notebook, sound_s);
  }
  CwStatus status = cw_plan_make(notebook, beats_per_count, &w->plan, messages);
  if (status == CW_OK && !(options && options->without_pins)) {
    status = cw_pins_set(notebook, w->features->duration_s, &w->plan, messages);
  }
  return status;
}

/// Listen again, knowing the pace: of the taps, or of the notes.
static CwStatus listen_again(Work *w, const CwLineupOptions *options, const CwReport *report)
{
  const size_t n_taps = usable_taps(w->features, options);
  return n_taps > 0
             ? cw_listen_by_taps(w->features, w->ear, w->notebook, &w->plan, options->taps->time_s, n_taps,
                                 options->taps_on, w->tonal, report, &w->look)
             : cw_listen_by_plan(w->features, w->ear, w->notebook, &w->plan, &w->sound, w->tonal, report, &w->look);
}

CwStatus cw_lineup_kept(const CwFeatures *features, const CwNotebook *notebook, const CwLineupOptions *options,
                        const CwReport *report, CwCountLine *line, CwMessages *messages, CwKept *kept)
{
  CwEvidence unwanted;
  CwEvidence *evidence = options && options->evidence ? options->evidence : &unwanted;
  Work work = {.features = features, .notebook = notebook, .evidence = evidence};
  memset(evidence, 0, sizeof *evidence);
  memset(kept, 0, sizeof *kept);
  cw_count_line_init(line, features->duration_s);
  if (features->duration_s < SHORTEST_S) {
    return CW_ERR_TOO_SHORT;
  }
  evidence->level_given = cw_plan_level_is_given(notebook, options ? options->beats_per_count : 0.0);
  const CwEarChoice ear = options ? options->ear : CW_EAR_USUAL;
  CwStatus status = look_at(&work, ear, evidence != &unwanted || !evidence->level_given, report);
  if (status == CW_OK) {
    status = make_plan(&work, notebook, options, evidence->level_given, messages);
  }
  if (status == CW_OK) {
    status = listen_again(&work, options, report);
  }
  if (status == CW_OK && work.plan.n > 0) {
    status = line_up(&work, notebook, options, report, line, messages);
  }
  if (status == CW_OK && line->n_phrases > 0) {
    status = cw_compare(notebook, &work.alone, line, evidence);
  }
  if (status == CW_OK) {
    *kept = (CwKept){work.look, work.sound};
    memset(&work.look, 0, sizeof work.look);
    memset(&work.sound, 0, sizeof work.sound);
  } else {
    cw_count_line_free(line);
  }
  work_free(&work);
  return status;
}

CwStatus cw_lineup(const CwFeatures *features, const CwNotebook *notebook, const CwLineupOptions *options,
                   const CwReport *report, CwCountLine *line, CwMessages *messages)
{
  CwKept kept;
  const CwStatus status = cw_lineup_kept(features, notebook, options, report, line, messages, &kept);
  cw_look_free(&kept.look);
  cw_sound_free(&kept.sound);
  return status;
}
