// SPDX-License-Identifier: GPL-3.0-or-later
#include "align/features.h"
#include "countwright/audio.h"

CwStatus cw_align_features_read(const char *path, const CwReport *report, CwAlignFeatures **features)
{
  CwAlignStream *stream = NULL;
  *features = NULL;
  CwStatus status = cw_align_stream_new(&stream);
  if (!status) {
    status = cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, report, cw_align_stream_push, stream, NULL);
  }
  if (!status) {
    status = cw_align_stream_finish(stream, features);
  }
  cw_align_stream_free(stream);
  return status;
}
