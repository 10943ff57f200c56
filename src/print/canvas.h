// SPDX-License-Identifier: GPL-3.0-or-later
/// Drawing on paper or a picture: a surface that writes to a stream, and text in the faces of look.h in any script.
///
/// Lengths are in points, from the top left corner.
#ifndef CW_PRINT_CANVAS_H
#define CW_PRINT_CANVAS_H

#include <stdio.h>

#include <pango/pangocairo.h>

#include "countwright/status.h"
#include "print/look.h"

/// What is written.
typedef enum { CW_CANVAS_PDF, CW_CANVAS_SVG, CW_CANVAS_PNG } CwCanvasKind;

/// How large a drawing is.
typedef struct {
  double width, height; ///< points
  double scale;         ///< by which everything is drawn larger; lengths in the functions below are before it
  double pixels;        ///< of a PNG, to a point
} CwCanvasSize;

/// A drawing being made.
typedef struct {
  CwCanvasKind kind;
  CwCanvasSize size;
  FILE *out;
  cairo_surface_t *surface;
  cairo_t *cr;
  PangoLayout *layout; ///< used again for each text
  PangoFontDescription *font[CW_N_FACES];
  bool dry; ///< measure only; draw nothing
} CwCanvas;

/// How wide and high text is.
typedef struct {
  double width;
  double height;
} CwExtent;

/// Where text is to stand across its width.
typedef enum { CW_TO_LEFT, CW_TO_MIDDLE, CW_TO_RIGHT } CwSide;

/// Begin a drawing. The canvas must not be moved after that.
/// @param out May be NULL while nothing is drawn; of pictures, set the canvas's before the first page is written.
/// @param language BCP 47 tag that chooses between forms of Han characters and the like; NULL when unknown.
/// @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE. Call cw_canvas_end() in each case.
CW_NODISCARD CwStatus cw_canvas_begin(CwCanvas *canvas, CwCanvasKind kind, CwCanvasSize size, const char *language,
                                      FILE *out);

/// Draw everything larger or smaller from now on. Only before the first page is drawn on.
void cw_canvas_rescale(CwCanvas *canvas, double scale);

/// End a page and begin the next one; of pictures, in another stream.
/// @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_canvas_turn(CwCanvas *canvas, FILE *out);

/// Name the document (PDF only).
void cw_canvas_describe(CwCanvas *canvas, const char *title);

/// Write what is left and release. @return CW_OK, CW_ERR_NO_MEM or CW_ERR_WRITE.
CW_NODISCARD CwStatus cw_canvas_end(CwCanvas *canvas);

/// Prepare the canvas's layout with text broken between words to `width` (not at all when negative). A word that is
/// wider stays whole. @return Its size; wider than `width` when it does not fit.
CwExtent cw_canvas_set(CwCanvas *canvas, CwFace face, const char *text, double width);

/// Prepare a layout of its own, in which a word that is too wide is broken. Release with g_object_unref().
PangoLayout *cw_canvas_layout(CwCanvas *canvas, CwFace face, const char *text, double width);

/// Draw what cw_canvas_set() prepared, its top left corner at x, y.
void cw_canvas_show(CwCanvas *canvas, CwFace face, double x, double y);

/// One line of text in at most `width`, its end left out ("…") when it is longer, at a side of x .. x + width.
/// @return Its height.
double cw_canvas_label(CwCanvas *canvas, CwFace face, CwSide side, const char *text, double x, double y, double width);

/// Width of a line of text.
double cw_canvas_width(CwCanvas *canvas, CwFace face, const char *text);

/// Height of one line in a face.
double cw_canvas_line_height(CwCanvas *canvas, CwFace face);

/// Take the colour of a face.
void cw_canvas_ink(CwCanvas *canvas, CwFace face);

/// Fill a box with a grey (0 black, 1 white).
void cw_canvas_fill(CwCanvas *canvas, double x, double y, double width, double height, double grey);

/// A straight line.
void cw_canvas_line(CwCanvas *canvas, double x0, double y0, double x1, double y1, double width, double grey);

#endif
