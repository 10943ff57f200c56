// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib.h>

#include "base/memory.h"
#include "print/cells.h"
#include "print/stage_pdf.h"
#include "print/web/page.h"
#include "print/words.h"

/// Times nearer than this are the same.
#define SAME_TIME 1e-3

enum { SHA_256_BYTES = 32 };

/// 'sha256-...' of a file between its tags, as policies name it.
static void put_hash(CwWebPage *page, CwWebFile file)
{
  guint8 digest[SHA_256_BYTES];
  gsize size = sizeof digest;
  GChecksum *sum = g_checksum_new(G_CHECKSUM_SHA256);
  g_checksum_update(sum, (const guchar *)file.text, (gssize)file.size);
  g_checksum_get_digest(sum, digest, &size);
  g_checksum_free(sum);
  gchar *text = g_base64_encode(digest, size);
  cw_page_format(page, "'sha256-%s'", text);
  g_free(text);
}

void cw_page_policy(CwWebPage *page)
{
  cw_page_put(page, "default-src 'none'; style-src ");
  put_hash(page, cw_web_style());
  if (page->plays) {
    cw_page_put(page, "; script-src ");
    put_hash(page, cw_web_script());
    cw_page_put(page, "; media-src blob:");
  }
  cw_page_put(page, "; base-uri 'none'; form-action 'none'");
}

static void put_title(CwWebPage *page)
{
  CwBuffer title = {0};
  cw_page_title(page, &title);
  page->failed = page->failed || title.failed;
  cw_page_text(page, cw_buffer_text(&title));
  cw_buffer_free(&title);
}

static void put_style(CwWebPage *page)
{
  const CwWebFile style = cw_web_style();
  fwrite(style.text, 1, style.size, page->out);
}

static void put_language(CwWebPage *page)
{
  cw_page_put(page, cw_language_tag(page->sheet->labels));
}

/// Whether phrases leave room for plans.
static void put_plans(CwWebPage *page)
{
  cw_page_put(page, cw_page_has_plans(page) ? "plans" : "plain");
}

static void put_version(CwWebPage *page)
{
  cw_page_put(page, CW_VERSION);
}

/// What stands for a {{name}} of the template: a part, else a label.
static void put_part(CwWebPage *page, const char *name)
{
  static const struct {
    const char *name;
    void (*put)(CwWebPage *page);
  } part[] = {
      {"language", put_language},     {"policy", cw_page_policy},     {"version", put_version},
      {"title", put_title},           {"style", put_style},           {"head", cw_page_head},
      {"messages", cw_page_messages}, {"sections", cw_page_sections}, {"phrases", cw_page_phrases},
      {"cast", cw_page_cast},         {"legend", cw_page_legend},     {"player", cw_page_player},
      {"data", cw_page_data},         {"plans", put_plans},
  };
  for (size_t i = 0; i < sizeof part / sizeof part[0]; i++) {
    if (strcmp(part[i].name, name) == 0) {
      part[i].put(page);
      return;
    }
  }
  cw_page_label(page, name);
}

/// A tag by BCP 47 or a known name of a language; else nothing is known of it.
static void find_notes_language(CwWebPage *page)
{
  const char *name = page->sheet->language ? page->sheet->language : "";
  const CwLanguage known = cw_language_find(name);
  const bool tag = strspn(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ") == strlen(name) &&
                   (strlen(name) == 2 || strlen(name) == 3);
  const char *lang = known != CW_N_LANGUAGES ? cw_language_tag(known) : tag ? name : "";
  const bool same = strcmp(lang, cw_language_tag(page->sheet->labels)) == 0;
  if (!same && !(*name == '\0' && page->sheet->labels == CW_ENGLISH)) {
    snprintf(page->notes_language, sizeof page->notes_language, " lang=\"%s\"", lang);
  }
}

size_t cw_page_row_of(const CwSheet *sheet, size_t number)
{
  const size_t first = sheet->n_rows ? sheet->row[0].number : 1;
  return number >= first && number - first < sheet->n_rows ? number - first : sheet->n_rows;
}

/// For each row its phrase in the count line, by number, where the times agree.
static size_t *find_lines(const CwSheet *sheet, const CwWebSheet *web)
{
  size_t *line_of = cw_new(sheet->n_rows + 1, sizeof *line_of);
  for (size_t i = 0; line_of && i < sheet->n_rows; i++) {
    line_of[i] = CW_NONE;
  }
  for (size_t p = 0; line_of && web->line && p < web->line->n_phrases; p++) {
    const size_t i = cw_page_row_of(sheet, web->number ? web->number[p] : p + 1);
    const CwSheetRow *row = i < sheet->n_rows ? &sheet->row[i] : NULL;
    if (row && row->timed && row->counts == web->line->phrase[p].counts &&
        fabs(row->start_s - cw_count_line_start(web->line, p)) < SAME_TIME) {
      line_of[i] = p;
    }
  }
  return line_of;
}

CwStatus cw_sheet_web(const CwSheet *sheet, const CwWebSheet *web, FILE *out)
{
  if (web->sound && (!web->line || !web->sound_type)) {
    return CW_ERR_BAD_ARG;
  }
  CwRepeat *repeats = cw_repeats_find(sheet);
  CwStagePlan *plans = cw_stage_plans_make(sheet);
  size_t *line_of = find_lines(sheet, web);
  CwWebPage page = {.out = out,
                    .sheet = sheet,
                    .web = web,
                    .repeats = repeats,
                    .plans = plans,
                    .line_of = line_of,
                    .plays = web->sound != NULL,
                    .bare = cw_sheet_is_bare(sheet),
                    .timed = cw_sheet_is_timed(sheet),
                    .failed = !repeats || !plans || !line_of};
  find_notes_language(&page);
  if (!page.failed) {
    cw_page_fill(&page, cw_web_template(), put_part);
  }
  free(repeats);
  free(line_of);
  cw_stage_plans_free(plans, sheet->n_rows);
  if (page.failed) {
    return CW_ERR_NO_MEM;
  }
  return fflush(out) == 0 && !ferror(out) ? CW_OK : CW_ERR_WRITE;
}
