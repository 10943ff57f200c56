// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cairo.h>

#include "base/memory.h"
#include "countwright/stage_plan.h"
#include "stage/plan_labels.h"
#include "unit/random.h"

static const char fonts[] = "DejaVu Sans Condensed, Noto Sans, Sans";

static void make(const char *words, const CwStagePlan *before, CwStagePlan *plan)
{
  char text[300];
  snprintf(text, sizeof text, "%s", words);
  const CwStep step = {.count = 1, .until = 1, .text = text};
  assert_int_equal(cw_stage_plan_make(&step, 1, NULL, NULL, before, plan), CW_OK);
}

static void a_path_is_a_way_with_its_places(void **state)
{
  (void)state;
  CwStagePlan plan;
  make("DSL > C > USR, Mira at SL", NULL, &plan);
  assert_int_equal(plan.n, 2);
  assert_null(plan.track[0].name);
  assert_true(plan.track[0].own);
  assert_int_equal(plan.track[0].n_points, 3);
  assert_near(plan.track[0].point[0].x, 2.0 / 3, 1e-9);
  assert_near(plan.track[0].point[2].y, 5.0 / 6, 1e-9);
  assert_string_equal(plan.track[1].name, "Mira");
  assert_int_equal(plan.track[1].n_points, 1);
  cw_stage_plan_free(&plan);
}

static void a_way_goes_on_from_the_phrase_before(void **state)
{
  (void)state;
  CwStagePlan first;
  CwStagePlan second;
  make("run from DSL to USR", NULL, &first);
  make("run to C", &first, &second);
  assert_int_equal(second.track[0].n_points, 2);
  assert_near(second.track[0].point[0].x, -2.0 / 3, 1e-9);
  assert_false(second.track[0].start_unknown);
  cw_stage_plan_free(&second);
  make("run to C", NULL, &second);
  assert_int_equal(second.track[0].n_points, 1);
  assert_true(second.track[0].start_unknown);
  cw_stage_plan_free(&second);
  cw_stage_plan_free(&first);
}

static void who_does_not_occur_stays_where_they_were(void **state)
{
  (void)state;
  static const char *const words[] = {"run to USR, Mira at SL", "walk home", "Tomas DSL", "run to C, Mira to DSC"};
  CwStagePlan where = {0};
  CwStagePlan plan = {0};
  for (size_t i = 0; i < 4; i++) {
    cw_stage_plan_free(&plan);
    make(words[i], &where, &plan);
    assert_int_equal(cw_stage_plan_go_on(&plan, &where), CW_OK);
  }
  assert_near(plan.track[0].point[0].x, -2.0 / 3, 1e-9);
  assert_near(plan.track[1].point[0].x, 2.0 / 3, 1e-9);
  assert_int_equal(where.n, 3);
  assert_int_equal(where.track[0].n_points, 1);
  assert_near(where.track[0].point[0].x, 0, 0);
  cw_stage_plan_free(&plan);
  cw_stage_plan_free(&where);
}

static void what_is_not_said_stays_as_it_was(void **state)
{
  (void)state;
  CwStagePlan plan;
  make("start DSL, run upstage", NULL, &plan); // only the depth changes
  assert_int_equal(plan.track[0].n_points, 2);
  assert_near(plan.track[0].point[1].x, 2.0 / 3, 1e-9);
  assert_near(plan.track[0].point[1].y, 5.0 / 6, 1e-9);
  cw_stage_plan_free(&plan);
  make("exit wing 3", NULL, &plan); // on which side?
  assert_false(cw_stage_plan_shows(&plan));
  cw_stage_plan_free(&plan);
}

static void a_role_is_the_dancer_of_its_phrase(void **state)
{
  (void)state;
  CwStagePlan plan;
  char text[] = "walk to C, ferryman facing USL";
  const CwStep step = {.count = 1, .until = 1, .text = text};
  assert_int_equal(cw_stage_plan_make(&step, 1, "enter Boys wing 6 SR", "Ferryman", NULL, &plan), CW_OK);
  assert_int_equal(plan.n, 2);
  assert_string_equal(plan.track[0].name, "Ferryman");
  assert_true(plan.track[0].own);
  assert_int_equal(plan.track[0].facing, 3);
  assert_false(plan.track[1].own);
  assert_int_equal(plan.wings, 6);
  cw_stage_plan_free(&plan);
}

