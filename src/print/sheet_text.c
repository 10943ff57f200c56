// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdlib.h>
#include <string.h>

#include "countwright/print.h"
#include "countwright/time_text.h"
#include "print/cells.h"
#include "print/clean.h"
#include "print/drift_words.h"
#include "print/grid_text.h"
#include "print/look.h"
#include "print/parts.h"
#include "print/terminal.h"
#include "print/words.h"
#include "print/wrap.h"

/// What the rows are printed with.
typedef struct {
  CwTerminal terminal;
  const CwSheet *sheet;
  const CwRepeat *repeats;
  bool timed;    ///< the sheet has times
  bool bare;     ///< the sheet has no steps
  int digits;    ///< of the greatest phrase number
  unsigned text; ///< column at which a phrase's text begins
} Printer;

static void put_title(CwTerminal *terminal, const CwSheet *sheet)
{
  char *title =
      cw_clean_line(sheet->piece && sheet->piece[0] ? sheet->piece : cw_label(sheet->labels, CW_SAY_UNTITLED));
  if (!title) {
    terminal->status = CW_ERR_NO_MEM;
    return;
  }
  cw_terminal_put(terminal, 0, "", title);
  const unsigned width = cw_text_width(title, strlen(title));
  cw_terminal_repeat(terminal, CW_TEXT_TITLE_RULE, width < terminal->columns ? width : terminal->columns);
  cw_terminal_space(terminal);
  free(title);
}

static void put_facts(CwTerminal *terminal, const CwSheet *sheet)
{
  void (*const fact[])(const CwSheet *, CwBuffer *) = {cw_put_subtitle, cw_put_music_facts, cw_put_tempo_facts,
                                                       cw_put_other_fact};
  CwBuffer line = {0};
  for (size_t i = 0; i < sizeof fact / sizeof fact[0]; i++) {
    fact[i](sheet, &line);
    if (line.length || line.failed) {
      cw_terminal_put_buffer(terminal, 0, "", &line);
    }
  }
  cw_buffer_free(&line);
}

/// A label with a colon.
static void put_heading(CwTerminal *terminal, CwLanguage language, const char *english)
{
  char heading[CW_WORD_ROOM];
  snprintf(heading, sizeof heading, "%.120s:", cw_label(language, english));
  cw_terminal_put(terminal, 0, "", heading);
}

static void put_messages(CwTerminal *terminal, CwLanguage language, const CwMessages *messages)
{
  if (messages->n == 0) {
    return;
  }
  cw_terminal_space(terminal);
  put_heading(terminal, language, CW_SAY_DOES_NOT_ADD_UP);
  for (size_t i = 0; i < messages->n; i++) {
    if (messages->text[i][0]) {
      cw_terminal_put_raw(terminal, 4, "  ! ", messages->text[i]);
    }
  }
}

static void put_section(CwTerminal *terminal, const char *heading)
{
  char *clean = cw_clean_line(heading);
  CwLines lines = {0};
  CwStatus status = clean ? cw_wrap(clean, terminal->columns - 6, &lines) : CW_ERR_NO_MEM;
  for (size_t i = 0; status == CW_OK && i < lines.n; i++) {
    const CwSlice *line = &lines.line[i];
    fputs(i ? "   " : CW_TEXT_RULE CW_TEXT_RULE " ", terminal->out);
    fwrite(line->text, 1, line->length, terminal->out);
    if (i + 1 == lines.n) {
      fputc(' ', terminal->out);
      cw_terminal_repeat(terminal, CW_TEXT_RULE, terminal->columns - 4 - cw_text_width(line->text, line->length));
    }
    fputc('\n', terminal->out);
  }
  cw_lines_free(&lines);
  free(clean);
  terminal->status = status == CW_OK ? terminal->status : status;
}

static const CwRepeat *repeat_of(const Printer *printer, const CwSheetRow *row)
{
  return &printer->repeats[row - printer->sheet->row];
}

/// Repeat, role, count-in and doubts of a phrase.
static void put_marks(const Printer *printer, const CwSheetRow *row, CwBuffer *line)
{
  const CwLanguage language = printer->sheet->labels;
  if (printer->timed && !row->timed) {
    cw_buffer_join(line, " \u00b7 ", "%s", cw_label(language, CW_SAY_NOT_TIMED));
  }
  CwBuffer tags = {0};
  cw_put_tags(language, row, repeat_of(printer, row), " \u00b7 ", &tags);
  if (tags.length) {
    cw_buffer_join(line, " \u00b7 ", "%s", tags.text);
  }
  line->failed = line->failed || tags.failed;
  cw_buffer_free(&tags);
  if (row->check_by_ear) {
    char check[CW_WORD_ROOM];
    cw_check_label(language, row, check);
    cw_buffer_join(line, " \u00b7 ", "? %s", check);
  }
}

/// Columns of a sheet that has no steps to show.
enum { BARE_COLUMNS = 4 };

/// Least width of each, with the space before it.
static const unsigned bare_width[BARE_COLUMNS] = {6, 10, 8, 9};
static const char *const bare_head[BARE_COLUMNS] = {CW_MSG("phrase"), CW_MSG("starts"), CW_MSG("counts"),
                                                    CW_SAY_PER_MIN};

