// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/time_text.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

void cw_format_time(double seconds, char out[24])
{
  if (!(fabs(seconds) < 1e9)) {
    snprintf(out, 24, "-");
    return;
  }
  char long_enough[64] = ""; // the compiler cannot see how small the parts are
  const long long tenths = llround(fabs(seconds) * 10.0);
  const char *sign = seconds < 0 && tenths ? "-" : "";
  const long long minutes = tenths / 600;
  if (minutes < 60) {
    snprintf(long_enough, sizeof long_enough, "%s%lld:%02lld.%lld", sign, minutes, tenths / 10 % 60, tenths % 10);
  } else {
    snprintf(long_enough, sizeof long_enough, "%s%lld:%02lld:%02lld.%lld", sign, minutes / 60, minutes % 60,
             tenths / 10 % 60, tenths % 10);
  }
  memcpy(out, long_enough, 24);
  out[23] = '\0';
}

static bool is_digit(char c)
{
  return c >= '0' && c <= '9';
}

/// Digits as a number; nine at most, so that nothing overflows.
static double read_digits(const char **at, int *n_digits)
{
  double value = 0;
  *n_digits = 0;
  while (is_digit(**at) && *n_digits < 9) {
    value = value * 10 + (**at - '0');
    ++*at;
    ++*n_digits;
  }
  return value;
}

double cw_parse_time(const char *text, const char **end)
{
  if (end) {
    *end = text;
  }
  const char *at = text;
  int digits = 0;
  double seconds = read_digits(&at, &digits);
  if (digits == 0) {
    return NAN;
  }
  for (int colons = 0; colons < 2 && at[0] == ':' && is_digit(at[1]); colons++) {
    const char *next = at + 1;
    const double part = read_digits(&next, &digits);
    if (digits > 2 || part >= 60) {
      return NAN;
    }
    seconds = seconds * 60 + part;
    at = next;
  }
  if ((at[0] == '.' || at[0] == ',') && is_digit(at[1])) {
    at++;
    double unit = 0.1;
    while (is_digit(*at)) {
      seconds += (*at++ - '0') * unit;
      unit /= 10;
    }
  }
  if (end) {
    *end = at;
  }
  return seconds;
}
