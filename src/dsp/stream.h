// SPDX-License-Identifier: GPL-3.0-or-later
/// Features measured while a recording is read for something else too.
#ifndef CW_DSP_STREAM_H
#define CW_DSP_STREAM_H

#include <stddef.h>

#include "countwright/features.h"

/// A recording being measured. Opaque.
typedef struct CwFeatureStream CwFeatureStream;

/// Begin. @param features To be filled; must outlive the stream. @param[out] stream End with
/// cw_feature_stream_finish(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_feature_stream_new(CwFeatures *features, CwFeatureStream **stream);

/// Take the next samples at CW_ANALYSIS_RATE_HZ. Its type is CwBlockSink's. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_feature_stream_push(void *stream, const float *samples, size_t n);

/// Come to the end and release the stream.
/// @param status What the reading came to: on error the features are emptied. @return That, or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_feature_stream_finish(CwFeatureStream *stream, CwStatus status);

#endif
