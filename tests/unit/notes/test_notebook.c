// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <iconv.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <unistr.h>

#include "base/memory.h"
#include "countwright/notebook.h"
#include "unit/notes/dump.h"

static void parse(const char *text, size_t size, CwNotebook *notebook)
{
  assert_int_equal(cw_notebook_parse(text, size, notebook), CW_OK);
  char *printed = NULL;
  size_t printed_size = 0;
  assert_int_equal(cw_notebook_print(notebook, &printed, &printed_size), CW_OK);
  assert_int_equal(printed_size, size);
  assert_memory_equal(printed, text, size);
  free(printed);
}

static void parse_text(const char *text, CwNotebook *notebook)
{
  parse(text, strlen(text), notebook);
}

static char *dump_of(const char *text, size_t size)
{
  CwNotebook notebook;
  parse(text, size, &notebook);
  char *dump = dump_notebook(&notebook);
  assert_non_null(dump);
  cw_notebook_free(&notebook);
  return dump;
}

/// `n` copies of a text, one after the other.
static char *times(const char *text, size_t n, size_t *size)
{
  const size_t length = strlen(text);
  *size = n * length;
  char *all = malloc(*size + 1);
  assert_non_null(all);
  for (size_t i = 0; i < n; i++) {
    memcpy(all + i * length, text, length);
  }
  all[*size] = '\0';
  return all;
}

static const char two_eights[] = "metre: 3/4\n# A\n8 1-4 glissade 5 jet\xC3\xA9 x2\n; mine\n\nhold 0:06\n";

static void lines_have_their_kinds_and_join_to_the_text(void **state)
{
  (void)state;
  static const CwLineKind kind[] = {CW_LINE_HEAD,    CW_LINE_HEADING, CW_LINE_PHRASE,
                                    CW_LINE_PRIVATE, CW_LINE_BLANK,   CW_LINE_HOLD};
  CwNotebook notebook;
  parse_text(two_eights, &notebook);
  assert_int_equal(notebook.n_lines, 6);
  size_t at = 0;
  for (size_t i = 0; i < 6; i++) {
    assert_int_equal(notebook.line[i].kind, kind[i]);
    assert_int_equal(notebook.line[i].offset, at);
    at += notebook.line[i].length;
  }
  assert_int_equal(at, notebook.size);
  cw_notebook_free(&notebook);
  parse_text("count-in 4\nsame as 2\n", &notebook);
  assert_int_equal(notebook.line[0].kind, CW_LINE_COUNT_IN);
  assert_int_equal(notebook.line[1].kind, CW_LINE_REPEAT);
  cw_notebook_free(&notebook);
}

static void line_ends_and_a_byte_order_mark_change_nothing(void **state)
{
  (void)state;
  static const char *const line_end[] = {"\n", "\r\n", "\r"};
  static const char *const bom[] = {"", "\xEF\xBB\xBF"};
  static const char *const line[] = {"dance: Reel", "", "# A", "8 1-4 walk 5 turn x2", "zz: 9@1:00", "hold until x"};
  char *wanted = NULL;
  for (size_t e = 0; e < 3; e++) {
    for (size_t b = 0; b < 2; b++) {
      for (int last = 0; last < 2; last++) { // with a line end at the end and without
        char text[256] = "";
        strcat(text, bom[b]);
        for (size_t i = 0; i < 6; i++) {
          strcat(text, line[i]);
          strcat(text, i < 5 || last ? line_end[e] : "");
        }
        char *dump = dump_of(text, strlen(text));
        if (wanted) {
          assert_string_equal(dump, wanted);
          free(dump);
        } else {
          wanted = dump;
        }
      }
    }
  }
  free(wanted);
}

static void nothing_at_all_is_a_notebook(void **state)
{
  (void)state;
  CwNotebook notebook;
  parse_text("", &notebook);
  assert_int_equal(notebook.n_lines, 0);
  assert_int_equal(notebook.n_phrases, 0);
  assert_int_equal(notebook.n_diagnostics, 0);
  cw_notebook_free(&notebook);
  cw_notebook_free(NULL);
}

