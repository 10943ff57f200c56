// SPDX-License-Identifier: GPL-3.0-or-later
/// What is said of two versions of notes.
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/changes.h"
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

static CwNotebook parse(const char *text)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(text, strlen(text), &notebook), CW_OK);
  return notebook;
}

/// @param wanted The sentences, each with a line end, but for the sum and the numbers.
static void check(const CwGlossary *glossary, const char *before, const char *after, const char *wanted)
{
  CwNotebook old_notes = parse(before);
  CwNotebook new_notes = parse(after);
  CwChanges changes;
  char told[4000] = "";
  assert_int_equal(cw_changes_find(&old_notes, &new_notes, glossary, &changes), CW_OK);
  for (size_t i = 0; i < changes.n; i++) {
    char *text = NULL;
    assert_int_equal(cw_change_say(&changes, i, &text), CW_OK);
    const size_t used = strlen(told);
    snprintf(told + used, sizeof told - used, "%s\n", text);
    free(text);
  }
  assert_string_equal(told, wanted);
  cw_changes_free(&changes);
  cw_notebook_free(&old_notes);
  cw_notebook_free(&new_notes);
}

#define A "8 1-4 row out 5 look up\n"
#define B "8 run to the rail 5 turn left\n"
#define C "8 1-2 lantern high 5 kneel\n"
#define D "6 stamp 3 clap 5 shout\n"
#define E "8 crawl home 7 sleep\n"

static void the_same_notes_have_no_changes(void **state)
{
  check(*state, A B C, A B C, "");
  check(*state, "", "", "");
  check(*state, "; mine\n" A B, A "\n\n" B, "");
  check(*state, "@ 0:01 " A B, A "@ 0:09 " B, "");
  check(*state, A "same as 1\n", A "repeat 1\n", "");
}

static void new_and_gone_phrases(void **state)
{
  check(*state, A B, A C B, "phrase 2 is new: 1-2 lantern high 5 kneel\n");
  check(*state, A B, A C D B, "phrases 2-3 are new: 1-2 lantern high 5 kneel / 1 stamp 3 clap 5 shout\n");
  check(*state, A C B, A B, "phrase 2 of the old notes is gone: 1-2 lantern high 5 kneel\n");
  check(*state, "", A, "phrase 1 is new: 1-4 row out 5 look up\n");
  check(*state, A, A A, "phrase 2 is new: 1-4 row out 5 look up\n");
}

static void moved_phrases_are_told_as_moved(void **state)
{
  check(*state, A B C D, B C D A, "phrase 4 (was 1) has moved: it comes after phrase 3 (was 4)\n");
  check(*state, A B C D, D A B C, "phrase 1 (was 4) has moved: it comes first\n");
  check(*state, A B C D E, C D E A B, "phrases 4-5 (were 1-2) have moved: they come after phrase 3 (was 5)\n");
  check(*state, A B C D, B E C D A,
        "phrase 2 is new: 1 crawl home 7 sleep\nphrase 5 (was 1) has moved: it comes after phrase 4\n");
}

static void two_that_changed_places_are_told_as_one_change(void **state)
{
  check(*state, A B C D, A C B D, "phrases 2 (was 3) and 3 (was 2) have changed places\n");
  check(*state, A B C D, D B C A, "phrases 1 (was 4) and 4 (was 1) have changed places\n");
  check(*state, A B C D, C D A B, "phrases 1-2 (were 3-4) and 3-4 (were 1-2) have changed places\n");
}

static void a_moved_phrase_may_have_changed_too(void **state)
{
  check(*state, "8 1-2 walk in 3 stop 5 turn and look 7 bow low\n" B C D,
        B C D "8 1-2 walk in 3 stop 5 turn and look 7 bow deep\n",
        "phrase 4 (was 1) has moved: it comes after phrase 3 (was 4)\n"
        "in phrase 4 (was 1), on 7: 'bow low' is now 'bow deep'\n");
}

