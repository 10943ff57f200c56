// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/repin.h"

enum { MOST = 16 };

/// A recording that has the phrases of a notebook, each three seconds long, or up to five where the next follows then.
typedef struct {
  CwCountLine line;
  size_t kept[MOST];
} Played;

/// @param start_s Where each phrase begins; negative: it is not played. Further ones follow every three seconds.
static Played play(const CwNotebook *notebook, const double *start_s, size_t n)
{
  Played played;
  cw_count_line_init(&played.line, 1000);
  double at_s = 0;
  for (size_t p = 0; p < notebook->n_phrases; p++) {
    played.kept[p] = SIZE_MAX;
    if (p < n && start_s[p] < 0) {
      continue;
    }
    at_s = p < n ? start_s[p] : at_s + 3;
    double count_s[64];
    for (unsigned c = 0; c < notebook->phrase[p].counts; c++) {
      count_s[c] = at_s + 3.0 * c / notebook->phrase[p].counts;
    }
    played.kept[p] = played.line.n_phrases;
    const bool follows = p + 1 < n && start_s[p + 1] > at_s + 3 && start_s[p + 1] < at_s + 5;
    const double end_s = follows ? start_s[p + 1] : at_s + 3;
    assert_int_equal(cw_count_line_add(&played.line, count_s, notebook->phrase[p].counts, end_s, 0.9), CW_OK);
  }
  return played;
}

static void assert_repinned_as(const char *text, const double *start_s, size_t n, const char *wanted, size_t n_messages)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  Played played = play(&notebook, start_s, n);
  const CwRepin repin = {&played.line, played.kept, "b.wav", "notes.txt"};
  CwMessages messages = {0};
  char *copy = NULL;
  size_t size = 0;
  assert_int_equal(cw_notebook_repin(&notebook, &repin, &copy, &size, &messages), CW_OK);
  assert_string_equal(copy, wanted);
  assert_int_equal(size, strlen(wanted));
  assert_int_equal(messages.n, n_messages);
  free(copy);
  cw_messages_free(&messages);
  cw_count_line_free(&played.line);
  cw_notebook_free(&notebook);
}

static void each_line_is_pinned_and_stays_word_for_word(void **state)
{
  (void)state;
  const double start_s[] = {62.35, 66, 70.0004};
  assert_repinned_as("piece: The Paper Harbour\nRecording: a.wav ; the old one\nmetre: 3/4\n\n# Waltz\n"
                     "; mine @ 0:02\n1-4 walk  5&6 turn\n  4 hop\tC > DSL\n[girls] 8 run ; quick",
                     start_s, 3,
                     "piece: The Paper Harbour\nrecording: b.wav\ncarried from: notes.txt\nmetre: 3/4\n\n# Waltz\n"
                     "; mine @ 0:02\n@ 1:02.350 1-4 walk  5&6 turn\n  @ 1:06.000 4 hop\tC > DSL\n"
                     "@ 1:10.000 [girls] 8 run ; quick",
                     0);
}

static void pins_get_their_new_times(void **state)
{
  (void)state;
  const double start_s[] = {5, 9, 12.75};
  assert_repinned_as("first one: 0:12.4\n@0:12,4 1-4 walk 5@0:14 turn\n8 @ 0:20 run 3@21.5 ; 3@21.5\n5@30 jump\n",
                     start_s, 3,
                     "recording: b.wav\ncarried from: notes.txt\nfirst one: 0:05.000\n@0:05.000 1-4 walk 5@0:06.500 "
                     "turn\n8 @ 0:09.000 run 3@0:09.750 ; 3@21.5\n@ 0:12.750 5@0:14.250 jump\n",
                     0);
}

static void holds_end_where_the_next_phrase_begins(void **state)
{
  (void)state;
  const double start_s[] = {5, 11, 20, 26, 35};
  assert_repinned_as("8 walk\nhold 0:06, lights\n8 run\nHold until @1:20 (breathe)\n8 turn\nhold for 2.5 seconds\n"
                     "8 jump, land hold 1.5 s\n8 pose\nhold 4 s\n",
                     start_s, 5,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 8 walk\nhold until @0:10.999, lights\n"
                     "@ 0:11.000 8 run\nHold until @0:19.999 (breathe)\n@ 0:20.000 8 turn\nhold until @0:25.999\n"
                     "@ 0:26.000 8 jump, land hold until @0:34.999\n@ 0:35.000 8 pose\nhold 4 s\n",
                     0);
}

static void what_is_not_played_becomes_private(void **state)
{
  (void)state;
  const double start_s[] = {5, -1, -1, 8, 11};
  assert_repinned_as("8 walk\nin 4\n8 run\nhold 0:02\n6 hop\n8 turn\n8 pose\n", start_s, 5,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 8 walk\n; not played: in 4\n"
                     "; not played: 8 run\n; not played: hold 0:02\n; not played: 6 hop\n@ 0:08.000 8 turn\n"
                     "@ 0:11.000 8 pose\n",
                     0);
}

static void what_others_repeat_stays_without_a_pin(void **state)
{
  (void)state;
  const double start_s[] = {5, -1, 8};
  assert_repinned_as("8 walk\n8 1-4 run\nsame as 2\n", start_s, 3,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 8 walk\n8 1-4 run\n"
                     "@ 0:08.000 same as 2\n",
                     1);
}

