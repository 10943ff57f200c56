// SPDX-License-Identifier: GPL-3.0-or-later
/// The recording at a glance: its phrases and holds to scale along a strip.
#ifndef CW_PRINT_OVERVIEW_H
#define CW_PRINT_OVERVIEW_H

#include "print/press.h"
#include "print/words.h"

/// Most lines that the strip adds to the legend.
enum { CW_OVERVIEW_LEGEND = 2 };

/// Whether there is a strip: at least two phrases have times.
bool cw_overview_shows(const CwSheet *sheet);

/// What its marks mean; only what occurs. @return Number of lines.
size_t cw_overview_legend(const CwSheet *sheet, CwLegend legend[CW_OVERVIEW_LEGEND]);

/// Set the strip, if there is one.
void cw_overview_set(CwPress *press);

#endif
