// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>

#include "base/memory.h"
#include "print/wrap.h"

/// The lines joined by "|".
static const char *wrapped(const char *text, unsigned columns)
{
  static char joined[1024];
  CwLines lines;
  assert_int_equal(cw_wrap(text, columns, &lines), CW_OK);
  size_t at = 0;
  joined[0] = '\0';
  for (size_t i = 0; i < lines.n; i++) {
    const CwSlice *line = &lines.line[i];
    at += (size_t)snprintf(joined + at, sizeof joined - at, "%s%.*s", i ? "|" : "", (int)line->length, line->text);
    assert_true(cw_text_width(line->text, line->length) <= columns);
  }
  cw_lines_free(&lines);
  return joined;
}

static void lines_break_between_words(void **state)
{
  (void)state;
  assert_string_equal(wrapped("one two three", 7), "one two|three");
  assert_string_equal(wrapped("one two three", 80), "one two three");
  assert_string_equal(wrapped("one   two", 5), "one|two");
  assert_string_equal(wrapped("first\nsecond line", 20), "first|second line");
  assert_string_equal(wrapped("", 5), "");
  assert_string_equal(wrapped("   ", 5), "");
}

static void words_too_long_break_but_never_inside_a_character(void **state)
{
  (void)state;
  assert_string_equal(wrapped("abcdefgh", 3), "abc|def|gh");
  assert_string_equal(wrapped("e\xCC\x81"
                              "e\xCC\x81"
                              "e\xCC\x81",
                              2),
                      "e\xCC\x81"
                      "e\xCC\x81|e\xCC\x81");
}

static void wide_characters_take_two_columns(void **state)
{
  (void)state;
  assert_int_equal(cw_text_width("右足", 6), 4);
  assert_int_equal(cw_text_width("e\xCC\x81", 3), 1);
  assert_string_equal(wrapped("右足前へ", 5), "右足|前へ");
  // UAX 14: no line begins with a closing mark
  assert_string_equal(wrapped("右足、前へ", 4), "右|足、|前へ");
}

static void the_widest_piece_is_measured(void **state)
{
  (void)state;
  unsigned columns = 0;
  assert_int_equal(cw_widest_piece("pas de bourrée", &columns), CW_OK);
  assert_int_equal(columns, 7);
  assert_int_equal(cw_widest_piece("右足前へ", &columns), CW_OK);
  assert_int_equal(columns, 2);
  assert_int_equal(cw_widest_piece("", &columns), CW_OK);
  assert_int_equal(columns, 0);
}

static void full_memory_is_told(void **state)
{
  (void)state;
  CwLines lines;
  for (long n = 0; n < 2; n++) {
    cw_fail_after(n);
    assert_int_equal(cw_wrap("one two", 4, &lines), CW_ERR_NO_MEM);
    assert_int_equal(lines.n, 0);
  }
  cw_fail_after(0);
  unsigned columns = 0;
  assert_int_equal(cw_widest_piece("one", &columns), CW_ERR_NO_MEM);
  cw_fail_after(-1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lines_break_between_words),
      cmocka_unit_test(words_too_long_break_but_never_inside_a_character),
      cmocka_unit_test(wide_characters_take_two_columns),
      cmocka_unit_test(the_widest_piece_is_measured),
      cmocka_unit_test(full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
