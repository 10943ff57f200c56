// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/language.h"

#include <stdbool.h>
#include <string.h>
#include <strings.h>

/// How a language is called.
typedef struct {
  const char *tag;
  const char *own;
  const char *english;
} Name;

static const Name name_of[CW_N_LANGUAGES] = {
    [CW_ENGLISH] = {"en", "English", "English"},
    [CW_FRENCH] = {"fr", "fran\u00e7ais", "French"},
    [CW_GERMAN] = {"de", "Deutsch", "German"},
    [CW_SPANISH] = {"es", "espa\u00f1ol", "Spanish"},
    [CW_ITALIAN] = {"it", "italiano", "Italian"},
    [CW_PORTUGUESE] = {"pt", "portugu\u00eas", "Portuguese"},
    [CW_RUSSIAN] = {"ru", "\u0440\u0443\u0441\u0441\u043a\u0438\u0439", "Russian"},
    [CW_JAPANESE] = {"ja", "\u65e5\u672c\u8a9e", "Japanese"},
};

/// Whether a name begins with the tag, and goes on with no letter: "pt-BR", but not "ptarmigan".
static bool has_tag(const char *name, const char *tag)
{
  const size_t length = strlen(tag);
  return strncasecmp(name, tag, length) == 0 && strchr("-_.@", name[length]) != NULL;
}

CwLanguage cw_language_find(const char *name)
{
  for (int i = 0; name && i < CW_N_LANGUAGES; i++) {
    const Name *known = &name_of[i];
    if (has_tag(name, known->tag) || strcasecmp(name, known->own) == 0 || strcasecmp(name, known->english) == 0) {
      return (CwLanguage)i;
    }
  }
  return CW_N_LANGUAGES;
}

const char *cw_language_tag(CwLanguage language)
{
  return name_of[language].tag;
}

const char *cw_language_name(CwLanguage language)
{
  return name_of[language].own;
}
