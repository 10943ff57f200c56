// SPDX-License-Identifier: GPL-3.0-or-later
// Everything measured in one reading, kept, and taken from what is kept.
#include "unit/cw_test.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "align/pack.h"
#include "base/memory.h"
#include "countwright/measure.h"
#include "dsp/pack.h"
#include "unit/scratch.h"

#define RECORDING CW_FIXTURES "/demo-rehearsal.ogg"

/// Both kinds of features as bytes.
typedef struct {
  void *data[2];
  size_t size[2];
} Bytes;

static Bytes bytes_of(const CwFeatures *features, const CwAlignFeatures *align)
{
  Bytes bytes;
  assert_int_equal(cw_features_pack(features, &bytes.data[0], &bytes.size[0]), CW_OK);
  assert_int_equal(cw_align_features_pack(align, &bytes.data[1], &bytes.size[1]), CW_OK);
  return bytes;
}

static void free_bytes(Bytes *bytes)
{
  free(bytes->data[0]);
  free(bytes->data[1]);
}

static Bytes measure(const CwCache *cache)
{
  CwFeatures features;
  CwAlignFeatures *align = NULL;
  assert_int_equal(cw_measure(RECORDING, cache, NULL, &features, &align), CW_OK);
  const Bytes bytes = bytes_of(&features, align);
  cw_features_free(&features);
  cw_align_features_free(align);
  return bytes;
}

static void assert_same(const Bytes *left, const Bytes *right)
{
  for (size_t k = 0; k < 2; k++) {
    assert_int_equal(left->size[k], right->size[k]);
    assert_memory_equal(left->data[k], right->data[k], left->size[k]);
  }
}

static void one_reading_measures_what_two_do_and_a_cache_gives_it_back(void **state)
{
  (void)state;
  CwFeatures features;
  CwAlignFeatures *align = NULL;
  assert_int_equal(cw_features_read(RECORDING, NULL, &features), CW_OK);
  assert_int_equal(cw_align_features_read(RECORDING, NULL, &align), CW_OK);
  Bytes apart = bytes_of(&features, align);
  cw_features_free(&features);
  cw_align_features_free(align);
  CwCache *cache = NULL;
  assert_int_equal(cw_cache_open(test_scratch(), 1 << 30, &cache), CW_OK);
  Bytes together = measure(NULL);
  Bytes stored = measure(cache);
  Bytes loaded = measure(cache);
  assert_same(&together, &apart);
  assert_same(&stored, &apart);
  assert_same(&loaded, &apart);
  free_bytes(&apart);
  free_bytes(&together);
  free_bytes(&stored);
  free_bytes(&loaded);
  cw_cache_free(cache);
}

static void bytes_that_are_none_are_refused(void **state)
{
  (void)state;
  Bytes bytes = measure(NULL);
  CwFeatures features;
  CwAlignFeatures *align = NULL;
  for (size_t cut = 0; cut < 2000; cut += 1 + cut / 8) {
    const size_t size[2] = {cut < 100 ? cut : bytes.size[0] - cut + 99, cut < 100 ? cut : bytes.size[1] - cut + 99};
    assert_int_equal(cw_features_unpack(bytes.data[0], size[0], &features), CW_ERR_BAD_ARG);
    assert_null(features.onset);
    assert_int_equal(cw_align_features_unpack(bytes.data[1], size[1], &align), CW_ERR_BAD_ARG);
    assert_null(align);
  }
  for (size_t at = 0; at < 4 * sizeof(size_t); at += sizeof(size_t)) { // lengths that cannot be
    const size_t huge[] = {SIZE_MAX, SIZE_MAX / 48, 1};
    for (size_t k = 0; k < 3; k++) {
      for (size_t which = 0; which < 2 && (which == 0 || at < 2 * sizeof(size_t)); which++) {
        size_t kept = 0;
        memcpy(&kept, (char *)bytes.data[which] + at, sizeof kept);
        memcpy((char *)bytes.data[which] + at, &huge[k], sizeof kept);
        assert_int_equal(which ? cw_align_features_unpack(bytes.data[1], bytes.size[1], &align)
                               : cw_features_unpack(bytes.data[0], bytes.size[0], &features),
                         CW_ERR_BAD_ARG);
        memcpy((char *)bytes.data[which] + at, &kept, sizeof kept);
      }
    }
  }
  free_bytes(&bytes);
}

static void errors_leave_nothing(void **state)
{
  (void)state;
  CwFeatures features;
  CwAlignFeatures *align = NULL;
  assert_int_equal(cw_measure("/nowhere.wav", NULL, NULL, &features, &align), CW_ERR_NOT_FOUND);
  assert_true(!features.onset && !align);
  CwCache *cache = NULL;
  assert_int_equal(cw_cache_open(test_scratch(), 1 << 30, &cache), CW_OK);
  Bytes kept = measure(cache);
  CwStatus status = CW_ERR_NO_MEM;
  for (long n = 0; n < 60; n++) { // what is kept cannot be loaded, so it is measured, and that fails too
    cw_fail_after(n);
    status = cw_measure(RECORDING, cache, NULL, &features, &align);
    cw_fail_after(-1);
    assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    assert_true((status == CW_OK) == (align && features.onset));
    if (status == CW_OK) {
      Bytes bytes = bytes_of(&features, align);
      assert_same(&bytes, &kept);
      free_bytes(&bytes);
    }
    cw_features_free(&features);
    cw_align_features_free(align);
    align = NULL;
  }
  assert_int_equal(status, CW_OK);
  free_bytes(&kept);
  cw_cache_free(cache);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_reading_measures_what_two_do_and_a_cache_gives_it_back),
      cmocka_unit_test(bytes_that_are_none_are_refused),
      cmocka_unit_test(errors_leave_nothing),
  };
  return cmocka_run_group_tests(tests, test_make_scratch, test_remove_scratch);
}
