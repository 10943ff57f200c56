// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes that a Windows program saved as UTF-16.
#ifndef CW_NOTES_ENCODING_H
#define CW_NOTES_ENCODING_H

#include <stddef.h>

#include "countwright/notebook.h"

/// The text of a notebook as UTF-8, when it is sound UTF-16 with a byte order mark; else a copy of its bytes.
/// @param[out] text Release with free(); `*text_size` bytes and a NUL.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_notes_decode(const char *bytes, size_t size, CwNoteEncoding *encoding, char **text,
                                      size_t *text_size);

/// The reverse: the very bytes that were decoded.
CW_NODISCARD CwStatus cw_notes_encode(const char *text, size_t size, CwNoteEncoding encoding, char **bytes,
                                      size_t *bytes_size);

#endif
