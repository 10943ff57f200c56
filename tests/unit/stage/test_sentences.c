// SPDX-License-Identifier: GPL-3.0-or-later
/// How well the stage is read and mirrored, on sentences with truth written before the code.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/stage.h"
#include "stage/mirror_line.h"
#include "unit/stage/sentences.h"

/// What was right, wrongly found, and missed.
typedef struct {
  unsigned right;
  unsigned wrong;
  unsigned missed;
} Score;

static double precision(Score score)
{
  return score.right ? (double)score.right / (score.right + score.wrong) : 0;
}

static double recall(Score score)
{
  return score.right ? (double)score.right / (score.right + score.missed) : 0;
}

static void say(const char *file, const char *what, Score score)
{
  print_message("%s, %s: precision %.3f (%u of %u), recall %.3f (%u of %u)\n", file, what, precision(score),
                score.right, score.right + score.wrong, recall(score), score.right, score.right + score.missed);
}

static const TruthEdit *truth_at(const Sentence *sentence, size_t begin, size_t end)
{
  for (size_t i = 0; i < sentence->n_edits; i++) {
    if (sentence->edit[i].begin < end && begin < sentence->edit[i].end) {
      return &sentence->edit[i];
    }
  }
  return NULL;
}

/// The truth may name less ("DS{L|R}") or more ("{left-hand|right-hand}") than the bytes that change.
static bool is_as_truth(const CwEdit *edit, const TruthEdit *truth)
{
  const char *at = edit->text + (truth->begin > edit->begin ? truth->begin - edit->begin : 0);
  const size_t n = strlen(at) < strlen(truth->other) ? strlen(at) : strlen(truth->other);
  return edit->begin <= truth->begin && strncmp(at, truth->other, n) == 0;
}

/// Score the changes and the doubts of a sentence.
static void score_sentence(const Sentence *sentence, Score *changes, Score *doubts)
{
  CwMirrorLine line = {0};
  const char *out;
  size_t size;
  const unsigned before = changes->wrong + changes->missed + doubts->wrong + doubts->missed;
  assert_int_equal(cw_mirror_line(&line, sentence->text, strlen(sentence->text), &out, &size), CW_OK);
  unsigned right = 0;
  unsigned doubted = 0;
  for (size_t i = 0; i < line.edits.n; i++) {
    const CwEdit *edit = &line.edits.edit[i];
    const TruthEdit *truth = truth_at(sentence, edit->begin, edit->end);
    if (truth && !truth->doubt && is_as_truth(edit, truth)) {
      right++;
    } else {
      changes->wrong++;
    }
  }
  for (size_t i = 0; i < line.doubts.n; i++) {
    const TruthEdit *truth = truth_at(sentence, line.doubts.edit[i].begin, line.doubts.edit[i].end);
    doubted += truth && truth->doubt;
    doubts->wrong += !(truth && truth->doubt);
  }
  unsigned to_change = 0;
  unsigned to_doubt = 0;
  for (size_t i = 0; i < sentence->n_edits; i++) {
    to_change += !sentence->edit[i].doubt;
    to_doubt += sentence->edit[i].doubt;
  }
  changes->right += right;
  changes->missed += to_change > right ? to_change - right : 0;
  doubts->right += doubted;
  doubts->missed += to_doubt > doubted ? to_doubt - doubted : 0;
  if (changes->wrong + changes->missed + doubts->wrong + doubts->missed != before) {
    print_message("  %s\n  > %.*s%s\n", sentence->text, (int)size, out, line.doubts.n ? " (in doubt)" : "");
  }
  cw_mirror_line_free(&line);
}

/// Thresholds are what was reached.
static void hold_mirror(const char *file, double least_precision, double least_recall, unsigned most_doubts)
{
  Sentence *sentences;
  const size_t n = read_sentences(file, &sentences);
  Score changes = {0};
  Score doubts = {0};
  for (size_t i = 0; i < n; i++) {
    score_sentence(&sentences[i], &changes, &doubts);
  }
  say(file, "sides", changes);
  say(file, "doubts", doubts);
  free(sentences);
  assert_true(precision(changes) >= least_precision);
  assert_true(recall(changes) >= least_recall);
  assert_true(doubts.wrong <= most_doubts);
}

/// Score what is read of a sentence: each reading in its written form.
static void score_readings(const Sentence *sentence, Score *score)
{
  CwStageReadings readings;
  unsigned right = 0;
  bool taken[TRUTH_READINGS] = {false};
  assert_int_equal(cw_stage_read(sentence->text, NULL, &readings), CW_OK);
  char found[512] = "";
  for (size_t i = 0; i < readings.n; i++) {
    char *text;
    assert_int_equal(cw_stage_write(&readings.reading[i], &text), CW_OK);
    for (size_t k = 0; k < sentence->n_readings; k++) {
      if (!taken[k] && strcmp(text, sentence->reading[k]) == 0) {
        taken[k] = true;
        right++;
        break;
      }
    }
    snprintf(found + strlen(found), sizeof found - strlen(found), "%s%s", i ? " | " : "", text);
    free(text);
  }
  score->right += right;
  score->wrong += (unsigned)readings.n - right;
  score->missed += (unsigned)sentence->n_readings - right;
  if (readings.n != right || sentence->n_readings != right) {
    print_message("  %s\n  = %s\n", sentence->text, found);
  }
  cw_stage_readings_free(&readings);
}

static void hold_readings(const char *file, double least_precision, double least_recall)
{
  Sentence *sentences;
  const size_t n = read_sentences(file, &sentences);
  Score score = {0};
  for (size_t i = 0; i < n; i++) {
    score_readings(&sentences[i], &score);
  }
  say(file, "places", score);
  free(sentences);
  assert_true(precision(score) >= least_precision);
  assert_true(recall(score) >= least_recall);
}

static void places_of_the_sentences_are_read(void **state)
{
  (void)state;
  hold_readings("sentences.txt", 1, 1);
}

static void places_of_the_fresh_sentences_are_read(void **state)
{
  (void)state;
  hold_readings("sentences_fresh.txt", 0.959, 0.979);
}

static void places_of_the_third_sentences_are_read(void **state)
{
  (void)state;
  hold_readings("sentences_third.txt", 0.96, 1);
}

static void sides_of_the_third_sentences_are_mirrored(void **state)
{
  (void)state;
  hold_mirror("sentences_third.txt", 1, 1, 0);
}

static void sides_of_the_sentences_are_mirrored(void **state)
{
  (void)state;
  hold_mirror("sentences.txt", 1, 1, 0);
}

static void sides_of_the_fresh_sentences_are_mirrored(void **state)
{
  (void)state;
  hold_mirror("sentences_fresh.txt", 1, 1, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(places_of_the_sentences_are_read),
      cmocka_unit_test(places_of_the_fresh_sentences_are_read),
      cmocka_unit_test(sides_of_the_sentences_are_mirrored),
      cmocka_unit_test(places_of_the_third_sentences_are_read),
      cmocka_unit_test(sides_of_the_third_sentences_are_mirrored),
      cmocka_unit_test(sides_of_the_fresh_sentences_are_mirrored),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
