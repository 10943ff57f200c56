// SPDX-License-Identifier: GPL-3.0-or-later
/// Glossaries: what is in the library's own, and how a file of another style is read.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/glossary.h"
#include "unit/cw_test.h"

static CwGlossary *academic(void)
{
  CwGlossary *glossary = NULL;
  assert_int_equal(cw_glossary_new(true, &glossary), CW_OK);
  return glossary;
}

static size_t add(CwGlossary *glossary, const char *text, CwDiagnostic **diagnostic)
{
  size_t n = 0;
  assert_int_equal(cw_glossary_add(glossary, text, strlen(text), diagnostic, &n), CW_OK);
  return n;
}

static void free_all(CwDiagnostic *diagnostic, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    free(diagnostic[i].text);
  }
  free(diagnostic);
}

static void the_library_has_over_250_terms_each_once_and_each_with_a_meaning(void **state)
{
  (void)state;
  CwGlossary *glossary = academic();
  const size_t n = cw_glossary_size(glossary);
  assert_true(n >= 250);
  for (size_t i = 0; i < n; i++) {
    const CwTerm term = cw_glossary_term(glossary, i);
    assert_true(strlen(term.meaning) >= 3);
    for (size_t k = 0; k < i; k++) {
      assert_string_not_equal(term.name, cw_glossary_term(glossary, k).name);
    }
  }
  cw_glossary_free(glossary);
}

/// The lines of a file of words, but for remarks. Release with free().
static char *read_words(const char *path)
{
  FILE *file = fopen(path, "rb");
  assert_non_null(file);
  char *text = calloc(1, 1 << 16);
  text[0] = '\n';
  assert_true(fread(text + 1, 1, (1 << 16) - 2, file) > 0);
  fclose(file);
  return text;
}

static bool has_line(const char *text, const char *word, size_t n)
{
  char line[80];
  snprintf(line, sizeof line, "\n%.*s\n", (int)n, word);
  return strstr(text, line) != NULL;
}

/// Words that the French dictionary lacks: of the stage, foreign, or as English forms their plural.
static bool is_of_the_stage(const char *word, size_t n)
{
  static const char *const list[] = {"flacs",    "gargouillades", "révoltade", "révoltades",
                                     "sissonne", "sissonnes",     "tutus"};
  for (size_t i = 0; i < sizeof list / sizeof list[0]; i++) {
    if (strlen(list[i]) == n && memcmp(list[i], word, n) == 0) {
      return true;
    }
  }
  return false;
}

static void assert_french(const char *words, const char *name)
{
  for (const char *word = name; word && *word;) {
    const size_t n = strcspn(word, " -");
    if (!has_line(words, word, n) && !is_of_the_stage(word, n)) {
      fail_msg("'%.*s' of '%s' is in no dictionary", (int)n, word, name);
    }
    word += n + (word[n] != '\0');
  }
}

/// Debian's dictionary wfrench 1.2.7 has the words: tests/vectors/glossary/french.txt.
static void terms_and_plurals_are_words_of_the_french_dictionary(void **state)
{
  (void)state;
  CwGlossary *glossary = academic();
  char *words = read_words(CW_VECTORS "/glossary/french.txt");
  for (size_t i = 0; i < cw_glossary_size(glossary); i++) {
    assert_french(words, cw_glossary_term(glossary, i).name);
    assert_french(words, cw_glossary_term(glossary, i).plural);
  }
  free(words);
  cw_glossary_free(glossary);
}

static void plurals_follow_french(void **state)
{
  (void)state;
  static const char *const row[][2] = {{"jeté", "jetés"},
                                       {"grand jeté", "grands jetés"},
                                       {"rond de jambe", "ronds de jambe"},
                                       {"pas couru", "pas courus"},
                                       {"demi-plié", "demi-pliés"},
                                       {"pas de chat", NULL},
                                       {"tour en l'air", "tours en l'air"}};
  CwGlossary *glossary = academic();
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    size_t at = 0;
    assert_true(cw_glossary_look_up(glossary, row[i][0], &at));
    const CwTerm term = cw_glossary_term(glossary, at);
    assert_string_equal(term.name, row[i][0]);
    if (row[i][1]) {
      assert_string_equal(term.plural, row[i][1]);
    } else {
      assert_null(term.plural);
    }
  }
  cw_glossary_free(glossary);
}

static void a_term_is_looked_up_in_any_case_without_accents_and_in_the_plural(void **state)
{
  (void)state;
  static const char *const name[] = {"pas de bourrée", "PAS DE BOURRÉE", "Pas de bourree", "pas-de-bourrée"};
  CwGlossary *glossary = academic();
  size_t wanted = 0;
  size_t at = 0;
  for (size_t i = 0; i < sizeof name / sizeof name[0]; i++) {
    assert_true(cw_glossary_look_up(glossary, name[i], i ? &at : &wanted));
    assert_int_equal(i ? at : wanted, wanted);
  }
  assert_true(cw_glossary_look_up(glossary, "grands jetes", &at));
  assert_string_equal(cw_glossary_term(glossary, at).name, "grand jeté");
  assert_false(cw_glossary_look_up(glossary, "shim sham", &at));
  assert_false(cw_glossary_look_up(glossary, "", &at));
  cw_glossary_free(glossary);
}

