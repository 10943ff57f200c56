// SPDX-License-Identifier: GPL-3.0-or-later
/// What several roles dance at the same time, as rows below the phrase.
#ifndef CW_PRINT_PARTS_H
#define CW_PRINT_PARTS_H

#include "countwright/sheet.h"
#include "print/buffer.h"

/// A part as a row of its own with the phrase's counts, to be set as any other. Shares what it points to; do not free.
CwSheetRow cw_part_row(const CwSheetRow *row, const CwSheetPart *part);

/// What is told of a part: "+ [girls]", "2 counts after [boys]", "like 5, other side".
void cw_put_part_tags(CwLanguage language, const CwSheetPart *part, const char *separator, CwBuffer *out);

/// "in canon, 2 counts apart", and on a role's own sheet that only others dance. May add nothing.
void cw_put_together_tags(CwLanguage language, const CwSheetRow *row, const char *separator, CwBuffer *out);

#endif
