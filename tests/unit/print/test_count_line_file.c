// SPDX-License-Identifier: GPL-3.0-or-later
// Count lines written and read back.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/count_line_file.h"
#include "countwright/print.h"
#include "unit/random.h"

/// A line of phrases of all lengths, some with a hold after them, and their numbers.
typedef struct {
  CwCountLine line;
  size_t number[12];
} Made;

static Made make(uint64_t seed, size_t n)
{
  Made made;
  double at_s = random_between(&seed, 0, 3);
  cw_count_line_init(&made.line, 0);
  for (size_t p = 0; p < n; p++) {
    double count_s[20];
    const unsigned counts = 1 + (unsigned)random_below(&seed, 20);
    for (unsigned c = 0; c < counts; c++) {
      count_s[c] = at_s;
      at_s += random_between(&seed, 0.2, 2);
    }
    const double confidence = p % 4 == 3 ? -1 : random_share(&seed);
    assert_int_equal(cw_count_line_add(&made.line, count_s, counts, at_s, confidence), CW_OK);
    at_s += random_share(&seed) < 0.3 ? random_between(&seed, 0.5, 4) : 0;
    made.number[p] = n + 3 - p; // another order than the notes'
  }
  made.line.duration_s = at_s + 2;
  made.line.metre = 3;
  made.line.beats_per_count = 1.5;
  return made;
}

static char *written(const Made *made, bool json, size_t *size)
{
  char *text = NULL;
  FILE *out = open_memstream(&text, size);
  assert_non_null(out);
  assert_int_equal(json ? cw_count_line_json(&made->line, made->number, "night \"2\".m4a", out)
                        : cw_count_line_csv(&made->line, made->number, out),
                   CW_OK);
  assert_int_equal(fclose(out), 0);
  return text;
}

static CwCountLineFile read_back(const char *text, size_t size)
{
  CwCountLineFile file;
  CwMessages messages = {0};
  assert_int_equal(cw_count_line_file_read(text, size, &file, &messages), CW_OK);
  assert_int_equal(messages.n, 0);
  return file;
}

static void assert_same_line(const Made *made, const CwCountLineFile *file)
{
  assert_int_equal(file->line.n_phrases, made->line.n_phrases);
  assert_int_equal(file->line.n_counts, made->line.n_counts);
  for (size_t k = 0; k < made->line.n_counts; k++) {
    assert_near(file->line.count_s[k], made->line.count_s[k], 0.00051);
  }
  for (size_t p = 0; p < made->line.n_phrases; p++) {
    assert_int_equal(file->number[p], made->number[p]);
    assert_int_equal(file->line.phrase[p].counts, made->line.phrase[p].counts);
    assert_near(file->line.phrase[p].end_s, made->line.phrase[p].end_s, 0.00051);
    assert_near(file->line.phrase[p].confidence, made->line.phrase[p].confidence, 0.00051);
  }
}

static void what_is_written_is_read_back(void **state)
{
  (void)state;
  for (uint64_t seed = 1; seed < 30; seed++) {
    Made made = make(seed, seed % 12);
    for (int json = 0; json < 2; json++) {
      size_t size = 0;
      char *text = written(&made, json, &size);
      CwCountLineFile file = read_back(text, size);
      assert_same_line(&made, &file);
      if (json) {
        assert_string_equal(file.recording, "night \"2\".m4a");
        assert_int_equal(file.line.metre, 3);
        assert_near(file.line.beats_per_count, 1.5, 1e-9);
        assert_near(file.line.duration_s, made.line.duration_s, 0.00051);
      } else {
        assert_null(file.recording);
        assert_near(file.line.beats_per_count, 0, 0); // not said
      }
      cw_count_line_file_free(&file);
      free(text);
    }
    cw_count_line_free(&made.line);
  }
}

static void csv_is_read_by_the_names_of_its_columns(void **state)
{
  (void)state;
  static const char text[] = "\"count\",\"remark\",\"phrase\",\"phrase_end_s\",\"time_s\"\r\n"
                             "1,slow,2,0:07.5,5\r\n2,,2,0:07.5,6.25\r\n1,,1,9,8\r\n";
  CwCountLineFile file = read_back(text, sizeof text - 1);
  assert_int_equal(file.line.n_phrases, 2);
  assert_int_equal(file.number[0], 2);
  assert_near(file.line.count_s[1], 6.25, 1e-9);
  assert_near(file.line.phrase[0].end_s, 7.5, 1e-9);
  assert_true(file.line.phrase[0].confidence < 0);
  assert_near(file.line.duration_s, 9, 1e-9);
  cw_count_line_file_free(&file);
}

