// SPDX-License-Identifier: GPL-3.0-or-later
/// JSON members with what is unknown as null, numbers rounded to what is known, and text made valid. `good` turns false
/// when memory runs out and stays so.
#ifndef CW_PRINT_JSON_H
#define CW_PRINT_JSON_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "countwright/report.h"
#include "countwright/status.h"
#include "print/digits.h" // IWYU pragma: export

/// An object with members `format` (such as "countwright-sheet") and `version`.
json_t *cw_json_begin(const char *format, bool *good);

/// Add any value, which the object then owns; NULL is a failure.
void cw_json_put(json_t *object, const char *key, json_t *value, bool *good);

/// Text; null when NULL.
void cw_json_text(json_t *object, const char *key, const char *text, bool *good);

/// A number rounded to `digits` after the point; null when not finite.
void cw_json_number(json_t *object, const char *key, double value, int digits, bool *good);

/// A rounded number as a value.
json_t *cw_json_rounded(double value, int digits);

/// A whole number.
void cw_json_whole(json_t *object, const char *key, size_t value, bool *good);

/// A whole number of which 0 means unknown or none; then null.
void cw_json_whole_or_null(json_t *object, const char *key, unsigned value, bool *good);

/// true or false.
void cw_json_flag(json_t *object, const char *key, bool value, bool *good);

/// An array of texts; empty when NULL.
void cw_json_messages(json_t *object, const char *key, const CwMessages *messages, bool *good);

/// Write and release. @return CW_OK, CW_ERR_NO_MEM (also when not `good`) or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_json_end(json_t *root, bool good, FILE *out);

#endif
