// SPDX-License-Identifier: GPL-3.0-or-later
/// Parts of a file that a player asks for (RFC 9110, section 14).
#ifndef CW_DESK_RANGE_H
#define CW_DESK_RANGE_H

#include <stdint.h>

typedef enum {
  DESK_RANGE_ALL,  ///< none is asked for, or several, or it is not understood: all of the file
  DESK_RANGE_PART, ///< a part
  DESK_RANGE_NONE  ///< it lies behind the end
} DeskRange;

/// Read a Range field, such as "bytes=100-199", "bytes=100-" or "bytes=-50". @param field May be NULL.
/// @param[out] first, length Bytes to send; the whole file when all are.
DeskRange desk_range(const char *field, uint64_t size, uint64_t *first, uint64_t *length);

#endif
