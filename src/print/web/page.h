// SPDX-License-Identifier: GPL-3.0-or-later
/// A web page being written. What comes from notes goes through cw_page_text() alone, so that it is text and never markup.
#ifndef CW_PRINT_WEB_PAGE_H
#define CW_PRINT_WEB_PAGE_H

#include <stdbool.h>
#include <stdio.h>

#include "countwright/stage_plan.h"
#include "countwright/web_sheet.h"
#include "print/buffer.h"
#include "print/repeats.h"
#include "print/web/files.h"

/// The page and what is on it. The first failure is kept; the page is then of no use.
typedef struct {
  FILE *out;
  const CwSheet *sheet;
  const CwWebSheet *web;
  const CwRepeat *repeats;
  const CwStagePlan *plans; ///< one for each row
  const size_t *line_of;    ///< for each row its phrase in the count line, CW_NONE where it has none
  char notes_language[48];  ///< " lang=..." for elements with text of the notes; empty when it is that of the labels
  bool plays;               ///< the recording is inside
  bool bare;                ///< no steps anywhere
  bool timed;
  bool failed; ///< memory ran out
} CwWebPage;

/// Markup of ours.
void cw_page_put(CwWebPage *page, const char *markup);

/// Markup of ours with whole numbers and strings of ours, as by printf.
void cw_page_format(CwWebPage *page, const char *format, ...) CW_PRINTF(2, 3);

/// Any text: cleaned (clean.h), and every sign of markup escaped, inside quotes too. NULL counts as empty.
void cw_page_text(CwWebPage *page, const char *text);

/// An element of ours with a text in it; nothing when the text is empty. @param open Such as "p class=\"facts\"".
void cw_page_element(CwWebPage *page, const char *open, const char *text);

/// The same with a text of the notes, in their language and direction.
void cw_page_noted(CwWebPage *page, const char *open, const char *text);

/// The same with the text of a buffer, which is cleared. @return Whether anything was put.
bool cw_page_buffer(CwWebPage *page, const char *open, CwBuffer *text);

/// A file with {{names}}: `put` is called for each, and what is between goes out as it is.
void cw_page_fill(CwWebPage *page, CwWebFile file, void (*put)(CwWebPage *page, const char *name));

/// The label of the page's language for an English one, as text.
void cw_page_label(CwWebPage *page, const char *label);

/// The English labels of the page's own files, up to a NULL.
extern const char *const cw_page_labels[];

/// An element of ours with a label in it.
void cw_page_labelled(CwWebPage *page, const char *open, const char *label);

// the parts of the page
void cw_page_head(CwWebPage *page);
void cw_page_messages(CwWebPage *page);
void cw_page_sections(CwWebPage *page);
void cw_page_phrases(CwWebPage *page);
void cw_page_cast(CwWebPage *page);
void cw_page_legend(CwWebPage *page);
void cw_page_player(CwWebPage *page);
void cw_page_data(CwWebPage *page); ///< counts, labels, recording and script

/// The title of the page, as text.
void cw_page_title(CwWebPage *page, CwBuffer *title);

/// The steps of a row or part.
void cw_page_steps(CwWebPage *page, const CwSheetRow *row);

/// The row of a phrase's number: the rows are one passage of the whole. @return `n_rows` when it is not on the sheet.
size_t cw_page_row_of(const CwSheet *sheet, size_t number);

/// Whether any stage plan is on the page.
bool cw_page_has_plans(const CwWebPage *page);

/// The stage plan of a row, when there is one to draw.
void cw_page_plan(CwWebPage *page, const CwStagePlan *plan);

/// The recording at a glance.
void cw_page_strip(CwWebPage *page);

/// The policy by which only the page's own style and script count, as an attribute's value.
void cw_page_policy(CwWebPage *page);

#endif
