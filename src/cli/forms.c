// SPDX-License-Identifier: GPL-3.0-or-later
/// The forms of sheets, count lines and drift.
#include "cli/write.h"
#include "countwright/web_sheet.h"

static CwStatus sheet_text(const CliContent *content, FILE *out)
{
  return cw_sheet_text(content->sheet, content->columns, out);
}

static CwStatus sheet_pdf(const CliContent *content, FILE *out)
{
  return cw_sheet_pdf(content->sheet, &content->page, out);
}

static CwStatus sheet_json(const CliContent *content, FILE *out)
{
  return cw_sheet_json(content->sheet, out);
}

static CwStatus sheet_csv(const CliContent *content, FILE *out)
{
  return cw_sheet_csv(content->sheet, out);
}

static CwStatus sheet_web(const CliContent *content, FILE *out)
{
  const CwWebSheet web = {.line = content->line,
                          .number = content->number,
                          .sound = content->sound,
                          .sound_size = content->sound_size,
                          .sound_type = content->sound_type};
  return cw_sheet_web(content->sheet, &web, out);
}

static CwStatus sheet_midi(const CliContent *content, FILE *out)
{
  return cw_sheet_midi(content->sheet, content->line, content->number, out);
}

static CwStatus drift_text(const CliContent *content, FILE *out)
{
  return cw_drift_text(content->table, content->columns, out);
}

static CwStatus drift_json(const CliContent *content, FILE *out)
{
  return cw_drift_json(content->table, out);
}

static CwStatus drift_csv(const CliContent *content, FILE *out)
{
  return cw_drift_csv(content->table, out);
}

static CwStatus chart_svg(const CliContent *content, FILE *out)
{
  return cw_drift_chart(content->table, CW_CHART_SVG, out);
}

static CwStatus chart_pdf(const CliContent *content, FILE *out)
{
  return cw_drift_chart(content->table, CW_CHART_PDF, out);
}

static CwStatus chart_png(const CliContent *content, FILE *out)
{
  return cw_drift_chart(content->table, CW_CHART_PNG, out);
}

static CwStatus line_json(const CliContent *content, FILE *out)
{
  return cw_count_line_json(content->line, content->number, content->recording, out);
}

static CwStatus line_csv(const CliContent *content, FILE *out)
{
  return cw_count_line_csv(content->line, content->number, out);
}

static CwStatus plain_text(const CliContent *content, FILE *out)
{
  return fwrite(content->text, 1, content->text_size, out) == content->text_size ? CW_OK : CW_ERR_WRITE;
}

static CwStatus day_text(const CliContent *content, FILE *out)
{
  return cw_day_text(content->day, content->columns, out);
}

static CwStatus day_json(const CliContent *content, FILE *out)
{
  return cw_day_json(content->day, out);
}

const CliForm cli_day_forms[] = {{".txt", day_text}, {".json", day_json}, {0}};
const CliForm cli_text_forms[] = {{".txt", plain_text}, {0}};
const CliForm cli_line_forms[] = {{".json", line_json}, {".csv", line_csv}, {0}};
const CliForm cli_sheet_forms[] = {{".txt", sheet_text}, {".pdf", sheet_pdf},  {".json", sheet_json},
                                   {".csv", sheet_csv},  {".mid", sheet_midi}, {".html", sheet_web},
                                   {".svg", NULL},       {".png", NULL},       {0}};
const CliForm cli_drift_forms[] = {{".txt", drift_text}, {".json", drift_json}, {".csv", drift_csv}, {0}};
const CliForm cli_chart_forms[] = {{".svg", chart_svg}, {".pdf", chart_pdf}, {".png", chart_png}, {0}};
