// SPDX-License-Identifier: GPL-3.0-or-later
/// Who is meant: names and words for dancers.
#ifndef CW_STAGE_PEOPLE_H
#define CW_STAGE_PEOPLE_H

#include "stage/tokens.h"

/// Read a name, or dancers by what they are, at token `i`: "Mira", "Ines and Tomas", "second ferryman", "boys".
/// @param names As in cw_stage_read(). @param[out] next Token after it. @return false when there is none.
bool cw_person_read(const CwTokens *tokens, size_t i, const char *const *names, size_t *next);

#endif
