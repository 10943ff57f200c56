// SPDX-License-Identifier: GPL-3.0-or-later
/// What cairo cannot say in a PDF: which language it is in, and that its title is to be shown.
#ifndef CW_PRINT_PDF_LANGUAGE_H
#define CW_PRINT_PDF_LANGUAGE_H

#include <stddef.h>
#include <stdio.h>

#include "countwright/status.h"

/// Write a PDF with its language to `out`; without libqpdf, as it is. The same bytes give the same bytes.
/// @param language BCP 47. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_pdf_put_language(const char *pdf, size_t size, const char *language, FILE *out);

#endif
