// SPDX-License-Identifier: GPL-3.0-or-later
/// Arrays put one after the other into a block of bytes, and taken out again.
#ifndef CW_BASE_PACK_H
#define CW_BASE_PACK_H

#include <stdbool.h>
#include <stddef.h>

/// A block being filled or read. Zeroed, it only counts bytes.
typedef struct {
  unsigned char *data; ///< NULL: count only
  size_t size;
  size_t at;
  bool failed; ///< read past the end, or memory ran out
} CwPack;

/// Put `n` elements of `size` bytes; counts where there is no block.
void cw_pack_put(CwPack *pack, const void *from, size_t n, size_t size);

/// Take as many into room that is there.
void cw_pack_take(CwPack *pack, void *to, size_t n, size_t size);

/// Take as many into new memory. @return Release with free(); NULL (and `failed`) when there are fewer, or no memory.
void *cw_pack_take_new(CwPack *pack, size_t n, size_t size);

/// Whether all was taken and nothing is left.
bool cw_pack_is_over(const CwPack *pack);

#endif
