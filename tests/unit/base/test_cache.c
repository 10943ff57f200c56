// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "base/cache.h"
#include "base/memory.h"
#include "base/pack.h"
#include "unit/scratch.h"

static CwCache *open_cache(uint64_t limit)
{
  CwCache *cache = NULL;
  assert_int_equal(cw_cache_open(test_scratch(), limit, &cache), CW_OK);
  return cache;
}

/// A key of 64 digits, one for each letter.
static const char *key(char letter)
{
  static char text[CW_CONTENT_KEY];
  memset(text, letter, CW_CONTENT_KEY - 1);
  return text;
}

static bool is_kept(const CwCache *cache, char letter, const char *kind)
{
  void *data = NULL;
  size_t size = 0;
  const bool kept = cw_cache_load(cache, key(letter), kind, &data, &size);
  assert_true(kept == (data != NULL));
  free(data);
  return kept;
}

/// SHA-256 of "abc" and of nothing: FIPS 180-2, appendix B.1, and NIST's example values (from memory).
static void content_has_the_key_that_the_standard_gives(void **state)
{
  (void)state;
  char path[96];
  char found[CW_CONTENT_KEY];
  snprintf(path, sizeof path, "%s/abc", test_scratch());
  FILE *out = fopen(path, "wb");
  assert_non_null(out);
  fputs("abc", out);
  fclose(out);
  assert_true(cw_content_key(path, found));
  assert_string_equal(found, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  assert_int_equal(truncate(path, 0), 0);
  assert_true(cw_content_key(path, found));
  assert_string_equal(found, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  unlink(path);
  assert_false(cw_content_key(path, found));
  assert_false(cw_content_key(test_scratch(), found));
}

static void what_is_kept_comes_back(void **state)
{
  (void)state;
  CwCache *cache = open_cache(1 << 20);
  void *data = NULL;
  size_t size = 1;
  cw_cache_store(cache, key('a'), "one", "first", 5);
  cw_cache_store(cache, key('a'), "two", "", 0);
  assert_true(cw_cache_load(cache, key('a'), "one", &data, &size));
  assert_int_equal(size, 5);
  assert_memory_equal(data, "first", 5);
  free(data);
  assert_true(cw_cache_load(cache, key('a'), "two", &data, &size));
  assert_int_equal(size, 0);
  free(data);
  assert_false(is_kept(cache, 'b', "one"));
  assert_false(is_kept(cache, 'a', "three"));
  cw_cache_store(cache, key('a'), "one", "second", 6);
  assert_true(cw_cache_load(cache, key('a'), "one", &data, &size));
  assert_int_equal(size, 6);
  free(data);
  cw_cache_free(cache);
}

static void what_was_not_used_for_longest_goes_first(void **state)
{
  (void)state;
  static const char block[1000];
  const struct timespec moment = {.tv_nsec = 20000000};
  CwCache *cache = open_cache(4500);
  for (char letter = 'a'; letter <= 'd'; letter++) {
    cw_cache_store(cache, key(letter), "k", block, sizeof block);
    nanosleep(&moment, NULL);
  }
  assert_true(is_kept(cache, 'a', "k")); // used again
  nanosleep(&moment, NULL);
  cw_cache_store(cache, key('e'), "k", block, sizeof block); // one too many
  assert_false(is_kept(cache, 'b', "k"));
  assert_true(is_kept(cache, 'a', "k"));
  assert_true(is_kept(cache, 'e', "k"));
  size_t n = 0;
  uint64_t bytes = 0;
  assert_int_equal(cw_cache_clear(test_scratch(), &n, &bytes), CW_OK);
  assert_true(n == 3 && bytes <= 4500 * 9 / 10);
  cw_cache_free(cache);
}

static void a_cache_that_cannot_be_is_told(void **state)
{
  (void)state;
  CwCache *cache = NULL;
  assert_int_equal(cw_cache_open("/dev/null/x/y", 1, &cache), CW_ERR_NO_ACCESS);
  assert_null(cache);
  size_t n = 1;
  uint64_t bytes = 1;
  assert_int_equal(cw_cache_clear("/nowhere/at/all", &n, &bytes), CW_OK);
  assert_true(n == 0 && bytes == 0);
  for (long k = 0; k < 2; k++) {
    cw_fail_after(k);
    assert_int_equal(cw_cache_open(test_scratch(), 1, &cache), CW_ERR_NO_MEM);
    cw_fail_after(-1);
    assert_null(cache);
  }
  cw_cache_free(NULL);
}

static void too_little_memory_is_as_if_nothing_were_kept(void **state)
{
  (void)state;
  CwCache *cache = open_cache(1 << 20);
  cw_cache_store(cache, key('a'), "k", "block", 5);
  bool found = false;
  for (long k = 0; !found; k++) {
    cw_fail_after(k);
    found = is_kept(cache, 'a', "k");
    cw_cache_store(cache, key('b'), "k", "other", 5);
    cw_fail_after(-1);
    assert_true(k < 100);
  }
  cw_cache_free(cache);
}

static void packs_come_out_as_they_went_in(void **state)
{
  (void)state;
  const double number[] = {1.5, -2.25, 1e300};
  unsigned char room[64];
  CwPack count = {0};
  cw_pack_put(&count, number, 3, sizeof *number);
  cw_pack_put(&count, "xy", 2, 1);
  assert_int_equal(count.at, 26);
  CwPack put = {.data = room, .size = count.at};
  cw_pack_put(&put, number, 3, sizeof *number);
  cw_pack_put(&put, "xy", 2, 1);
  CwPack take = {.data = room, .size = count.at};
  double *back = cw_pack_take_new(&take, 3, sizeof *back);
  char text[2];
  assert_false(cw_pack_is_over(&take));
  cw_pack_take(&take, text, 2, 1);
  assert_true(cw_pack_is_over(&take));
  assert_memory_equal(back, number, sizeof number);
  assert_memory_equal(text, "xy", 2);
  free(back);
  assert_null(cw_pack_take_new(&take, SIZE_MAX / 2, 8)); // more than there is
  assert_true(take.failed && !cw_pack_is_over(&take));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(content_has_the_key_that_the_standard_gives),  cmocka_unit_test(what_is_kept_comes_back),
      cmocka_unit_test(what_was_not_used_for_longest_goes_first),     cmocka_unit_test(a_cache_that_cannot_be_is_told),
      cmocka_unit_test(too_little_memory_is_as_if_nothing_were_kept), cmocka_unit_test(packs_come_out_as_they_went_in),
  };
  return cmocka_run_group_tests(tests, test_make_scratch, test_remove_scratch);
}
