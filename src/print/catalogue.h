// SPDX-License-Identifier: GPL-3.0-or-later
/// The translations, as msgfmt makes them, in the library's constants.
#ifndef CW_PRINT_CATALOGUE_H
#define CW_PRINT_CATALOGUE_H

#include "countwright/language.h"

/// The catalogue of a language in the MO form of GNU gettext, least byte first; NULL for English.
const unsigned char *cw_catalogue(CwLanguage language);

/// The texts for `english` in a catalogue: the first, and after its NUL the other plural forms, if it has any.
/// @return NULL where it has none.
const char *cw_catalogue_find(const unsigned char *catalogue, const char *english);

#endif
