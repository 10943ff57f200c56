// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "notes/parser.h"

/// Characters quoted of what was found.
enum { LONGEST_QUOTE = 24 };

/// Takes over `text`.
static void keep(CwParser *parser, size_t line, size_t column, char *text)
{
  CwNotebook *notebook = parser->notebook;
  if (!text || !cw_grow(&notebook->diagnostic, &parser->diagnostic_capacity, notebook->n_diagnostics,
                        sizeof *notebook->diagnostic)) {
    parser->full = true;
    free(text);
    return;
  }
  notebook->diagnostic[notebook->n_diagnostics++] = (CwDiagnostic){line, column, text};
}

CW_PRINTF(1, 0) static char *format_text(const char *format, va_list args)
{
  char text[512];
  const int length = vsnprintf(text, sizeof text, format, args);
  return length < 0 ? NULL : cw_copy_text(text, strlen(text));
}

void cw_diagnose_at(CwParser *parser, size_t line, size_t column, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  keep(parser, line, column, format_text(format, args));
  va_end(args);
}

void cw_diagnose(CwParser *parser, size_t i, const char *format, ...)
{
  if (parser->line_diagnostics >= CW_DIAGNOSTICS_A_LINE) {
    return;
  }
  if (++parser->line_diagnostics == CW_DIAGNOSTICS_A_LINE) {
    cw_diagnose_at(parser, parser->line, i + 1, "and more on this line");
    return;
  }
  va_list args;
  va_start(args, format);
  keep(parser, parser->line, i + 1, format_text(format, args));
  va_end(args);
}

void cw_diagnose_found(CwParser *parser, size_t i, size_t end, const char *wanted)
{
  const CwLineText *text = &parser->text;
  end = cw_trim_blanks(text, i, end);
  if (i >= end) {
    cw_diagnose(parser, i, "expected %s, found the end of the line", wanted);
    return;
  }
  const bool cut = end - i > LONGEST_QUOTE;
  const size_t last = cut ? i + LONGEST_QUOTE : end;
  cw_diagnose(parser, i, "expected %s, found '%.*s%s'", wanted, (int)(text->at[last] - text->at[i]),
              text->words + text->at[i], cut ? "..." : "");
}
