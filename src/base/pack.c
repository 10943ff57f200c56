// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/pack.h"

#include <string.h>

#include "base/memory.h"

void cw_pack_put(CwPack *pack, const void *from, size_t n, size_t size)
{
  const size_t bytes = n * size;
  if (pack->data && bytes > 0) {
    memcpy(pack->data + pack->at, from, bytes);
  }
  pack->at += bytes;
}

static bool has(CwPack *pack, size_t n, size_t size)
{
  pack->failed = pack->failed || (n > 0 && (pack->size - pack->at) / n < size);
  return !pack->failed;
}

void cw_pack_take(CwPack *pack, void *to, size_t n, size_t size)
{
  if (has(pack, n, size) && n > 0) {
    memcpy(to, pack->data + pack->at, n * size);
    pack->at += n * size;
  }
}

void *cw_pack_take_new(CwPack *pack, size_t n, size_t size)
{
  void *room = has(pack, n, size) ? cw_new(n, size) : NULL;
  if (!room) {
    pack->failed = true;
    return NULL;
  }
  cw_pack_take(pack, room, n, size);
  return room;
}

bool cw_pack_is_over(const CwPack *pack)
{
  return !pack->failed && pack->at == pack->size;
}
