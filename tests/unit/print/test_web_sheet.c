// SPDX-License-Identifier: GPL-3.0-or-later
// The web sheet's bytes. How it looks and what it lets happen is checked in a browser: tests/browser/test_web_*.mjs.
#include "unit/print/captured.h"
#include "unit/print/samples.h"

#include "countwright/web_sheet.h"
#include "print/label.h"
#include "print/web/page.h"

static CwStatus web(const void *subject, FILE *out)
{
  const CwWebSheet plain = {0};
  return cw_sheet_web(subject, &plain, out);
}

static CwStatus web_with_sound(const void *subject, FILE *out)
{
  const CwCountLine line = sample_line();
  const CwWebSheet inside = {.line = &line, .sound = "sound", .sound_size = 5, .sound_type = "audio/mp4"};
  return cw_sheet_web(subject, &inside, out);
}

/// How often `part` stands in `text`.
static size_t occurrences(const char *text, const char *part)
{
  size_t n = 0;
  for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part)) {
    n++;
  }
  return n;
}

static void every_sample_becomes_a_page(void **state)
{
  (void)state;
  const SampleSheet *samples = NULL;
  const size_t n = sample_sheets(&samples);
  for (size_t i = 0; i < n; i++) {
    char *text = NULL;
    size_t size = 0;
    capture(web, &samples[i].sheet, &text, &size);
    assert_int_equal(occurrences(text, "<article "), samples[i].sheet.n_rows);
    assert_int_equal(occurrences(text, "</article>"), samples[i].sheet.n_rows);
    assert_int_equal(occurrences(text, "{{"), 0);
    assert_int_equal(occurrences(text, "<script"), 0);
    assert_string_equal(text + size - 8, "</html>\n");
    free(text);
  }
}

static void the_recording_stands_in_it_as_base64(void **state)
{
  (void)state;
  char *text = NULL;
  size_t size = 0;
  capture(web_with_sound, sample_sheet("waltz"), &text, &size);
  // RFC 4648, section 4
  assert_non_null(strstr(text, "data-type=\"audio/mp4\">c291bmQ=</script>"));
  assert_int_equal(cw_web_sound_size(5), 8);
  assert_int_equal(cw_web_sound_size(6), 8);
  assert_int_equal(cw_web_sound_size(0), 0);
  free(text);
}

/// Names that a file has in double braces, which are no part of the page, are labels that scripts/labels reads.
static void assert_labelled(CwWebFile file)
{
  static const char *const parts[] = {"language", "policy",   "version",  "title",   "style",
                                      "head",     "messages", "sections", "phrases", "plans",
                                      "cast",     "legend",   "player",   "data",    NULL};
  char *text = strndup(file.text, file.size);
  assert_non_null(text);
  for (char *at = text; (at = strstr(at, "{{")) != NULL;) {
    at += 2;
    char *end = strstr(at, "}}");
    assert_non_null(end);
    *end = '\0';
    bool known = false;
    for (size_t i = 0; parts[i]; i++) {
      known = known || strcmp(parts[i], at) == 0;
    }
    for (size_t i = 0; cw_page_labels[i]; i++) {
      known = known || strcmp(cw_page_labels[i], at) == 0;
    }
    if (!known) {
      fail_msg("no label '%s'", at);
    }
    at = end + 2;
  }
  free(text);
}

static void every_name_in_its_files_is_known(void **state)
{
  (void)state;
  assert_labelled(cw_web_template());
  assert_labelled(cw_web_player());
  for (size_t i = 0; cw_page_labels[i]; i++) {
    assert_string_not_equal(cw_label(CW_RUSSIAN, cw_page_labels[i]), cw_page_labels[i]);
  }
}

static void the_script_is_one_module_that_imports_nothing(void **state)
{
  (void)state;
  const CwWebFile script = cw_web_script();
  char *text = strndup(script.text, script.size);
  assert_non_null(text);
  assert_null(strstr(text, "\nimport "));
  assert_null(strstr(text, "</script"));
  assert_null(strstr(text, "<!--"));
  assert_non_null(strstr(text, "export class Player"));
  free(text);
}

static void full_memory_and_full_disks_are_told(void **state)
{
  (void)state;
  assert_bears_full_memory(web, sample_sheet("waltz"));
  assert_bears_full_memory(web_with_sound, sample_sheet("waltz"));
  assert_tells_full_disk(web, sample_sheet("waltz"));
}

static void a_recording_needs_a_line_and_a_type(void **state)
{
  (void)state;
  FILE *out = fopen("/dev/null", "wb");
  assert_non_null(out);
  const CwCountLine line = sample_line();
  const CwWebSheet no_line = {.sound = "x", .sound_size = 1, .sound_type = "audio/mp4"};
  const CwWebSheet no_type = {.sound = "x", .sound_size = 1, .line = &line};
  assert_int_equal(cw_sheet_web(sample_sheet("waltz"), &no_line, out), CW_ERR_BAD_ARG);
  assert_int_equal(cw_sheet_web(sample_sheet("waltz"), &no_type, out), CW_ERR_BAD_ARG);
  fclose(out);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_sample_becomes_a_page),
      cmocka_unit_test(the_recording_stands_in_it_as_base64),
      cmocka_unit_test(every_name_in_its_files_is_known),
      cmocka_unit_test(the_script_is_one_module_that_imports_nothing),
      cmocka_unit_test(full_memory_and_full_disks_are_told),
      cmocka_unit_test(a_recording_needs_a_line_and_a_type),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
