// SPDX-License-Identifier: GPL-3.0-or-later
/// Made and run by make.sh. Beats and their probabilities by GHMM's Viterbi and forward-backward routines.
///
/// The model as an ordinary hidden Markov chain, frame by frame, after Krebs, Böck and Widmer 2015: there is no pulse
/// (one state); a pulse begins with a beat (a state for each interval); from a beat one goes to the first of the states
/// that count an interval's frames, at whose end is the next beat; or to the first of 99 states at whose end there is
/// no pulse again. What a beat is worth at a frame is what its states emit: the symbol of a frame is its number.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <ghmm/foba.h>
#include <ghmm/ghmm.h>
#include <ghmm/model.h>
#include <ghmm/viterbi.h>

enum { N = 500, MOST_STATES = 4000, WAIT = 100, MOST_INTERVALS = 40 };

// factors that change no result, so that nothing is above 1
static const double frame_factor = 1e-3;

typedef struct {
  int from, to;
  double weight;
} Arrow;

typedef struct {
  int shortest, longest; ///< frames between beats: every whole number from here to there
  double likely_bpm, tempo_spread, tempo_weight, change_cost, jump_cost, enter_cost, offbeat_weight;
  int is_sum;      ///< probabilities of changes sum to 1, and entering is shared out among the intervals
  double beat[N];  ///< log-odds of a beat
  int first_begun; ///< states: 0 is no pulse, then the waiting ones, then beats that begin a pulse ...
  int first_beat;  ///< ... other beats ...
  int first_of[MOST_INTERVALS];
  int n_intervals, n_states, n_arrows;
  Arrow arrow[MOST_STATES * 4];
} Chain;

