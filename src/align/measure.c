// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/measure.h"

#include <stdlib.h>
#include <string.h>

#include "align/features.h"
#include "align/pack.h"
#include "analysis_stamp.h"
#include "base/cache.h"
#include "countwright/audio.h"
#include "dsp/pack.h"
#include "dsp/stream.h"

/// What is measured at once; each may be NULL.
typedef struct {
  CwFeatureStream *features;
  CwAlignStream *align;
} Both;

/// The kinds of a cache: other code measures otherwise.
static const char features_kind[] = "counts-" CW_ANALYSIS_STAMP;
static const char align_kind[] = "align-" CW_ANALYSIS_STAMP;

static CwStatus push(void *user, const float *samples, size_t n)
{
  Both *both = user;
  CwStatus status = both->features ? cw_feature_stream_push(both->features, samples, n) : CW_OK;
  return !status && both->align ? cw_align_stream_push(both->align, samples, n) : status;
}

/// Read the recording once, for what is not NULL.
static CwStatus measure(const char *path, const CwReport *report, CwFeatures *features, CwAlignFeatures **align)
{
  Both both = {NULL, NULL};
  CwStatus status = features ? cw_feature_stream_new(features, &both.features) : CW_OK;
  if (!status && align) {
    status = cw_align_stream_new(&both.align);
  }
  if (!status) {
    status = cw_audio_stream(path, CW_ANALYSIS_RATE_HZ, report, push, &both, NULL);
  }
  if (!status && align) {
    status = cw_align_stream_finish(both.align, align);
  }
  if (both.features) {
    const CwStatus end = cw_feature_stream_finish(both.features, status);
    status = status ? status : end;
  }
  cw_align_stream_free(both.align);
  return status;
}

/// Take what is kept. @return Whether it was.
static bool load_features(const CwCache *cache, const char *key, CwFeatures *features)
{
  void *data = NULL;
  size_t size = 0;
  const bool found =
      cw_cache_load(cache, key, features_kind, &data, &size) && cw_features_unpack(data, size, features) == CW_OK;
  free(data);
  return found;
}

static bool load_align(const CwCache *cache, const char *key, CwAlignFeatures **align)
{
  void *data = NULL;
  size_t size = 0;
  const bool found =
      cw_cache_load(cache, key, align_kind, &data, &size) && cw_align_features_unpack(data, size, align) == CW_OK;
  free(data);
  return found;
}

static void store(const CwCache *cache, const char *key, const CwFeatures *features, const CwAlignFeatures *align)
{
  void *data = NULL;
  size_t size = 0;
  if (features && cw_features_pack(features, &data, &size) == CW_OK) {
    cw_cache_store(cache, key, features_kind, data, size);
    free(data);
  }
  if (align && cw_align_features_pack(align, &data, &size) == CW_OK) {
    cw_cache_store(cache, key, align_kind, data, size);
    free(data);
  }
}

CwStatus cw_measure(const char *path, const CwCache *cache, const CwReport *report, CwFeatures *features,
                    CwAlignFeatures **align)
{
  char key[CW_CONTENT_KEY];
  const bool cached = cache && cw_content_key(path, key);
  if (features) {
    memset(features, 0, sizeof *features);
  }
  if (align) {
    *align = NULL;
  }
  CwFeatures *wanted = features && !(cached && load_features(cache, key, features)) ? features : NULL;
  CwAlignFeatures **also = align && !(cached && load_align(cache, key, align)) ? align : NULL;
  const CwStatus status = wanted || also ? measure(path, report, wanted, also) : CW_OK;
  if (!status && cached) {
    store(cache, key, wanted, also ? *also : NULL);
  }
  if (status && features) {
    cw_features_free(features);
  }
  if (status && align) {
    cw_align_features_free(*align);
    *align = NULL;
  }
  return status;
}
