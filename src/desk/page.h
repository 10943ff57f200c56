// SPDX-License-Identifier: GPL-3.0-or-later
/// The files of the page, which the build puts into the library.
#ifndef CW_DESK_PAGE_H
#define CW_DESK_PAGE_H

typedef struct {
  const char *name; ///< NULL ends the table
  const char *type;
  const char *mark; ///< another one for other content
  const char *begin;
  const char *end;
} DeskPart;

extern const DeskPart desk_parts[];

#endif
