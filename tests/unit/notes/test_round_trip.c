// SPDX-License-Identifier: GPL-3.0-or-later
/// Whatever is in notes prints back the same: notes put together at random from pieces of the grammar and from any bytes.
#include "unit/cw_test.h"

#include <iconv.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/notebook.h"
#include "unit/notes/dump.h"

static const char *const piece[] = {
    "8 ",
    "1-4 ",
    "5 ",
    "7-2 ",
    "3&4 ",
    "&a5 ",
    "1 2 3 2 2 3 ",
    "walk ",
    "turn, ",
    "hold ",
    "x2",
    " x3 other side",
    "same as ",
    "repeat ",
    "da capo ",
    "section A",
    "from the top to 3",
    "# A",
    "# B: slow",
    "metre: 3/4",
    "beats per count: 3",
    "[Girls] ",
    "[Boys, Girls] ",
    "+ ",
    "meanwhile ",
    "then ",
    "in canon, 2 counts apart",
    "starts 2 counts after the girls",
    "1st ending: ",
    "2nd ending",
    "fine",
    "enter ",
    "exit DSL",
    "@ 1:02.35 ",
    "5@1:04.2 ",
    "hold 0:06",
    "hold until @1:20",
    "count-in 5-8",
    "in 4",
    "; private",
    "12. ",
    "3) ",
    "- ",
    "dance: Reel",
    "spread: yes",
    "cast: Anna, Ben",
    "counts per phrase: 6",
    "\xC3\xA9t\xC3\xA9 ",
    "\xE6\xAD\xA9\xE3\x81\x8F",
    "8\xE6\x8B\x8D",
    "\xE2\x80\x93",
    "\xEF\xBC\x98",
    "\xE9",
    "\xFF",
    "\x07",
    "\t",
    "  ",
    ", ",
    "/",
    "(",
    ")",
    "&",
    "a",
    "e",
    "\xEF\xBB\xBF",
    "\xF0\x9F\xA9\xB0",
};

static const char *const line_end[] = {"\n", "\r\n", "\r", "\n\n", "\r\r\n"};

/// A generator of our own, so that a failure can be had again: xorshift (Marsaglia 2003).
static unsigned next_random(unsigned *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 17;
  *state ^= *state << 5;
  return *state;
}

static size_t write_at_random(unsigned *state, char *out, size_t most)
{
  size_t size = 0;
  const unsigned pieces = next_random(state) % 60;
  for (unsigned i = 0; i < pieces; i++) {
    const unsigned kind = next_random(state) % 10;
    char bytes[] = {(char)(next_random(state) & 0xFF), '\0'};
    const char *next = kind < 7   ? piece[next_random(state) % (sizeof piece / sizeof piece[0])]
                       : kind < 9 ? line_end[next_random(state) % (sizeof line_end / sizeof line_end[0])]
                                  : bytes;
    const size_t length = kind == 9 ? 1 : strlen(next);
    if (size + length > most) {
      break;
    }
    memcpy(out + size, next, length);
    size += length;
  }
  return size;
}

static void assert_prints_back(const char *text, size_t size)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, size, &notebook), CW_OK);
  char *printed = NULL;
  size_t printed_size = 0;
  assert_int_equal(cw_notebook_print(&notebook, &printed, &printed_size), CW_OK);
  assert_int_equal(printed_size, size);
  assert_memory_equal(printed, text, size);
  free(printed);
  cw_notebook_free(&notebook);
}

static void notes_put_together_at_random_print_back_the_same(void **state)
{
  (void)state;
  unsigned random = 20251;
  char text[4096];
  for (int i = 0; i < 20000; i++) {
    const size_t size = write_at_random(&random, text, sizeof text);
    assert_prints_back(text, size);
  }
}

static char *dump_of(const char *text, size_t size)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, size, &notebook), CW_OK);
  char *dump = dump_notebook(&notebook);
  cw_notebook_free(&notebook);
  assert_non_null(dump);
  return dump;
}

/// Against iconv(), of another maker: what it writes as UTF-16 is read as what it came from.
static void utf_16_is_read_and_prints_back(void **state)
{
  (void)state;
  static const char *const name[] = {"UTF-16LE", "UTF-16BE"};
  static const char notes[] = "\xEF\xBB\xBF"
                              "dance: \xE6\xB8\xA1\xE3\x81\x97 \xF0\x9F\xA9\xB0\r\n8 1-4 jet\xC3\xA9 5 pose\r8 9 run\n";
  char *wanted = dump_of(notes, sizeof notes - 1);
  for (size_t i = 0; i < 2; i++) {
    iconv_t convert = iconv_open(name[i], "UTF-8");
    if (convert == (iconv_t)-1) {
      skip();
    }
    char wide[512];
    char from[sizeof notes];
    memcpy(from, notes, sizeof notes);
    char *in = from;
    char *out = wide;
    size_t in_left = sizeof notes - 1;
    size_t out_left = sizeof wide;
    assert_int_equal(iconv(convert, &in, &in_left, &out, &out_left), 0);
    iconv_close(convert);
    const size_t size = sizeof wide - out_left;
    assert_prints_back(wide, size);
    char *dump = dump_of(wide, size);
    const char *told = strstr(dump, "! 1:1: expected UTF-8, found UTF-16: read as that\n");
    assert_non_null(told); // and nothing else is different
    assert_int_equal(told - dump, strstr(wanted, "! ") - wanted);
    assert_memory_equal(dump, wanted, (size_t)(told - dump));
    assert_string_equal(strchr(told, '\n') + 1, strstr(wanted, "! "));
    free(dump);
    assert_prints_back(wide, size - 1);        // half a character
    assert_prints_back("\xFF\xFE\x00\xD8", 4); // half a pair
  }
  free(wanted);
}

