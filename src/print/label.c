// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/label.h"

#include <string.h>

#include "print/catalogue.h"

unsigned cw_plural_form(CwLanguage language, unsigned long n)
{
  switch (language) {
  case CW_JAPANESE:
    return 0;
  case CW_FRENCH:
    return n > 1;
  case CW_RUSSIAN:
    if (n % 10 == 1 && n % 100 != 11) {
      return 0;
    }
    return n % 10 >= 2 && n % 10 <= 4 && (n % 100 < 12 || n % 100 > 14) ? 1 : 2;
  default:
    return n != 1;
  }
}

const char *cw_label(CwLanguage language, const char *english)
{
  const unsigned char *catalogue = cw_catalogue(language);
  const char *text = catalogue ? cw_catalogue_find(catalogue, english) : NULL;
  return text ? text : english;
}

const char *cw_label_of(CwLanguage language, const char *one, const char *many, unsigned long n)
{
  const unsigned char *catalogue = cw_catalogue(language);
  const char *text = catalogue ? cw_catalogue_find(catalogue, one) : NULL;
  if (!text) {
    return n == 1 ? one : many;
  }
  for (unsigned form = cw_plural_form(language, n); form > 0; form--) {
    text += strlen(text) + 1;
  }
  return text;
}

const char *cw_count_word(CwLanguage language, unsigned count)
{
  static const char *const word[CW_MOST_COUNT_WORDS + 1] = {
      CW_MSG("and"),    CW_MSG("one"),      CW_MSG("two"),      CW_MSG("three"),   CW_MSG("four"),    CW_MSG("five"),
      CW_MSG("six"),    CW_MSG("seven"),    CW_MSG("eight"),    CW_MSG("nine"),    CW_MSG("ten"),     CW_MSG("eleven"),
      CW_MSG("twelve"), CW_MSG("thirteen"), CW_MSG("fourteen"), CW_MSG("fifteen"), CW_MSG("sixteen"),
  };
  return count <= CW_MOST_COUNT_WORDS ? cw_label(language, word[count]) : NULL;
}
