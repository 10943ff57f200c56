// SPDX-License-Identifier: GPL-3.0-or-later
/// @file align.h
/// Two recordings of the same music: which second of one is which second of the other.
///
/// Multi-scale dynamic time warping on chroma and onsets (Müller, Mattes, Kurth 2006; Ewert, Müller, Grosche 2009;
/// Prätzlich, Driedger, Müller 2016), after a search for cuts and repeats. Memory grows linearly with length.
#ifndef COUNTWRIGHT_ALIGN_H
#define COUNTWRIGHT_ALIGN_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// One matching pair of times in seconds.
typedef struct {
  double a_s;
  double b_s;
} CwMapPoint;

/// A stretch over which both recordings run on without a jump; points ascend strictly in both times.
typedef struct {
  CwMapPoint *point;
  size_t n;
  double *sure; ///< for each point the probability that its time in b is right to 70 ms; NULL: not known
} CwMapSegment;

/// The time map from recording a to recording b. Segments are in the order of b; a jump lies between two of them: a part
/// of a that no segment holds is missing in b (a cut), a part of a held twice is repeated in b.
typedef struct {
  CwMapSegment *segment;
  size_t n_segments;
  double a_duration_s;
  double b_duration_s;
  double tuning_cents; ///< how much higher b is tuned than a
  /// How much later than a's, for the same note, b's attacks are heard on the whole (slow strings): estimated. The times
  /// in b are those at which its notes begin, so what is heard comes about this much later.
  double offset_s;
} CwTimeMap;

/// The time in b of a time in a; where b repeats that music, its first time.
/// @return Seconds, or NaN where b lacks that music.
CW_API double cw_time_map_at(const CwTimeMap *map, double a_s);

/// How sure the time in b is that cw_time_map_at() gives: the probability that it is right to 70 ms.
/// @return 0 to 1, or NaN where it is not known or b lacks that music.
CW_API double cw_time_map_sure(const CwTimeMap *map, double a_s);

/// What alignment needs of one recording. Opaque.
typedef struct CwAlignFeatures CwAlignFeatures;

/// Measure a recording for alignment.
/// @param[out] features Release with cw_align_features_free(); NULL on error.
/// @return What cw_audio_stream() returns, CW_ERR_TOO_SHORT (under 2 s) or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_align_features_read(const char *path, const CwReport *report,
                                                    CwAlignFeatures **features);

/// How long the recording is, in seconds.
CW_API double cw_align_features_duration(const CwAlignFeatures *features);

/// Release. NULL is accepted.
CW_API void cw_align_features_free(CwAlignFeatures *features);

/// Align b to a.
/// @param[out] map Release with cw_time_map_free(); empty on error.
/// @return CW_OK, CW_ERR_OTHER_MUSIC, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_align(const CwAlignFeatures *a, const CwAlignFeatures *b, const CwReport *report,
                                      CwTimeMap *map);

/// Release and set to empty. NULL is accepted.
CW_API void cw_time_map_free(CwTimeMap *map);

CW_END

#endif
