// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/encoding.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "base/memory.h"

static unsigned unit_at(const char *bytes, size_t i, CwNoteEncoding encoding)
{
  const unsigned first = (unsigned char)bytes[i];
  const unsigned second = (unsigned char)bytes[i + 1];
  return encoding == CW_NOTES_UTF_16_LE ? first | second << 8 : first << 8 | second;
}

static void put_unit(char *bytes, size_t i, unsigned unit, CwNoteEncoding encoding)
{
  const char low = (char)(unit & 0xFF);
  const char high = (char)(unit >> 8);
  bytes[i] = encoding == CW_NOTES_UTF_16_LE ? low : high;
  bytes[i + 1] = encoding == CW_NOTES_UTF_16_LE ? high : low;
}

static CwNoteEncoding encoding_of(const char *bytes, size_t size)
{
  if (size < 2 || size % 2 != 0) {
    return CW_NOTES_UTF_8;
  }
  const unsigned mark = unit_at(bytes, 0, CW_NOTES_UTF_16_BE);
  return mark == 0xFEFF ? CW_NOTES_UTF_16_BE : mark == 0xFFFE ? CW_NOTES_UTF_16_LE : CW_NOTES_UTF_8;
}

/// The character at `*i`, which is moved past it. @return 0xFFFFFFFF for half a pair.
static ucs4_t next_character(const char *bytes, size_t size, size_t *i, CwNoteEncoding encoding)
{
  const ucs4_t unit = unit_at(bytes, *i, encoding);
  *i += 2;
  if (unit < 0xD800 || unit > 0xDFFF) {
    return unit;
  }
  if (unit > 0xDBFF || *i == size) {
    return 0xFFFFFFFFu;
  }
  const ucs4_t low = unit_at(bytes, *i, encoding);
  *i += 2;
  return low >= 0xDC00 && low <= 0xDFFF ? 0x10000 + ((unit - 0xD800) << 10) + (low - 0xDC00) : 0xFFFFFFFFu;
}

CwStatus cw_notes_decode(const char *bytes, size_t size, CwNoteEncoding *encoding, char **text, size_t *text_size)
{
  enum { LONGEST = 3 }; // UTF-8 bytes of two bytes of UTF-16
  *encoding = encoding_of(bytes, size);
  *text_size = 0;
  *text = NULL;
  if (*encoding != CW_NOTES_UTF_8) {
    *text = cw_new(size / 2 * LONGEST + 1, 1);
    if (!*text) {
      return CW_ERR_NO_MEM;
    }
  }
  for (size_t i = 0; *encoding != CW_NOTES_UTF_8 && i < size;) {
    const ucs4_t c = next_character(bytes, size, &i, *encoding);
    if (c == 0xFFFFFFFFu) { // no UTF-16 after all
      *encoding = CW_NOTES_UTF_8;
      break;
    }
    const int written = u8_uctomb((uint8_t *)*text + *text_size, c, 4);
    *text_size += written > 0 ? (size_t)written : 0;
  }
  if (*encoding == CW_NOTES_UTF_8) {
    free(*text);
    *text = cw_copy_text(bytes, size);
    *text_size = size;
  }
  return *text ? CW_OK : CW_ERR_NO_MEM;
}

CwStatus cw_notes_encode(const char *text, size_t size, CwNoteEncoding encoding, char **bytes, size_t *bytes_size)
{
  const bool wide = encoding != CW_NOTES_UTF_8;
  *bytes_size = 0;
  *bytes = wide ? cw_new(size + 1, 2) : cw_copy_text(text, size);
  if (!*bytes) {
    return CW_ERR_NO_MEM;
  }
  *bytes_size = wide ? 0 : size;
  for (size_t i = 0; wide && i < size;) {
    ucs4_t c = 0;
    i += (size_t)u8_mbtouc(&c, (const uint8_t *)text + i, size - i);
    if (c > 0xFFFF) {
      put_unit(*bytes, *bytes_size, 0xD800 + ((c - 0x10000) >> 10), encoding);
      *bytes_size += 2;
      c = 0xDC00 + ((c - 0x10000) & 0x3FF);
    }
    put_unit(*bytes, *bytes_size, c, encoding);
    *bytes_size += 2;
  }
  return CW_OK;
}
