// SPDX-License-Identifier: GPL-3.0-or-later
#ifndef CW_PRINT_CAST_JSON_H
#define CW_PRINT_CAST_JSON_H

#include "countwright/cast.h"
#include "print/json.h"

/// Who is on stage when, as the schemas of sheet and cast have it.
json_t *cw_cast_value(const CwCast *cast, bool *good);

#endif