static double random_share(unsigned long long *seed)
{
  *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

// GHMM's library asks for these routines of ATLAS, for models of another kind.
int clapack_dgetrf(void)
{
  abort();
}

int clapack_dgetri(void)
{
  abort();
}

int clapack_dpotrf(void)
{
  abort();
}

/// A pulse with changes of tempo, and nothing for a while in the middle; two decimals, so that text holds it exactly.
/// Nothing speaks very strongly against a beat: GHMM takes sums under 1e-8 for nothing.
static void make_beats(Chain *c, double clarity, unsigned long long seed)
{
  for (int t = 0; t < N; t++) {
    c->beat[t] = -1.5 + 2.0 * random_share(&seed);
  }
  int interval = c->shortest + (int)(random_share(&seed) * c->n_intervals);
  for (int t = 3; t < N; t += interval) {
    c->beat[t] = clarity * (0.3 + 0.7 * random_share(&seed));
    if (random_share(&seed) < 0.3) {
      interval = c->shortest + (int)(random_share(&seed) * c->n_intervals);
    }
  }
  for (int t = 0; t < N; t++) {
    c->beat[t] = t >= 200 && t < 340 ? -2.0 : round(c->beat[t] * 100) / 100;
  }
}

static void join(Chain *c, int from, int to, double weight)
{
  c->arrow[c->n_arrows++] = (Arrow){from, to, weight};
}

static double change_weight(const Chain *c, int i, int j)
{
  const double cost = c->change_cost * fabs(log((double)(c->shortest + i) / (c->shortest + j)));
  if (!c->is_sum) {
    return exp(-fmin(cost, c->jump_cost));
  }
  double sum = 0;
  for (int k = 0; k < c->n_intervals; k++) {
    sum += exp(-c->change_cost * fabs(log((double)(c->shortest + i) / (c->shortest + k)))) + exp(-c->jump_cost);
  }
  return (exp(-cost) + exp(-c->jump_cost)) / sum;
}

static void make_states(Chain *c)
{
  c->first_begun = WAIT;
  c->first_beat = c->first_begun + c->n_intervals;
  c->n_states = c->first_beat + c->n_intervals;
  for (int i = 0; i < c->n_intervals; i++) {
    c->first_of[i] = c->n_states;
    c->n_states += c->shortest + i - 1;
  }
}

static void make_arrows(Chain *c)
{
  join(c, 0, 0, 1.0);
  for (int w = 1; w < WAIT; w++) {
    join(c, w, (w + 1) % WAIT, 1.0); // the last one leads to no pulse
  }
  for (int i = 0; i < c->n_intervals; i++) {
    join(c, 0, c->first_begun + i, 1.0);
    for (int kind = 0; kind < 2; kind++) {
      const int here = (kind ? c->first_beat : c->first_begun) + i;
      join(c, here, 1, 1.0);
      for (int j = 0; j < c->n_intervals; j++) {
        join(c, here, c->first_of[j], change_weight(c, i, j));
      }
    }
    const int last = c->first_of[i] + c->shortest + i - 2;
    for (int s = c->first_of[i]; s < last; s++) {
      join(c, s, s + 1, 1.0);
    }
    join(c, last, c->first_beat + i, 1.0);
  }
}

/// What state `s` emits at frame `t`.
static double emission(const Chain *c, int s, int t)
{
  if (s >= c->first_beat + c->n_intervals) {
    return t == N - 1 ? 0.0 : frame_factor; // a path does not end on the way to a beat
  }
  if (s < c->first_begun) {
    return frame_factor;
  }
  const int begun = s < c->first_beat;
  const int frames = c->shortest + s - (begun ? c->first_begun : c->first_beat);
  const double away = log(6000.0 / frames / c->likely_bpm) / c->tempo_spread;
  double score = c->beat[t] - 0.5 * c->tempo_weight * (frames / 100.0) * away * away;
  if (begun) {
    score -= c->enter_cost + (c->is_sum ? log((double)c->n_intervals) : 0.0);
  } else if (t >= frames) {
    const double half = c->beat[t - frames / 2];
    const double thirds = 0.5 * (c->beat[t - frames / 3] + c->beat[t - 2 * frames / 3]);
    score += c->offbeat_weight * fmax(0.0, fmax(half, thirds));
  }
  return frame_factor * exp(score);
}

static ghmm_dmodel *make_model(const Chain *c)
{
  int *in = calloc((size_t)c->n_states, sizeof *in);
  int *out = calloc((size_t)c->n_states, sizeof *out);
  for (int a = 0; a < c->n_arrows; a++) {
    out[c->arrow[a].from]++;
    in[c->arrow[a].to]++;
  }
  ghmm_dmodel *model = ghmm_dmodel_calloc(N, c->n_states, GHMM_kDiscreteHMM, in, out);
  memset(in, 0, (size_t)c->n_states * sizeof *in);
  memset(out, 0, (size_t)c->n_states * sizeof *out);
  for (int a = 0; a < c->n_arrows; a++) {
    const Arrow *arrow = &c->arrow[a];
    ghmm_dstate *from = &model->s[arrow->from];
    ghmm_dstate *to = &model->s[arrow->to];
    from->out_id[out[arrow->from]] = arrow->to;
    from->out_a[out[arrow->from]++] = arrow->weight;
    to->in_id[in[arrow->to]] = arrow->from;
    to->in_a[in[arrow->to]++] = arrow->weight;
  }
  for (int s = 0; s < c->n_states; s++) {
    model->s[s].in_states = in[s];
    model->s[s].out_states = out[s];
    model->s[s].pi = s == 0 || (s >= c->first_begun && s < c->first_beat) ? 1.0 : 0.0;
    for (int t = 0; t < N; t++) {
      model->s[s].b[t] = emission(c, s, t);
    }
  }
  free(in);
  free(out);
  return model;
}

static double **new_table(int rows, int columns)
{
  double **table = calloc((size_t)rows, sizeof *table);
  for (int i = 0; i < rows; i++) {
    table[i] = calloc((size_t)columns, sizeof **table);
  }
  return table;
}

static void print_probability(const Chain *c, ghmm_dmodel *model, int *symbols)
{
  double **alpha = new_table(N, c->n_states);
  double **beta = new_table(N, c->n_states);
  double *scale = calloc(N, sizeof *scale);
  double log_p = 0;
  if (ghmm_dmodel_forward(model, symbols, N, alpha, scale, &log_p) != 0 ||
      ghmm_dmodel_backward(model, symbols, N, beta, scale) != 0) {
    exit(1);
  }
  printf(" \"probability\": [");
  for (int t = 0; t < N; t++) {
    double of_beat = 0;
    double all = 0;
    for (int s = 0; s < c->n_states; s++) {
      const double p = alpha[t][s] * beta[t][s];
      all += p;
      of_beat += s >= c->first_begun && s < c->first_beat + c->n_intervals ? p : 0.0;
    }
    printf("%s%.6f", t ? ", " : "", of_beat / all);
  }
  printf("]");
}

static void print_beats(const Chain *c, ghmm_dmodel *model, int *symbols)
{
  int length = 0;
  double log_p = 0;
  const int *path = ghmm_dmodel_viterbi(model, symbols, N, &length, &log_p);
  if (!path || length != N) {
    exit(1);
  }
  const char *comma = "";
  printf(" \"score\": %.6f,\n \"beats\": [", log_p - N * log(frame_factor));
  for (int t = 0; t < N; t++) {
    if (path[t] >= c->first_begun && path[t] < c->first_beat + c->n_intervals) {
      printf("%s[%d, %d]", comma, t, path[t] < c->first_beat); // its frame, and whether a run begins
      comma = ", ";
    }
  }
  printf("]");
}

static void print_case(Chain *c, double clarity, unsigned long long seed)
{
  static int symbols[N];
  c->n_intervals = c->longest - c->shortest + 1;
  c->n_arrows = 0;
  make_beats(c, clarity, seed);
  make_states(c);
  make_arrows(c);
  for (int t = 0; t < N; t++) {
    symbols[t] = t;
  }
  printf("{\"shortest\": %d, \"longest\": %d, \"likely_bpm\": %g, \"tempo_spread\": %g, \"tempo_weight\": %g,\n",
         c->shortest, c->longest, c->likely_bpm, c->tempo_spread, c->tempo_weight);
  printf(" \"change_cost\": %g, \"jump_cost\": %g, \"enter_cost\": %g, \"offbeat_weight\": %g,\n \"beat\": [",
         c->change_cost, c->jump_cost, c->enter_cost, c->offbeat_weight);
  for (int t = 0; t < N; t++) {
    printf("%s%.2f", t ? ", " : "", c->beat[t]);
  }
  printf("],\n");
  ghmm_dmodel *model = make_model(c);
  if (c->is_sum) {
    print_probability(c, model, symbols);
  } else {
    print_beats(c, model, symbols);
  }
  printf("}");
  ghmm_dmodel_free(&model);
}

int main(void)
{
  static Chain c;
  printf("[\n");
  c = (Chain){10, 16, 480, 0.4, 1.5, 6, 3, 3, 0.5, .is_sum = 1};
  print_case(&c, 3.0, 1);
  printf(",\n");
  c = (Chain){28, 32, 200, 0.3, 0.5, 6, 2.5, 3, 0.3, .is_sum = 1};
  print_case(&c, 4.0, 2);
  printf(",\n");
  c = (Chain){10, 16, 480, 0.4, 1.5, 6, 3, 3, 0.0, .is_sum = 0};
  print_case(&c, 2.5, 3);
  printf(",\n");
  c = (Chain){28, 40, 180, 0.3, 0.5, 10, 5, 6, 0.0, .is_sum = 0};
  print_case(&c, 3.0, 4);
  printf("\n]\n");
  return 0;
}
