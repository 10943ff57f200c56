// SPDX-License-Identifier: GPL-3.0-or-later
/// Places and paths as JSON.
#ifndef CW_PRINT_STAGE_JSON_H
#define CW_PRINT_STAGE_JSON_H

#include <jansson.h>

#include "countwright/sheet.h"

/// What the remark and the steps of a phrase, and then those of its parts, say of the stage: an array.
json_t *cw_stage_value(const CwSheetRow *row, bool *good);

#endif
