// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/pack.h"

#include <stdlib.h>

#include "align/features.h"
#include "base/memory.h"
#include "base/pack.h"

static void put_all(const CwAlignFeatures *f, CwPack *pack)
{
  const size_t length[] = {f->n, f->attacks.n};
  const double number[] = {f->duration_s, f->tuning_cents};
  cw_pack_put(pack, length, 2, sizeof *length);
  cw_pack_put(pack, number, 2, sizeof *number);
  cw_pack_put(pack, f->chroma, 12 * f->n, sizeof *f->chroma);
  for (size_t k = 0; k < f->attacks.n; k++) { // one by one: between fields there may be bytes of no value
    const CwAttack *attack = &f->attacks.attack[k];
    cw_pack_put(pack, &attack->time_s, 1, sizeof attack->time_s);
    cw_pack_put(pack, &attack->strength, 1, sizeof attack->strength);
    cw_pack_put(pack, &attack->swell_s, 1, sizeof attack->swell_s);
    cw_pack_put(pack, &attack->semitone, 1, sizeof attack->semitone);
  }
}

CwStatus cw_align_features_pack(const CwAlignFeatures *features, void **data, size_t *size)
{
  CwPack pack = {0};
  put_all(features, &pack);
  *size = pack.at;
  *data = cw_new(*size, 1);
  if (!*data) {
    return CW_ERR_NO_MEM;
  }
  pack = (CwPack){.data = *data, .size = *size};
  put_all(features, &pack);
  return CW_OK;
}

/// Take the attacks; one at least has so many bytes.
static void take_attacks(CwPack *pack, size_t n, CwAttacks *attacks)
{
  const size_t least = sizeof(double) + 2 * sizeof(float) + sizeof(int);
  pack->failed = pack->failed || n > (pack->size - pack->at) / least;
  attacks->attack = pack->failed ? NULL : cw_new(n, sizeof *attacks->attack);
  pack->failed = pack->failed || !attacks->attack;
  for (size_t k = 0; k < n && !pack->failed; k++) {
    CwAttack *attack = &attacks->attack[attacks->n++];
    cw_pack_take(pack, &attack->time_s, 1, sizeof attack->time_s);
    cw_pack_take(pack, &attack->strength, 1, sizeof attack->strength);
    cw_pack_take(pack, &attack->swell_s, 1, sizeof attack->swell_s);
    cw_pack_take(pack, &attack->semitone, 1, sizeof attack->semitone);
  }
  attacks->room = attacks->n;
}

CwStatus cw_align_features_unpack(void *data, size_t size, CwAlignFeatures **features)
{
  *features = cw_new(1, sizeof **features);
  if (!*features) {
    return CW_ERR_NO_MEM;
  }
  CwAlignFeatures *f = *features;
  CwPack pack = {.data = data, .size = size};
  size_t length[2] = {0};
  double number[2] = {0};
  cw_pack_take(&pack, length, 2, sizeof *length);
  cw_pack_take(&pack, number, 2, sizeof *number);
  f->n = length[0];
  f->duration_s = number[0];
  f->tuning_cents = number[1];
  f->chroma = length[0] <= size ? cw_pack_take_new(&pack, 12 * length[0], sizeof *f->chroma) : NULL;
  pack.failed = pack.failed || !f->chroma;
  take_attacks(&pack, length[1], &f->attacks);
  if (cw_pack_is_over(&pack)) {
    return CW_OK;
  }
  cw_align_features_free(f);
  *features = NULL;
  return CW_ERR_BAD_ARG;
}
