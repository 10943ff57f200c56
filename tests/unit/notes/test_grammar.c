// SPDX-License-Identifier: GPL-3.0-or-later
/// Runs the examples of src/notes/GRAMMAR.md: each "notes" block must dump as the "parsed" block after it says.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "unit/notes/dump.h"

static char *read_grammar(void)
{
  CwNotebook file; // read as a notebook only for its bytes
  assert_int_equal(cw_notebook_read(CW_SOURCE "/src/notes/GRAMMAR.md", &file), CW_OK);
  char *text = strdup(file.text);
  cw_notebook_free(&file);
  assert_non_null(text);
  return text;
}

/// The next block with the given fence. @return Its text, NUL-terminated in place; NULL when there is none.
static char *take_block(char **at, const char *fence)
{
  char *block = strstr(*at, fence);
  if (!block) {
    return NULL;
  }
  block += strlen(fence);
  char *end = strstr(block, "```");
  assert_non_null(end);
  *end = '\0';
  *at = end + 3;
  return block;
}

static void run_example(const char *notes, const char *wanted)
{
  CwNotebook notebook;
  assert_int_equal(cw_notebook_parse(notes, strlen(notes), &notebook), CW_OK);
  char *found = dump_notebook(&notebook);
  assert_non_null(found);
  if (strcmp(found, wanted) != 0) {
    print_error("notes:\n%sis parsed as\n%sand not as\n%s", notes, found, wanted);
    fail();
  }
  free(found);
  cw_notebook_free(&notebook);
}

static void every_example_of_the_grammar_holds(void **state)
{
  (void)state;
  char *grammar = read_grammar();
  char *at = grammar;
  size_t n = 0;
  for (char *notes = take_block(&at, "```notes\n"); notes; notes = take_block(&at, "```notes\n"), n++) {
    const char *wanted = take_block(&at, "```parsed\n");
    assert_non_null(wanted);
    run_example(notes, wanted);
  }
  free(grammar);
  assert_true(n >= 30); // the file was found and its fences were understood
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_example_of_the_grammar_holds),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
