// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/pdf_language.h"

#ifdef CW_HAS_QPDF
#include <qpdf/qpdf-c.h>

/// Read, say the language in the catalogue, and write in memory.
static QPDF_ERROR_CODE rewrite(qpdf_data qpdf, const char *pdf, size_t size, const char *language)
{
  qpdf_set_suppress_warnings(qpdf, QPDF_TRUE);
  QPDF_ERROR_CODE code = qpdf_read_memory(qpdf, "sheet", pdf, size, NULL);
  if (code & QPDF_ERRORS) {
    return code;
  }
  const qpdf_oh root = qpdf_get_root(qpdf);
  const qpdf_oh viewer = qpdf_oh_new_dictionary(qpdf);
  qpdf_oh_replace_key(qpdf, viewer, "/DisplayDocTitle", qpdf_oh_new_bool(qpdf, QPDF_TRUE));
  qpdf_oh_replace_key(qpdf, root, "/Lang", qpdf_oh_new_unicode_string(qpdf, language));
  qpdf_oh_replace_key(qpdf, root, "/ViewerPreferences", viewer);
  code = qpdf_init_write_memory(qpdf);
  if (code & QPDF_ERRORS) {
    return code;
  }
  qpdf_set_deterministic_ID(qpdf, QPDF_TRUE);
  return qpdf_write(qpdf);
}

CwStatus cw_pdf_put_language(const char *pdf, size_t size, const char *language, FILE *out)
{
  qpdf_data qpdf = qpdf_init();
  if (!qpdf) {
    return CW_ERR_NO_MEM;
  }
  CwStatus status = CW_ERR_NO_MEM; // cairo's file is sound, so nothing else can fail
  if (!(rewrite(qpdf, pdf, size, language) & QPDF_ERRORS)) {
    const size_t length = qpdf_get_buffer_length(qpdf);
    status = fwrite(qpdf_get_buffer(qpdf), 1, length, out) == length ? CW_OK : CW_ERR_WRITE;
  }
  qpdf_cleanup(&qpdf);
  return status;
}

#else

CwStatus cw_pdf_put_language(const char *pdf, size_t size, const char *language, FILE *out)
{
  (void)language;
  return fwrite(pdf, 1, size, out) == size ? CW_OK : CW_ERR_WRITE;
}

#endif
