// SPDX-License-Identifier: GPL-3.0-or-later
/// Files of the folder written so that at any moment the old one or the new one is there, whole.
#ifndef CW_DESK_SAVE_H
#define CW_DESK_SAVE_H

#include <stddef.h>

#include "countwright/status.h"

/// Write a file. What the disk says is believed only after it was asked to keep it.
/// @param before Folder in which the version before is kept under the same name; -1: it is not kept.
/// @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_ACCESS; on error the file is as it was, and errno says why.
CW_NODISCARD CwStatus desk_save(int folder, const char *name, const char *text, size_t size, int before);

#endif