static void another_style_adds_its_own(void **state)
{
  (void)state;
  CwGlossary *glossary = academic();
  CwDiagnostic *diagnostic = NULL;
  const size_t before = cw_glossary_size(glossary);
  const size_t n = add(glossary,
                       "\xEF\xBB\xBF# harbour steps\r\n\r\n"
                       "oarlock\ta turn with both arms out\r\n"
                       "keel roll\ta roll on the back\tkeels rolls\tcheel rowl|kiel rol\r\n"
                       "! Rowena\r\n"
                       "tug\n"
                       "jeté\tas we do it\t-\n",
                       &diagnostic);
  assert_int_equal(n, 0);
  assert_int_equal(cw_glossary_size(glossary), before + 3);
  size_t at = 0;
  assert_true(cw_glossary_look_up(glossary, "kiel rol", &at));
  assert_string_equal(cw_glossary_term(glossary, at).name, "keel roll");
  assert_string_equal(cw_glossary_term(glossary, at).plural, "keels rolls");
  assert_true(cw_glossary_look_up(glossary, "tug", &at));
  assert_string_equal(cw_glossary_term(glossary, at).meaning, "");
  assert_true(cw_glossary_look_up(glossary, "jete", &at));
  assert_string_equal(cw_glossary_term(glossary, at).meaning, "as we do it");
  assert_null(cw_glossary_term(glossary, at).plural);
  cw_glossary_free(glossary);
}

static void what_is_no_term_is_told_with_its_place(void **state)
{
  (void)state;
  static const struct {
    const char *text;
    size_t line;
    size_t column;
    const char *told;
  } row[] = {
      {"tug\n\ta meaning alone\n", 2, 1, "expected a term in letters, of at most 63 of them"},
      {"4711\tnumbers\n", 1, 1, "expected a term in letters, of at most 63 of them"},
      {"ab\xFF\n", 1, 3, "expected UTF-8"},
      {"tug\t\x1B[31mred\n", 1, 5, "expected no control character but tabs"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    CwGlossary *glossary = academic();
    CwDiagnostic *diagnostic = NULL;
    const size_t n = add(glossary, row[i].text, &diagnostic);
    assert_int_equal(n, 1);
    assert_int_equal(diagnostic[0].line, row[i].line);
    assert_int_equal(diagnostic[0].column, row[i].column);
    assert_string_equal(diagnostic[0].text, row[i].told);
    free_all(diagnostic, n);
    cw_glossary_free(glossary);
  }
}

static void any_bytes_are_read(void **state)
{
  (void)state;
  CwGlossary *glossary = NULL;
  unsigned seed = 1;
  for (size_t turn = 0; turn < 300; turn++) {
    char text[200];
    for (size_t i = 0; i < sizeof text; i++) {
      seed = seed * 1103515245U + 12345U;
      text[i] = "\t\n!#|-' abé\xC3\xFFz"[(seed >> 16) % 16];
    }
    CwDiagnostic *diagnostic = NULL;
    size_t n = 0;
    assert_int_equal(cw_glossary_new(false, &glossary), CW_OK);
    assert_int_equal(cw_glossary_add(glossary, text, sizeof text, &diagnostic, &n), CW_OK);
    free_all(diagnostic, n);
    cw_glossary_free(glossary);
  }
}

static void every_allocation_may_fail(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n += 1 + n / 20) { // there are thousands
    CwGlossary *glossary = NULL;
    cw_fail_after(n);
    status = cw_glossary_new(true, &glossary);
    cw_fail_after(-1);
    assert_true((status == CW_OK) == (glossary != NULL));
    cw_glossary_free(glossary);
  }
  assert_int_equal(status, CW_OK);
  static const char text[] = "tug\ta pull\ttugs\ttoog|tugg\n! Anouk\n\tnothing\njeté\tthrown\n";
  status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwGlossary *glossary = academic();
    CwDiagnostic *diagnostic = NULL;
    size_t told = 0;
    cw_fail_after(n);
    status = cw_glossary_add(glossary, text, strlen(text), &diagnostic, &told);
    cw_fail_after(-1);
    free_all(diagnostic, told);
    cw_glossary_free(glossary);
  }
  assert_int_equal(status, CW_OK);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_library_has_over_250_terms_each_once_and_each_with_a_meaning),
      cmocka_unit_test(terms_and_plurals_are_words_of_the_french_dictionary),
      cmocka_unit_test(plurals_follow_french),
      cmocka_unit_test(a_term_is_looked_up_in_any_case_without_accents_and_in_the_plural),
      cmocka_unit_test(another_style_adds_its_own),
      cmocka_unit_test(what_is_no_term_is_told_with_its_place),
      cmocka_unit_test(any_bytes_are_read),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
