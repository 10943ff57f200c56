// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/mirror.h"
#include "unit/random.h"
#include "unit/stage/sentences.h"

static void expect(const char *text, const char *wanted)
{
  CwMirrored mirrored;
  assert_int_equal(cw_mirror_notebook(text, strlen(text), &mirrored), CW_OK);
  assert_string_equal(mirrored.text, wanted);
  assert_int_equal(mirrored.size, strlen(wanted));
  cw_mirrored_free(&mirrored);
}

/// Mirror twice and compare.
static void expect_return(const char *text, size_t size)
{
  CwMirrored there;
  CwMirrored back;
  assert_int_equal(cw_mirror_notebook(text, size, &there), CW_OK);
  assert_int_equal(cw_mirror_notebook(there.text, there.size, &back), CW_OK);
  if (back.size != size || memcmp(back.text, text, size) != 0) {
    print_error("'%.*s' became '%s' and came back as '%s'\n", (int)size, text, there.text, back.text);
    fail();
  }
  assert_int_equal(there.n_changed, back.n_changed);
  cw_mirrored_free(&there);
  cw_mirrored_free(&back);
}

static void a_whole_notebook_is_mirrored(void **state)
{
  (void)state;
  expect("piece: The Right Harbour\r\ndance: All Left\r\nrecording: left.wav\r\n"
         "# Turn to the left\r\n8 1-4 run DSL > C > USR 5 tendu RF, hold right away\r\n"
         "repeat 1 to the left\r\n; left foot is late\r\n",
         "piece: The Right Harbour\r\ndance: All Left\r\nrecording: left.wav\r\n"
         "# Turn to the right\r\n8 1-4 run DSR > C > USL 5 tendu LF, hold right away\r\n"
         "repeat 1 to the right\r\n; right foot is late\r\n");
}

static void case_is_kept(void **state)
{
  (void)state;
  expect("LEFT foot, Left foot, left foot", "RIGHT foot, Right foot, right foot");
  expect("JAMBE GAUCHE, Pied Gauche", "JAMBE DROITE, Pied Droit");
  expect("dsl Dsl DSL", "dsr Dsr DSR");
}

static void bytes_between_words_are_kept(void **state)
{
  (void)state;
  expect("\t to\xC2\xA0the \t left \r\n\r\r\n", "\t to\xC2\xA0the \t right \r\n\r\r\n");
  expect("\xE9 to the left, \xFF\x01", "\xE9 to the right, \xFF\x01");
  expect("\xEF\xBB\xBFto the left", "\xEF\xBB\xBFto the right");
}

static void doubts_say_line_and_column_in_characters(void **state)
{
  (void)state;
  const char *text = "é walk\n1-4 jeté the right dancer 5 to corner 2\r";
  CwMirrored mirrored;
  assert_int_equal(cw_mirror_notebook(text, strlen(text), &mirrored), CW_OK);
  assert_string_equal(mirrored.text, text);
  assert_int_equal(mirrored.n_doubts, 2);
  assert_int_equal(mirrored.doubt[0].line, 2);
  assert_int_equal(mirrored.doubt[0].column, 14);
  assert_non_null(strstr(mirrored.doubt[0].text, "'right'"));
  assert_int_equal(mirrored.doubt[1].column, 32);
  assert_non_null(strstr(mirrored.doubt[1].text, "'corner 2'"));
  cw_mirrored_free(&mirrored);
}

/// English words whose mirroring would read otherwise stay, so that everything comes back.
static void what_would_not_come_back_is_in_doubt(void **state)
{
  (void)state;
  CwMirrored mirrored;
  assert_int_equal(cw_mirror_text("step left now, left foot", &mirrored), CW_OK);
  assert_string_equal(mirrored.text, "step left now, right foot");
  assert_int_equal(mirrored.n_doubts, 1);
  cw_mirrored_free(&mirrored);
}

static void every_sentence_comes_back(void **state)
{
  (void)state;
  static const char *const file[] = {"sentences.txt", "sentences_fresh.txt", "sentences_third.txt"};
  for (size_t f = 0; f < 3; f++) {
    Sentence *sentences;
    const size_t n = read_sentences(file[f], &sentences);
    assert_true(n > 60);
    for (size_t i = 0; i < n; i++) {
      expect_return(sentences[i].text, strlen(sentences[i].text));
      expect_return(sentences[i].mirrored, strlen(sentences[i].mirrored));
    }
    free(sentences);
  }
}

/// Words, signs and stray bytes in any order.
static void any_bytes_come_back(void **state)
{
  (void)state;
  static const char *const piece[] = {"left",        "right",     "Left",    "RIGHT",  "lEft",     "L",
                                      "R",           "l.",        "r",       "DSL",    "usr",      "LRL",
                                      "gauche",      "droit",     "droite",  "pied",   "jambe",    "tout",
                                      "cour",        "jardin",    "côté",    "sens",   "des",      "inverse",
                                      "aiguilles",   "clockwise", "anti",    "clock",  "wise",     "counterclockwise",
                                      "clock-wards", "-",         "/",       ",",      ".",        "?",
                                      "5",           "1-4",       "on",      "to the", "turn",     "and",
                                      "he",          "what is",   "away",    "foot",   "wing",     "2",
                                      "the",         "\n",        "\r\n",    "\xE9",   "\xF0\x9F", "corner",
                                      "lft",         "rgt",       "of",      "over",   "CW",       "a",
                                      "(",           ":",         "piece: ", "'",      "high",     "boys",
                                      "Mira",        "rt",        "back",    "then"};
  char text[600];
  uint64_t seed = 7;
  for (unsigned round = 0; round < 20000; round++) {
    text[0] = '\0';
    for (unsigned k = 1 + (unsigned)random_below(&seed, 14); k > 0; k--) {
      strcat(text, piece[random_below(&seed, sizeof piece / sizeof piece[0])]);
      strcat(text, random_share(&seed) < 0.8 ? " " : "");
    }
    expect_return(text, strlen(text));
  }
  expect_return("", 0);
  expect_return("left\0foot", 9);
}

static void memory_may_run_out_at_any_point(void **state)
{
  (void)state;
  const char *text = "8 1-4 turn left now, left foot 5 the right dancer\nrun DSL > C, step left now\nto corner 2";
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    CwMirrored mirrored;
    cw_fail_after(n);
    status = cw_mirror_notebook(text, strlen(text), &mirrored);
    cw_fail_after(-1);
    assert_true(status == CW_OK || (status == CW_ERR_NO_MEM && !mirrored.text && !mirrored.doubt));
    cw_mirrored_free(&mirrored);
  }
  assert_true(n > 8);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_whole_notebook_is_mirrored),
      cmocka_unit_test(case_is_kept),
      cmocka_unit_test(bytes_between_words_are_kept),
      cmocka_unit_test(doubts_say_line_and_column_in_characters),
      cmocka_unit_test(what_would_not_come_back_is_in_doubt),
      cmocka_unit_test(every_sentence_comes_back),
      cmocka_unit_test(any_bytes_come_back),
      cmocka_unit_test(memory_may_run_out_at_any_point),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
