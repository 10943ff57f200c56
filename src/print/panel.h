// SPDX-License-Identifier: GPL-3.0-or-later
/// A panel of a chart: a box with two axes, in which lines are drawn.
#ifndef CW_PRINT_PANEL_H
#define CW_PRINT_PANEL_H

#include <stdbool.h>
#include <stddef.h>

#include "print/axis.h"
#include "print/canvas.h"

/// A box on the canvas; left to right are phrases, phrase i (from 0) from i to i + 1.
typedef struct {
  CwCanvas *canvas;
  double left, right, top, bottom;
  size_t n;    ///< phrases
  CwAxis axis; ///< of the values
} CwPanel;

/// Dashes of a line, and marks on it.
typedef enum { CW_DASH_NONE, CW_DASH_LONG, CW_DASH_SHORT, CW_DASH_DOT, CW_DASH_MIXED } CwDash;
typedef enum {
  CW_MARK_SQUARE,
  CW_MARK_RING,
  CW_MARK_TRIANGLE,
  CW_MARK_DIAMOND,
  CW_MARK_CROSS,
  CW_MARK_DISC
} CwMarkShape;

/// How a line is told from another without colour.
typedef struct {
  double width;
  double grey;
  CwDash dash;
  CwMarkShape mark;
} CwPen;

/// Place of a phrase's beginning (or of any fraction of it).
double cw_panel_x(const CwPanel *panel, double phrase);

/// Place of a value.
double cw_panel_y(const CwPanel *panel, double value);

/// Box, round numbers at the left, a hairline for each, and what they are above.
void cw_panel_frame(const CwPanel *panel, const char *title);

/// A line that keeps each phrase's value from its beginning to its end; where a value is no number it is broken.
void cw_panel_steps(const CwPanel *panel, const double *value, const CwPen *pen);

/// A line from value to value, each at that part of its phrase (0: its beginning); where one is no number it is broken.
void cw_panel_points(const CwPanel *panel, const double *value, double part, const CwPen *pen);

/// Fill between two values, kept from each phrase's beginning to its end, where both are numbers.
void cw_panel_band(const CwPanel *panel, const double *low, const double *high);

/// A mark of that pen.
void cw_panel_mark(CwCanvas *canvas, double x, double y, const CwPen *pen);

/// Set line width, grey and dashes.
void cw_panel_take(CwCanvas *canvas, const CwPen *pen);

#endif
