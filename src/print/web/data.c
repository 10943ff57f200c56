// SPDX-License-Identifier: GPL-3.0-or-later
/// What the page's script works with: the times of the counts, labels, the recording.
#include <stdlib.h>
#include <string.h>

#include <glib.h>
#include <jansson.h>

#include "print/json.h"
#include "print/label.h"
#include "print/web/page.h"

enum { BLOCK = 3 * 4096, SIGNIFICANT_DIGITS = 12 };

/// The labels that the script sets itself.
static const char *const labels[] = {CW_MSG("Play"), CW_MSG("Pause")};

static size_t number_of(const CwWebPage *page, size_t p)
{
  return page->web->number ? page->web->number[p] : p + 1;
}

static json_t *phrase_value(const CwWebPage *page, size_t p, bool *good)
{
  const CwCountLine *line = page->web->line;
  const CwPhrase *phrase = &line->phrase[p];
  json_t *object = json_object();
  json_t *counts = json_array();
  for (unsigned i = 0; i < phrase->counts; i++) {
    json_t *time = cw_json_rounded(line->count_s[phrase->first_count + i], CW_TIME_DIGITS);
    *good = json_array_append_new(counts, time) == 0 && *good;
  }
  cw_json_whole(object, "number", number_of(page, p), good);
  cw_json_put(object, "counts", counts, good);
  cw_json_number(object, "end", phrase->end_s, CW_TIME_DIGITS, good);
  return object;
}

static json_t *data_value(const CwWebPage *page, bool *good)
{
  json_t *root = json_object();
  json_t *phrases = json_array();
  for (size_t p = 0; p < page->web->line->n_phrases; p++) {
    const size_t i = cw_page_row_of(page->sheet, number_of(page, p));
    if (i < page->sheet->n_rows && page->line_of[i] == p) {
      *good = json_array_append_new(phrases, phrase_value(page, p, good)) == 0 && *good;
    }
  }
  cw_json_put(root, "phrases", phrases, good);
  json_t *said = json_object();
  for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
    cw_json_text(said, labels[i], cw_label(page->sheet->labels, labels[i]), good);
  }
  cw_json_put(root, "labels", said, good);
  *good = *good && root;
  return root;
}

/// JSON inside a script element: no sign in it may look like the element's end.
static void put_data(CwWebPage *page)
{
  bool good = true;
  json_t *root = data_value(page, &good);
  char *text = good ? json_dumps(root, JSON_COMPACT | JSON_REAL_PRECISION(SIGNIFICANT_DIGITS)) : NULL;
  page->failed = page->failed || !text;
  cw_page_put(page, "<script type=\"application/json\" id=\"counts\">");
  for (const char *at = text; at && *at; at++) {
    if (*at == '<' || *at == '>' || *at == '&') {
      cw_page_format(page, "\\u%04x", (unsigned)*at);
    } else {
      fputc(*at, page->out);
    }
  }
  cw_page_put(page, "</script>\n");
  free(text);
  json_decref(root);
}

static void put_sound(CwWebPage *page)
{
  const guchar *in = page->web->sound;
  size_t left = page->web->sound_size;
  char out[BLOCK / 3 * 4 + 8];
  gint state = 0;
  gint save = 0;
  cw_page_put(page, "<script type=\"text/plain\" id=\"recording\" data-type=\"");
  cw_page_text(page, page->web->sound_type);
  cw_page_put(page, "\">");
  while (left > 0) {
    const size_t n = left < BLOCK ? left : BLOCK;
    fwrite(out, 1, g_base64_encode_step(in, n, FALSE, out, &state, &save), page->out);
    in += n;
    left -= n;
  }
  fwrite(out, 1, g_base64_encode_close(FALSE, out, &state, &save), page->out);
  cw_page_put(page, "</script>\n");
}

void cw_page_data(CwWebPage *page)
{
  if (!page->plays) {
    return;
  }
  put_data(page);
  put_sound(page);
  const CwWebFile script = cw_web_script();
  cw_page_put(page, "<script type=\"module\">");
  fwrite(script.text, 1, script.size, page->out);
  cw_page_put(page, "</script>\n");
}

size_t cw_web_sound_size(size_t bytes)
{
  return (bytes + 2) / 3 * 4;
}
