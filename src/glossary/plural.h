// SPDX-License-Identifier: GPL-3.0-or-later
/// French plurals of terms.
#ifndef CW_GLOSSARY_PLURAL_H
#define CW_GLOSSARY_PLURAL_H

#include <stddef.h>

/// The plural of a term by rule: every word up to the first preposition gets an s ("ronds de jambe"), unless it ends in
/// s, x or z. @return Release with free(); NULL when memory runs out.
char *cw_make_plural(const char *term, size_t length);

#endif
