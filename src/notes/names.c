// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/names.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unicase.h>
#include <unistr.h>

#include "base/memory.h"

enum { FEWEST_SLOTS = 16 };

char *cw_name_fold(const char *name, size_t length)
{
  char *folded = cw_new(length + 1, 6); // a small letter may take more bytes
  if (!folded) {
    return NULL;
  }
  size_t end = 0;
  bool blank = false;
  for (size_t i = 0; i < length;) {
    ucs4_t c = 0;
    i += (size_t)u8_mbtouc(&c, (const uint8_t *)name + i, length - i);
    if (c <= ' ' || c == 0xA0 || c == 0x3000) {
      blank = end > 0;
      continue;
    }
    if (blank) {
      folded[end++] = ' ';
      blank = false;
    }
    const int written = u8_uctomb((uint8_t *)folded + end, uc_tolower(c), 6);
    end += written > 0 ? (size_t)written : 0;
  }
  folded[end] = '\0';
  return folded;
}

bool cw_name_is(const char *a, const char *b)
{
  char *left = cw_name_fold(a, strlen(a));
  char *right = cw_name_fold(b, strlen(b));
  const bool same = left && right && strcmp(left, right) == 0;
  free(left);
  free(right);
  return same;
}

/// FNV-1a (Fowler, Noll, Vo), 64 bits.
static size_t hash(const char *folded)
{
  uint64_t value = 0xCBF29CE484222325u;
  for (; *folded; folded++) {
    value = (value ^ (unsigned char)*folded) * 0x100000001B3u;
  }
  return (size_t)(value ^ value >> 32);
}

/// The slot of a folded name, or the free one where it would be.
static size_t slot_of(const CwNames *names, const char *folded)
{
  size_t s = hash(folded) & (names->n_slots - 1);
  while (names->slot[s] && strcmp(names->name[names->slot[s] - 1], folded) != 0) {
    s = (s + 1) & (names->n_slots - 1);
  }
  return s;
}

static bool make_room(CwNames *names)
{
  if (2 * (names->n + 1) <= names->n_slots) {
    return true;
  }
  size_t *old = names->slot;
  const size_t n_slots = names->n_slots;
  names->n_slots = n_slots ? 2 * n_slots : FEWEST_SLOTS;
  names->slot = cw_new(names->n_slots, sizeof *names->slot);
  if (!names->slot) {
    names->slot = old;
    names->n_slots = n_slots;
    return false;
  }
  for (size_t i = 0; i < names->n; i++) {
    names->slot[slot_of(names, names->name[i])] = i + 1;
  }
  free(old);
  return true;
}

bool cw_names_put(CwNames *names, const char *name, size_t length, size_t value)
{
  char *folded = cw_name_fold(name, length);
  if (!folded || !make_room(names)) {
    free(folded);
    return false;
  }
  const size_t s = slot_of(names, folded);
  if (names->slot[s]) {
    names->value[names->slot[s] - 1] = value;
    free(folded);
    return true;
  }
  if (!cw_grow(&names->name, &names->name_capacity, names->n, sizeof *names->name) ||
      !cw_grow(&names->value, &names->value_capacity, names->n, sizeof *names->value)) {
    free(folded);
    return false;
  }
  names->name[names->n] = folded;
  names->value[names->n++] = value;
  names->slot[s] = names->n;
  return true;
}

size_t cw_names_find(const CwNames *names, const char *name, size_t length)
{
  char *folded = names->n ? cw_name_fold(name, length) : NULL;
  const size_t place = folded ? names->slot[slot_of(names, folded)] : 0;
  free(folded);
  return place ? names->value[place - 1] : CW_NO_NAME;
}

void cw_names_free(CwNames *names)
{
  for (size_t i = 0; i < names->n; i++) {
    free(names->name[i]);
  }
  free(names->name);
  free(names->value);
  free(names->slot);
  memset(names, 0, sizeof *names);
}

/// Bytes of what parts two names at `c`: a sign, "and" or the Japanese comma; 0 when nothing does.
static size_t parting(const char *c)
{
  static const char *const word[] = {" and ", " et ", " und ", "\xE3\x80\x81", "\xEF\xBC\x8C"};
  if (*c && strchr(",&+/", *c)) {
    return 1;
  }
  for (size_t i = 0; i < sizeof word / sizeof word[0]; i++) {
    if (strncmp(c, word[i], strlen(word[i])) == 0) {
      return strlen(word[i]);
    }
  }
  return 0;
}

size_t cw_name_next(const char **at, const char **name)
{
  const char *c = *at;
  while (*c == ' ' || parting(c)) {
    c += parting(c) ? parting(c) : 1;
  }
  *name = c;
  const char *end = c;
  for (; *c && !parting(c); c++) {
    end = *c == ' ' ? end : c + 1;
  }
  *at = c;
  return (size_t)(end - *name);
}
