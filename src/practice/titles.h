// SPDX-License-Identifier: GPL-3.0-or-later
/// What passages are called, said and written.
#ifndef CW_PRACTICE_TITLES_H
#define CW_PRACTICE_TITLES_H

#include "practice/take.h"

// Every text is cut to `size`.

/// What is said before a take: "80 %. phrases 1 to 4. Out on the water"; empty when nothing is asked for.
void cw_take_announcement(const CwTakes *takes, const CwTake *take, char *out, size_t size);

/// The chapter that begins with a row: "80 %: Out on the water", or with its phrases where it has no section.
void cw_take_title(const CwTakes *takes, const CwTake *take, size_t row, char *out, size_t size);

/// A section's name, and "phrase 5". @param section NULL: not. @param number 0: not.
void cw_title_of_row(CwLanguage language, const char *section, unsigned number, char *out, size_t size);

/// The words of a step as they can be said: signs of paths become pauses. @return false when nothing is left.
bool cw_title_of_step(const char *step, char *out, size_t size);

#endif