/// The columns of a bare line, each flush right under its heading in the language of the labels.
static void put_bare_columns(CwLanguage language, const char *const column[BARE_COLUMNS], CwBuffer *line)
{
  for (size_t i = 0; i < BARE_COLUMNS; i++) {
    const char *head = cw_label(language, bare_head[i]);
    const unsigned head_width = cw_text_width(head, strlen(head)) + (i ? 2 : 0);
    const unsigned room = head_width > bare_width[i] ? head_width : bare_width[i];
    const unsigned width = cw_text_width(column[i], strlen(column[i]));
    cw_buffer_join(line, "", "%*s%s", width < room ? (int)(room - width) : 0, "", column[i]);
  }
}

static void put_bare_head(CwTerminal *terminal, CwLanguage language)
{
  const char *head[BARE_COLUMNS];
  for (size_t i = 0; i < BARE_COLUMNS; i++) {
    head[i] = cw_label(language, bare_head[i]);
  }
  CwBuffer line = {0};
  put_bare_columns(language, head, &line);
  terminal->status = line.failed ? CW_ERR_NO_MEM : terminal->status;
  cw_terminal_put(terminal, 0, cw_buffer_text(&line), "");
  cw_buffer_free(&line);
}

/// Number, time and tempo in columns, for a sheet that has no steps to show.
static void put_bare_line(Printer *printer, const CwSheetRow *row)
{
  char number[CW_WORD_ROOM];
  char start[24];
  char counts[CW_WORD_ROOM];
  char tempo[CW_WORD_ROOM];
  snprintf(number, sizeof number, "%u", row->number);
  cw_format_time(row->start_s, start);
  snprintf(counts, sizeof counts, "%u", row->counts);
  cw_tempo_label(row->counts_per_min, tempo);
  CwBuffer label = {0};
  CwBuffer marks = {0};
  put_bare_columns(printer->sheet->labels, (const char *const[]){number, start, counts, tempo}, &label);
  put_marks(printer, row, &marks);
  marks.failed = marks.failed || label.failed;
  const unsigned width = cw_text_width(cw_buffer_text(&label), label.length) + 2;
  if (width + cw_text_width(cw_buffer_text(&marks), marks.length) <= printer->terminal.columns) {
    cw_terminal_put_buffer(&printer->terminal, marks.length ? width : 0, cw_buffer_text(&label), &marks);
  } else {
    cw_terminal_put(&printer->terminal, 0, cw_buffer_text(&label), "");
    cw_terminal_put_buffer(&printer->terminal, printer->text, "", &marks);
  }
  cw_buffer_free(&label);
  cw_buffer_free(&marks);
}

/// Number, time, counts, tempo and marks in one running line.
static void put_phrase_line(Printer *printer, const CwSheetRow *row)
{
  char label[CW_WORD_ROOM];
  snprintf(label, sizeof label, "%*u", printer->digits + 1, row->number);
  CwBuffer line = {0};
  if (row->timed) {
    char start[24];
    cw_format_time(row->start_s, start);
    cw_buffer_join(&line, "", "%s", start);
  }
  char counts[CW_WORD_ROOM];
  cw_counts_label(printer->sheet->labels, row->counts, counts);
  cw_buffer_join(&line, " \u00b7 ", "%s", counts);
  if (row->timed) {
    char tempo[CW_WORD_ROOM];
    cw_tempo_label(row->counts_per_min, tempo);
    cw_buffer_join(&line, " \u00b7 ", "%s%s", tempo, cw_label(printer->sheet->labels, CW_SAY_PER_MIN));
    char change[CW_WORD_ROOM];
    cw_change_label(row->change_percent, change);
    if (*change) {
      cw_buffer_join(&line, " ", "%s", change);
    }
  }
  put_marks(printer, row, &line);
  cw_terminal_put_buffer(&printer->terminal, printer->text, label, &line);
  cw_buffer_free(&line);
}

/// Where the phrase is in the recording that the sheet is held against.
static void put_other(Printer *printer, const CwSheetRow *row)
{
  CwBuffer line = {0};
  if (printer->sheet->other) {
    cw_put_other(printer->sheet->labels, row, &line);
  }
  if (line.length || line.failed) {
    cw_terminal_put_buffer(&printer->terminal, printer->text, "", &line);
  }
  cw_buffer_free(&line);
}

static void put_steps(Printer *printer, const CwSheetRow *row)
{
  CwCells cells;
  const CwStatus status = cw_cells_make(row, printer->sheet->labels, &cells);
  if (status != CW_OK) {
    printer->terminal.status = status;
    return;
  }
  if (cells.n) {
    cw_grid_text_put(&printer->terminal, printer->text, row->counts, &cells);
  }
  cw_cells_free(&cells);
}

static void put_remark(Printer *printer, const char *remark)
{
  if (!remark || !remark[0]) {
    return;
  }
  CwBuffer label = {0};
  cw_buffer_join(&label, "", "%*s\u203a ", (int)printer->text, "");
  printer->terminal.status = label.failed ? CW_ERR_NO_MEM : printer->terminal.status;
  cw_terminal_put_raw(&printer->terminal, printer->text + 2, cw_buffer_text(&label), remark);
  cw_buffer_free(&label);
}

