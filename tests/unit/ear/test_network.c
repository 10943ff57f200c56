// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "unit/ear/heard.h"

enum { VERSION_AT = 8, CHECKSUM_AT = 12, SIZES_AT = 16, WEIGHTS_AT = 40 };

static void write_u32(unsigned char *at, uint32_t value)
{
  for (int i = 0; i < 4; i++) {
    at[i] = (unsigned char)(value >> 8 * i);
  }
}

/// CRC-32 bit by bit, as ISO 3309 says it.
static uint32_t crc32(const unsigned char *bytes, size_t n)
{
  uint32_t sum = 0xFFFFFFFFU;
  for (size_t i = 0; i < 8 * n; i++) {
    const unsigned bit = bytes[i / 8] >> i % 8 & 1U;
    sum = sum >> 1 ^ ((sum ^ bit) & 1U ? 0xEDB88320U : 0U);
  }
  return ~sum;
}

static void sign(unsigned char *file, size_t size)
{
  write_u32(file + CHECKSUM_AT, crc32(file + SIZES_AT, size - SIZES_AT));
}

static void assert_refused(const unsigned char *file, size_t size)
{
  CwNetwork network;
  memset(&network, 0x55, sizeof network);
  assert_int_equal(cw_network_read(file, size, &network), CW_ERR_SYNTAX);
  assert_null(network.values);
  cw_network_free(&network);
}

static void the_network_of_the_library_is_whole(void **state)
{
  (void)state;
  CwNetwork network;
  assert_true(cw_network_file_size() < 1000000);
  assert_int_equal(cw_network_read(cw_network_file, cw_network_file_size(), &network), CW_OK);
  assert_true(network.n_outputs == 2 || network.n_outputs == 3);
  cw_network_free(&network);
}

static void sizes_are_those_of_the_file(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  CwNetwork net;
  assert_int_equal(crc32((const unsigned char *)"123456789", 9), 0xCBF43926U); // the catalogues' check value
  assert_int_equal(cw_network_read(file, size, &net), CW_OK);
  assert_int_equal(net.width, 5);
  assert_int_equal(net.channels, 7);
  assert_int_equal(net.n_layers, 4);
  assert_int_equal(net.n_outputs, 3);
  assert_int_equal(net.n_hints, CW_EAR_HINTS);
  assert_int_equal(net.layer[3].dilation, 8);
  assert_ptr_equal(net.last.bias + 3, net.values + (size - WEIGHTS_AT) / 2);
  cw_network_free(&net);
  assert_null(net.values);
  free(file);
}

static void any_spoilt_byte_is_noticed(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  for (size_t i = 0; i < size; i += i < WEIGHTS_AT ? 1 : 97) {
    file[i] ^= 0x10;
    assert_refused(file, size);
    file[i] ^= 0x10;
  }
  file[size - 1] ^= 1;
  assert_refused(file, size);
  free(file);
}

static void a_file_cut_short_or_run_on_is_refused(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  for (size_t n = 0; n < size; n += n < 64 ? 1 : 501) {
    unsigned char *part = malloc(n ? n : 1); // of its own, so that reading past its end is noticed
    assert_non_null(part);
    memcpy(part, file, n);
    if (n > SIZES_AT) {
      sign(part, n);
    }
    assert_refused(part, n);
    free(part);
  }
  file[size] = file[size + 1] = 0;
  sign(file, size + 2);
  assert_refused(file, size + 2);
  free(file);
}

static void another_version_or_sizes_that_cannot_be_are_refused(void **state)
{
  (void)state;
  static const struct {
    size_t at;
    uint32_t value;
  } wrong[] = {{VERSION_AT, 0},     {VERSION_AT, 2},    {SIZES_AT, 62},      {SIZES_AT + 4, 0},   {SIZES_AT + 4, 6},
               {SIZES_AT + 4, ~0U}, {SIZES_AT + 8, 0},  {SIZES_AT + 8, ~0U}, {SIZES_AT + 12, 0},  {SIZES_AT + 12, 3},
               {SIZES_AT + 12, 13}, {SIZES_AT + 16, 1}, {SIZES_AT + 16, 4},  {SIZES_AT + 20, 20}, {SIZES_AT + 20, 0}};
  for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
    size_t size = 0;
    unsigned char *file = heard_small_network(&size);
    write_u32(file + wrong[i].at, wrong[i].value);
    sign(file, size);
    assert_refused(file, size);
    free(file);
  }
}

static void halves_are_read_as_the_standard_has_them(void **state)
{
  (void)state;
  // IEEE 754-2008 binary16; the values are those of its encoding, worked out by hand
  static const struct {
    unsigned bits;
    double value;
  } half[] = {{0x0000, 0},       {0x3C00, 1},         {0xC000, -2},      {0x7BFF, 65504},    {0xFBFF, -65504},
              {0x0400, 0x1p-14}, {0x03FF, 0x3FFp-24}, {0x0001, 0x1p-24}, {0x8001, -0x1p-24}, {0x3555, 0x555p-12}};
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  for (size_t i = 0; i < sizeof half / sizeof half[0]; i++) {
    file[WEIGHTS_AT + 2 * i] = (unsigned char)half[i].bits;
    file[WEIGHTS_AT + 2 * i + 1] = (unsigned char)(half[i].bits >> 8);
  }
  sign(file, size);
  CwNetwork net;
  assert_int_equal(cw_network_read(file, size, &net), CW_OK);
  for (size_t i = 0; i < sizeof half / sizeof half[0]; i++) {
    assert_near((double)net.first.weight[i], half[i].value, 0.0);
  }
  cw_network_free(&net);
  free(file);
}

static void weights_that_are_no_numbers_are_refused(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  for (unsigned high = 0x7C; high <= 0xFC; high += 0x80) {
    const unsigned char kept = file[size - 1];
    file[size - 1] = (unsigned char)high;
    sign(file, size);
    assert_refused(file, size);
    file[size - 1] = kept;
  }
  free(file);
}

static void a_full_memory_is_told(void **state)
{
  (void)state;
  size_t size = 0;
  unsigned char *file = heard_small_network(&size);
  CwNetwork network;
  cw_fail_after(0);
  assert_int_equal(cw_network_read(file, size, &network), CW_ERR_NO_MEM);
  cw_fail_after(-1);
  assert_null(network.values);
  free(file);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_network_of_the_library_is_whole),
      cmocka_unit_test(sizes_are_those_of_the_file),
      cmocka_unit_test(any_spoilt_byte_is_noticed),
      cmocka_unit_test(a_file_cut_short_or_run_on_is_refused),
      cmocka_unit_test(another_version_or_sizes_that_cannot_be_are_refused),
      cmocka_unit_test(halves_are_read_as_the_standard_has_them),
      cmocka_unit_test(weights_that_are_no_numbers_are_refused),
      cmocka_unit_test(a_full_memory_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
