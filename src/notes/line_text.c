// SPDX-License-Identifier: GPL-3.0-or-later
#include "notes/line_text.h"

#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "base/memory.h"

enum { REPLACEMENT = 0xFFFD, LONGEST_CHARACTER = 3 };

/// Windows-1252 from 0x80 to 0x9F (the code chart of Unicode's CP1252.TXT); 0 where it has no character.
static const unsigned short windows_letter[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178,
};

/// Notes typed on an old machine: a stray byte is most likely an accented letter.
static ucs4_t from_windows(unsigned char byte)
{
  if (byte >= 0xA0) {
    return byte;
  }
  const ucs4_t letter = windows_letter[byte - 0x80];
  return letter ? letter : REPLACEMENT;
}

static bool is_blank(ucs4_t c)
{
  return c == ' ' || (c >= 0x09 && c <= 0x0D) || c == 0x85 || c == 0xA0 || c == 0x1680 ||
         (c >= 0x2000 && c <= 0x200B) || c == 0x2028 || c == 0x2029 || c == 0x202F || c == 0x205F || c == 0x2060 ||
         c == 0x3000 || c == 0xFEFF;
}

static bool is_control(ucs4_t c)
{
  return c < 0x20 || (c >= 0x7F && c < 0xA0);
}

/// Letters that follow a number and say what it counts, and one before it (U+7B2C, "number"). From a dictionary of
/// Japanese counters: times, turns, people, degrees, laps, steps, groups, names, rows, pieces, things.
static const unsigned short counting_letter[] = {0x56DE, 0x4EBA, 0x5EA6, 0x756A, 0x5468, 0x6B69, 0x7D44, 0x540D,
                                                 0x5217, 0x672C, 0x3064, 0x7B2C, 0x79D2, 0x5206, 0x5C0F, 0x756A};

/// 0 for a script with blanks. Chinese, Japanese, Thai, Lao, Burmese, Khmer: UAX 14 (line breaking) names them as those
/// without blanks between words.
static char fold_unspaced(ucs4_t c)
{
  const bool han = (c >= 0x3400 && c <= 0x9FFF) || (c >= 0xF900 && c <= 0xFAFF) || (c >= 0x20000 && c <= 0x3FFFF);
  const bool kana = c >= 0x3041 && c <= 0x30FF && c != 0x30FB;
  const bool south = (c >= 0x0E00 && c <= 0x0EFF) || (c >= 0x1000 && c <= 0x109F) || (c >= 0x1780 && c <= 0x17FF);
  if (!han && !kana && !south && c != 0x3005) {
    return 0;
  }
  if (c == 0x62CD) {
    return CW_COUNTS_LETTER;
  }
  for (size_t i = 0; i < sizeof counting_letter / sizeof counting_letter[0]; i++) {
    if (c == counting_letter[i]) {
      return CW_COUNTING_LETTER;
    }
  }
  return CW_UNSPACED_LETTER;
}

/// Kana that make a verb of the letter before: to turn is the letter of "times" and one of these.
static bool is_inflection(ucs4_t c)
{
  static const unsigned short kana[] = {0x308B, 0x308A, 0x3063, 0x3089, 0x308C, 0x308D, 0x304F, 0x304D, 0x3051, 0x3044};
  for (size_t i = 0; i < sizeof kana / sizeof kana[0]; i++) {
    if (c == kana[i]) {
      return true;
    }
  }
  return false;
}

/// The folded form of a character beyond ASCII.
static char fold_wide(ucs4_t c)
{
  static const struct {
    ucs4_t first;
    ucs4_t last;
    char key;
  } form[] = {
      {0xAB, 0xAB, '"'},     {0xB7, 0xB7, '*'},     {0xBB, 0xBB, '"'},     {0xD7, 0xD7, 'x'},     {0x2010, 0x2015, '-'},
      {0x2018, 0x201F, '"'}, {0x2022, 0x2023, '*'}, {0x2026, 0x2026, '~'}, {0x2039, 0x203A, '"'}, {0x2043, 0x2043, '*'},
      {0x2212, 0x2212, '-'}, {0x25AA, 0x25AB, '*'}, {0x25CF, 0x25CF, '*'}, {0x2715, 0x2716, 'x'}, {0x2A2F, 0x2A2F, 'x'},
      {0x3001, 0x3001, ','}, {0x3002, 0x3002, '.'}, {0x300C, 0x300F, '"'}, {0x301C, 0x301C, '-'}, {0x30FB, 0x30FB, ','},
  };
  for (size_t i = 0; i < sizeof form / sizeof form[0]; i++) {
    if (c >= form[i].first && c <= form[i].last) {
      return form[i].key;
    }
  }
  return CW_OTHER_CHARACTER;
}

