// SPDX-License-Identifier: GPL-3.0-or-later
/// The line-up, keeping what was worked out on the way.
#ifndef CW_LINEUP_KEPT_H
#define CW_LINEUP_KEPT_H

#include "countwright/lineup.h"
#include "lineup/sound.h"
#include "pulse/look.h"

/// What a later search needs again.
typedef struct {
  CwLook look;   ///< release with cw_look_free()
  CwSound sound; ///< release with cw_sound_free()
} CwKept;

/// As cw_lineup(). @param[out] kept Empty on error.
CW_NODISCARD CwStatus cw_lineup_kept(const CwFeatures *features, const CwNotebook *notebook,
                                     const CwLineupOptions *options, const CwReport *report, CwCountLine *line,
                                     CwMessages *messages, CwKept *kept);

#endif
