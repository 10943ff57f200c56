// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/catalogue.h"

#include <stddef.h>
#include <stdint.h>
#include <string.h>

// CW_MO_FOLDER, given by the build, is where msgfmt put them
#define HOLD(tag)                                                                                                      \
  extern const unsigned char cw_catalogue_##tag[] __attribute__((visibility("hidden")));                               \
  __asm__(".pushsection .rodata\n"                                                                                     \
          ".global cw_catalogue_" #tag "\n"                                                                            \
          ".hidden cw_catalogue_" #tag "\n"                                                                            \
          "cw_catalogue_" #tag ":\n"                                                                                   \
          ".incbin \"" CW_MO_FOLDER "/" #tag ".mo\"\n"                                                                 \
          ".popsection\n")

HOLD(fr);
HOLD(de);
HOLD(es);
HOLD(it);
HOLD(pt);
HOLD(ru);
HOLD(ja);

/// Places in the head of a catalogue, as the manual of GNU gettext has them ("The Format of GNU MO Files").
enum { N_TEXTS_AT = 8, ENGLISH_AT = 12, TRANSLATED_AT = 16, ENTRY_SIZE = 8, OFFSET_IN_ENTRY = 4 };

const unsigned char *cw_catalogue(CwLanguage language)
{
  switch (language) {
  case CW_FRENCH:
    return cw_catalogue_fr;
  case CW_GERMAN:
    return cw_catalogue_de;
  case CW_SPANISH:
    return cw_catalogue_es;
  case CW_ITALIAN:
    return cw_catalogue_it;
  case CW_PORTUGUESE:
    return cw_catalogue_pt;
  case CW_RUSSIAN:
    return cw_catalogue_ru;
  case CW_JAPANESE:
    return cw_catalogue_ja;
  case CW_ENGLISH:
  case CW_N_LANGUAGES:
    break;
  }
  return NULL;
}

static uint32_t number_at(const unsigned char *catalogue, size_t at)
{
  const unsigned char *byte = catalogue + at;
  return (uint32_t)byte[0] | (uint32_t)byte[1] << 8 | (uint32_t)byte[2] << 16 | (uint32_t)byte[3] << 24;
}

/// Text `i` of the table whose place stands at `table_at`.
static const char *text_of(const unsigned char *catalogue, size_t table_at, size_t i)
{
  const size_t entry = number_at(catalogue, table_at) + i * ENTRY_SIZE;
  return (const char *)catalogue + number_at(catalogue, entry + OFFSET_IN_ENTRY);
}

const char *cw_catalogue_find(const unsigned char *catalogue, const char *english)
{
  size_t low = 0; // the English texts are sorted
  size_t high = number_at(catalogue, N_TEXTS_AT);
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    const int order = strcmp(english, text_of(catalogue, ENGLISH_AT, middle));
    if (order == 0) {
      return text_of(catalogue, TRANSLATED_AT, middle);
    }
    if (order < 0) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  return NULL;
}