static void steps_that_are_new_gone_others_or_elsewhere(void **state)
{
  check(*state, A "8 run 5 turn\n" C, A "8 run 5 jump\n" C, "in phrase 2, on 5: 'turn' is now 'jump'\n");
  check(*state, A "8 run 5 turn\n", A "8 run 5 turn 7 bow\n", "in phrase 2, on 7: 'bow' is new\n");
  check(*state, A "8 run 5 turn 7 bow\n", A "8 run 7 bow\n", "in phrase 2: 'turn' on 5 is gone\n");
  check(*state, A "8 run 5 turn\n", A "8 run 6 turn\n", "in phrase 2: 'turn' is on 6 now, no longer on 5\n");
  check(*state, A "8 run 3&4 hop\n", A "8 run 3 hop\n", "in phrase 2: 'hop' is on 3 now, no longer on 3&4\n");
  check(*state, A "8 1 run 3 bow 5 clap\n", A "8 1 bow 3 run 5 clap\n",
        "in phrase 2: 'bow' is on 1 now, no longer on 3\nin phrase 2: 'run' is on 3 now, no longer on 1\n");
}

static void steps_that_are_only_spelt_otherwise(void **state)
{
  check(*state, "8 pa de booray 5 jetay\n", "8 Pas de bourrée 5 jeté!\n",
        "in phrase 1, on 1: 'pa de booray' is only spelt otherwise: 'Pas de bourrée'\n"
        "in phrase 1, on 5: 'jetay' is only spelt otherwise: 'jeté!'\n");
  check(*state, A "8 shuffel 5 turn\n", A "8 shuffle 5 turn\n",
        "in phrase 2, on 1: 'shuffel' is only spelt otherwise: 'shuffle'\n");
  check(*state, A "8 lift arm 5 turn\n", A "8 left arm 5 turn\n", "in phrase 2, on 1: 'lift arm' is now 'left arm'\n");
  check(*state, A "8 tendu 5 turn\n", A "8 fondu 5 turn\n", "in phrase 2, on 1: 'tendu' is now 'fondu'\n");
}

static void places_of_the_stage(void **state)
{
  check(*state, A "8 run to DSL 5 turn\n", A "8 run to C 5 turn\n",
        "in phrase 2, on 1: at another place: 'run to DSL' is now 'run to C'\n");
  check(*state, A "8 run DSL > C 5 turn\n", A "8 run DSL > USR 5 turn\n",
        "in phrase 2, on 1: at another place: 'run DSL > C' is now 'run DSL > USR'\n");
}

static void what_is_around_the_steps(void **state)
{
  check(*state, A "8 run 5 turn\n", A "6 run 5 turn\n", "phrase 2 has 6 counts, no longer 8\n");
  check(*state, A "[Boy] 8 run 5 turn\n", A "[Old man] 8 run 5 turn\n",
        "phrase 2 is for 'Old man' now, no longer for 'Boy'\n");
  check(*state, A "8 run 5 turn\n", A "[Boy] 8 run 5 turn\n", "phrase 2 is for 'Boy' now, no longer for everybody\n");
  check(*state, A "same as 1\n", A "same as 1, other side\n", "phrase 2 is now on the other side\n");
  check(*state, A B, A "hold 0:06\n" B, "a hold of 0:06.0 after phrase 1 is new\n");
  check(*state, "in 4\n" A, A, "phrase 1 is no longer counted in\n");
  check(*state, "enter DSL " A, "enter USR " A, "in phrase 1 the remark is now 'enter USR', no longer 'enter DSL'\n");
  check(*state, "metre: 3/4\n" A B C, "metre: 4/4\n" A B C, "from phrase 1 on the metre: 4/4, no longer 3/4\n");
  check(*state, A B C, A "beats per count: 3\n" B C,
        "from phrase 2 on beats per count: 3, which the old notes do not say\n");
}

static void what_other_roles_do(void **state)
{
  check(*state, A B "+ [Girls] 1-4 wade\n", A B "+ [Girls] 1-4 swim\n",
        "in phrase 2 the part of another role is now 'Girls: 1-4 swim', no longer 'Girls: 1-4 wade'\n");
  check(*state, A B, A B "+ [Girls] 1-4 swim\n", "in phrase 2 the part of another role 'Girls: 1-4 swim' is new\n");
}

