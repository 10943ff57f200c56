// SPDX-License-Identifier: GPL-3.0-or-later
/// Steps: a list with their counts, which in a wide window stands under the numbers of the counts.
#include <math.h>
#include <string.h>

#include "print/cells.h"
#include "print/look.h"
#include "print/web/page.h"
#include "print/words.h"
#include "print/wrap.h"

/// About so many letters stand side by side under one count in a wide window, and so many lines below each other look well.
enum { LETTERS_PER_COUNT = 11, MOST_LINES = 5 };

/// A step's place under the numbers.
typedef struct {
  unsigned column; ///< from 1
  unsigned width;  ///< columns up to the next step, or to the line's end
} Place;

static unsigned column_of(const CwCells *cells, size_t i)
{
  return (unsigned)floor(cells->cell[i].count + 1e-3);
}

static Place place_of(const CwCells *cells, size_t i, unsigned counts)
{
  const unsigned column = column_of(cells, i);
  unsigned next = counts + 1;
  for (size_t k = cw_cells_next(cells, i); k < cells->n; k = cw_cells_next(cells, k)) {
    const unsigned its = column_of(cells, k);
    if (its > column) {
      next = its < next ? its : next;
      break;
    }
  }
  return (Place){column, next - column};
}

/// Whether steps can stand under the numbers of up to eight counts without becoming towers.
static bool fits_under_numbers(CwWebPage *page, const CwCells *cells, unsigned counts)
{
  if (counts > CW_COUNTS_PER_LINE || !cw_cells_fit_counts(cells, counts)) {
    return false;
  }
  for (size_t i = 0; i < cells->n; i++) {
    const char *text = cells->cell[i].text;
    const unsigned room = place_of(cells, i, counts).width * LETTERS_PER_COUNT;
    unsigned piece = 0;
    page->failed = page->failed || cw_widest_piece(text, &piece) != CW_OK;
    if (piece > room || cw_text_width(text, strlen(text)) > room * MOST_LINES) {
      return false;
    }
  }
  return true;
}

static bool is_one_count(const CwCell *cell, const char *label)
{
  return cell->until <= cell->count && label[strspn(label, "0123456789")] == '\0';
}

/// The words of a cell; each step of its own stands on a line of its own.
static void put_words(CwWebPage *page, const char *text)
{
  while (*text) {
    const size_t length = strcspn(text, "\n");
    CwBuffer line = {0};
    cw_buffer_put_bytes(&line, text, length);
    page->failed = page->failed || line.failed;
    cw_page_text(page, cw_buffer_text(&line));
    cw_buffer_free(&line);
    text += length + (text[length] == '\n');
    cw_page_put(page, *text ? "<br>" : "");
  }
}

static void put_step(CwWebPage *page, const CwCells *cells, size_t i, unsigned counts, bool placed)
{
  CwBuffer label = {0};
  cw_cells_label(cells, i, &label);
  page->failed = page->failed || label.failed;
  const bool plain = is_one_count(&cells->cell[i], cw_buffer_text(&label));
  if (placed) {
    const Place place = place_of(cells, i, counts);
    cw_page_format(page, "<li class=\"c%u w%u%s\">", place.column, place.width, plain ? " plain" : "");
  } else {
    cw_page_put(page, "<li>");
  }
  cw_page_put(page, "<b>");
  cw_page_text(page, cw_buffer_text(&label));
  cw_page_format(page, "</b> <span%s dir=\"auto\">", page->notes_language);
  put_words(page, cells->cell[i].text);
  cw_page_put(page, "</span></li>\n");
  cw_buffer_free(&label);
}

void cw_page_steps(CwWebPage *page, const CwSheetRow *row)
{
  CwCells cells;
  if (cw_cells_make(row, page->sheet->labels, &cells) != CW_OK) {
    page->failed = true;
    return;
  }
  if (cells.n) {
    const bool placed = fits_under_numbers(page, &cells, row->counts);
    cw_page_format(page, "<ul class=\"steps%s\">\n", placed ? " placed" : "");
    for (size_t i = 0; i < cells.n; i++) {
      if (i == 0 || cells.cell[i].text[0]) {
        put_step(page, &cells, i, row->counts, placed);
      }
    }
    cw_page_put(page, "</ul>\n");
  }
  cw_cells_free(&cells);
}
