// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/buffer.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static bool make_room(CwBuffer *buffer, size_t bytes)
{
  while (!buffer->failed && buffer->length + bytes >= buffer->capacity) {
    buffer->failed = !cw_grow(&buffer->text, &buffer->capacity, buffer->capacity, 1);
  }
  return !buffer->failed;
}

void cw_buffer_put_bytes(CwBuffer *buffer, const char *text, size_t length)
{
  if (make_room(buffer, length)) {
    memcpy(buffer->text + buffer->length, text, length);
    buffer->length += length;
    buffer->text[buffer->length] = '\0';
  }
}

void cw_buffer_put(CwBuffer *buffer, const char *text)
{
  cw_buffer_put_bytes(buffer, text, strlen(text));
}

void cw_buffer_join(CwBuffer *buffer, const char *separator, const char *format, ...)
{
  if (buffer->length) {
    cw_buffer_put(buffer, separator);
  }
  va_list args;
  va_start(args, format);
  const int length = vsnprintf(NULL, 0, format, args);
  va_end(args);
  if (length < 0) {
    buffer->failed = true;
  } else if (make_room(buffer, (size_t)length)) {
    va_start(args, format);
    vsnprintf(buffer->text + buffer->length, (size_t)length + 1, format, args);
    va_end(args);
    buffer->length += (size_t)length;
  }
}

const char *cw_buffer_text(const CwBuffer *buffer)
{
  return buffer->length ? buffer->text : ""; // room may have been made before memory ran out
}

void cw_buffer_clear(CwBuffer *buffer)
{
  buffer->length = 0;
  if (buffer->text) {
    buffer->text[0] = '\0';
  }
}

void cw_buffer_free(CwBuffer *buffer)
{
  free(buffer->text);
  memset(buffer, 0, sizeof *buffer);
}
