// SPDX-License-Identifier: GPL-3.0-or-later
/// Content that is too long for memory, in a file of the desk's own folder.
#ifndef CW_DESK_UPLOAD_H
#define CW_DESK_UPLOAD_H

#include <stdbool.h>
#include <stddef.h>

#include "desk/place.h"

typedef struct {
  int fd;   ///< -1: none
  int part; ///< the folder that it lies in
  char name[32];
} DeskUpload;

/// Begin a file. @return false when there can be none.
bool desk_upload_begin(const DeskPlace *place, DeskUpload *upload);

/// Write on. @return false when there is no room.
bool desk_upload_take(const DeskUpload *upload, const char *data, size_t n);

/// Remove it; what was made of it has another name by now. Safe on one with `fd` -1.
void desk_upload_end(DeskUpload *upload);

#endif
