// SPDX-License-Identifier: GPL-3.0-or-later
/// The head of a sheet on paper, its overview and its legend.
#ifndef CW_PRINT_HEAD_PDF_H
#define CW_PRINT_HEAD_PDF_H

#include "print/press.h"

/// Title, facts, what does not add up, overview.
void cw_head_set(CwPress *press);

/// The legend, kept together.
void cw_legend_set(CwPress *press);

#endif
