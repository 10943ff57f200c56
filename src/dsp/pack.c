// SPDX-License-Identifier: GPL-3.0-or-later
#include "dsp/pack.h"

#include <stddef.h>
#include <stdlib.h>

#include "base/memory.h"
#include "base/pack.h"

_Static_assert(sizeof(CwFeatures) == 4 * sizeof(size_t) + sizeof(double) + 12 * sizeof(void *),
               "features have another field: pack it too");

/// An array of features: where its pointer is, how many elements it has, and of what size.
typedef struct {
  void **array;
  size_t n;
  size_t size;
} Array;

enum { ARRAYS = 12 };

static void list_arrays(CwFeatures *f, Array array[ARRAYS])
{
  float **const frames[] = {&f->onset,    &f->onset_slow,  &f->onset_low, &f->onset_high,
                            &f->harmonic, &f->bass_change, &f->level_db};
  size_t k = 0;
  for (; k < sizeof frames / sizeof frames[0]; k++) {
    array[k] = (Array){(void **)frames[k], f->n_frames, sizeof(float)};
  }
  array[k++] = (Array){(void **)&f->attack, f->n_attack, sizeof(float)};
  array[k++] = (Array){(void **)&f->chroma, f->n_slow, 12 * sizeof(float)};
  array[k++] = (Array){(void **)&f->timbre, f->n_slow, CW_TIMBRE_BANDS * sizeof(float)};
  array[k++] = (Array){(void **)&f->steadiness, f->n_slow, sizeof(float)};
  array[k++] = (Array){(void **)&f->heard, f->n_heard, CW_HEARD_BANDS};
}

static void put_all(CwFeatures *f, CwPack *pack)
{
  Array array[ARRAYS];
  list_arrays(f, array);
  const size_t length[] = {f->n_frames, f->n_attack, f->n_slow, f->n_heard};
  cw_pack_put(pack, length, 4, sizeof *length);
  cw_pack_put(pack, &f->duration_s, 1, sizeof f->duration_s);
  for (size_t k = 0; k < ARRAYS; k++) {
    cw_pack_put(pack, *array[k].array, array[k].n, array[k].size);
  }
}

CwStatus cw_features_pack(const CwFeatures *features, void **data, size_t *size)
{
  CwFeatures same = *features; // its arrays are only read
  CwPack pack = {0};
  put_all(&same, &pack);
  *size = pack.at;
  *data = cw_new(*size, 1);
  if (!*data) {
    return CW_ERR_NO_MEM;
  }
  pack = (CwPack){.data = *data, .size = *size};
  put_all(&same, &pack);
  return CW_OK;
}

CwStatus cw_features_unpack(void *data, size_t size, CwFeatures *features)
{
  CwPack pack = {.data = data, .size = size};
  size_t length[4] = {0};
  *features = (CwFeatures){0};
  cw_pack_take(&pack, length, 4, sizeof *length);
  cw_pack_take(&pack, &features->duration_s, 1, sizeof features->duration_s);
  features->n_frames = length[0];
  features->n_attack = length[1];
  features->n_slow = length[2];
  features->n_heard = length[3];
  Array array[ARRAYS];
  list_arrays(features, array);
  for (size_t k = 0; k < ARRAYS && !pack.failed; k++) {
    *array[k].array = cw_pack_take_new(&pack, array[k].n, array[k].size);
  }
  if (cw_pack_is_over(&pack)) {
    return CW_OK;
  }
  cw_features_free(features);
  return CW_ERR_BAD_ARG;
}
