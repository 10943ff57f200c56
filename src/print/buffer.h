// SPDX-License-Identifier: GPL-3.0-or-later
/// Text that grows. A failed allocation is remembered, so that a run of additions needs one check at its end.
#ifndef CW_PRINT_BUFFER_H
#define CW_PRINT_BUFFER_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"

/// A growing text; zero it to begin. `text` is NULL until something was added, then NUL-terminated.
typedef struct {
  char *text;
  size_t length;
  size_t capacity;
  bool failed; ///< an allocation failed; what was added since is lost
} CwBuffer;

/// Append text.
void cw_buffer_put(CwBuffer *buffer, const char *text);

/// Append `length` bytes.
void cw_buffer_put_bytes(CwBuffer *buffer, const char *text, size_t length);

/// Append `separator` unless the buffer is empty, then text formatted as by printf (whole numbers and strings only:
/// other numbers would follow the locale).
void cw_buffer_join(CwBuffer *buffer, const char *separator, const char *format, ...) CW_PRINTF(3, 4);

/// What was added, never NULL.
const char *cw_buffer_text(const CwBuffer *buffer);

/// Forget the text but keep the room and the failure.
void cw_buffer_clear(CwBuffer *buffer);

/// Release and set to empty.
void cw_buffer_free(CwBuffer *buffer);

#endif
