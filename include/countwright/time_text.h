// SPDX-License-Identifier: GPL-3.0-or-later
/// @file time_text.h
/// Times as dancers read and write them, whatever the locale says.
#ifndef COUNTWRIGHT_TIME_TEXT_H
#define COUNTWRIGHT_TIME_TEXT_H

#include "countwright/api.h"

CW_BEGIN

/// Write seconds as "m:ss.t" (tenths, rounded), or "h:mm:ss.t" from an hour up; "-" when not finite.
/// @param[out] out Room for 24 bytes, NUL included.
CW_API void cw_format_time(double seconds, char out[24]);

/// Read a time: "1:02.35", "62.35", "62", "1:02,35" (a comma for the point), "1:01:02.5" (hours). After a colon there
/// are one or two digits below 60.
/// @param[out] end First character after the time; `text` itself when there is none. May be NULL.
/// @return Seconds, or NaN when `text` does not begin with a time.
CW_API double cw_parse_time(const char *text, const char **end);

CW_END

#endif
