// SPDX-License-Identifier: GPL-3.0-or-later
/// Runs the examples of src/stage/WORDS.md.
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "countwright/mirror.h"
#include "countwright/stage.h"

enum { ROOM = 512 };

/// Call `run` with each line of the blocks with that fence. @return How many lines.
static size_t each_line(const char *fence, void (*run)(char *line, void *state), void *state)
{
  FILE *in = fopen(CW_SOURCE "/src/stage/WORDS.md", "r");
  char line[ROOM];
  bool inside = false;
  size_t n = 0;
  assert_non_null(in);
  while (fgets(line, sizeof line, in)) {
    line[strcspn(line, "\n")] = '\0';
    if (strncmp(line, "```", 3) == 0) {
      inside = strcmp(line + 3, fence) == 0;
    } else if (inside) {
      run(line, state);
      n++;
    }
  }
  fclose(in);
  return n;
}

static void read_example(char *line, void *state)
{
  (void)state;
  char *equals = strrchr(line, '=');
  assert_non_null(equals);
  equals[-1] = '\0';
  const char *wanted = equals[1] ? equals + 2 : "";
  CwStageReadings readings;
  char found[ROOM] = "";
  assert_int_equal(cw_stage_read(line, NULL, &readings), CW_OK);
  for (size_t i = 0; i < readings.n; i++) {
    char *words;
    assert_int_equal(cw_stage_write(&readings.reading[i], &words), CW_OK);
    snprintf(found + strlen(found), sizeof found - strlen(found), "%s%s", i ? " | " : "", words);
    free(words);
  }
  cw_stage_readings_free(&readings);
  if (strcmp(found, wanted) != 0) {
    print_error("'%s' reads as '%s' and not as '%s'\n", line, found, wanted);
    fail();
  }
}

static void every_example_of_places_holds(void **state)
{
  (void)state;
  assert_true(each_line("stage", read_example, NULL) > 40);
}

/// The line before, and what is in doubt in it.
typedef struct {
  char text[ROOM];
  char doubt[ROOM];
} Before;

static void mirror_example(char *line, void *state)
{
  Before *before = state;
  if (line[0] != '>') {
    char *doubt = strstr(line, " ? ");
    snprintf(before->doubt, ROOM, "%s", doubt ? doubt + 3 : "");
    snprintf(before->text, ROOM, "%.*s", (int)(doubt ? doubt - line : (long)strlen(line)), line);
    return;
  }
  CwMirrored mirrored;
  assert_int_equal(cw_mirror_text(before->text, &mirrored), CW_OK);
  assert_string_equal(mirrored.text, line + 2);
  assert_int_equal(mirrored.n_doubts, before->doubt[0] != '\0');
  if (mirrored.n_doubts > 0) {
    assert_non_null(strstr(mirrored.doubt[0].text, before->doubt));
  }
  cw_mirrored_free(&mirrored);
}

static void every_example_of_sides_holds(void **state)
{
  (void)state;
  Before before = {.text = ""};
  assert_true(each_line("sides", mirror_example, &before) >= 16);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_example_of_places_holds),
      cmocka_unit_test(every_example_of_sides_holds),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
