// SPDX-License-Identifier: GPL-3.0-or-later
/// @file api.h
/// Marks used on every public prototype.
#ifndef COUNTWRIGHT_API_H
#define COUNTWRIGHT_API_H

#if defined(__GNUC__)
#define CW_API __attribute__((visibility("default")))
#define CW_NODISCARD __attribute__((warn_unused_result))
#define CW_PRINTF(string, first) __attribute__((format(printf, string, first)))
#else
#define CW_API
#define CW_NODISCARD
#define CW_PRINTF(string, first)
#endif

#ifdef __cplusplus
#define CW_BEGIN extern "C" {
#define CW_END }
#else
#define CW_BEGIN
#define CW_END
#endif

#endif
