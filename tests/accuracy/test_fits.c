// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes with one mistake: how often the change that mends it is proposed first, how often among three.
/// -v prints every mistake; --all takes all hard cases, --learned the learned ear.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/demo.h"
#include "accuracy/hard/notes_of.h"
#include "accuracy/hard/play.h"
#include "countwright/fit.h"
#include "unit/cw_test.h"

static bool is_wordy;
static bool is_learned;
static bool takes_all;

/// A mistake, and what mends it.
typedef enum { FORGOTTEN, TOO_LONG, TOO_SHORT, TWICE, AS_EIGHT, N_MISTAKES } Mistake;

static const char *const mistake_names[N_MISTAKES] = {"a phrase forgotten", "4 counts too long", "4 counts too short",
                                                      "a phrase too many", "an odd phrase written as an eight"};

/// Of some mistakes, how many are mended by the first proposal, and by one of the first three.
typedef struct {
  size_t n;
  size_t first;  ///< phrase and number of counts right
  size_t three;  ///< ... in one of three
  size_t near;   ///< the first: number of counts right, and at most one phrase off
  size_t counts; ///< the first: number of counts in all right
  size_t silent; ///< nothing is proposed
  size_t width;  ///< phrases that the first proposals leave open, in all
} Tally;

/// The notes with a mistake in phrase `at`; a shallow copy, of which only `phrase` is to be released.
static CwNotebook mistaken(const CwNotebook *notes, Mistake mistake, size_t at)
{
  CwNotebook wrong = *notes;
  wrong.phrase = calloc(notes->n_phrases + 1, sizeof *wrong.phrase);
  assert_non_null(wrong.phrase);
  size_t n = 0;
  for (size_t p = 0; p < notes->n_phrases; p++) {
    const size_t copies = p != at ? 1 : mistake == FORGOTTEN ? 0 : mistake == TWICE ? 2 : 1;
    for (size_t c = 0; c < copies; c++) {
      wrong.phrase[n++] = notes->phrase[p];
    }
    if (p == at && copies > 0) {
      wrong.phrase[n - 1].counts += mistake == TOO_LONG ? 4 : 0;
      wrong.phrase[n - 1].counts -= mistake == TOO_SHORT ? 4 : 0;
      wrong.phrase[n - 1].counts = mistake == AS_EIGHT ? 8 : wrong.phrase[n - 1].counts;
    }
  }
  wrong.n_phrases = n;
  const long moved = mistake == FORGOTTEN ? -1 : mistake == TWICE ? 1 : 0;
  for (size_t p = 0; p < n; p++) {
    size_t *like = &wrong.phrase[p].like;
    if (*like != CW_NONE && *like >= at && moved != 0) {
      *like = *like == at && moved < 0 ? CW_NONE : *like > at ? *like + (size_t)moved : *like;
    }
  }
  return wrong;
}

/// Whether a proposal mends the mistake, its place being among those that it says cannot be told apart.
/// @param off Phrases that it may be off.
static bool mends(const CwFit *fit, const CwNotebook *notes, Mistake mistake, size_t at, size_t off)
{
  const unsigned counts = notes->phrase[at].counts;
  const size_t number = at + 1; // of the phrase in the notes as they should be
  const bool here = fit->first <= number + off && number <= fit->last + off;
  const bool after = fit->first <= number + off && number <= fit->last + 1 + off; // missing after the one before, or it
  const bool right = fit->kind == CW_FIT_LENGTH && here && (off > 0 || fit->counts == counts);
  switch (mistake) {
  case FORGOTTEN: // a neighbour that is 4 counts longer comes to the same as a 4 forgotten
    return (counts == 4 && fit->kind == CW_FIT_LENGTH && fit->counts == 12 && fit->first <= at + 1 + off &&
            at <= fit->last + off) ||
           (fit->kind == CW_FIT_MISSING && fit->counts == counts && fit->first <= at + off && at <= fit->last + off);
  case TOO_SHORT: // a 4 more before it or after it comes to the same
    return right || (fit->kind == CW_FIT_MISSING && fit->counts == 4 && after);
  case TWICE: // which of the two alike is too many cannot be told
    return fit->kind == CW_FIT_EXTRA && fit->first <= number + 1 + off && number <= fit->last + off;
  default:
    return right;
  }
}