static char fold(ucs4_t c)
{
  if (is_blank(c)) {
    return ' ';
  }
  if (c == 0xFF5E) { // between numbers
    return '-';
  }
  if (c >= 0xFF01 && c <= 0xFF5E) { // full-width forms
    c -= 0xFF01 - '!';
  }
  if (c >= 0x80) {
    const char key = fold_unspaced(c);
    return key ? key : fold_wide(c);
  }
  if (is_control(c)) {
    return CW_OTHER_CHARACTER;
  }
  return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static CwStatus make_room(CwLineText *text, size_t size)
{
  if (text->key && size <= text->capacity) {
    return CW_OK;
  }
  // doubled, so that lines that grow do not cost a new block each
  const size_t capacity = size > 2 * text->capacity ? size : 2 * text->capacity;
  cw_line_text_free(text);
  text->key = cw_new(capacity + 1, 1);
  text->words = cw_new(capacity + 1, LONGEST_CHARACTER);
  text->at = cw_new(capacity + 1, sizeof *text->at);
  if (!text->key || !text->words || !text->at) {
    cw_line_text_free(text);
    return CW_ERR_NO_MEM;
  }
  text->capacity = capacity;
  return CW_OK;
}

/// The next character of the input; any byte gives one.
static ucs4_t next_character(CwLineText *text, const char *bytes, size_t size, size_t *used)
{
  ucs4_t c = 0;
  const int length = u8_mbtoucr(&c, (const uint8_t *)bytes, size);
  if (length > 0) {
    *used = (size_t)length;
    return c;
  }
  if (!text->repaired) {
    text->repaired = true;
    text->repaired_at = text->n;
  }
  *used = 1;
  return from_windows((unsigned char)*bytes);
}

CwStatus cw_line_text_read(CwLineText *text, const char *bytes, size_t size)
{
  text->n = 0;
  text->repaired = false;
  text->control = false;
  if (make_room(text, size) != CW_OK) {
    return CW_ERR_NO_MEM;
  }
  size_t end = 0;
  for (size_t i = 0, used = 0; i < size; i += used) {
    ucs4_t c = next_character(text, bytes + i, size - i, &used);
    const char key = fold(c);
    if (is_control(c)) {
      if (key != ' ' && !text->control) {
        text->control = true;
        text->control_at = text->n;
      }
      c = key == ' ' ? ' ' : REPLACEMENT;
    }
    if (text->n > 0 && text->key[text->n - 1] == CW_COUNTING_LETTER && is_inflection(c)) {
      text->key[text->n - 1] = CW_UNSPACED_LETTER; // no "4 steps" but "4: walk"
    }
    text->key[text->n] = key;
    text->at[text->n++] = end;
    // a stray byte or a control character may grow to three bytes, nothing grows beyond
    const int written = u8_uctomb((uint8_t *)text->words + end, c, 4);
    end += written > 0 ? (size_t)written : 0;
  }
  text->key[text->n] = '\0';
  text->at[text->n] = end;
  return CW_OK;
}

char *cw_line_text_copy(const CwLineText *text, size_t from, size_t to)
{
  from = cw_skip_blanks(text, from, to);
  to = cw_trim_blanks(text, from, to);
  return cw_copy_text(text->words + text->at[from], text->at[to] - text->at[from]);
}

size_t cw_skip_blanks(const CwLineText *text, size_t i, size_t end)
{
  while (i < end && text->key[i] == ' ') {
    i++;
  }
  return i;
}

size_t cw_trim_blanks(const CwLineText *text, size_t from, size_t end)
{
  while (end > from && text->key[end - 1] == ' ') {
    end--;
  }
  return end;
}

void cw_line_text_free(CwLineText *text)
{
  free(text->key);
  free(text->words);
  free(text->at);
  memset(text, 0, sizeof *text);
}