/// A plan as pixels, `scale` to a point; release with cairo_surface_destroy().
static cairo_surface_t *draw(const CwStagePlan *plan, double width, double scale)
{
  const int pixels = (int)(width * scale);
  const int high = (int)(cw_stage_plan_height(width) * scale);
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels, high);
  cairo_t *cr = cairo_create(surface);
  cairo_scale(cr, scale, scale);
  cairo_set_source_rgb(cr, 1, 1, 1);
  cairo_paint(cr);
  cw_stage_plan_draw(cr, plan, 0, 0, width, fonts);
  assert_int_equal(cairo_status(cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy(cr);
  cairo_surface_flush(surface);
  return surface;
}

/// How dark a box is, 0 to 1; coordinates as shares of the picture.
static double darkness(cairo_surface_t *surface, double x, double y, double width, double height)
{
  const int columns = cairo_image_surface_get_width(surface);
  const int rows = cairo_image_surface_get_height(surface);
  const unsigned char *data = cairo_image_surface_get_data(surface);
  double dark = 0;
  double n = 0;
  for (int row = (int)(y * rows); row < (int)((y + height) * rows); row++) {
    for (int column = (int)(x * columns); column < (int)((x + width) * columns); column++) {
      dark += 1 - data[row * cairo_image_surface_get_stride(surface) + 4 * column] / 255.0;
      n++;
    }
  }
  return dark / n;
}

static void marks_are_where_the_places_are_and_the_audience_is_at_the_foot(void **state)
{
  (void)state;
  CwStagePlan plan;
  make("pose USL", NULL, &plan);
  cairo_surface_t *surface = draw(&plan, 85, 4);
  assert_true(darkness(surface, 0.70, 0.15, 0.12, 0.18) > 0.1); // stage left is on the right
  assert_true(darkness(surface, 0.18, 0.15, 0.12, 0.18) < 0.02);
  assert_true(darkness(surface, 0.70, 0.60, 0.12, 0.15) < 0.02);
  assert_true(darkness(surface, 0.2, 0.84, 0.6, 0.05) > 0.3); // the edge towards the audience is the heaviest line
  assert_true(darkness(surface, 0.2, 0.08, 0.6, 0.05) < 0.2);
  cairo_surface_destroy(surface);
  cw_stage_plan_free(&plan);
}

/// In black and white: nothing is told by grey or colour.
static void all_ink_is_black(void **state)
{
  (void)state;
  CwStagePlan plan;
  make("curve left from DSR to USR, Mira USL > C, circle right, boys SL", NULL, &plan);
  cairo_surface_t *surface = draw(&plan, 85, 12);
  const unsigned char *data = cairo_image_surface_get_data(surface);
  size_t grey = 0;
  size_t black = 0;
  for (int i = 0; i < cairo_image_surface_get_height(surface) * cairo_image_surface_get_width(surface); i++) {
    assert_int_equal(data[4 * i], data[4 * i + 1]);
    assert_int_equal(data[4 * i], data[4 * i + 2]);
    grey += data[4 * i] > 40 && data[4 * i] < 215;
    black += data[4 * i] <= 40;
  }
  assert_true(grey * 4 < black); // only the edges of strokes
  cairo_surface_destroy(surface);
  cw_stage_plan_free(&plan);
}

/// A mirrored plan is the mirror picture, but for its names.
static void a_mirrored_path_draws_the_mirror_picture(void **state)
{
  (void)state;
  CwStagePlan here;
  CwStagePlan there;
  make("curve left from DSR to USL, facing SL", NULL, &here);
  make("curve right from DSL to USR, facing SR", NULL, &there);
  cairo_surface_t *a = draw(&here, 85, 4);
  cairo_surface_t *b = draw(&there, 85, 4);
  const int width = cairo_image_surface_get_width(a);
  const int height = cairo_image_surface_get_height(a);
  const int stride = cairo_image_surface_get_stride(a);
  const unsigned char *one = cairo_image_surface_get_data(a);
  const unsigned char *other = cairo_image_surface_get_data(b);
  double differ = 0;
  for (int y = 0; y < height; y++) {
    for (int x = 0; x < width; x++) {
      differ += abs(one[y * stride + 4 * x] - other[y * stride + 4 * (width - 1 - x)]) > 64;
    }
  }
  assert_true(differ < 0.002 * width * height);
  cairo_surface_destroy(a);
  cairo_surface_destroy(b);
  cw_stage_plan_free(&here);
  cw_stage_plan_free(&there);
}

static bool overlap(const CwStagePlanBox *a, const CwStagePlanBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
}

/// Labels of any size about marks anywhere, also many at one place.
static void labels_never_overlap_or_leave_the_plan(void **state)
{
  (void)state;
  uint64_t seed = 2;
  size_t placed = 0;
  size_t asked = 0;
  for (int round = 0; round < 500; round++) {
    CwStagePlanRoom room = {.bounds = {0, 0, 85, 55}};
    const size_t n = 1 + random_below(&seed, 9);
    double x[9];
    double y[9];
    for (size_t i = 0; i < n; i++) {
      const bool same = i > 0 && random_share(&seed) < 0.3;
      x[i] = same ? x[i - 1] : random_between(&seed, 8, 77);
      y[i] = same ? y[i - 1] : random_between(&seed, 8, 50);
      assert_true(cw_stage_plan_keep(&room, (CwStagePlanBox){x[i] - 2, y[i] - 2, 4, 4}));
    }
    for (size_t i = 0; i < n; i++) {
      CwStagePlanBox label;
      asked++;
      placed += cw_stage_plan_place_label(&room, x[i], y[i], 2, random_between(&seed, 5, 30), 7, &label);
    }
    for (size_t a = n; a < room.n_boxes; a++) {
      assert_true(room.box[a].x >= 0 && room.box[a].x + room.box[a].width <= 85);
      assert_true(room.box[a].y >= 0 && room.box[a].y + room.box[a].height <= 55);
      for (size_t b = 0; b < a; b++) {
        assert_false(overlap(&room.box[a], &room.box[b]));
      }
    }
  }
  print_message("%zu of %zu labels found a place\n", placed, asked);
  assert_true(100 * placed > 97 * asked);
}

static void a_plan_is_an_svg_file(void **state)
{
  (void)state;
  CwStagePlan plan;
  char *text = NULL;
  size_t size = 0;
  make("DSL > C, Mira USR", NULL, &plan);
  FILE *out = open_memstream(&text, &size);
  assert_non_null(out);
  assert_int_equal(cw_stage_plan_svg(&plan, 85, fonts, out), CW_OK);
  fclose(out);
  assert_non_null(strstr(text, "<svg"));
  assert_non_null(strstr(text, "</svg>"));
  assert_non_null(strstr(text, "<path"));
  free(text);
  out = fopen("/dev/full", "w");
  assert_non_null(out);
  assert_int_equal(cw_stage_plan_svg(&plan, 85, fonts, out), CW_ERR_WRITE);
  fclose(out);
  cw_stage_plan_free(&plan);
}

static void a_plan_of_any_readings_can_be_drawn_at_any_size(void **state)
{
  (void)state;
  static const char *const words[] = {"",
                                      "circle",
                                      "on the diagonal",
                                      "from wing 8 SL",
                                      "facing US",
                                      "wing 3",
                                      "o a C > C > C > C, o b C, o d C > DSL > C",
                                      "quarter mark",
                                      "to US then DS"};
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
    CwStagePlan plan;
    make(words[i], NULL, &plan);
    cairo_surface_destroy(draw(&plan, 20, 1));
    cairo_surface_destroy(draw(&plan, 600, 1));
    cw_stage_plan_free(&plan);
  }
}

