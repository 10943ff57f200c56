// SPDX-License-Identifier: GPL-3.0-or-later
/// @file version.h
/// Which release this is, and which programs it can be put under.
///
/// The library is numbered as MAJOR.MINOR.PATCH in the sense of Semantic Versioning 2.0.0. Its binary interface is what
/// these headers declare: functions marked CW_API, the layout of structures, values of enumerations. It stays the same
/// within one CW_ABI, which is the number in the library's file name (libcountwright.so.CW_ABI) and of the node that every
/// symbol is bound to (COUNTWRIGHT_CW_ABI). Within one CW_ABI functions and the last values of enumerations may be added;
/// anything else that changes raises it. No other symbol leaves the library.
#ifndef COUNTWRIGHT_VERSION_H
#define COUNTWRIGHT_VERSION_H

#include "countwright/api.h"

CW_BEGIN

// the build reads these lines
#define CW_VERSION_MAJOR 0
#define CW_VERSION_MINOR 1
#define CW_VERSION_PATCH 0
#define CW_ABI 0

/// The library that is running, such as "0.1.0"; with the headers' numbers it tells whether they are of one release.
CW_API const char *cw_version(void);

CW_END

#endif
