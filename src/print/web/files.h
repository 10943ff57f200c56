// SPDX-License-Identifier: GPL-3.0-or-later
/// The page's files, as they are, in the library's constants.
#ifndef CW_PRINT_WEB_FILES_H
#define CW_PRINT_WEB_FILES_H

#include <stddef.h>

/// A file's bytes; no NUL ends them.
typedef struct {
  const char *text;
  size_t size;
} CwWebFile;

CwWebFile cw_web_template(void); ///< the page, with {{names}} where something is put in
CwWebFile cw_web_player(void);   ///< what the page has when the recording is inside, with {{names}} of labels
CwWebFile cw_web_style(void);
CwWebFile cw_web_script(void);

#endif
