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

/// How a line is told from another without colour.
typedef struct {
  double width;
  double grey;
  bool dashed;
  bool open_marks; ///< open circles; else filled squares
} CwPen;

/// Place of a phrase's beginning (or of any fraction of it).
double cw_panel_x(const CwPanel *panel, double phrase);

/// Place of a value.
double cw_panel_y(const CwPanel *panel, double value);

/// Box, round numbers at the left, a hairline for each, and what they are above.
void cw_panel_frame(const CwPanel *panel, const char *title);

/// A line that keeps each phrase's value from its beginning to its end; where a value is no number it is broken.
void cw_panel_steps(const CwPanel *panel, const double *value, const CwPen *pen);

/// A line from value to value, each at its phrase's beginning; where one is no number it is broken.
void cw_panel_points(const CwPanel *panel, const double *value, const CwPen *pen);

/// A mark of that pen.
void cw_panel_mark(CwCanvas *canvas, double x, double y, const CwPen *pen);

/// Set line width, grey and dashes.
void cw_panel_take(CwCanvas *canvas, const CwPen *pen);

#endif
