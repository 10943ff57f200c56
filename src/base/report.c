// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/report.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_report_progress(const CwReport *report, const char *stage, double fraction)
{
  if (!report || !report->progress) {
    return CW_OK;
  }
  return report->progress(report->user, stage, fraction) ? CW_OK : CW_ERR_CANCELLED;
}

void cw_report_notice(const CwReport *report, const char *format, ...)
{
  if (!report || !report->notice) {
    return;
  }
  char text[512];
  va_list args;
  va_start(args, format);
  vsnprintf(text, sizeof text, format, args);
  va_end(args);
  report->notice(report->user, text);
}

CwStatus cw_messages_add(CwMessages *messages, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  va_list again;
  va_copy(again, args);
  const int length = vsnprintf(NULL, 0, format, args);
  va_end(args);
  char *text = length < 0 ? NULL : cw_new((size_t)length + 1, 1);
  if (text) {
    vsnprintf(text, (size_t)length + 1, format, again);
  }
  va_end(again);
  char **grown = text ? cw_resize(messages->text, messages->n + 1, sizeof *grown) : NULL;
  if (!grown) {
    free(text);
    return CW_ERR_NO_MEM;
  }
  messages->text = grown;
  messages->text[messages->n++] = text;
  return CW_OK;
}

void cw_messages_free(CwMessages *messages)
{
  if (!messages) {
    return;
  }
  for (size_t i = 0; i < messages->n; i++) {
    free(messages->text[i]);
  }
  free(messages->text);
  memset(messages, 0, sizeof *messages);
}
