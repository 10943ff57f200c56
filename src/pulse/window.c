// SPDX-License-Identifier: GPL-3.0-or-later
#include "pulse/window.h"

double cw_window_mean(CwWindow *window, const float *in, size_t n, size_t i, size_t reach, bool square)
{
  const size_t want_to = i + reach + 1 < n ? i + reach + 1 : n;
  const size_t want_from = i > reach ? i - reach : 0;
  for (; window->to < want_to; window->to++) {
    window->sum += (double)in[window->to] * (square ? (double)in[window->to] : 1.0);
  }
  for (; window->from < want_from; window->from++) {
    window->sum -= (double)in[window->from] * (square ? (double)in[window->from] : 1.0);
  }
  return window->sum / (double)(window->to - window->from);
}
