// SPDX-License-Identifier: GPL-3.0-or-later
/// What the notes changed, as JSON.
#ifndef CW_PRINT_EVIDENCE_JSON_H
#define CW_PRINT_EVIDENCE_JSON_H

#include "countwright/evidence.h"
#include "print/json.h"

/// An object; null where nothing is known.
json_t *cw_evidence_value(const CwEvidence *evidence, bool *good);

#endif
