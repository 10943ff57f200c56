// SPDX-License-Identifier: GPL-3.0-or-later
/// Numbers as text, whatever the locale says.
#ifndef CW_BASE_FORMAT_H
#define CW_BASE_FORMAT_H

#include <stddef.h>

/// Write `value` with `decimals` (0 to 9) digits after a full stop, rounded half away from zero; "nan" when not finite
/// or beyond 1e9. Cut to `size`.
/// @return `out`.
const char *cw_format_fixed(char *out, size_t size, double value, int decimals);

#endif