static void other_bytes_become_text_that_can_be_shown(void **state)
{
  (void)state;
  // Windows-1252 letters, a NUL, an escape, half a character, and a surrogate, which UTF-8 has not
  static const char text[] = "1 jet\xE9 2 \x80 3 a\0b 4 \x1B[31m 5 \xE2\x82\n6 \xED\xA0\x80 7 \xC2\x85.\n";
  CwNotebook notebook;
  parse(text, sizeof text - 1, &notebook);
  assert_int_equal(notebook.n_phrases, 2);
  assert_string_equal(notebook.phrase[0].step[0].text, "jet\xC3\xA9");
  assert_string_equal(notebook.phrase[0].step[1].text, "\xE2\x82\xAC");
  assert_string_equal(notebook.phrase[0].step[2].text, "a\xEF\xBF\xBD"
                                                       "b");
  assert_string_equal(notebook.phrase[0].step[3].text, "\xEF\xBF\xBD[31m");
  for (size_t k = 0; k < notebook.n_phrases; k++) {
    for (size_t i = 0; i < notebook.phrase[k].n_steps; i++) {
      const uint8_t *words = (const uint8_t *)notebook.phrase[k].step[i].text;
      assert_null(u8_check(words, strlen((const char *)words))); // by libunistring
    }
  }
  static const struct { // each line's first, of each kind
    size_t line;
    size_t column;
  } place[] = {{1, 6}, {1, 15}, {2, 3}};
  assert_int_equal(notebook.n_diagnostics, 3);
  for (size_t i = 0; i < 3; i++) {
    assert_int_equal(notebook.diagnostic[i].line, place[i].line);
    assert_int_equal(notebook.diagnostic[i].column, place[i].column);
  }
  cw_notebook_free(&notebook);
}

/// Against the C library's own table of Windows-1252, byte by byte; iconv() is of another maker.
static void stray_bytes_are_the_letters_of_windows(void **state)
{
  (void)state;
  iconv_t table = iconv_open("UTF-8", "WINDOWS-1252");
  if (table == (iconv_t)-1) {
    skip();
  }
  for (unsigned byte = 0x80; byte <= 0xFF; byte++) {
    char text[] = {'w', (char)byte, 'w'};
    char wanted[8] = "\xEF\xBF\xBD"; // for the five bytes that have no letter
    char letter = (char)byte;
    char *in = &letter;
    char *out = wanted;
    size_t in_left = 1;
    size_t out_left = 4;
    if (iconv(table, &in, &in_left, &out, &out_left) != (size_t)-1) {
      *out = '\0';
    }
    CwNotebook notebook;
    parse(text, 3, &notebook);
    const char *words = notebook.phrase[0].step[0].text;
    assert_int_equal(strlen(words), strlen(wanted) + 2);
    assert_memory_equal(words + 1, wanted, strlen(wanted));
    cw_notebook_free(&notebook);
  }
  iconv_close(table);
}

static void utf_16_is_named(void **state)
{
  (void)state;
  CwNotebook notebook;
  static const char text[] = "\xFF\xFE"
                             "8\0 \0w\0\n";
  parse(text, sizeof text, &notebook);
  bool named = false;
  for (size_t i = 0; i < notebook.n_diagnostics; i++) {
    named = named || strstr(notebook.diagnostic[i].text, "UTF-16");
  }
  assert_true(named);
  cw_notebook_free(&notebook);
}

static void columns_count_characters(void **state)
{
  (void)state;
  CwNotebook notebook;
  parse_text("\xEF\xBB\xBF\xC3\xA9t\xC3\xA9 \xF0\x9F\xA9\xB0 5 saut 3-4 x\n", &notebook);
  assert_int_equal(notebook.n_diagnostics, 1);
  assert_int_equal(notebook.diagnostic[0].line, 1);
  assert_int_equal(notebook.diagnostic[0].column, 14);
  assert_string_equal(notebook.diagnostic[0].text, "expected a count from 5 to 8, found '3-4'");
  cw_notebook_free(&notebook);
}

static void private_words_reach_nothing_that_is_shown(void **state)
{
  (void)state;
  static const char text[] = "dance: Reel ; SECRET\n; SECRET\n# A ; SECRET\n8 walk ; SECRET\nenter ; SECRET\n"
                             "repeat 1 ; SECRET\nhold 0:02 ; SECRET\nin 4 ; SECRET\n[x] @1:00 5 turn ; SECRET x2\n"
                             "\t;SECRET\n9 ;SECRET\nsame as 99 ; SECRET\n";
  char *dump = dump_of(text, strlen(text));
  assert_null(strstr(dump, "SECRET"));
  assert_non_null(strstr(dump, "dance = Reel"));
  free(dump);
}

