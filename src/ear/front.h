// SPDX-License-Identifier: GPL-3.0-or-later
/// The first half of the network: what it makes of each row of bands and its neighbours.
#ifndef CW_EAR_FRONT_H
#define CW_EAR_FRONT_H

#include "ear/network.h"

/// Most rows at a time.
#define CW_FRONT_BLOCK 128

/// Work space. Release with cw_front_free().
typedef struct {
  float *bands;  ///< CW_FRONT_BLOCK + 4 rows of CW_HEARD_BANDS, scaled
  float *first;  ///< CW_EAR_POOL * CW_EAR_FIRST_POOLED rows of `width`
  float *pooled; ///< CW_EAR_FIRST_POOLED rows of `width`
  float *second; ///< CW_EAR_POOL * CW_EAR_SECOND_POOLED rows of `width`
  float *cells;  ///< CW_FRONT_BLOCK + 2 rows of CW_EAR_SECOND_POOLED times `width`
} CwFront;

/// @return CW_OK or CW_ERR_NO_MEM; empty on error.
CW_NODISCARD CwStatus cw_front_init(const CwNetwork *network, CwFront *front);

/// Rows `from` to `from + n` (at most CW_FRONT_BLOCK of them) of a recording with `n_heard` rows of bytes.
/// @param[out] out n rows of network->channels.
void cw_front_hear(CwFront *front, const CwNetwork *network, const unsigned char *heard, size_t n_heard, size_t from,
                   size_t n, float *out);

/// Release and set to empty.
void cw_front_free(CwFront *front);

#endif
