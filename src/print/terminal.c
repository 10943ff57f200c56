// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/terminal.h"

#include <stdlib.h>
#include <string.h>

#include "print/clean.h"
#include "print/look.h"
#include "print/wrap.h"

CwTerminal cw_terminal(FILE *out, unsigned columns)
{
  return (CwTerminal){out, columns < CW_TEXT_NARROWEST ? CW_TEXT_NARROWEST : columns, CW_OK};
}

void cw_terminal_repeat(CwTerminal *terminal, const char *text, unsigned n)
{
  for (unsigned i = 0; i < n; i++) {
    fputs(text, terminal->out);
  }
}

void cw_terminal_put(CwTerminal *terminal, unsigned indent, const char *label, const char *text)
{
  CwLines lines;
  if (terminal->status == CW_OK) {
    terminal->status = cw_wrap(text, terminal->columns - indent, &lines);
  }
  if (terminal->status != CW_OK) {
    return;
  }
  fputs(label, terminal->out);
  const unsigned label_width = cw_text_width(label, strlen(label));
  for (size_t i = 0; i < lines.n; i++) {
    cw_terminal_repeat(terminal, " ", i ? indent : indent - (label_width < indent ? label_width : indent));
    fwrite(lines.line[i].text, 1, lines.line[i].length, terminal->out);
    fputc('\n', terminal->out);
  }
  if (lines.n == 0) {
    fputc('\n', terminal->out);
  }
  cw_lines_free(&lines);
}

void cw_terminal_put_buffer(CwTerminal *terminal, unsigned indent, const char *label, CwBuffer *buffer)
{
  if (buffer->failed) {
    terminal->status = CW_ERR_NO_MEM;
  }
  cw_terminal_put(terminal, indent, label, cw_buffer_text(buffer));
  cw_buffer_clear(buffer);
}

void cw_terminal_put_raw(CwTerminal *terminal, unsigned indent, const char *label, const char *text)
{
  if (!text || terminal->status != CW_OK) {
    return;
  }
  char *clean = cw_clean_line(text);
  if (clean) {
    cw_terminal_put(terminal, indent, label, clean);
  } else {
    terminal->status = CW_ERR_NO_MEM;
  }
  free(clean);
}

void cw_terminal_space(CwTerminal *terminal)
{
  fputc('\n', terminal->out);
}

CwStatus cw_terminal_end(CwTerminal *terminal)
{
  if (terminal->status == CW_OK && (fflush(terminal->out) != 0 || ferror(terminal->out))) {
    terminal->status = CW_ERR_WRITE;
  }
  return terminal->status;
}