static void more_blanks_and_other_dashes_change_nothing(void **state)
{
  (void)state;
  static const char *const same[] = {
      "8 1-4 walk 5 turn x2\n",
      "  8\t1-4  walk  5\tturn \xC3\x97 2  \n",
      "8 1\xE2\x80\x93"
      "4 walk 5 turn X2\n",
      "8\xC2\xA0"
      "1\xE2\x80\x94"
      "4 walk 5 turn (x2)\n",
      "\xEF\xBC\x98 \xEF\xBC\x91-\xEF\xBC\x94 walk \xEF\xBC\x95 turn x2\n",
  };
  char *wanted = dump_of(same[0], strlen(same[0]));
  for (size_t i = 1; i < sizeof same / sizeof same[0]; i++) {
    char *dump = dump_of(same[i], strlen(same[i]));
    assert_string_equal(dump, wanted);
    free(dump);
  }
  free(wanted);
}

static void a_repeat_written_out_by_hand_has_the_same_steps(void **state)
{
  (void)state;
  CwNotebook by_sign;
  CwNotebook by_hand;
  parse_text("8 1-4 walk 5&6 turn\n4 run\nrepeat 1-2 x2\n", &by_sign);
  parse_text("8 1-4 walk 5&6 turn\n4 run\n8 1-4 walk 5&6 turn\n4 run\n8 1-4 walk 5&6 turn\n4 run\n", &by_hand);
  assert_int_equal(by_sign.n_phrases, by_hand.n_phrases);
  for (size_t k = 0; k < by_hand.n_phrases; k++) {
    const CwNotePhrase *a = &by_sign.phrase[k];
    const CwNotePhrase *b = &by_hand.phrase[k];
    assert_int_equal(a->counts, b->counts);
    assert_int_equal(a->n_steps, b->n_steps);
    for (size_t i = 0; i < a->n_steps; i++) {
      assert_near(a->step[i].count, b->step[i].count, 0);
      assert_near(a->step[i].until, b->step[i].until, 0);
      assert_string_equal(a->step[i].text, b->step[i].text);
    }
  }
  cw_notebook_free(&by_sign);
  cw_notebook_free(&by_hand);
}

static void huge_repeats_are_cut_and_told(void **state)
{
  (void)state;
  CwNotebook notebook;
  parse_text("8 walk x999999999\nrepeat 1-99999999 x9\n", &notebook);
  assert_int_equal(notebook.n_phrases, 100000);
  assert_int_equal(notebook.n_diagnostics, 3);
  assert_string_equal(notebook.diagnostic[0].text, "repeats are cut here, at 100000 phrases");
  cw_notebook_free(&notebook);
  // a few long phrases are as much as many short ones
  size_t size = 0;
  char *walk = times("walk ", 200000, &size);
  memcpy(walk + size - 6, " x9999", 6);
  parse(walk, size, &notebook);
  assert_true(notebook.n_phrases < 100);
  assert_int_equal(notebook.n_diagnostics, 1);
  cw_notebook_free(&notebook);
  free(walk);
}

static void long_lines_and_long_notebooks_are_read(void **state)
{
  (void)state;
  static const struct {
    const char *part;
    size_t n;
  } row[] = {
      {"1-4 walk 5 turn 3-2 & ", 50000},
      {"& a e 5@", 130000},
      {"(", 1000000},
      {"((5 ", 250000},
      {"8 1-4 walk 5-8 turn\n", 100000},
      {"\r", 1000000},
      {"hold (x)\n", 100000},
      {"@1:0 ", 200000},
      {"5@1:0 ", 170000},
      {"repeat 1 ", 100000},
      {"same as 1\n", 100000},
      {"[a] [", 200000},
      {"1&2&3&4&5&6&7&8& ", 60000},
      {" ", 1000000},
      {"11111111111", 100000},
      {"x2 ", 300000},
      {"hold 0:01 ", 100000},
      {"# a\n", 250000},
      {"\xE9\xFF", 500000},
      {"enter; ", 150000},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CwNotebook notebook;
    size_t size = 0;
    char *text = times(row[i].part, row[i].n, &size);
    parse(text, size, &notebook);
    cw_notebook_free(&notebook);
    free(text);
  }
}

static void diagnostics_stand_in_order(void **state)
{
  (void)state;
  CwNotebook notebook;
  parse_text("foo: bar\n@ 2:00 8 1-4 walk 9@1:00 9 turn 3-2\n@ 1:00 run 4-3\n100 @ x\nin x\nhold until z\n[\n",
             &notebook);
  assert_true(notebook.n_diagnostics > 6);
  for (size_t i = 1; i < notebook.n_diagnostics; i++) {
    const CwDiagnostic *a = &notebook.diagnostic[i - 1];
    const CwDiagnostic *b = &notebook.diagnostic[i];
    assert_true(a->line < b->line || (a->line == b->line && a->column <= b->column));
  }
  cw_notebook_free(&notebook);
}

