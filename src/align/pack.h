// SPDX-License-Identifier: GPL-3.0-or-later
/// What alignment keeps of a recording as bytes, exactly.
#ifndef CW_ALIGN_PACK_H
#define CW_ALIGN_PACK_H

#include <stddef.h>

#include "countwright/align.h"

/// @param[out] data Release with free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_features_pack(const CwAlignFeatures *features, void **data, size_t *size);

/// @param[out] features Release with cw_align_features_free(); NULL on error.
/// @return CW_OK, CW_ERR_BAD_ARG (these bytes are none) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_align_features_unpack(void *data, size_t size, CwAlignFeatures **features);

#endif
