// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/json.h"

#include <math.h>
#include <stdlib.h>

#include "print/clean.h"

/// The version of all our JSON forms.
enum { VERSION = 1 };

/// Enough digits for milliseconds in a recording of days, and none that show the binary fraction.
enum { SIGNIFICANT_DIGITS = 12 };

void cw_json_put(json_t *object, const char *key, json_t *value, bool *good)
{
  if (json_object_set_new(object, key, value) != 0) {
    *good = false;
  }
}

json_t *cw_json_begin(const char *format, bool *good)
{
  json_t *root = json_object();
  cw_json_text(root, "format", format, good);
  cw_json_whole(root, "version", VERSION, good);
  return root;
}

static json_t *text_value(const char *text)
{
  char *valid = cw_clean_utf8(text);
  json_t *value = valid ? json_string(valid) : NULL;
  free(valid);
  return value;
}

void cw_json_text(json_t *object, const char *key, const char *text, bool *good)
{
  cw_json_put(object, key, text ? text_value(text) : json_null(), good);
}

json_t *cw_json_rounded(double value, int digits)
{
  if (!(fabs(value) < 1e9)) {
    return json_null();
  }
  const double unit = pow(10, digits);
  const double rounded = round(value * unit) / unit;
  return json_real(rounded == 0 ? 0.0 : rounded); // no -0.0
}

void cw_json_number(json_t *object, const char *key, double value, int digits, bool *good)
{
  cw_json_put(object, key, cw_json_rounded(value, digits), good);
}

void cw_json_whole(json_t *object, const char *key, size_t value, bool *good)
{
  cw_json_put(object, key, json_integer((json_int_t)value), good);
}

void cw_json_whole_or_null(json_t *object, const char *key, unsigned value, bool *good)
{
  cw_json_put(object, key, value ? json_integer(value) : json_null(), good);
}

void cw_json_flag(json_t *object, const char *key, bool value, bool *good)
{
  cw_json_put(object, key, json_boolean(value), good);
}

void cw_json_messages(json_t *object, const char *key, const CwMessages *messages, bool *good)
{
  json_t *list = json_array();
  for (size_t i = 0; messages && i < messages->n; i++) {
    if (json_array_append_new(list, text_value(messages->text[i])) != 0) {
      *good = false;
    }
  }
  cw_json_put(object, key, list, good);
}

CwStatus cw_json_end(json_t *root, bool good, FILE *out)
{
  CwStatus status = root && good ? CW_OK : CW_ERR_NO_MEM;
  if (status == CW_OK) {
    const bool dumped = json_dumpf(root, out, JSON_INDENT(2) | JSON_REAL_PRECISION(SIGNIFICANT_DIGITS)) == 0;
    const bool written = fputc('\n', out) != EOF && fflush(out) == 0 && !ferror(out);
    status = !written ? CW_ERR_WRITE : dumped ? CW_OK : CW_ERR_NO_MEM;
  }
  json_decref(root);
  return status;
}
