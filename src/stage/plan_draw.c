// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/plan_draw.h"

#include <math.h>
#include <string.h>

#include <cairo-svg.h>

/// Shares of a plan's width.
#define SIDE 0.11      ///< for the wings, at each side
#define DEPTH 0.56     ///< of the stage
#define HEAD 0.07      ///< above the stage
#define SEATS 0.10     ///< below it
#define NARROWEST 85.0 ///< points at which lines have their plain width

double cw_stage_plan_height(double width)
{
  return width * (HEAD + DEPTH + SEATS);
}

void cw_stage_plan_to_paper(const CwStagePlanPaper *paper, double x, double y, double *paper_x, double *paper_y)
{
  *paper_x = paper->left + paper->width * (x + 1) / 2;
  *paper_y = paper->top + paper->depth * (1 - y);
}

void cw_stage_plan_frame(const CwStagePlan *plan, double x, double y, double width, CwStagePlanPaper *paper)
{
  *paper = (CwStagePlanPaper){.plan = plan,
                              .left = x + SIDE * width,
                              .top = y + HEAD * width,
                              .width = width * (1 - 2 * SIDE),
                              .depth = width * DEPTH,
                              .unit = width / NARROWEST};
  paper->room.bounds = (CwStagePlanBox){x, y, width, (HEAD + DEPTH) * width};
  cw_stage_plan_find_lanes(paper);
}

static CwStagePlanPaper lay_out(cairo_t *cr, const CwStagePlan *plan, double x, double y, double width,
                                const char *fonts)
{
  CwStagePlanPaper paper;
  cw_stage_plan_frame(plan, x, y, width, &paper);
  paper.cr = cr;
  // as on paper: no rounding to pixels, nothing from the environment's language
  PangoContext *context = pango_cairo_create_context(cr);
  cairo_font_options_t *options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options);
  pango_cairo_context_set_resolution(context, 72);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_context_set_language(context, pango_language_from_string("en"));
  cairo_font_options_destroy(options);
  paper.layout = pango_layout_new(context);
  g_object_unref(context);
  PangoFontDescription *font = pango_font_description_new();
  pango_font_description_set_family(font, fonts ? fonts : "Sans");
  // names stay readable in a small plan and modest in a large one
  pango_font_description_set_absolute_size(font, fmax(6.2, 6.2 * sqrt(paper.unit)) * PANGO_SCALE);
  pango_layout_set_font_description(paper.layout, font);
  pango_font_description_free(font);
  return paper;
}

void cw_stage_plan_draw(struct _cairo *cr, const CwStagePlan *plan, double x, double y, double width, const char *fonts)
{
  if (!(width > 0)) {
    return;
  }
  cairo_save(cr);
  cairo_new_path(cr);
  cairo_set_source_rgb(cr, 0, 0, 0);
  cairo_set_dash(cr, NULL, 0, 0);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  CwStagePlanPaper paper = lay_out(cr, plan, x, y, width, fonts);
  cw_stage_plan_draw_stage(&paper);
  for (size_t i = plan->n; i-- > 0;) {
    cw_stage_plan_draw_track(&paper, &plan->track[i]);
  }
  cw_stage_plan_draw_names(&paper);
  g_object_unref(paper.layout);
  cairo_new_path(cr);
  cairo_restore(cr);
}

static cairo_status_t write_out(void *closure, const unsigned char *data, unsigned length)
{
  return fwrite(data, 1, length, closure) == length ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

CwStatus cw_stage_plan_svg(const CwStagePlan *plan, double width, const char *fonts, FILE *out)
{
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream(write_out, out, width, cw_stage_plan_height(width));
  cairo_t *cr = cairo_create(surface);
  cw_stage_plan_draw(cr, plan, 0, 0, width, fonts);
  cairo_status_t status = cairo_status(cr);
  cairo_destroy(cr);
  cairo_surface_finish(surface);
  status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface) : status;
  cairo_surface_destroy(surface);
  if (status == CAIRO_STATUS_SUCCESS) {
    return fflush(out) == 0 ? CW_OK : CW_ERR_WRITE;
  }
  return status == CAIRO_STATUS_WRITE_ERROR ? CW_ERR_WRITE : CW_ERR_NO_MEM;
}