static void headings(void **state)
{
  check(*state, "# Dawn\n" A "# Storm\n" B, "# Dawn\n" A "# The storm\n" B,
        "the heading before phrase 2 is now 'The storm', no longer 'Storm'\n");
  check(*state, A B, A "# Storm\n" B, "the heading 'Storm' before phrase 2 is new\n");
  check(*state, A "# Storm\n" B, A B, "the heading 'Storm' before phrase 2 of the old notes is gone\n");
}

static void repeats_are_told_with_what_they_repeat(void **state)
{
  check(*state, "8 run 5 turn\nsame as 1\n" B "repeat 1, other side\n",
        "8 run 5 jump\nsame as 1\n" B "repeat 1, other side\n",
        "in phrase 1, on 5: 'turn' is now 'jump'; so in phrases 2 and 4, which repeat it\n");
  check(*state, "8 run 5 turn x2\n", "8 run 5 jump x2\n",
        "in phrase 1, on 5: 'turn' is now 'jump'; so in phrase 2, which repeats it\n");
}

static void the_sum_and_the_numbers(void **state)
{
  CwNotebook old_notes = parse(A B C D);
  CwNotebook new_notes = parse(E A B D C);
  CwChanges changes;
  CwMessages messages = {0};
  assert_int_equal(cw_changes_find(&old_notes, &new_notes, *state, &changes), CW_OK);
  assert_int_equal(changes.n_same, 4);
  assert_int_equal(changes.n_added, 1);
  assert_int_equal(changes.n_removed, 0);
  assert_int_equal(changes.was[0], 0);
  assert_int_equal(changes.was[3], 4);
  assert_int_equal(cw_changes_explain(&changes, &messages), CW_OK);
  assert_string_equal(messages.text[0], "of 5 phrases 4 are danced as before, 1 is new, 2 have moved");
  assert_string_equal(messages.text[messages.n - 2], "phrases 2-3 were numbered 1-2");
  assert_string_equal(messages.text[messages.n - 1], "phrase 5 was numbered 3");
  cw_messages_free(&messages);
  cw_changes_free(&changes);
  cw_notebook_free(&old_notes);
  cw_notebook_free(&new_notes);
}

static void a_glossary_is_not_needed(void **state)
{
  (void)state;
  check(NULL, A "8 run 5 turn\n", A "8 run 5 jump\n", "in phrase 2, on 5: 'turn' is now 'jump'\n");
}

static void every_allocation_may_fail(void **state)
{
  CwNotebook old_notes = parse("# Dawn\n" A "same as 1\n" B C "8 run 3&4 hop\n" D);
  CwNotebook new_notes = parse("# Day\n" A "same as 1\n[Boy] 8 run to the rail 5 turn right\n" D "8 run 3 hop\n" C E);
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; status == CW_ERR_NO_MEM; n++) {
    CwChanges changes;
    CwMessages messages = {0};
    cw_fail_after(n);
    status = cw_changes_find(&old_notes, &new_notes, *state, &changes);
    if (status == CW_OK) {
      status = cw_changes_explain(&changes, &messages);
    }
    cw_fail_after(-1);
    cw_messages_free(&messages);
    cw_changes_free(&changes);
  }
  assert_int_equal(status, CW_OK);
  cw_notebook_free(&old_notes);
  cw_notebook_free(&new_notes);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_same_notes_have_no_changes),
      cmocka_unit_test(new_and_gone_phrases),
      cmocka_unit_test(moved_phrases_are_told_as_moved),
      cmocka_unit_test(two_that_changed_places_are_told_as_one_change),
      cmocka_unit_test(a_moved_phrase_may_have_changed_too),
      cmocka_unit_test(steps_that_are_new_gone_others_or_elsewhere),
      cmocka_unit_test(steps_that_are_only_spelt_otherwise),
      cmocka_unit_test(places_of_the_stage),
      cmocka_unit_test(what_is_around_the_steps),
      cmocka_unit_test(what_other_roles_do),
      cmocka_unit_test(headings),
      cmocka_unit_test(repeats_are_told_with_what_they_repeat),
      cmocka_unit_test(the_sum_and_the_numbers),
      cmocka_unit_test(a_glossary_is_not_needed),
      cmocka_unit_test(every_allocation_may_fail),
  };
  return cmocka_run_group_tests(tests, open_glossary, close_glossary);
}
