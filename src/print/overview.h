// SPDX-License-Identifier: GPL-3.0-or-later
/// The recording at a glance: its phrases and holds to scale along a strip.
#ifndef CW_PRINT_OVERVIEW_H
#define CW_PRINT_OVERVIEW_H

#include "print/press.h"

/// Set the strip; nothing when fewer than two phrases have times.
void cw_overview_set(CwPress *press);

#endif
