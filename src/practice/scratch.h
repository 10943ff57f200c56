// SPDX-License-Identifier: GPL-3.0-or-later
/// Sound kept in a nameless file meanwhile, so that memory does not grow with its length.
#ifndef CW_PRACTICE_SCRATCH_H
#define CW_PRACTICE_SCRATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "countwright/status.h"

/// One channel of samples. Zeroed when there is none.
typedef struct {
  FILE *file;
  long long n;  ///< samples in it
  long long at; ///< where reading goes on; negative after writing
} CwScratch;

/// Begin one, in the folder of `beside`. @return CW_OK, CW_ERR_WRITE, CW_ERR_NO_ACCESS or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_scratch_open(const char *beside, CwScratch *scratch);

/// Append. @return CW_OK or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_scratch_add(CwScratch *scratch, const float *sample, size_t n);

/// Read from sample `from` on; silence before the first and after the last. @return CW_OK or CW_ERR_READ.
CW_NODISCARD CwStatus cw_scratch_read(CwScratch *scratch, long long from, float *out, size_t n);

/// Release. Safe on a zeroed one.
void cw_scratch_close(CwScratch *scratch);

#endif
