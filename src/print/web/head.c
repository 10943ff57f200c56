// SPDX-License-Identifier: GPL-3.0-or-later
/// What stands above and below the phrases.
#include "countwright/time_text.h"
#include "print/cast_words.h"
#include "print/label.h"
#include "print/look.h"
#include "print/web/page.h"
#include "print/words.h"

static bool is_said(const char *text)
{
  return text && *text;
}

void cw_page_title(CwWebPage *page, CwBuffer *title)
{
  const CwSheet *sheet = page->sheet;
  cw_buffer_put(title, is_said(sheet->piece) ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  if (is_said(sheet->dance)) {
    cw_buffer_join(title, ": ", "%s", sheet->dance);
  }
}

void cw_page_head(CwWebPage *page)
{
  const CwSheet *sheet = page->sheet;
  CwBuffer line = {0};
  cw_page_noted(page, "h1", is_said(sheet->piece) ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  cw_put_subtitle(sheet, &line);
  cw_page_buffer(page, "p class=\"subtitle\" dir=\"auto\"", &line);
  cw_put_music_facts(sheet, &line);
  cw_page_buffer(page, "p class=\"facts\"", &line);
  cw_put_tempo_facts(sheet, &line);
  cw_page_buffer(page, "p class=\"facts\"", &line);
  cw_put_other_fact(sheet, &line);
  cw_page_buffer(page, "p class=\"facts\"", &line);
  cw_buffer_free(&line);
  cw_page_strip(page);
}

void cw_page_messages(CwWebPage *page)
{
  const CwMessages *messages = &page->sheet->message;
  if (messages->n == 0) {
    return;
  }
  cw_page_put(page, "<section class=\"alert\" aria-labelledby=\"alert\">\n");
  cw_page_labelled(page, "h2 id=\"alert\"", CW_SAY_DOES_NOT_ADD_UP);
  cw_page_put(page, "<ul>\n");
  for (size_t i = 0; i < messages->n; i++) {
    cw_page_element(page, "li", messages->text[i]);
  }
  cw_page_put(page, "</ul>\n</section>\n");
}

/// Links to the sections, when there are several.
void cw_page_sections(CwWebPage *page)
{
  const CwSheet *sheet = page->sheet;
  size_t n = 0;
  for (size_t i = 0; i < sheet->n_rows; i++) {
    n += is_said(sheet->row[i].section);
  }
  if (n < 2) {
    return;
  }
  cw_page_put(page, "<nav aria-label=\"");
  cw_page_label(page, CW_MSG("Sections"));
  cw_page_put(page, "\">\n<ul class=\"contents\">\n");
  for (size_t i = 0; i < sheet->n_rows; i++) {
    const CwSheetRow *row = &sheet->row[i];
    if (is_said(row->section)) {
      cw_page_format(page, "<li><a href=\"#s%u\"%s dir=\"auto\">", row->number, page->notes_language);
      cw_page_text(page, row->section);
      cw_page_put(page, "</a>");
      if (row->timed) {
        char start[24];
        cw_format_time(row->start_s, start);
        cw_page_format(page, " <span class=\"start\">%s</span>", start);
      }
      cw_page_put(page, "</li>\n");
    }
  }
  cw_page_put(page, "</ul>\n</nav>\n");
}

/// Each role with her times in a list below.
static void put_cast_lines(CwWebPage *page, const CwMessages *lines)
{
  bool listed = false;
  for (size_t i = 0; i < lines->n; i++) {
    const char *line = lines->text[i];
    const bool item = line[0] == ' ';
    if (item != listed) {
      cw_page_put(page, item ? "<ul>\n" : "</ul>\n");
      listed = item;
    }
    cw_page_element(page, item ? "li" : "p dir=\"auto\"", item ? line + 2 : line);
  }
  cw_page_put(page, listed ? "</ul>\n" : "");
}

void cw_page_cast(CwWebPage *page)
{
  const CwSheet *sheet = page->sheet;
  if (!sheet->cast_shown || sheet->cast.n_roles == 0) {
    return;
  }
  CwMessages lines = {0};
  if (cw_cast_lines(&sheet->cast, sheet->labels, &lines) != CW_OK) {
    page->failed = true;
  }
  cw_page_put(page, "<section class=\"cast\" aria-labelledby=\"cast\">\n");
  cw_page_labelled(page, "h2 id=\"cast\"", CW_SAY_CAST);
  put_cast_lines(page, &lines);
  cw_page_put(page, "</section>\n");
  cw_messages_free(&lines);
}

void cw_page_legend(CwWebPage *page)
{
  CwLegend legend[CW_LEGEND_ROOM];
  const size_t n = cw_legend(page->sheet, page->repeats, legend);
  const bool plans = cw_page_has_plans(page);
  if (n == 0 && !plans) {
    return;
  }
  cw_page_put(page, "<details class=\"legend\">\n");
  cw_page_labelled(page, "summary", CW_SAY_LEGEND);
  cw_page_put(page, "<dl>\n");
  for (size_t i = 0; i < n; i++) {
    cw_page_element(page, "dt", legend[i].sign);
    cw_page_element(page, "dd", legend[i].words);
  }
  if (plans) {
    cw_page_element(page, "dt", CW_SAY_PLAN_SIGN);
    cw_page_labelled(page, "dd", CW_SAY_PLAN);
  }
  cw_page_put(page, "</dl>\n</details>\n");
}
