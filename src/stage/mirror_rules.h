// SPDX-License-Identifier: GPL-3.0-or-later
/// Whether a word says a side, by the words around it.
#ifndef CW_STAGE_MIRROR_RULES_H
#define CW_STAGE_MIRROR_RULES_H

#include "stage/tokens.h"

/// What to do with a word.
typedef enum {
  CW_MIRROR_KEEP, ///< it says no side
  CW_MIRROR_SWAP, ///< it says one
  CW_MIRROR_DOUBT ///< it may
} CwVerdict;

/// Judge "left" or "right".
CwVerdict cw_judge_side(const CwTokens *tokens, size_t i);

/// Judge a lone "L" or "R", or "Lt", "Rt" and the like.
CwVerdict cw_judge_letter(const CwTokens *tokens, size_t i);

/// Judge "gauche", "droite" or "droit".
CwVerdict cw_judge_french(const CwTokens *tokens, size_t i);

/// Judge "cour" or "jardin".
CwVerdict cw_judge_cour(const CwTokens *tokens, size_t i);

/// French: whether what token `i` is said of is masculine: "droit", not "droite".
bool cw_is_masculine(const CwTokens *tokens, size_t i);

#endif
