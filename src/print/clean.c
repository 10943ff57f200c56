// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/clean.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include <unistr.h>

#include "base/memory.h"

enum { REPLACEMENT = 0xFFFD, LONGEST_UTF8 = 4 };

static bool is_space_like(ucs4_t c)
{
  return (c >= 0x09 && c <= 0x0D) || c == 0x85 || c == 0x2028 || c == 0x2029;
}

/// Controls that JSON leaves as they are but a terminal obeys.
static bool is_high_control(ucs4_t c)
{
  return c >= 0x7F && c < 0xA0;
}

static bool reorders(ucs4_t c)
{
  return (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF;
}

static char *clean(const char *text, bool one_line)
{
  const uint8_t *in = (const uint8_t *)(text ? text : "");
  size_t left = strlen((const char *)in);
  // a bad byte grows to the three of U+FFFD
  char *const result = cw_new(left * 3 + 1, 1);
  uint8_t *out = (uint8_t *)result;
  while (result && left > 0) {
    ucs4_t c = REPLACEMENT;
    const int used = u8_mbtoucr(&c, in, left);
    const size_t step = used > 0 ? (size_t)used : 1;
    c = used > 0 ? c : REPLACEMENT;
    in += step;
    left -= step;
    if (one_line && is_space_like(c)) {
      c = ' ';
    } else if (is_high_control(c) || (one_line && c < 0x20)) {
      c = REPLACEMENT;
    } else if (one_line && reorders(c)) {
      continue;
    }
    out += u8_uctomb(out, c, LONGEST_UTF8);
  }
  return result;
}

char *cw_clean_line(const char *text)
{
  return clean(text, true);
}

char *cw_clean_utf8(const char *text)
{
  return clean(text, false);
}
