// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/web/files.h"

#define HOLD(name, path)                                                                                               \
  extern const char cw_web_##name##_begin[] __attribute__((visibility("hidden")));                                     \
  extern const char cw_web_##name##_end[] __attribute__((visibility("hidden")));                                       \
  __asm__(".pushsection .rodata\n"                                                                                     \
          ".global cw_web_" #name "_begin\n"                                                                           \
          ".hidden cw_web_" #name "_begin\n"                                                                           \
          "cw_web_" #name "_begin:\n"                                                                                  \
          ".incbin \"" path "\"\n"                                                                                     \
          ".global cw_web_" #name "_end\n"                                                                             \
          ".hidden cw_web_" #name "_end\n"                                                                             \
          "cw_web_" #name "_end:\n"                                                                                    \
          ".popsection\n");                                                                                            \
  CwWebFile cw_web_##name(void)                                                                                        \
  {                                                                                                                    \
    return (CwWebFile){cw_web_##name##_begin, (size_t)(cw_web_##name##_end - cw_web_##name##_begin)};                  \
  }

HOLD(template, CW_WEB_FOLDER "/template.html")
HOLD(player, CW_WEB_FOLDER "/player.html")
HOLD(style, CW_WEB_FOLDER "/sheet.css")
HOLD(script, CW_WEB_SCRIPT)
