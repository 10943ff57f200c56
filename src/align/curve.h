// SPDX-License-Identifier: GPL-3.0-or-later
/// A smooth curve through weighted values at even steps.
///
/// Whittaker's smoother: it minimises the weighted squares of what is left plus `stiffness` times the squares of the
/// second differences (Whittaker 1923; Eilers 2003). Where nothing is weighted the curve runs on as straight as it can.
#ifndef CW_ALIGN_CURVE_H
#define CW_ALIGN_CURVE_H

#include <stddef.h>

#include "countwright/status.h"

/// Fit a curve.
/// @param value, weight `n` of each; weights are not negative.
/// @param stiffness How much a bend costs. @param outlier Values farther from the curve than about this lose their say
/// (weights are divided by 1 + (distance / outlier)^2, in a few rounds); infinite: never.
/// @param[out] curve `n` values. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_curve_fit(const double *value, const double *weight, size_t n, double stiffness,
                                   double outlier, double *curve);

#endif
