// SPDX-License-Identifier: GPL-3.0-or-later
/// The learned ear: how likely a beat, a downbeat and a new phrase are at each frame, by the trained network.
///
///     CwEar *ear = NULL;
///     CwHeard heard = {0};
///     CwStatus status = cw_ear_new(features, report, &ear);
///     if (status == CW_OK) {
///       status = cw_ear_listen(ear, NULL, report, &heard);
///     }
///     ...
///     cw_heard_free(&heard);
///     cw_ear_free(ear);
#ifndef CW_EAR_EAR_H
#define CW_EAR_EAR_H

#include "countwright/ear.h"
#include "countwright/features.h"
#include "countwright/report.h"
#include "countwright/status.h"
#include "ear/network.h"

/// What CW_EAR_USUAL is.
#define CW_USUAL_EAR CW_EAR_LEARNED

/// What was heard: natural log-odds by frame at CW_FEATURE_RATE_HZ, as trained (not calibrated: the network was trained
/// with beats and downbeats weighted up). Release with cw_heard_free().
typedef struct {
  float *beat;
  float *downbeat; ///< not given a beat: of a downbeat against anything else
  float *phrase;   ///< of a downbeat with which a phrase begins; NULL where the network does not know them
  size_t n;        ///< frames, as many as the features have
} CwHeard;

/// What is known beforehand around a row. Zeros where nothing is.
typedef struct {
  float period_s;      ///< mean seconds from beat to beat
  unsigned char beats; ///< in a bar; from 2 to 6, others tell nothing
} CwEarHint;

/// A recording about to be listened to: the first half of the network, which no hint changes, is done. Memory grows by
/// 35 MB an hour.
typedef struct CwEar CwEar;

/// Prepare a recording for the network that is part of the library.
/// @param features With `heard`; must outlive the ear.
/// @param[out] ear NULL on error. Release with cw_ear_free().
/// @return CW_OK, CW_ERR_BAD_ARG (the features have no `heard`), CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_ear_new(const CwFeatures *features, const CwReport *report, CwEar **ear);

/// The same with a network of one's own, as a file in memory. @return Also CW_ERR_SYNTAX.
CW_NODISCARD CwStatus cw_ear_new_from(const unsigned char *network, size_t size, const CwFeatures *features,
                                      const CwReport *report, CwEar **ear);

/// Prepare a recording for the ear of choice.
/// @param[out] ear NULL on error, for the plain ear, and where the features have no `heard`.
/// @return As cw_ear_new().
CW_NODISCARD CwStatus cw_ear_open(CwEarChoice choice, const CwFeatures *features, const CwReport *report, CwEar **ear);

/// Rows of a hint: features->n_heard.
size_t cw_ear_rows(const CwEar *ear);

/// Whether the network heeds hints.
bool cw_ear_takes_hints(const CwEar *ear);

/// Listen. May be called again, with another hint.
/// @param hint cw_ear_rows() of them, CW_HEARD_RATE_HZ a second; NULL where nothing is known.
/// @param[out] heard Empty on error.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_ear_listen(CwEar *ear, const CwEarHint *hint, const CwReport *report, CwHeard *heard);

/// Listen once with the ear of choice, without a hint. Besides what is heard, memory does not grow with the recording.
/// @param[out] heard Empty on error, for the plain ear, and where the features have no `heard`.
/// @return CW_OK, CW_ERR_CANCELLED or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_ear_hear(CwEarChoice choice, const CwFeatures *features, const CwReport *report,
                                  CwHeard *heard);

/// Release. NULL is accepted.
void cw_ear_free(CwEar *ear);

/// Release and set to empty.
void cw_heard_free(CwHeard *heard);

#endif