static void memory_may_run_out_at_any_point(void **state)
{
  (void)state;
  CwStatus status = CW_ERR_NO_MEM;
  char text[] = "o Mira DSL > C, run USL to SL, circle left round C";
  const CwStep step = {.count = 1, .until = 1, .text = text};
  long n = 0;
  for (; status != CW_OK; n++) {
    CwStagePlan plan;
    cw_fail_after(n);
    status = cw_stage_plan_make(&step, 1, "enter boys SR", "Pia", NULL, &plan);
    cw_fail_after(-1);
    assert_true(status == CW_OK || !plan.track);
    cw_stage_plan_free(&plan);
  }
  assert_true(n > 10);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_path_is_a_way_with_its_places),
      cmocka_unit_test(a_way_goes_on_from_the_phrase_before),
      cmocka_unit_test(who_does_not_occur_stays_where_they_were),
      cmocka_unit_test(what_is_not_said_stays_as_it_was),
      cmocka_unit_test(a_role_is_the_dancer_of_its_phrase),
      cmocka_unit_test(marks_are_where_the_places_are_and_the_audience_is_at_the_foot),
      cmocka_unit_test(all_ink_is_black),
      cmocka_unit_test(a_mirrored_path_draws_the_mirror_picture),
      cmocka_unit_test(labels_never_overlap_or_leave_the_plan),
      cmocka_unit_test(a_plan_is_an_svg_file),
      cmocka_unit_test(a_plan_of_any_readings_can_be_drawn_at_any_size),
      cmocka_unit_test(memory_may_run_out_at_any_point),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
