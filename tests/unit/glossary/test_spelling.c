// SPDX-License-Identifier: GPL-3.0-or-later
/// Terms behind spellings: where they are, how they are put in, and what is left alone.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/glossary.h"
#include "glossary/letters.h"
#include "glossary/sounds.h"
#include "unit/cw_test.h"

static int open_glossary(void **state)
{
  return cw_glossary_new(true, (CwGlossary **)state) == CW_OK ? 0 : -1;
}

static int close_glossary(void **state)
{
  cw_glossary_free(*state);
  return 0;
}

static void check_proper(const CwGlossary *glossary, const char *language, const char *text, const char *wanted)
{
  char *proper = NULL;
  assert_int_equal(cw_spelling_proper(glossary, text, language, &proper), CW_OK);
  assert_string_equal(proper, wanted);
  free(proper);
}

static void the_proper_terms_stand_where_the_spellings_stood(void **state)
{
  static const char *const row[][2] = {
      {"pa de booray", "pas de bourrée"},
      {"ballonay", "ballonné"},
      {"coupay passay", "coupé passé"},
      {"run, pa de booray (left) then ballonay!", "run, pas de bourrée (left) then ballonné!"},
      {"", ""},
      {"1-4 gron jetay 5 hold", "1-4 grand jeté 5 hold"},
      {"pas de bourrée", "pas de bourrée"},
      {"two relevays", "two relevés"},
      {"グラン jetay 右", "グラン jeté 右"},
      {"x2", "x2"},
      {"jetayx2", "jetayx2"},
  };
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    check_proper(*state, NULL, row[i][0], row[i][1]);
  }
}

static void the_case_of_the_words_is_kept(void **state)
{
  check_proper(*state, NULL, "Pa de booray left", "Pas de bourrée left");
  check_proper(*state, NULL, "PA DE BOORAY LEFT", "PAS DE BOURRÉE LEFT");
  check_proper(*state, NULL, "Eshappay, RELEVAY", "Échappé, RELEVÉ");
  check_proper(*state, NULL, "Pas De Bourrée", "Pas De Bourrée");
}

static void what_is_between_words_may_part_a_term(void **state)
{
  check_proper(*state, NULL, "pa-de-booray", "pas de bourrée");
  check_proper(*state, NULL, "tor on lair", "tour en l'air");
  check_proper(*state, NULL,
               "tour en l\xE2\x80\x99"
               "air",
               "tour en l\xE2\x80\x99"
               "air");
  check_proper(*state, NULL, "pa. de. booray", "pa. de. bourrée");
  check_proper(*state, NULL, "pa - de - sha", "pa - de - sha");
}

static void composed_and_decomposed_letters_are_the_same(void **state)
{
  check_proper(*state, NULL, "plie\xCC\x81", "plie\xCC\x81");
  check_proper(*state, NULL, "Grand jete\xCC\x81 battoo", "Grand jete\xCC\x81 battu");
}

static void words_that_are_no_terms_are_left_alone(void **state)
{
  static const char *const row[] = {"run and turn",       "walk with the arm up",
                                    "balance on one leg", "point at the door",
                                    "Drehung links",      "hip hop",
                                    "Zvbxq wqrt",         "...",
                                    "\xFF\xFE",           "跳ぶ",
                                    "pose and wait"};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    check_proper(*state, NULL, row[i], row[i]);
  }
}

static void words_of_the_notes_language_are_left_alone(void **state)
{
  check_proper(*state, "fr", "passe devant", "passe devant");
  check_proper(*state, NULL, "elle passe devant lui", "elle passe devant lui");
  check_proper(*state, "en", "passe devant", "passé devant");
  check_proper(*state, "fr", "pas de bourree", "pas de bourrée");
}

static void every_term_is_itself_with_its_accents_and_without(void **state)
{
  const CwGlossary *glossary = *state;
  for (size_t i = 0; i < cw_glossary_size(glossary); i++) {
    const CwTerm term = cw_glossary_term(glossary, i);
    check_proper(glossary, NULL, term.name, term.name);
    if (term.plural) {
      check_proper(glossary, NULL, term.plural, term.plural);
    }
  }
}

static void to_spell_what_is_spelt_properly_changes_nothing(void **state)
{
  static const char *const row[] = {"tombay pa de booray glisahd assomblay", "ton levay fwetay sotay",
                                    "on day or, pirowet ondeor", "ronde de jomb on lair relevay shenays"};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    char *once = NULL;
    assert_int_equal(cw_spelling_proper(*state, row[i], NULL, &once), CW_OK);
    check_proper(*state, NULL, once, once);
    free(once);
  }
}

static void places_are_bytes_in_a_text(void **state)
{
  CwSpellings found;
  const char *text = "é run jetay, plié";
  assert_int_equal(cw_spelling_find(*state, text, strlen(text), NULL, &found), CW_OK);
  assert_int_equal(found.n, 2);
  assert_int_equal(found.item[0].offset, 7);
  assert_int_equal(found.item[0].length, 5);
  assert_string_equal(found.item[0].written, "jetay");
  assert_string_equal(found.item[0].proper, "jeté");
  assert_true(found.item[0].likeness > 0.3 && found.item[0].likeness < 1.0);
  assert_null(found.item[1].proper);
  assert_near(found.item[1].likeness, 1.0, 1e-9);
  cw_spellings_free(&found);
}

