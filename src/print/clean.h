// SPDX-License-Identifier: GPL-3.0-or-later
/// Notes may hold any bytes; what is printed is valid UTF-8 without control characters.
#ifndef CW_PRINT_CLEAN_H
#define CW_PRINT_CLEAN_H

/// One line fit to show: invalid bytes and control characters become U+FFFD, line ends and tabs a space; marks that
/// reorder the rest of the line (bidirectional embeddings, overrides and isolates) are left out.
/// @param text NULL counts as empty.
/// @return Release with free(); NULL when memory ran out.
char *cw_clean_line(const char *text);

/// Valid UTF-8 for JSON, which escapes the controls below U+0020 itself: only invalid bytes and the controls from U+007F
/// to U+009F, which it would let through to a terminal, become U+FFFD.
/// @param text NULL counts as empty.
/// @return Release with free(); NULL when memory ran out.
char *cw_clean_utf8(const char *text);

#endif