#define HEAD "{\"format\": \"countwright-count-line\", \"version\": 1, \"phrases\": "
#define NAMES "phrase,count,time_s,phrase_end_s\n"

static void what_does_not_follow_the_format_is_told_with_its_place(void **state)
{
  (void)state;
  static const struct {
    const char *text, *message;
  } bad[] = {
      {"", "line 1: expected the columns phrase, count, time_s and phrase_end_s"},
      {"1-4 walk\n", "line 1: expected the columns phrase, count, time_s and phrase_end_s"},
      {NAMES "1,1,x,3\n", "line 2: expected numbers for phrase, count, time_s and phrase_end_s"},
      {NAMES "1,1,2\n", "line 2: expected numbers for phrase, count, time_s and phrase_end_s"},
      {NAMES "1,1,2,3\n1,3,2.5,3\n", "line 3: expected the counts of a phrase in order, from 1"},
      {NAMES "1,1,2,3\n2,1,2.5,4\n", "line 3: expected times that go up from count to count"},
      {NAMES "1,1,2,3\n2,1,3,4\n1,1,5,6\n", "line 4: expected the number of another phrase, from 1"},
      {NAMES "1,1,2,1\n", "line 2: expected times that go up from count to count"},
      {"{", "line 1, column 1: expected JSON"},
      {"{\"format\": \"countwright-sheet\"}", "'format': expected countwright-count-line, version 1"},
      {HEAD "3}", "'phrases': expected a list of phrases"},
      {HEAD "[3]}", "phrase 1 in the file: expected 'number', a whole number from 1"},
      {HEAD "[{\"number\": 1, \"count_s\": []}]}",
       "phrase 1 in the file: expected 'count_s', the seconds of its counts"},
      {HEAD "[{\"number\": 1, \"count_s\": [1, \"x\"], \"end_s\": 3}]}",
       "phrase 1 in the file: expected 'count_s', the seconds of its counts"},
      {HEAD "[{\"number\": 1, \"count_s\": [1, 2]}]}",
       "phrase 1 in the file: expected times that go up from count to count"},
      {HEAD "[{\"number\": 1, \"count_s\": [1], \"end_s\": 2}, {\"number\": 1, \"count_s\": [3], \"end_s\": 4}]}",
       "phrase 2 in the file: expected the number of another phrase, from 1"},
  };
  for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
    CwCountLineFile file;
    CwMessages messages = {0};
    assert_int_equal(cw_count_line_file_read(bad[i].text, strlen(bad[i].text), &file, &messages), CW_ERR_SYNTAX);
    assert_int_equal(messages.n, 1);
    assert_string_equal(messages.text[0], bad[i].message);
    assert_null(file.line.count_s);
    assert_null(file.number);
    cw_messages_free(&messages);
  }
}

static void no_bytes_do_harm(void **state)
{
  (void)state;
  uint64_t seed = 7;
  Made made = make(3, 5);
  for (int round = 0; round < 2000; round++) {
    size_t size = 0;
    char *text = written(&made, round % 2, &size);
    for (int k = 0; k < 3; k++) {
      text[random_below(&seed, size)] = (char)random_below(&seed, 256);
    }
    CwCountLineFile file;
    CwMessages messages = {0};
    const CwStatus status = cw_count_line_file_read(text, random_below(&seed, size + 1), &file, &messages);
    assert_true(status == CW_OK || (status == CW_ERR_SYNTAX && messages.n == 1));
    for (size_t k = 1; k < file.line.n_counts; k++) {
      assert_true(file.line.count_s[k] > file.line.count_s[k - 1]);
    }
    cw_messages_free(&messages);
    cw_count_line_file_free(&file);
    free(text);
  }
  cw_count_line_free(&made.line);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  Made made = make(4, 6);
  for (int json = 0; json < 2; json++) {
    size_t size = 0;
    char *text = written(&made, json, &size);
    CwStatus status = CW_ERR_NO_MEM;
    long n = 0;
    for (; status == CW_ERR_NO_MEM; n++) {
      CwCountLineFile file;
      CwMessages messages = {0};
      cw_fail_after(n);
      status = cw_count_line_file_read(text, size, &file, &messages);
      cw_fail_after(-1);
      assert_true(status == CW_OK || !file.number);
      cw_messages_free(&messages);
      cw_count_line_file_free(&file);
    }
    assert_int_equal(status, CW_OK);
    assert_true(n > 6);
    free(text);
  }
  cw_count_line_free(&made.line);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(what_is_written_is_read_back),
      cmocka_unit_test(csv_is_read_by_the_names_of_its_columns),
      cmocka_unit_test(what_does_not_follow_the_format_is_told_with_its_place),
      cmocka_unit_test(no_bytes_do_harm),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
