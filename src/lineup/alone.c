// SPDX-License-Identifier: GPL-3.0-or-later
#include "lineup/alone.h"

#include <math.h>
#include <string.h>

#include "countwright/phrases.h"
#include "pulse/seen.h"

#define FILL_SPREAD 0.3       // of ln(seconds of a count): notes often leave out some of the music
#define FILL_COST 5.0         // the most that it costs not to fill the music: notes may be of something else
#define TEMPO_SPREAD 0.35     // of ln(beats a minute) around the notes' tempo: players take it as they like
#define UNUSUAL_COST 1.5      // of another number of beats than the music alone would be counted in ...
#define UNFITTING_COST 2.0    // ... and of one that does not divide the bar
#define SLOWEST_EIGHTHS 112.0 // a minute: slower beats in 6/8 are dotted ones
#define TEMPO_COST 4.0        // the most that an unlikely tempo costs: the words may mean another beat

CwStatus cw_alone_count(const CwFeatures *features, const CwModel *model, const CwLook *look, bool tonal,
                        const CwReport *report, CwAlone *alone)
{
  memset(alone, 0, sizeof *alone);
  cw_count_line_init(&alone->line, features->duration_s);
  CwStatus status = tonal ? cw_beats_seen(features, NULL, model, look, report, &alone->beats)
                          : cw_beats_find(features, NULL, report, &alone->beats);
  if (status == CW_OK && alone->beats.n > 0) {
    status = cw_phrases_find(features, &alone->beats, NULL, &alone->line);
  }
  if (status == CW_ERR_NO_PULSE) {
    return CW_OK;
  }
  if (status != CW_OK) {
    cw_alone_free(alone);
  }
  return status;
}

/// Middle of the range that the notes give for most counts; 0 when they give none.
static double noted_bpm(const CwNotebook *notebook)
{
  double sum = 0;
  double weight = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    const CwNotedTempo tempo = notebook->phrase[p].tempo;
    if (tempo.high_bpm > 0) {
      sum += notebook->phrase[p].counts * 0.5 * log(tempo.low_bpm * tempo.high_bpm);
      weight += notebook->phrase[p].counts;
    }
  }
  return weight > 0 ? exp(sum / weight) : 0.0;
}

static double square(double x)
{
  return x * x;
}

/// In 6/8, 9/8 and 12/8 the notes' beats are eighths.
static bool is_in_eighths(const CwNoteHead *head)
{
  return head->metre_unit == 8 && head->metre > 3 && head->metre % 3 == 0;
}

double cw_fitting_beats(const CwAlone *alone, const CwNotebook *notebook, double sound_s)
{
  static const double candidate[] = {0.5, 1, 2, 3, 4, 6};
  double counts = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    counts += notebook->phrase[p].counts;
  }
  if (!(alone->beats.bpm > 0 && counts > 0 && sound_s > 0)) {
    return is_in_eighths(&notebook->head) ? 3.0 : alone->line.n_phrases > 0 ? alone->line.beats_per_count : 0.0;
  }
  const unsigned metre = notebook->head.metre ? notebook->head.metre : alone->beats.metre;
  const bool dotted = is_in_eighths(&notebook->head) && alone->beats.bpm < SLOWEST_EIGHTHS;
  const double bpm = dotted ? 3 * alone->beats.bpm : alone->beats.bpm;
  const double usual = cw_beats_per_count(bpm, metre);
  const double count_s = sound_s / counts;
  const double noted = noted_bpm(notebook);
  double best = 0;
  double least = INFINITY;
  for (size_t i = 0; i < sizeof candidate / sizeof candidate[0]; i++) {
    const double beats = candidate[i];
    const bool fits = beats <= 1 || (metre > 0 && fabs(fmod(metre, beats)) < 1e-9);
    double cost = fmin(0.5 * square(log(count_s * bpm / (60.0 * beats)) / FILL_SPREAD), FILL_COST);
    cost += (fabs(beats - usual) < 1e-9 ? 0.0 : UNUSUAL_COST) + (fits ? 0.0 : UNFITTING_COST);
    if (noted > 0) {
      cost += fmin(0.5 * square(log(60.0 * beats / count_s / noted) / TEMPO_SPREAD), TEMPO_COST);
    }
    if (cost < least) {
      least = cost;
      best = beats;
    }
  }
  return best;
}

void cw_alone_free(CwAlone *alone)
{
  cw_beats_free(&alone->beats);
  cw_count_line_free(&alone->line);
}
