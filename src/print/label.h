// SPDX-License-Identifier: GPL-3.0-or-later
/// Labels in the language of a sheet: the words of src/print/languages, looked up by the English ones.
///
/// What is not translated stays English. To add a label, write it in English in the code, run scripts/labels, and fill
/// the gaps in the files that it names.
#ifndef CW_PRINT_LABEL_H
#define CW_PRINT_LABEL_H

#include "countwright/language.h"

#ifdef __GNUC__
#define CW_FORMAT_OF(n) __attribute__((format_arg(n)))
#else
#define CW_FORMAT_OF(n)
#endif

/// Marks a text that is looked up elsewhere, so that scripts/labels finds it.
#define CW_MSG(text) text

/// A label. Formats keep their places for values, perhaps in another order.
const char *cw_label(CwLanguage language, const char *english) CW_FORMAT_OF(2);

/// A label with a number, in the form that the language has for `n`.
const char *cw_label_of(CwLanguage language, const char *one, const char *many, unsigned long n) CW_FORMAT_OF(2)
    CW_FORMAT_OF(3);

/// The form of a plural that the language has for `n`, from 0.
unsigned cw_plural_form(CwLanguage language, unsigned long n);

#endif
