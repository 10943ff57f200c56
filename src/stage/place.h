// SPDX-License-Identifier: GPL-3.0-or-later
/// The name of a place in a text.
#ifndef CW_STAGE_PLACE_H
#define CW_STAGE_PLACE_H

#include "countwright/stage.h"
#include "stage/tokens.h"

/// Where the areas, marks and wings are; see WORDS.md.
#define CW_SIDE_AREA_X (2.0 / 3)
#define CW_CENTRED_AREA_X (1.0 / 3) ///< "DLC", between centre and side
#define CW_QUARTER_X 0.5
#define CW_EIGHTH_X 0.25
#define CW_WING_X 1.1
#define CW_DOWN_Y (1.0 / 6)
#define CW_MIDDLE_Y 0.5
#define CW_UP_Y (5.0 / 6)
#define CW_WINGS_USUAL 4u

/// The depth of a wing where there are `wings` a side; those beyond share the last.
double cw_wing_y(unsigned wing, unsigned wings);

/// Read the place that begins with token `i`. @param[out] next Token after it. @return false when there is none.
bool cw_place_read(const CwTokens *tokens, size_t i, CwPlace *place, size_t *next);

#endif
