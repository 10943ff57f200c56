// SPDX-License-Identifier: GPL-3.0-or-later
/// The outline of a recording to draw: its least and greatest sample in each short time, at several zooms.
#ifndef CW_DESK_PEAKS_H
#define CW_DESK_PEAKS_H

#include "countwright/desk.h"
#include "countwright/report.h"

/// Zoom 0 has so many pairs a second; each further one a quarter of the one before.
enum { DESK_PEAK_RATE_HZ = 150, DESK_PEAK_STEP = 4, DESK_ZOOMS = 6 };

/// Make and keep them, unless they are kept already. @param fd, path The open recording.
/// @return As cw_audio_stream(). Where they cannot be kept, there are none.
CW_NODISCARD CwStatus desk_peaks_make(CwDesk *desk, const char *recording, int fd, const char *path,
                                      const CwReport *report);

#endif