static long counts_more(const CwFit *fit, const CwNotebook *wrong)
{
  const long had = fit->kind == CW_FIT_MISSING ? 0 : (long)wrong->phrase[fit->phrase - 1].counts;
  return (long)fit->counts - had;
}

static void try_mistake(const char *name, const CwFeatures *features, const CwNotebook *notes, Mistake mistake,
                        size_t at, Tally *tally)
{
  CwNotebook wrong = mistaken(notes, mistake, at);
  CwCountLine line;
  CwMessages messages = {0};
  CwFits fits;
  const CwLineupOptions options = {.ear = is_learned ? CW_EAR_LEARNED : CW_EAR_PLAIN};
  assert_int_equal(cw_fits_find(features, &wrong, &options, NULL, &line, &messages, &fits), CW_OK);
  const long wanted = mistake == FORGOTTEN   ? (long)notes->phrase[at].counts
                      : mistake == TWICE     ? -(long)notes->phrase[at].counts
                      : mistake == TOO_LONG  ? -4
                      : mistake == TOO_SHORT ? 4
                                             : (long)notes->phrase[at].counts - 8;
  bool three = false;
  for (size_t i = 0; i < fits.n && i < 3; i++) {
    three = three || mends(&fits.fit[i], notes, mistake, at, 0);
  }
  tally->n++;
  tally->width += fits.n > 0 ? fits.fit[0].last - fits.fit[0].first + 1 : 0;
  tally->silent += fits.n == 0;
  tally->first += fits.n > 0 && mends(&fits.fit[0], notes, mistake, at, 0);
  tally->three += three;
  tally->near +=
      fits.n > 0 && mends(&fits.fit[0], notes, mistake, at, 1) && counts_more(&fits.fit[0], &wrong) == wanted;
  tally->counts += fits.n > 0 && counts_more(&fits.fit[0], &wrong) == wanted;
  if (is_wordy) {
    print_message("%s, %s, phrase %zu of %u counts:%s\n", name, mistake_names[mistake], at + 1,
                  notes->phrase[at].counts, fits.n ? "" : " nothing");
    for (size_t i = 0; i < fits.n; i++) {
      static const char *const kinds[] = {"missing after", "extra", "length of"};
      print_message("    %s %zu (%zu-%zu): %u counts, gain %.1f, %.2f%s\n", kinds[fits.fit[i].kind], fits.fit[i].phrase,
                    fits.fit[i].first, fits.fit[i].last, fits.fit[i].counts, fits.fit[i].gain, fits.fit[i].chance,
                    mends(&fits.fit[i], notes, mistake, at, 0) ? "  <-" : "");
    }
  }
  cw_fits_free(&fits);
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  free(wrong.phrase);
}

/// All mistakes at some phrases.
static void try_mistakes(const char *name, const CwFeatures *features, const CwNotebook *notes, size_t places,
                         Tally tally[N_MISTAKES])
{
  for (Mistake mistake = 0; mistake < N_MISTAKES; mistake++) {
    for (size_t k = 0; k < places; k++) {
      size_t at = 1 + (notes->n_phrases - 2) * (2 * k + 1) / (2 * places);
      while (mistake == AS_EIGHT && at < notes->n_phrases && notes->phrase[at].counts == 8) {
        at++;
      }
      const bool last = at >= notes->n_phrases;
      if (!last && (mistake != TOO_SHORT || notes->phrase[at].counts > 4)) {
        try_mistake(name, features, notes, mistake, at, &tally[mistake]);
      }
    }
  }
}

/// How often something is proposed where nothing is wrong.
static size_t count_false(const CwFeatures *features, const CwNotebook *notes, const char *name)
{
  CwCountLine line;
  CwMessages messages = {0};
  CwFits fits;
  const CwLineupOptions options = {.ear = is_learned ? CW_EAR_LEARNED : CW_EAR_PLAIN};
  assert_int_equal(cw_fits_find(features, notes, &options, NULL, &line, &messages, &fits), CW_OK);
  const size_t n = fits.n;
  if (is_wordy && n > 0) {
    print_message("%s, no mistake: kind %d phrase %zu counts %u gain %.1f\n", name, (int)fits.fit[0].kind,
                  fits.fit[0].phrase, fits.fit[0].counts, fits.fit[0].gain);
  }
  cw_fits_free(&fits);
  cw_messages_free(&messages);
  cw_count_line_free(&line);
  return n > 0;
}