static void more_music_between_two_phrases_is_a_hold(void **state)
{
  (void)state;
  const double start_s[] = {5, 8, 20.5};
  assert_repinned_as("8 walk\n8 run\n\n# B\n8 turn\n", start_s, 3,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 8 walk\n@ 0:08.000 8 run\n\n# B\n"
                     "hold until @0:20.499\n@ 0:20.500 8 turn\n",
                     0);
}

static void each_phrase_of_a_line_of_several_is_pinned(void **state)
{
  (void)state;
  const double start_s[] = {5};
  assert_repinned_as("8 glissade x2 other side\n4 run\nrepeat 1-3\n", start_s, 1,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 @ 0:08.000 8 glissade x2 other side\n"
                     "@ 0:11.000 4 run\n@ 0:14.000 @ 0:17.000 @ 0:20.000 repeat 1-3\n",
                     0);
}

static void pins_of_several_phrases_get_their_new_times(void **state)
{
  (void)state;
  const double start_s[] = {5, 9, 12, 16, 20, -1, 28, 32};
  assert_repinned_as("@0:12,4 8 walk x2\n@ 0:22 @1:00 run 7@0:30 turn x2\n@2:00 @ 2:10 @ 2:20 hop x3\n8 @ 3:00 jump\n",
                     start_s, 8,
                     "recording: b.wav\ncarried from: notes.txt\n@0:05.000 @ 0:09.000 8 walk x2\n"
                     "@ 0:12.000 @0:16.000 run 7@0:14.250 turn x2\n@0:20.000 hop x3\n8 @ 0:32.000 jump\n",
                     0);
}

static void line_ends_and_a_byte_order_mark_stay(void **state)
{
  (void)state;
  const double start_s[] = {5, 8};
  assert_repinned_as("\xEF\xBB\xBF"
                     "8 walk\r\n8 run\r\n",
                     start_s, 2,
                     "\xEF\xBB\xBF"
                     "recording: b.wav\r\ncarried from: notes.txt\r\n@ 0:05.000 8 walk\r\n"
                     "@ 0:08.000 8 run\r\n",
                     0);
  assert_repinned_as("\xEF\xBB\xBF"
                     "recording: a.wav\r\n8 walk",
                     start_s, 1,
                     "\xEF\xBB\xBF"
                     "recording: b.wav\r\ncarried from: notes.txt\r\n@ 0:05.000 8 walk",
                     0);
}

static void a_copy_of_a_copy_names_the_first(void **state)
{
  (void)state;
  const double start_s[] = {5};
  assert_repinned_as("carried from: x.txt\nrecording: a.wav\ncarried from: y.txt\n8 walk\n", start_s, 1,
                     "recording: b.wav\ncarried from: notes.txt\n@ 0:05.000 8 walk\n", 0);
}

static void a_name_that_would_be_misread_is_refused(void **state)
{
  (void)state;
  const char text[] = "8 walk\n";
  const double start_s[] = {5};
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  Played played = play(&notebook, start_s, 1);
  const CwRepin repin = {&played.line, played.kept, "take\n2.wav", "notes.txt"};
  CwMessages messages = {0};
  char *copy = NULL;
  size_t size = 0;
  assert_int_equal(cw_notebook_repin(&notebook, &repin, &copy, &size, &messages), CW_ERR_BAD_ARG);
  assert_null(copy);
  cw_count_line_free(&played.line);
  cw_notebook_free(&notebook);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  const char text[] = "8 walk 5@0:10 turn\n8 run\nsame as 2\nhold 0:03\n8 x2\n";
  const double start_s[] = {5, -1, 8, 14};
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  Played played = play(&notebook, start_s, 4);
  const CwRepin repin = {&played.line, played.kept, "b.wav", "notes.txt"};
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status == CW_ERR_NO_MEM; n++) {
    CwMessages messages = {0};
    char *copy = NULL;
    size_t size = 0;
    cw_fail_after(n);
    status = cw_notebook_repin(&notebook, &repin, &copy, &size, &messages);
    cw_fail_after(-1);
    assert_true((status == CW_OK) == (copy != NULL));
    cw_messages_free(&messages);
    free(copy);
  }
  assert_int_equal(status, CW_OK);
  assert_true(n > 10);
  cw_count_line_free(&played.line);
  cw_notebook_free(&notebook);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_line_is_pinned_and_stays_word_for_word),
      cmocka_unit_test(pins_get_their_new_times),
      cmocka_unit_test(holds_end_where_the_next_phrase_begins),
      cmocka_unit_test(what_is_not_played_becomes_private),
      cmocka_unit_test(what_others_repeat_stays_without_a_pin),
      cmocka_unit_test(more_music_between_two_phrases_is_a_hold),
      cmocka_unit_test(each_phrase_of_a_line_of_several_is_pinned),
      cmocka_unit_test(pins_of_several_phrases_get_their_new_times),
      cmocka_unit_test(line_ends_and_a_byte_order_mark_stay),
      cmocka_unit_test(a_copy_of_a_copy_names_the_first),
      cmocka_unit_test(a_name_that_would_be_misread_is_refused),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
