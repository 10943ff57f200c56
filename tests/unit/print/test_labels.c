// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <string.h>

#include "print/label.h"
#include "print/words.h"

static void a_language_is_found_by_tag_and_by_name(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    CwLanguage language;
  } row[] = {
      {"de", CW_GERMAN},
      {"DE", CW_GERMAN},
      {"de_AT.UTF-8", CW_GERMAN},
      {"pt-BR", CW_PORTUGUESE},
      {"German", CW_GERMAN},
      {"deutsch", CW_GERMAN},
      {"\u65e5\u672c\u8a9e", CW_JAPANESE},
      {"french", CW_FRENCH},
      {"en", CW_ENGLISH},
      {"english", CW_ENGLISH},
      {"", CW_N_LANGUAGES},
      {"d", CW_N_LANGUAGES},
      {"dead", CW_N_LANGUAGES},
      {"it is mine", CW_N_LANGUAGES},
      {"Klingon", CW_N_LANGUAGES},
      {NULL, CW_N_LANGUAGES},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    assert_int_equal(cw_language_find(row[i].name), row[i].language);
  }
  for (int i = 0; i < CW_N_LANGUAGES; i++) {
    assert_int_equal(cw_language_find(cw_language_tag((CwLanguage)i)), i);
    assert_int_equal(cw_language_find(cw_language_name((CwLanguage)i)), i);
  }
}

static void what_is_not_translated_stays_english(void **state)
{
  (void)state;
  for (int i = 0; i < CW_N_LANGUAGES; i++) {
    assert_string_equal(cw_label((CwLanguage)i, "a label that nobody has written"), "a label that nobody has written");
    assert_string_equal(cw_label((CwLanguage)i, "%u coun"), "%u coun");
  }
}

// Russian: 1, 21 / 2 to 4 / 5 to 20, 11 to 14 (Unicode CLDR, plural rules of "ru"); French counts 0 as one.
static void numbers_take_the_form_of_their_language(void **state)
{
  (void)state;
  static const struct {
    CwLanguage language;
    unsigned n;
    const char *label;
  } row[] = {
      {CW_ENGLISH, 0, "0 counts"},
      {CW_ENGLISH, 1, "1 count"},
      {CW_ENGLISH, 8, "8 counts"},
      {CW_FRENCH, 0, "0 compte"},
      {CW_FRENCH, 2, "2 comptes"},
      {CW_GERMAN, 0, "0 Z\u00e4hlzeiten"},
      {CW_RUSSIAN, 1, "1 \u0441\u0447\u0451\u0442"},
      {CW_RUSSIAN, 21, "21 \u0441\u0447\u0451\u0442"},
      {CW_RUSSIAN, 11, "11 \u0441\u0447\u0435\u0442\u043e\u0432"},
      {CW_RUSSIAN, 3, "3 \u0441\u0447\u0451\u0442\u0430"},
      {CW_RUSSIAN, 13, "13 \u0441\u0447\u0435\u0442\u043e\u0432"},
      {CW_JAPANESE, 1, "1\u30ab\u30a6\u30f3\u30c8"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    char label[CW_WORD_ROOM];
    cw_counts_label(row[i].language, row[i].n, label);
    assert_string_equal(label, row[i].label);
  }
}

static void every_count_to_sixteen_has_a_word_of_its_own(void **state)
{
  (void)state;
  for (int i = 0; i < CW_N_LANGUAGES; i++) {
    for (unsigned count = 0; count <= CW_MOST_COUNT_WORDS; count++) {
      const char *word = cw_count_word((CwLanguage)i, count);
      for (unsigned other = 0; other < count; other++) {
        assert_string_not_equal(word, cw_count_word((CwLanguage)i, other));
      }
      if (i != CW_ENGLISH && count != 6) { // six is six in French, too
        assert_string_not_equal(word, cw_count_word(CW_ENGLISH, count));
      }
    }
    assert_null(cw_count_word((CwLanguage)i, CW_MOST_COUNT_WORDS + 1));
  }
  assert_string_equal(cw_count_word(CW_RUSSIAN, 1), "\u0440\u0430\u0437"); // nobody counts music from "odin"
}

/// Forms of plurals, for check_languages.py to hold against the heads of the files.
static int print_forms(void)
{
  for (int i = 1; i < CW_N_LANGUAGES; i++) {
    for (unsigned n = 0; n <= 1000; n++) {
      printf("%s %u %u\n", cw_language_tag((CwLanguage)i), n, cw_plural_form((CwLanguage)i, n));
    }
  }
  return 0;
}

int main(int argc, char **argv)
{
  (void)argv;
  if (argc > 1) {
    return print_forms();
  }
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_language_is_found_by_tag_and_by_name),
      cmocka_unit_test(what_is_not_translated_stays_english),
      cmocka_unit_test(numbers_take_the_form_of_their_language),
      cmocka_unit_test(every_count_to_sixteen_has_a_word_of_its_own),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
