// SPDX-License-Identifier: GPL-3.0-or-later
/// Writing markup, and text that must never become markup.
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "print/clean.h"
#include "print/label.h"
#include "print/web/page.h"

enum { LONGEST_NAME = 128 };

void cw_page_put(CwWebPage *page, const char *markup)
{
  fputs(markup, page->out);
}

void cw_page_format(CwWebPage *page, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  if (vfprintf(page->out, format, args) < 0 && !ferror(page->out)) {
    page->failed = true;
  }
  va_end(args);
}

void cw_page_text(CwWebPage *page, const char *text)
{
  static const char signs[] = "&<>\"'";
  static const char *const escaped[] = {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"};
  if (!text) {
    return;
  }
  char *const clean = cw_clean_line(text);
  page->failed = page->failed || !clean;
  for (const char *at = clean; at && *at;) {
    const size_t plain = strcspn(at, signs);
    fwrite(at, 1, plain, page->out);
    at += plain;
    if (*at) {
      fputs(escaped[strchr(signs, *at++) - signs], page->out);
    }
  }
  free(clean);
}

void cw_page_element(CwWebPage *page, const char *open, const char *text)
{
  if (text && *text) {
    cw_page_format(page, "<%s>", open);
    cw_page_text(page, text);
    cw_page_format(page, "</%.*s>\n", (int)strcspn(open, " "), open);
  }
}

void cw_page_noted(CwWebPage *page, const char *open, const char *text)
{
  if (text && *text) {
    cw_page_format(page, "<%s%s dir=\"auto\">", open, page->notes_language);
    cw_page_text(page, text);
    cw_page_format(page, "</%.*s>\n", (int)strcspn(open, " "), open);
  }
}

bool cw_page_buffer(CwWebPage *page, const char *open, CwBuffer *text)
{
  const bool any = text->length > 0;
  page->failed = page->failed || text->failed;
  cw_page_element(page, open, cw_buffer_text(text));
  cw_buffer_clear(text);
  return any;
}

/// Where "{{" or "}}" next is; the end when nowhere.
static const char *find_pair(const char *at, const char *end, char sign)
{
  while (end - at >= 2 && !(at[0] == sign && at[1] == sign)) {
    at++;
  }
  return end - at >= 2 ? at : end;
}

void cw_page_fill(CwWebPage *page, CwWebFile file, void (*put)(CwWebPage *page, const char *name))
{
  const char *at = file.text;
  const char *const end = file.text + file.size;
  while (at < end) {
    const char *open = find_pair(at, end, '{');
    fwrite(at, 1, (size_t)(open - at), page->out);
    at = open;
    if (open < end) {
      const char *close = find_pair(open + 2, end, '}');
      char name[LONGEST_NAME];
      snprintf(name, sizeof name, "%.*s", (int)(close - open - 2), open + 2);
      put(page, name);
      at = close < end ? close + 2 : end;
    }
  }
}

void cw_page_label(CwWebPage *page, const char *label)
{
  cw_page_text(page, cw_label(page->sheet->labels, label));
}

void cw_page_labelled(CwWebPage *page, const char *open, const char *label)
{
  cw_page_element(page, open, cw_label(page->sheet->labels, label));
}
