// SPDX-License-Identifier: GPL-3.0-or-later
/// Features as bytes, exactly.
#ifndef CW_DSP_PACK_H
#define CW_DSP_PACK_H

#include <stddef.h>

#include "countwright/features.h"

/// @param[out] data Release with free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_features_pack(const CwFeatures *features, void **data, size_t *size);

/// @param[out] features Release with cw_features_free(); empty on error.
/// @return CW_OK, CW_ERR_BAD_ARG (these bytes are none) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_features_unpack(void *data, size_t size, CwFeatures *features);

#endif
