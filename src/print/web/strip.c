// SPDX-License-Identifier: GPL-3.0-or-later
/// The recording at a glance: its phrases and holds to scale. All it tells is told in words below.
#include <math.h>

#include "base/format.h"
#include "print/web/page.h"

enum { WIDTH = 1000, HEIGHT = 20, FEWEST = 2 };

static void put_number(CwWebPage *page, const char *name, double value)
{
  char text[32];
  cw_page_format(page, " %s=\"%s\"", name, cw_format_fixed(text, sizeof text, value, 2));
}

static void put_phrase(CwWebPage *page, const CwSheetRow *row, double end_s, bool other)
{
  const double x = fmin(row->start_s / end_s, 1) * WIDTH;
  cw_page_format(page, "<rect class=\"%s%s\" y=\"0\" height=\"%d\"", other ? "even" : "odd",
                 row->check_by_ear ? " doubt" : "", HEIGHT);
  put_number(page, "x", x);
  put_number(page, "width", fmax(fmin(row->end_s / end_s, 1) * WIDTH - x, 0));
  cw_page_put(page, "/>\n");
}

void cw_page_strip(CwWebPage *page)
{
  const CwSheet *sheet = page->sheet;
  double end_s = sheet->duration_s > 0 ? sheet->duration_s : 0;
  size_t n = 0;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    if (sheet->row[i].timed) {
      end_s = fmax(end_s, sheet->row[i].end_s);
      n++;
    }
  }
  if (n < FEWEST || !(end_s > 0)) {
    return;
  }
  cw_page_format(page,
                 "<svg class=\"strip\" id=\"strip\" viewBox=\"0 0 %d %d\" preserveAspectRatio=\"none\" "
                 "aria-hidden=\"true\"",
                 WIDTH, HEIGHT);
  put_number(page, "data-seconds", end_s);
  cw_page_put(page, ">\n");
  for (size_t i = 0; i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    if (row->timed) {
      put_phrase(page, row, end_s, row->number % 2 == 0);
      if (row->section && row->section[0]) {
        cw_page_format(page, "<rect class=\"begin\" y=\"0\" width=\"3\" height=\"%d\"", HEIGHT);
        put_number(page, "x", row->start_s / end_s * WIDTH);
        cw_page_put(page, "/>\n");
      }
    }
  }
  cw_page_put(page, page->plays ? "<rect id=\"cursor\" width=\"4\" height=\"20\" x=\"-9\" y=\"0\"/>\n" : "");
  cw_page_put(page, "</svg>\n");
}