static Tally add_up(const Tally tally[N_MISTAKES], const char *name)
{
  Tally all = {0};
  for (Mistake m = 0; m < N_MISTAKES; m++) {
    print_message("%s, %s: %zu; right first %zu, among three %zu, one phrase off at most %zu, counts right %zu, "
                  "nothing said %zu; %zu phrases left open\n",
                  name, mistake_names[m], tally[m].n, tally[m].first, tally[m].three, tally[m].near, tally[m].counts,
                  tally[m].silent, tally[m].width);
    all.n += tally[m].n;
    all.first += tally[m].first;
    all.three += tally[m].three;
    all.near += tally[m].near;
    all.counts += tally[m].counts;
    all.silent += tally[m].silent;
    all.width += tally[m].width;
  }
  print_message("%s, all: %zu; right first %.2f, among three %.2f, one phrase off at most %.2f, counts right %.2f\n",
                name, all.n, (double)all.first / (double)all.n, (double)all.three / (double)all.n,
                (double)all.near / (double)all.n, (double)all.counts / (double)all.n);
  return all;
}

static void mistakes_in_the_notes_of_the_demo_are_found(void **state)
{
  (void)state;
  CwFeatures features;
  CwNotebook notes;
  Tally tally[N_MISTAKES] = {0};
  assert_int_equal(cw_features_read(CW_DEMO_REHEARSAL, NULL, &features), CW_OK);
  assert_int_equal(cw_notebook_read(CW_DEMO_NOTES, &notes), CW_OK);
  assert_int_equal(count_false(&features, &notes, "demo"), 0);
  try_mistakes("demo", &features, &notes, takes_all ? 12 : 4, tally);
  const Tally all = add_up(tally, "demo");
  assert_true((double)all.first >= 0.45 * (double)all.n);
  assert_true((double)all.counts >= 0.6 * (double)all.n);
  cw_notebook_free(&notes);
  cw_features_free(&features);
}

static void mistakes_in_the_notes_of_hard_cases_are_found(void **state)
{
  (void)state;
  static const char *const few[] = {"bar-of-two", "hold"};
  Tally tally[N_MISTAKES] = {0};
  size_t wrongly = 0;
  size_t n = 0;
  for (size_t i = 0; i < cw_n_hard_cases; i++) {
    const CwHardCase *hard = &cw_hard_cases[i];
    bool wanted = takes_all;
    for (size_t k = 0; k < sizeof few / sizeof few[0]; k++) {
      wanted = wanted || strcmp(few[k], hard->name) == 0;
    }
    CwPlayed played;
    if (!wanted || !cw_hard_play(hard, &played)) {
      continue;
    }
    CwFeatures features;
    CwNotebook notes;
    assert_int_equal(cw_features_measure(played.sound.sample, played.sound.n, &features), CW_OK);
    char *text = cw_hard_notes(hard, &played.truth, 0);
    assert_int_equal(cw_notebook_parse(text, strlen(text), &notes), CW_OK);
    try_mistakes(hard->name, &features, &notes, takes_all ? 2 : 1, tally);
    wrongly += count_false(&features, &notes, hard->name);
    n++;
    free(text);
    cw_notebook_free(&notes);
    cw_features_free(&features);
    cw_played_free(&played);
  }
  const Tally all = add_up(tally, "hard cases");
  print_message("nothing is wrong in %zu; something is proposed in %zu of them\n", n, wrongly);
  assert_true((double)all.first >= 0.3 * (double)all.n);
  assert_true((double)all.counts >= 0.5 * (double)all.n);
  assert_true(takes_all || wrongly == 0);
}

int main(int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(mistakes_in_the_notes_of_the_demo_are_found),
      cmocka_unit_test(mistakes_in_the_notes_of_hard_cases_are_found),
  };
  for (int i = 1; i < argc; i++) {
    is_wordy |= strcmp(argv[i], "-v") == 0;
    is_learned |= strcmp(argv[i], "--learned") == 0;
    takes_all |= strcmp(argv[i], "--all") == 0;
  }
  return cmocka_run_group_tests(tests, NULL, NULL);
}