static void line_ends_may_be_mixed(void **state)
{
  (void)state;
  static const char mixed[] = "dance: Reel\r\n8 walk\r8 run\n\r\n8 hop\r\r8 bow";
  static const char plain[] = "dance: Reel\n8 walk\n8 run\n\n8 hop\n\n8 bow";
  char *a = dump_of(mixed, sizeof mixed - 1);
  char *b = dump_of(plain, sizeof plain - 1);
  assert_string_equal(a, b);
  free(a);
  free(b);
  assert_prints_back(mixed, sizeof mixed - 1);
}

static void ten_megabytes_and_a_line_of_one_are_read(void **state)
{
  (void)state;
  static const char line[] = "8 1-4 walk along the rail 5&6 turn 7-8 look at the gull\r\n";
  const size_t length = sizeof line - 1;
  const size_t n = 10 * 1000000 / length + 1;
  char *text = malloc(n * length);
  assert_non_null(text);
  for (size_t i = 0; i < n; i++) {
    memcpy(text + i * length, line, length);
  }
  assert_prints_back(text, n * length);
  memset(text, 'x', 1000000);
  memcpy(text, "8 1-4 ", 6);
  memcpy(text + 999990, " 9 run\xFF\n", 8);
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, 999998, &notebook), CW_OK);
  assert_int_equal(notebook.n_phrases, 1);
  assert_int_equal(strlen(notebook.phrase[0].step[0].text), 999984 + 7 + 1); // the byte takes two
  assert_int_equal(notebook.n_diagnostics, 2);
  assert_int_equal(notebook.diagnostic[0].column, 999992);
  assert_int_equal(notebook.diagnostic[1].column, 999993 + 4);
  cw_notebook_free(&notebook);
  free(text);
}

static void bytes_of_another_encoding_are_told_line_by_line_up_to_twenty(void **state)
{
  (void)state;
  char text[30 * 8];
  for (size_t i = 0; i < 30; i++) {
    memcpy(text + 8 * i, i % 2 ? "8 jet\xE9s\n" : "8 walk.\n", 8);
  }
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, sizeof text, &notebook), CW_OK);
  assert_int_equal(notebook.n_diagnostics, 15);
  for (size_t i = 0; i < 15; i++) {
    assert_int_equal(notebook.diagnostic[i].line, 2 * i + 2);
    assert_int_equal(notebook.diagnostic[i].column, 6);
  }
  cw_notebook_free(&notebook);
  char long_text[60 * 8];
  memcpy(long_text, text, sizeof text);
  memcpy(long_text + sizeof text, text, sizeof text);
  assert_int_equal(cw_notebook_parse(long_text, sizeof long_text, &notebook), CW_OK);
  assert_int_equal(notebook.n_diagnostics, 20);
  cw_notebook_free(&notebook);
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  static const char text[] =
      "cast: Anna, Ben\nspread: yes\n# A: the rail\nglissade, jet\xC3\xA9, bow\n[Anna] 8 1-4 run, exit 7-2 leap\n"
      "[Ben] enter 1-8 row\n+ the gull cries\n[Ben] starts 2 counts after Anna\n[a, b] 8 1 hop in canon, 2 counts "
      "apart\n"
      "8 1-4 sway canon by 3 lines, 1 count apart x2\n1st ending: 4 bow\n2nd ending: 4 hold\nfine\n# B\nsame as "
      "14\nsame as 13\n"
      "repeat A, 2nd ending\nda capo al fine\n[Ben] repeat 2\n";
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    CwNotebook notebook;
    cw_fail_after(n);
    status = cw_notebook_parse(text, sizeof text - 1, &notebook);
    cw_fail_after(-1);
    cw_notebook_free(&notebook);
  }
  assert_true(n > 150);
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, sizeof text - 1, &notebook), CW_OK);
  status = CW_ERR_NO_MEM;
  for (n = 0; status != CW_OK; n++) {
    cw_fail_after(n);
    status = cw_notebook_spread(&notebook);
    cw_fail_after(-1);
    assert_non_null(notebook.text);
  }
  cw_notebook_free(&notebook);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(notes_put_together_at_random_print_back_the_same),
      cmocka_unit_test(utf_16_is_read_and_prints_back),
      cmocka_unit_test(line_ends_may_be_mixed),
      cmocka_unit_test(ten_megabytes_and_a_line_of_one_are_read),
      cmocka_unit_test(bytes_of_another_encoding_are_told_line_by_line_up_to_twenty),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
