// SPDX-License-Identifier: GPL-3.0-or-later
/// A reader on a chosen table of back ends, so that a test can bring its own.
#ifndef CW_AUDIO_READER_H
#define CW_AUDIO_READER_H

#include <stddef.h>

#include "audio/back_end.h"

/// As cw_reader_open(), for a file already open, trying the `n` back ends of `table` in order.
CW_NODISCARD CwStatus cw_reader_open_by(const CwBackEnd *const *table, size_t n, int descriptor, const char *path,
                                        unsigned rate_hz, const CwReport *report, CwReader **reader);

#endif