static void put_part(Printer *printer, const CwSheetRow *row, const CwSheetPart *part)
{
  CwBuffer tags = {0};
  cw_put_part_tags(printer->sheet->labels, part, " \u00b7 ", &tags);
  cw_terminal_put_buffer(&printer->terminal, printer->text, "", &tags);
  cw_buffer_free(&tags);
  const CwSheetRow its = cw_part_row(row, part);
  put_steps(printer, &its);
  put_remark(printer, part->remark);
}

static void put_hold(Printer *printer, const CwSheetRow *row)
{
  char hold[CW_WORD_ROOM];
  cw_hold_label(printer->sheet->labels, row, hold);
  const char *const rule = CW_TEXT_RULE CW_TEXT_RULE CW_TEXT_RULE CW_TEXT_RULE;
  CwBuffer line = {0};
  cw_buffer_join(&line, "", "%s %s %s", rule, hold, rule);
  if (!printer->bare) {
    cw_terminal_space(&printer->terminal);
  }
  cw_terminal_put_buffer(&printer->terminal, printer->text, "", &line);
  cw_buffer_free(&line);
}

static void put_row(Printer *printer, size_t i)
{
  const CwSheetRow *row = &printer->sheet->row[i];
  const bool heading = row->section && row->section[0];
  if (i && (heading || !printer->bare)) {
    cw_terminal_space(&printer->terminal);
  }
  if (heading) {
    put_section(&printer->terminal, row->section);
  }
  if (printer->bare) {
    put_bare_line(printer, row);
  } else {
    put_phrase_line(printer, row);
  }
  put_other(printer, row);
  if (!printer->bare) {
    if (!repeat_of(printer, row)->is_enough) {
      put_steps(printer, row);
    }
  }
  put_remark(printer, row->remark);
  for (size_t k = 0; k < row->n_parts && !repeat_of(printer, row)->is_enough; k++) {
    put_part(printer, row, &row->part[k]);
  }
  if (row->hold_s > 0) {
    put_hold(printer, row);
  }
}

static void put_rows(CwTerminal *terminal, const CwSheet *sheet, const CwRepeat *repeats)
{
  Printer printer = {*terminal, sheet, repeats, cw_sheet_is_timed(sheet), cw_sheet_is_bare(sheet), 2, 0};
  for (size_t bound = 100; bound <= sheet->n_rows; bound *= 10) {
    printer.digits++;
  }
  printer.text = (unsigned)printer.digits + 3;
  cw_terminal_space(terminal);
  if (sheet->n_rows == 0) {
    cw_terminal_put(terminal, 0, "", cw_label(sheet->labels, CW_SAY_NO_PHRASES));
  } else if (printer.bare) {
    put_bare_head(&printer.terminal, sheet->labels);
  }
  for (size_t i = 0; printer.terminal.status == CW_OK && i < sheet->n_rows; i++) {
    put_row(&printer, i);
  }
  terminal->status = printer.terminal.status;
}

/// Times on and off stage, below the phrases.
static void put_cast(CwTerminal *terminal, const CwSheet *sheet)
{
  if (!sheet->cast_shown || sheet->cast.n_roles == 0 || terminal->status != CW_OK) {
    return;
  }
  cw_terminal_space(terminal);
  put_heading(terminal, sheet->labels, CW_SAY_CAST);
  terminal->status = cw_cast_text(&sheet->cast, sheet->labels, terminal->columns, terminal->out);
}

static void put_legend(CwTerminal *terminal, const CwSheet *sheet, const CwRepeat *repeats)
{
  CwLegend legend[CW_LEGEND_ROOM];
  const size_t n = cw_legend(sheet, repeats, legend);
  unsigned widest = 0;
  for (size_t i = 0; i < n; i++) {
    const unsigned width = cw_text_width(legend[i].sign, strlen(legend[i].sign));
    widest = width > widest ? width : widest;
  }
  if (n) {
    cw_terminal_space(terminal);
    put_heading(terminal, sheet->labels, CW_SAY_LEGEND);
  }
  for (size_t i = 0; i < n; i++) {
    char sign[CW_WORD_ROOM + 2];
    snprintf(sign, sizeof sign, "  %.127s", legend[i].sign);
    cw_terminal_put(terminal, widest + 4, sign, legend[i].words);
  }
}

CwStatus cw_sheet_text(const CwSheet *sheet, unsigned columns, FILE *out)
{
  CwTerminal terminal = cw_terminal(out, columns);
  put_title(&terminal, sheet);
  put_facts(&terminal, sheet);
  put_messages(&terminal, sheet->labels, &sheet->message);
  CwRepeat *repeats = cw_repeats_find(sheet);
  if (repeats) {
    put_rows(&terminal, sheet, repeats);
    put_cast(&terminal, sheet);
    put_legend(&terminal, sheet, repeats);
  } else {
    terminal.status = CW_ERR_NO_MEM;
  }
  free(repeats);
  return cw_terminal_end(&terminal);
}
