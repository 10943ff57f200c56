// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/canvas.h"

#include <math.h>
#include <string.h>

#include <cairo-pdf.h>
#include <cairo-svg.h>

/// Points to an inch: makes a font size a length on the canvas.
static const double resolution = 72;

static cairo_status_t write_out(void *closure, const unsigned char *data, unsigned length)
{
  CwCanvas *canvas = closure;
  return canvas->out && fwrite(data, 1, length, canvas->out) == length ? CAIRO_STATUS_SUCCESS
                                                                       : CAIRO_STATUS_WRITE_ERROR;
}

static cairo_surface_t *make_surface(CwCanvas *canvas)
{
  const CwCanvasSize *size = &canvas->size;
  switch (canvas->kind) {
  case CW_CANVAS_PDF:
    return cairo_pdf_surface_create_for_stream(write_out, canvas, size->width, size->height);
  case CW_CANVAS_SVG:
    return cairo_svg_surface_create_for_stream(write_out, canvas, size->width, size->height);
  case CW_CANVAS_PNG:
    break;
  }
  cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(size->width * size->pixels),
                                                      (int)(size->height * size->pixels));
  cairo_surface_set_device_scale(image, size->pixels, size->pixels);
  return image;
}

/// Begin a page: a picture has its own surface and white paper, so that it is no darker where it is shown.
static void begin_page(CwCanvas *canvas)
{
  if (!canvas->surface) {
    canvas->surface = make_surface(canvas);
    canvas->cr = cairo_create(canvas->surface);
  }
  if (canvas->kind != CW_CANVAS_PDF) {
    cairo_set_source_rgb(canvas->cr, 1, 1, 1);
    cairo_paint(canvas->cr);
  }
  cairo_identity_matrix(canvas->cr);
  cairo_scale(canvas->cr, canvas->size.scale, canvas->size.scale);
}

static void make_fonts(CwCanvas *canvas)
{
  for (size_t i = 0; i < CW_N_FACES; i++) {
    const CwFaceLook *look = &cw_face_look[i];
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, CW_FONTS);
    pango_font_description_set_size(font, (int)(look->size * PANGO_SCALE));
    pango_font_description_set_weight(font, look->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(font, look->italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
    canvas->font[i] = font;
  }
}

/// Measure as on paper: no rounding to pixels, and nothing taken from the environment's language.
static void set_up_text(CwCanvas *canvas, const char *language)
{
  PangoContext *context = pango_cairo_create_context(canvas->cr);
  cairo_font_options_t *options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options);
  pango_cairo_context_set_resolution(context, resolution);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_context_set_language(context, pango_language_from_string(language ? language : "en"));
  cairo_font_options_destroy(options);
  canvas->layout = pango_layout_new(context);
  g_object_unref(context);
}

static CwStatus from_cairo(cairo_status_t status)
{
  switch (status) {
  case CAIRO_STATUS_SUCCESS:
    return CW_OK;
  case CAIRO_STATUS_WRITE_ERROR:
    return CW_ERR_WRITE;
  default:
    return CW_ERR_NO_MEM;
  }
}

CwStatus cw_canvas_begin(CwCanvas *canvas, CwCanvasKind kind, CwCanvasSize size, const char *language, FILE *out)
{
  *canvas = (CwCanvas){.kind = kind, .size = size, .out = out};
  begin_page(canvas);
  make_fonts(canvas);
  set_up_text(canvas, language);
  return from_cairo(cairo_status(canvas->cr));
}

void cw_canvas_rescale(CwCanvas *canvas, double scale)
{
  canvas->size.scale = scale;
  cairo_identity_matrix(canvas->cr);
  cairo_scale(canvas->cr, scale, scale);
}

/// Write what is on the surface and release it.
static CwStatus finish_surface(CwCanvas *canvas)
{
  cairo_status_t status = cairo_status(canvas->cr);
  cairo_destroy(canvas->cr);
  if (status == CAIRO_STATUS_SUCCESS && canvas->kind == CW_CANVAS_PNG) {
    status = cairo_surface_write_to_png_stream(canvas->surface, write_out, canvas);
  }
  cairo_surface_finish(canvas->surface);
  status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(canvas->surface) : status;
  cairo_surface_destroy(canvas->surface);
  canvas->surface = NULL;
  const CwStatus result = from_cairo(status);
  return result == CW_OK && canvas->out && (fflush(canvas->out) != 0 || ferror(canvas->out)) ? CW_ERR_WRITE : result;
}

CwStatus cw_canvas_turn(CwCanvas *canvas, FILE *out)
{
  if (canvas->kind == CW_CANVAS_PDF) {
    cairo_show_page(canvas->cr);
    return from_cairo(cairo_status(canvas->cr));
  }
  const CwStatus status = finish_surface(canvas);
  canvas->out = out;
  begin_page(canvas);
  return status;
}

