// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes of MIDI files. What a music program makes of them is checked by tests/browser/test_midi.mjs.
#include "unit/print/captured.h"
#include "unit/print/samples.h"

#include <math.h>

#include "print/midi.h"

static CwStatus line_midi(const void *subject, FILE *out)
{
  const CwCountLine line = sample_line();
  return cw_sheet_midi(subject, &line, NULL, out);
}

static CwStatus written(const void *subject, FILE *out)
{
  CwMidiTrack track = {0};
  const uint32_t *tick = subject;
  cw_midi_add_metre(&track, 0, 6, 8);
  cw_midi_add_tempo(&track, *tick, 500000);
  const CwStatus status = cw_midi_write(&track, 1, *tick, out);
  cw_midi_free(&track);
  return status;
}

// the worked examples of variable-length quantities in the Standard MIDI Files Specification 1.0, page 2
static void delta_times_are_as_in_the_standard(void **state)
{
  (void)state;
  static const struct {
    uint32_t tick;
    unsigned char bytes[5];
  } example[] = {{0x00, {1, 0x00}},
                 {0x40, {1, 0x40}},
                 {0x7F, {1, 0x7F}},
                 {0x80, {2, 0x81, 0x00}},
                 {0x2000, {2, 0xC0, 0x00}},
                 {0x3FFF, {2, 0xFF, 0x7F}},
                 {0x4000, {3, 0x81, 0x80, 0x00}},
                 {0x1FFFFF, {3, 0xFF, 0xFF, 0x7F}},
                 {0x200000, {4, 0x81, 0x80, 0x80, 0x00}},
                 {0x8000000, {4, 0xC0, 0x80, 0x80, 0x00}},
                 {0xFFFFFFF, {4, 0xFF, 0xFF, 0xFF, 0x7F}}};
  static const unsigned char metre[] = {0, 0xFF, 0x58, 4, 6, 3, 12, 8};
  static const unsigned char tempo[] = {0xFF, 0x51, 3, 0x07, 0xA1, 0x20};
  for (size_t i = 0; i < sizeof example / sizeof example[0]; i++) {
    char *text = NULL;
    size_t size = 0;
    capture(written, &example[i].tick, &text, &size);
    const size_t head = 14 + 8;
    const size_t delta = example[i].bytes[0];
    assert_int_equal(size, head + sizeof metre + delta + sizeof tempo + 4);
    assert_memory_equal(text, "MThd\0\0\0\6\0\1\0\1", 12);
    assert_memory_equal(text + head, metre, sizeof metre);
    assert_memory_equal(text + head + sizeof metre, example[i].bytes + 1, delta);
    assert_memory_equal(text + head + sizeof metre + delta, tempo, sizeof tempo);
    assert_memory_equal(text + size - 4, "\0\xFF\x2F\0", 4);
    free(text);
  }
}

static void full_memory_and_full_disks_are_told(void **state)
{
  (void)state;
  assert_bears_full_memory(line_midi, sample_sheet("waltz"));
  assert_tells_full_disk(line_midi, sample_sheet("waltz"));
}

static void a_line_without_phrases_or_too_long_is_refused(void **state)
{
  (void)state;
  FILE *out = fopen("/dev/null", "wb");
  assert_non_null(out);
  CwCountLine line;
  cw_count_line_init(&line, 60);
  assert_int_equal(cw_sheet_midi(sample_sheet("waltz"), &line, NULL, out), CW_ERR_BAD_ARG);
  assert_int_equal(cw_count_line_add(&line, (double[]){1, 1.001}, 2, 1.002, 1), CW_OK);
  line.duration_s = 1e5; // at that tempo more ticks than a file can tell
  assert_int_equal(cw_sheet_midi(sample_sheet("waltz"), &line, NULL, out), CW_ERR_TOO_LONG);
  cw_count_line_free(&line);
  fclose(out);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(delta_times_are_as_in_the_standard),
      cmocka_unit_test(full_memory_and_full_disks_are_told),
      cmocka_unit_test(a_line_without_phrases_or_too_long_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
