// SPDX-License-Identifier: GPL-3.0-or-later
/// The phrases.
#include "countwright/time_text.h"
#include "print/drift_words.h"
#include "print/label.h"
#include "print/look.h"
#include "print/parts.h"
#include "print/web/page.h"
#include "print/words.h"

static void put_heading(CwWebPage *page, const CwSheetRow *row)
{
  const bool plays = page->plays && page->line_of[row - page->sheet->row] != CW_NONE;
  cw_page_format(page, "<h3 id=\"h%u\">", row->number);
  if (plays) {
    cw_page_put(page, "<button type=\"button\" class=\"from\"><span class=\"unseen\">");
    cw_page_label(page, CW_MSG("Play from phrase"));
    cw_page_put(page, " </span>");
  } else {
    cw_page_put(page, "<span class=\"unseen\">");
    cw_page_label(page, CW_MSG("Phrase"));
    cw_page_put(page, " </span>");
  }
  cw_page_format(page, "<span class=\"number\">%u</span>", row->number);
  if (row->timed) {
    char start[24];
    cw_format_time(row->start_s, start);
    cw_page_format(page, " <span class=\"start\">%s</span>", start);
  }
  cw_page_put(page, plays ? "</button></h3>\n" : "</h3>\n");
}

/// "58/min", and how much faster or slower that is than before.
static void put_tempo(CwWebPage *page, const CwSheetRow *row)
{
  if (!row->timed) {
    if (page->timed) {
      cw_page_labelled(page, "p class=\"tempo\"", CW_SAY_NOT_TIMED);
    }
    return;
  }
  char text[CW_WORD_ROOM];
  cw_tempo_label(row->counts_per_min, text);
  cw_page_format(page, "<p class=\"tempo\">%s", text);
  cw_page_label(page, CW_SAY_PER_MIN);
  cw_change_label(row->change_percent, text);
  if (*text) {
    cw_page_format(page, " <span class=\"change\">%s</span>", text);
  }
  cw_page_put(page, "</p>\n");
}

/// Where the phrase is in the recording that the sheet is held against.
static void put_other(CwWebPage *page, const CwSheetRow *row)
{
  CwBuffer line = {0};
  if (page->sheet->other) {
    cw_put_other(page->sheet->labels, row, &line);
    cw_page_buffer(page, "p class=\"other\"", &line);
  }
  cw_buffer_free(&line);
}

static void put_tags(CwWebPage *page, const CwSheetRow *row)
{
  CwBuffer tags = {0};
  char counts[CW_WORD_ROOM];
  cw_counts_label(page->sheet->labels, row->counts, counts);
  cw_buffer_put(&tags, counts);
  const CwRepeat none = {0};
  const CwRepeat *repeat = &page->repeats[row - page->sheet->row];
  cw_put_tags(page->sheet->labels, row, repeat->is_enough ? &none : repeat, " \u00b7 ", &tags);
  cw_page_buffer(page, "p class=\"tags\" dir=\"auto\"", &tags);
  cw_buffer_free(&tags);
  if (row->check_by_ear) {
    char check[CW_WORD_ROOM];
    cw_check_label(page->sheet->labels, row, check);
    cw_page_element(page, "p class=\"check\"", check);
  }
}

static void put_part(CwWebPage *page, const CwSheetRow *row, const CwSheetPart *part)
{
  CwBuffer tags = {0};
  cw_put_part_tags(page->sheet->labels, part, " \u00b7 ", &tags);
  cw_page_put(page, "<div class=\"others\">\n");
  cw_page_buffer(page, "p class=\"tags\" dir=\"auto\"", &tags);
  cw_buffer_free(&tags);
  const CwSheetRow its = cw_part_row(row, part);
  cw_page_steps(page, &its);
  cw_page_noted(page, "p class=\"remark\"", part->remark);
  cw_page_put(page, "</div>\n");
}

static void put_all_steps(CwWebPage *page, const CwSheetRow *row)
{
  cw_page_steps(page, row);
  for (size_t i = 0; i < row->n_parts; i++) {
    put_part(page, row, &row->part[i]);
  }
}

/// The numbers of a phrase's counts, to be lit as they sound.
static void put_numbers(CwWebPage *page, const CwSheetRow *row)
{
  const unsigned shown = row->counts < CW_MOST_COUNTS_IN_GRID ? row->counts : CW_MOST_COUNTS_IN_GRID;
  cw_page_put(page, "<p class=\"numbers\" aria-hidden=\"true\">");
  for (unsigned i = 1; i <= shown; i++) {
    cw_page_format(page, "<i>%u</i>", i);
  }
  cw_page_put(page, "</p>\n");
}

/// Steps of a phrase that only repeats another wait behind its name.
static void put_repeat(CwWebPage *page, const CwSheetRow *row)
{
  char like[CW_WORD_ROOM];
  cw_like_label(page->sheet->labels, &page->repeats[row - page->sheet->row], like);
  if (row->n_steps == 0 && row->n_parts == 0) {
    cw_page_element(page, "p class=\"like\"", like);
    return;
  }
  cw_page_put(page, "<details class=\"like\">\n");
  cw_page_element(page, "summary", like);
  put_all_steps(page, row);
  cw_page_put(page, "</details>\n");
}

static void put_body(CwWebPage *page, const CwSheetRow *row)
{
  const size_t i = (size_t)(row - page->sheet->row);
  cw_page_put(page, "<div class=\"body\">\n");
  put_numbers(page, row);
  if (page->repeats[i].is_enough) {
    put_repeat(page, row);
  } else {
    put_all_steps(page, row);
  }
  cw_page_noted(page, "p class=\"remark\"", row->remark);
  put_other(page, row);
  cw_page_put(page, "</div>\n");
}

static void put_phrase(CwWebPage *page, const CwSheetRow *row)
{
  const size_t line = page->line_of[row - page->sheet->row];
  cw_page_format(page, "<article class=\"phrase\" id=\"p%u\" aria-labelledby=\"h%u\"", row->number, row->number);
  if (page->plays && line != CW_NONE) {
    cw_page_format(page, " data-phrase=\"%u\"", row->number);
  }
  cw_page_put(page, ">\n<div class=\"side\">\n");
  put_heading(page, row);
  put_tempo(page, row);
  put_tags(page, row);
  cw_page_put(page, "</div>\n");
  put_body(page, row);
  if (!page->repeats[row - page->sheet->row].is_enough) {
    cw_page_plan(page, &page->plans[row - page->sheet->row]);
  }
  cw_page_put(page, "</article>\n");
  if (row->hold_s > 0) {
    char hold[CW_WORD_ROOM];
    cw_hold_label(page->sheet->labels, row, hold);
    cw_page_element(page, "p class=\"hold\"", hold);
  }
}

void cw_page_phrases(CwWebPage *page)
{
  const CwSheet *sheet = page->sheet;
  if (sheet->n_rows == 0) {
    cw_page_labelled(page, "p", CW_SAY_NO_PHRASES);
  }
  for (size_t i = 0; i < sheet->n_rows && !page->failed; i++) {
    const CwSheetRow *row = &sheet->row[i];
    if (row->section && row->section[0]) {
      cw_page_format(page, "<h2 id=\"s%u\" class=\"section\"%s dir=\"auto\">", row->number, page->notes_language);
      cw_page_text(page, row->section);
      cw_page_put(page, "</h2>\n");
    } else if (i == 0) { // phrases are headings of the third order
      cw_page_labelled(page, "h2 class=\"unseen\"", CW_MSG("Phrases"));
    }
    put_phrase(page, row);
  }
}
