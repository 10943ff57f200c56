// SPDX-License-Identifier: GPL-3.0-or-later
#include <jansson.h>
#include <math.h>

#include "base/format.h"
#include "eval/eval.h"
#include "print/json.h"

enum { N_FIGURES = 20, DECIMALS = 6 };

/// A score as it is printed. One that is not a number is printed as '-', in JSON as null.
typedef struct {
  const char *key;
  const char *label;
  double value;
  int decimals; ///< in text
} Figure;

static double yes_or_no(bool yes, double depends_on)
{
  return isnan(depends_on) ? (double)NAN : yes;
}

static void list_figures(const CwBeatScores *scores, Figure figure[N_FIGURES])
{
  const CwHits *hits = &scores->hits;
  const CwContinuity *shares = &scores->continuity;
  const CwTempoScore *tempo = &scores->tempo;
  const Figure listed[N_FIGURES] = {
      {"n_true", "in the truth", (double)hits->n_true, 0},
      {"n_found", "found", (double)hits->n_found, 0},
      {"n_hit", "within 70 ms", (double)hits->n_hit, 0},
      {"precision", "precision", hits->precision, 3},
      {"recall", "recall", hits->recall, 3},
      {"f", "F", hits->f, 3},
      {"cemgil", "Cemgil", scores->cemgil, 3},
      {"cemgil_best", "Cemgil, best level", scores->cemgil_best, 3},
      {"p_score", "P-score", scores->p_score, 3},
      {"cml_c", "CMLc", shares->cml_c, 3},
      {"cml_t", "CMLt", shares->cml_t, 3},
      {"aml_c", "AMLc", shares->aml_c, 3},
      {"aml_t", "AMLt", shares->aml_t, 3},
      {"true_per_min", "true tempo a minute", tempo->true_per_min, 1},
      {"found_per_min", "found tempo a minute", tempo->found_per_min, 1},
      {"tempo_1", "tempo accuracy 1", yes_or_no(tempo->within, tempo->true_per_min), 0},
      {"tempo_2", "tempo accuracy 2", yes_or_no(tempo->within_any, tempo->true_per_min), 0},
      {"mean_offset_s", "mean offset, s", hits->mean_offset_s, 4},
      {"mean_error_s", "mean error, s", hits->mean_error_s, 4},
      {"worst_error_s", "worst error, s", hits->worst_error_s, 4},
  };
  for (int i = 0; i < N_FIGURES; i++) {
    figure[i] = listed[i];
  }
}

static const char *number(char out[32], double value, int decimals)
{
  return isnan(value) ? "-" : cw_format_fixed(out, 32, value, decimals);
}

static void print_text(const EvalRequest *request, const EvalScores *scores, FILE *out)
{
  const bool beats = request->command == EVAL_BEATS;
  Figure figure[N_FIGURES], downbeats[N_FIGURES];
  list_figures(&scores->beats, figure);
  list_figures(&scores->downbeats, downbeats);
  fprintf(out, "%-22s%10s%s\n", "", beats ? "beats" : "ones", beats ? " downbeats" : "");
  for (int i = 0; i < N_FIGURES; i++) {
    char value[32];
    fprintf(out, "%-22s%10s", figure[i].label, number(value, figure[i].value, figure[i].decimals));
    if (beats) {
      fprintf(out, "%10s",
              number(value, scores->has_downbeats ? downbeats[i].value : (double)NAN, downbeats[i].decimals));
    }
    fputc('\n', out);
  }
}

static void print_tsv(const EvalRequest *request, const EvalScores *scores, FILE *out)
{
  const bool beats = request->command == EVAL_BEATS;
  Figure figure[2][N_FIGURES];
  list_figures(&scores->beats, figure[0]);
  list_figures(&scores->downbeats, figure[1]);
  fputs("truth\tfound\tmetre", out);
  for (int list = 0; list <= beats; list++) {
    for (int i = 0; i < N_FIGURES; i++) {
      fprintf(out, "\t%s%s", list ? "downbeat_" : "", figure[list][i].key);
    }
  }
  char value[32];
  fprintf(out, "\n%s\t%s\t%s", scores->truth, scores->found,
          number(value, scores->metre ? (double)scores->metre : (double)NAN, 0));
  for (int list = 0; list <= beats; list++) {
    for (int i = 0; i < N_FIGURES; i++) {
      const bool known = list == 0 || scores->has_downbeats;
      fprintf(out, "\t%s", number(value, known ? figure[list][i].value : (double)NAN, DECIMALS));
    }
  }
  fputc('\n', out);
}

