// SPDX-License-Identifier: GPL-3.0-or-later
/// The library's glossary and its list of ordinary words, as they are, in its constants. The build gives their paths.
#include "glossary/glossary.h"

#define HOLD(name, path)                                                                                               \
  extern const char name[] __attribute__((visibility("hidden")));                                                      \
  extern const char name##_end[] __attribute__((visibility("hidden")));                                                \
  __asm__(".pushsection .rodata\n"                                                                                     \
          ".global " #name "\n"                                                                                        \
          ".hidden " #name "\n" #name ":\n"                                                                            \
          ".incbin \"" path "\"\n"                                                                                     \
          ".global " #name "_end\n"                                                                                    \
          ".hidden " #name "_end\n" #name "_end:\n"                                                                    \
          ".popsection\n")

HOLD(cw_academic_text, CW_ACADEMIC_FILE);
HOLD(cw_ordinary_text, CW_ORDINARY_FILE);

const char *cw_academic_file(size_t *size)
{
  *size = (size_t)(cw_academic_text_end - cw_academic_text);
  return cw_academic_text;
}

const char *cw_ordinary_file(size_t *size)
{
  *size = (size_t)(cw_ordinary_text_end - cw_ordinary_text);
  return cw_ordinary_text;
}
