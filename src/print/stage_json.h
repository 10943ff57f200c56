// SPDX-License-Identifier: GPL-3.0-or-later
/// Places and paths as JSON.
#ifndef CW_PRINT_STAGE_JSON_H
#define CW_PRINT_STAGE_JSON_H

#include <jansson.h>

#include "countwright/sheet.h"

/// What the steps and the remark of a phrase say of the stage, an array in the order of the counts, the remark first.
json_t *cw_stage_value(const CwSheetRow *row, bool *good);

#endif