static json_t *figures_as_json(const CwBeatScores *scores, bool *good)
{
  json_t *object = json_object();
  Figure figure[N_FIGURES];
  list_figures(scores, figure);
  for (int i = 0; i < N_FIGURES; i++) {
    cw_json_number(object, figure[i].key, figure[i].value, 9, good);
  }
  return object;
}

static CwStatus dump(json_t *object, bool good, FILE *out)
{
  const bool written = good && json_dumpf(object, out, JSON_INDENT(2)) == 0 && fputc('\n', out) != EOF;
  json_decref(object);
  return written ? CW_OK : good ? CW_ERR_WRITE : CW_ERR_NO_MEM;
}

static CwStatus print_json(const EvalRequest *request, const EvalScores *scores, FILE *out)
{
  const bool beats = request->command == EVAL_BEATS;
  bool good = true;
  json_t *object = cw_json_begin("countwright-scores", &good);
  cw_json_text(object, "truth", scores->truth, &good);
  cw_json_text(object, "found", scores->found, &good);
  cw_json_number(object, "trim_s", scores->trim_s, 3, &good);
  cw_json_number(object, "window_s", CW_EVAL_WINDOW_S, 3, &good);
  cw_json_put(object, beats ? "beats" : "ones", figures_as_json(&scores->beats, &good), &good);
  if (beats) {
    cw_json_whole_or_null(object, "metre", scores->metre, &good);
    cw_json_put(object, "downbeats", scores->has_downbeats ? figures_as_json(&scores->downbeats, &good) : json_null(),
                &good);
  }
  return dump(object, good, out);
}

CwStatus eval_print_scores(const EvalRequest *request, const EvalScores *scores, FILE *out)
{
  if (request->form == EVAL_JSON) {
    return print_json(request, scores, out);
  }
  (request->form == EVAL_TSV ? print_tsv : print_text)(request, scores, out);
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}

static double mean(double sum, const CwBin *bin)
{
  return bin->n > 0 ? sum / (double)bin->n : (double)NAN;
}

static void print_bin(const char *name, const CwBin *bin, FILE *out)
{
  char confidence[32], right[32];
  fprintf(out, "%-10s%8zu%12s%8s\n", name, bin->n, number(confidence, mean(bin->confidence, bin), 3),
          number(right, mean((double)bin->n_right, bin), 3));
}

static json_t *bin_as_json(const CwBin *bin, bool *good)
{
  json_t *object = json_object();
  cw_json_whole(object, "n", bin->n, good);
  cw_json_whole(object, "n_right", bin->n_right, good);
  cw_json_number(object, "confidence", mean(bin->confidence, bin), 6, good);
  cw_json_number(object, "right", mean((double)bin->n_right, bin), 6, good);
  return object;
}

static CwStatus reliability_as_json(const CwReliability *reliability, FILE *out)
{
  bool good = true;
  json_t *object = cw_json_begin("countwright-reliability", &good);
  json_t *bins = json_array();
  for (int i = 0; i < CW_N_BINS; i++) {
    good = json_array_append_new(bins, bin_as_json(&reliability->bin[i], &good)) == 0 && good;
  }
  cw_json_put(object, "bins", bins, &good);
  cw_json_put(object, "all", bin_as_json(&reliability->all, &good), &good);
  cw_json_whole(object, "n_unknown", reliability->n_unknown, &good);
  cw_json_number(object, "calibration_error", cw_eval_calibration_error(reliability), 6, &good);
  return dump(object, good, out);
}

CwStatus eval_print_reliability(const EvalRequest *request, const CwReliability *reliability, FILE *out)
{
  if (request->form == EVAL_JSON) {
    return reliability_as_json(reliability, out);
  }
  fprintf(out, "%-10s%8s%12s%8s\n", "shown", "phrases", "mean shown", "right");
  for (int i = 0; i < CW_N_BINS; i++) {
    char name[32];
    snprintf(name, sizeof name, i + 1 < CW_N_BINS ? "0.%d - 0.%d" : "0.%d - 1", i, i + 1);
    print_bin(name, &reliability->bin[i], out);
  }
  print_bin("all", &reliability->all, out);
  char error[32];
  fprintf(out, "expected calibration error %s\n", number(error, cw_eval_calibration_error(reliability), 3));
  if (reliability->n_unknown > 0) {
    fprintf(out, "%zu phrases show no confidence\n", reliability->n_unknown);
  }
  return ferror(out) ? CW_ERR_WRITE : CW_OK;
}