static const char notes[] = "piece: jetay\n# jetay\n; jetay\n8 1-4 é jetay ; plie\n"
                            "[Gavin Relevay] 5 plie\nsame as 1\nhold 0:02 plie\nrelev\xE9 8 tombay\n";

static void places_in_notes_are_lines_and_columns_of_what_is_danced(void **state)
{
  static const struct {
    size_t line, column;
    const char *written, *proper;
  } wanted[] = {{4, 9, "jetay", "jeté"}, {5, 19, "plie", "plié"}, {8, 1, "relevé", NULL}, {8, 10, "tombay", "tombé"}};
  CwNotebook notebook;
  CwSpellings found;
  assert_int_equal(cw_notebook_parse(notes, sizeof notes - 1, &notebook), CW_OK);
  assert_int_equal(cw_notebook_spelling(*state, &notebook, &found), CW_OK);
  assert_int_equal(found.n, sizeof wanted / sizeof wanted[0]);
  for (size_t i = 0; i < found.n; i++) {
    assert_int_equal(found.item[i].line, wanted[i].line);
    assert_int_equal(found.item[i].column, wanted[i].column);
    assert_string_equal(found.item[i].written, wanted[i].written);
    if (wanted[i].proper) {
      assert_string_equal(found.item[i].proper, wanted[i].proper);
    } else {
      assert_null(found.item[i].proper);
    }
  }
  cw_spellings_free(&found);
  cw_notebook_free(&notebook);
}

static void the_steps_of_notes_are_spelt_and_their_text_is_kept(void **state)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(notes, sizeof notes - 1, &notebook), CW_OK);
  assert_int_equal(cw_notebook_spell_properly(*state, &notebook), CW_OK);
  assert_string_equal(notebook.phrase[0].step[0].text, "é jeté");
  assert_string_equal(notebook.phrase[2].step[0].text, "é jeté");
  assert_int_equal(notebook.size, sizeof notes - 1);
  assert_memory_equal(notebook.text, notes, sizeof notes - 1);
  cw_notebook_free(&notebook);
}

static void every_allocation_may_fail(void **state)
{
  CwNotebook notebook;
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwSpellings found;
    assert_int_equal(cw_notebook_parse(notes, sizeof notes - 1, &notebook), CW_OK);
    cw_fail_after(n);
    status = cw_notebook_spelling(*state, &notebook, &found);
    if (status == CW_OK) {
      status = cw_notebook_spell_properly(*state, &notebook);
    }
    cw_fail_after(-1);
    cw_spellings_free(&found);
    cw_notebook_free(&notebook);
  }
  assert_int_equal(status, CW_OK);
}

static CwSounds sounds_of(const char *word)
{
  CwSounds sounds = {.n = 0};
  cw_sounds_add((const unsigned char *)word, strlen(word), &sounds);
  return sounds;
}

static void distances_are_a_measure(void **state)
{
  (void)state;
  static const char *const word[] = {"booray", "bourre", "battma", "sissonne", "shonjmon", "e", "", "padabooray"};
  enum { N = sizeof word / sizeof word[0] };
  CwSoundCosts *costs = calloc(1, sizeof *costs);
  cw_sound_costs_make(costs);
  for (size_t i = 0; i < N; i++) {
    for (size_t k = 0; k < N; k++) {
      const CwSounds a = sounds_of(word[i]);
      const CwSounds b = sounds_of(word[k]);
      CwLetters c = {.n = 0};
      CwLetters d = {.n = 0};
      cw_letters_add((const unsigned char *)word[i], strlen(word[i]), &c);
      cw_letters_add((const unsigned char *)word[k], strlen(word[k]), &d);
      const double by_sound = (double)cw_sounds_distance(costs, &a, &b, 1e9F);
      const double by_letter = (double)cw_letters_distance(&c, &d, 1e9F);
      assert_near(by_sound, (double)cw_sounds_distance(costs, &b, &a, 1e9F), 1e-5);
      assert_near(by_letter, (double)cw_letters_distance(&d, &c, 1e9F), 1e-5);
      assert_true(i == k ? by_sound == 0 && by_letter == 0 : by_letter > 0);
      assert_true(by_sound <= (double)(cw_sounds_weight(costs, &a) + cw_sounds_weight(costs, &b)) + 1e-5);
    }
  }
  free(costs);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_proper_terms_stand_where_the_spellings_stood),
      cmocka_unit_test(the_case_of_the_words_is_kept),
      cmocka_unit_test(what_is_between_words_may_part_a_term),
      cmocka_unit_test(composed_and_decomposed_letters_are_the_same),
      cmocka_unit_test(words_that_are_no_terms_are_left_alone),
      cmocka_unit_test(words_of_the_notes_language_are_left_alone),
      cmocka_unit_test(every_term_is_itself_with_its_accents_and_without),
      cmocka_unit_test(to_spell_what_is_spelt_properly_changes_nothing),
      cmocka_unit_test(places_are_bytes_in_a_text),
      cmocka_unit_test(places_in_notes_are_lines_and_columns_of_what_is_danced),
      cmocka_unit_test(the_steps_of_notes_are_spelt_and_their_text_is_kept),
      cmocka_unit_test(every_allocation_may_fail),
      cmocka_unit_test(distances_are_a_measure),
  };
  return cmocka_run_group_tests(tests, open_glossary, close_glossary);
}