void cw_canvas_describe(CwCanvas *canvas, const char *title)
{
  if (canvas->kind == CW_CANVAS_PDF) {
    cairo_pdf_surface_set_metadata(canvas->surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(canvas->surface, CAIRO_PDF_METADATA_CREATOR, "countwright " CW_VERSION);
    // the same sheet gives the same file: no date
    cairo_pdf_surface_set_metadata(canvas->surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  }
}

CwStatus cw_canvas_end(CwCanvas *canvas)
{
  const CwStatus status = finish_surface(canvas);
  g_object_unref(canvas->layout);
  for (size_t i = 0; i < CW_N_FACES; i++) {
    pango_font_description_free(canvas->font[i]);
  }
  memset(canvas, 0, sizeof *canvas);
  return status;
}

/// Text that runs from right to left still begins under its count.
static void set_text(PangoLayout *layout, const char *text)
{
  pango_layout_set_text(layout, text, -1);
  const PangoDirection direction = pango_layout_get_direction(layout, 0);
  pango_layout_set_alignment(layout, direction == PANGO_DIRECTION_RTL ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
}

static int to_pango(double length)
{
  return length < 0 ? -1 : (int)(length * PANGO_SCALE);
}

static CwExtent extent_of(PangoLayout *layout)
{
  PangoRectangle logical;
  pango_layout_get_extents(layout, NULL, &logical);
  return (CwExtent){(double)logical.width / PANGO_SCALE, (double)logical.height / PANGO_SCALE};
}

CwExtent cw_canvas_set(CwCanvas *canvas, CwFace face, const char *text, double width)
{
  pango_layout_set_font_description(canvas->layout, canvas->font[face]);
  pango_layout_set_wrap(canvas->layout, PANGO_WRAP_WORD);
  pango_layout_set_width(canvas->layout, to_pango(width));
  set_text(canvas->layout, text);
  return extent_of(canvas->layout);
}

PangoLayout *cw_canvas_layout(CwCanvas *canvas, CwFace face, const char *text, double width)
{
  PangoLayout *layout = pango_layout_new(pango_layout_get_context(canvas->layout));
  pango_layout_set_font_description(layout, canvas->font[face]);
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_width(layout, to_pango(width));
  set_text(layout, text);
  return layout;
}

void cw_canvas_ink(CwCanvas *canvas, CwFace face)
{
  const double grey = cw_face_look[face].grey;
  cairo_set_source_rgb(canvas->cr, grey, grey, grey);
}

void cw_canvas_show(CwCanvas *canvas, CwFace face, double x, double y)
{
  if (!canvas->dry) {
    cw_canvas_ink(canvas, face);
    cairo_move_to(canvas->cr, x, y);
    pango_cairo_show_layout(canvas->cr, canvas->layout);
  }
}

/// Cut the text that is set to `width`. The part left out is really left out: pango's own ellipsis would keep it, unseen,
/// in the text of a PDF.
static void cut(CwCanvas *canvas, const char *text, double width)
{
  const bool leftward = pango_layout_get_direction(canvas->layout, 0) == PANGO_DIRECTION_RTL;
  const double at = leftward ? extent_of(canvas->layout).width - width : width;
  int end = 0;
  int trailing = 0;
  pango_layout_xy_to_index(canvas->layout, (int)(fmax(at, 0) * PANGO_SCALE), 0, &end, &trailing);
  pango_layout_set_text(canvas->layout, text, end);
}

/// As cw_canvas_label(), for text that is too wide.
static double put_cut_label(CwCanvas *canvas, CwFace face, const char *text, double x, double y, double width)
{
  static const char *const ellipsis = "\u2026";
  const double ellipsis_width = cw_canvas_width(canvas, face, ellipsis);
  cw_canvas_set(canvas, face, text, -1);
  cut(canvas, text, fmax(width - ellipsis_width, 0));
  const bool leftward = pango_layout_get_direction(canvas->layout, 0) == PANGO_DIRECTION_RTL;
  const CwExtent extent = extent_of(canvas->layout);
  cw_canvas_show(canvas, face, leftward ? x + ellipsis_width : x, y);
  if (extent.width + ellipsis_width <= width + 1) {
    cw_canvas_set(canvas, face, ellipsis, -1);
    cw_canvas_show(canvas, face, leftward ? x : x + extent.width, y);
  }
  return extent.height;
}

double cw_canvas_label(CwCanvas *canvas, CwFace face, CwSide side, const char *text, double x, double y, double width)
{
  const CwExtent extent = cw_canvas_set(canvas, face, text, -1);
  const double spare = width - extent.width;
  if (spare < -0.01) {
    return put_cut_label(canvas, face, text, x, y, width);
  }
  cw_canvas_show(canvas, face, side == CW_TO_LEFT ? x : side == CW_TO_RIGHT ? x + spare : x + spare / 2, y);
  return extent.height;
}

double cw_canvas_width(CwCanvas *canvas, CwFace face, const char *text)
{
  return cw_canvas_set(canvas, face, text, -1).width;
}

double cw_canvas_line_height(CwCanvas *canvas, CwFace face)
{
  return cw_canvas_set(canvas, face, "1", -1).height;
}

void cw_canvas_fill(CwCanvas *canvas, double x, double y, double width, double height, double grey)
{
  if (!canvas->dry) {
    cairo_set_source_rgb(canvas->cr, grey, grey, grey);
    cairo_rectangle(canvas->cr, x, y, width, height);
    cairo_fill(canvas->cr);
  }
}

void cw_canvas_line(CwCanvas *canvas, double x0, double y0, double x1, double y1, double width, double grey)
{
  if (!canvas->dry) {
    cairo_set_source_rgb(canvas->cr, grey, grey, grey);
    cairo_set_line_width(canvas->cr, width);
    cairo_set_dash(canvas->cr, NULL, 0, 0);
    cairo_move_to(canvas->cr, x0, y0);
    cairo_line_to(canvas->cr, x1, y1);
    cairo_stroke(canvas->cr);
  }
}