static void the_demo_has_nothing_unclear(void **state)
{
  (void)state;
  CwNotebook notebook;
  assert_int_equal(cw_notebook_read(CW_FIXTURES "/demo.txt", &notebook), CW_OK);
  unsigned counts = 0;
  for (size_t k = 0; k < notebook.n_phrases; k++) {
    counts += notebook.phrase[k].counts;
  }
  assert_int_equal(notebook.n_phrases, 19); // as audio-fixtures/README.md has it, made by the generator of the music
  assert_int_equal(counts, 142);
  assert_int_equal(notebook.n_diagnostics, 0);
  cw_notebook_free(&notebook);
}

static void files_that_cannot_be_read_are_told_apart(void **state)
{
  (void)state;
  CwNotebook notebook;
  assert_int_equal(cw_notebook_read("no/such/notes.txt", &notebook), CW_ERR_NOT_FOUND);
  assert_int_equal(notebook.n_lines, 0);
  assert_int_equal(cw_notebook_read(".", &notebook), CW_ERR_IS_DIRECTORY);
  assert_int_equal(cw_notebook_read("/dev/null", &notebook), CW_OK);
  cw_notebook_free(&notebook);
  assert_int_equal(cw_notebook_read("/dev/zero", &notebook), CW_ERR_TOO_LONG);
  if (geteuid() != 0) { // root may read all
    FILE *out = fopen("locked.txt", "w");
    assert_non_null(out);
    fclose(out);
    chmod("locked.txt", 0);
    assert_int_equal(cw_notebook_read("locked.txt", &notebook), CW_ERR_NO_ACCESS);
    unlink("locked.txt");
  }
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  static const char text[] =
      "dance: Reel\nfoo: bar\nmetre: x\n# A\nhold\n[Boy] @1:00 8 1-4 glissade 5&a6 jet\xE9 7@1:05 x2\n"
      "enter A 1 walk 9 x hold 0:02\nin 4\nrepeat 1-2 other side, but slow\nsame as 99\nhold (x)\n"
      "5 turn\n@0:01 run\n";
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    CwNotebook notebook;
    cw_fail_after(n);
    status = cw_notebook_parse(text, sizeof text - 1, &notebook);
    cw_fail_after(-1);
    if (status != CW_OK) {
      assert_int_equal(status, CW_ERR_NO_MEM);
      assert_null(notebook.text);
      assert_int_equal(notebook.n_lines, 0);
    }
    cw_notebook_free(&notebook);
  }
  assert_true(n > 40);
  CwNotebook notebook;
  parse_text(two_eights, &notebook);
  char *printed = NULL;
  size_t size = 0;
  cw_fail_after(0);
  assert_int_equal(cw_notebook_print(&notebook, &printed, &size), CW_ERR_NO_MEM);
  assert_int_equal(cw_notebook_read(CW_FIXTURES "/demo.txt", &(CwNotebook){0}), CW_ERR_NO_MEM);
  cw_fail_after(-1);
  assert_null(printed);
  cw_notebook_free(&notebook);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lines_have_their_kinds_and_join_to_the_text),
      cmocka_unit_test(line_ends_and_a_byte_order_mark_change_nothing),
      cmocka_unit_test(nothing_at_all_is_a_notebook),
      cmocka_unit_test(other_bytes_become_text_that_can_be_shown),
      cmocka_unit_test(stray_bytes_are_the_letters_of_windows),
      cmocka_unit_test(utf_16_is_named),
      cmocka_unit_test(columns_count_characters),
      cmocka_unit_test(private_words_reach_nothing_that_is_shown),
      cmocka_unit_test(more_blanks_and_other_dashes_change_nothing),
      cmocka_unit_test(a_repeat_written_out_by_hand_has_the_same_steps),
      cmocka_unit_test(huge_repeats_are_cut_and_told),
      cmocka_unit_test(long_lines_and_long_notebooks_are_read),
      cmocka_unit_test(diagnostics_stand_in_order),
      cmocka_unit_test(the_demo_has_nothing_unclear),
      cmocka_unit_test(files_that_cannot_be_read_are_told_apart),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
