// SPDX-License-Identifier: GPL-3.0-or-later
// Writes every sample in every form into a folder, for the scripts that read them back.
// Usage: print_samples FOLDER [LOCALE], the locale one with decimal commas.
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

#include "unit/print/samples.h"

static const char *folder;

static FILE *begin(const char *name, const char *ending)
{
  char path[4096];
  snprintf(path, sizeof path, "%s/%s%s", folder, name, ending);
  FILE *out = fopen(path, "wb");
  if (!out) {
    perror(path);
    exit(1);
  }
  return out;
}

static void end(FILE *out, CwStatus status)
{
  if (fclose(out) != 0 || status != CW_OK) {
    fprintf(stderr, "%s\n", cw_strerror(status));
    exit(1);
  }
}

/// Every kind of page; the names are those of check_pdf.py.
static const struct {
  const char *ending;
  CwPage page;
} pages[] = {
    {"-a4.pdf", {CW_PAPER_A4, false, false}},
    {"-letter.pdf", {CW_PAPER_LETTER, false, false}},
    {"-a5.pdf", {CW_PAPER_A5, false, false}},
    {"-wide.pdf", {CW_PAPER_A4, true, false}},
    {"-letterwide.pdf", {CW_PAPER_LETTER, true, false}},
    {"-a5wide.pdf", {CW_PAPER_A5, true, false}},
    {"-big.pdf", {CW_PAPER_A4, false, true}},
    {"-a5big.pdf", {CW_PAPER_A5, false, true}},
    {"-a5widebig.pdf", {CW_PAPER_A5, true, true}},
};

/// @param step 1 for every kind; more for every so-manieth.
static void write_pages(const char *name, const CwSheet *sheet, size_t step)
{
  for (size_t i = 0; i < sizeof pages / sizeof pages[0]; i += step) {
    FILE *out = begin(name, pages[i].ending);
    end(out, cw_sheet_pdf(sheet, &pages[i].page, out));
  }
}

static void write_sheet(const char *name, const CwSheet *sheet)
{
  FILE *out = begin(name, "-40.txt");
  end(out, cw_sheet_text(sheet, 40, out));
  out = begin(name, "-80.txt");
  end(out, cw_sheet_text(sheet, 80, out));
  out = begin(name, "-132.txt");
  end(out, cw_sheet_text(sheet, 132, out));
  write_pages(name, sheet, 1);
  out = begin(name, ".sheet.json");
  end(out, cw_sheet_json(sheet, out));
  out = begin(name, ".sheet.csv");
  end(out, cw_sheet_csv(sheet, out));
}

/// The same sheet labelled in every language.
static void write_languages(const char *name)
{
  for (int i = 0; i < CW_N_LANGUAGES; i++) {
    char its_name[64];
    CwSheet sheet = *sample_sheet(name);
    sheet.labels = (CwLanguage)i;
    snprintf(its_name, sizeof its_name, "%s_%s", name, cw_language_tag(sheet.labels));
    FILE *out = begin(its_name, ".sheet.json");
    end(out, cw_sheet_json(&sheet, out));
    out = begin(its_name, "-40.txt");
    end(out, cw_sheet_text(&sheet, 40, out));
    out = begin(its_name, "-80.txt");
    end(out, cw_sheet_text(&sheet, 80, out));
    write_pages(its_name, &sheet, 7); // on the first and on the narrowest
  }
}

static void write_line(void)
{
  const CwCountLine line = sample_line();
  FILE *out = begin("line", ".count-line.json");
  end(out, cw_count_line_json(&line, NULL, "\xFFtake \"1\".wav", out));
  out = begin("line", ".count-line.csv");
  end(out, cw_count_line_csv(&line, NULL, out));
}

static void write_drift(const char *name, const CwDriftTable *table)
{
  FILE *out = begin(name, "-40.txt");
  end(out, cw_drift_text(table, 40, out));
  out = begin(name, "-80.txt");
  end(out, cw_drift_text(table, 80, out));
  out = begin(name, "-160.txt");
  end(out, cw_drift_text(table, 160, out));
  out = begin(name, ".drift.json");
  end(out, cw_drift_json(table, out));
  out = begin(name, ".drift.csv");
  end(out, cw_drift_csv(table, out));
  out = begin(name, "-chart.svg");
  end(out, cw_drift_chart(table, CW_CHART_SVG, out));
  out = begin(name, "-chart.pdf");
  end(out, cw_drift_chart(table, CW_CHART_PDF, out));
  out = begin(name, "-chart.png");
  end(out, cw_drift_chart(table, CW_CHART_PNG, out));
}

int main(int argc, char **argv)
{
  if (argc < 2 || argc > 3) {
    return 2;
  }
  if (argc == 3 && (!setlocale(LC_ALL, argv[2]) || *localeconv()->decimal_point != ',')) {
    fprintf(stderr, "no decimal commas in locale '%s'\n", argv[2]);
    return 1;
  }
  folder = argv[1];
  const SampleSheet *samples = NULL;
  const size_t n = sample_sheets(&samples);
  for (size_t i = 0; i < n; i++) {
    write_sheet(samples[i].name, &samples[i].sheet);
  }
  write_languages("waltz");
  write_languages("bare");
  write_languages("marks");
  write_sheet("chance", sample_random(1));
  write_sheet("tall", sample_tall());
  write_sheet("many", sample_of_phrases(300));
  write_line();
  write_drift("drift", sample_drift());
  write_drift("long-drift", sample_long_drift());
  write_drift("some-drift", sample_many(5));
  write_drift("many-drift", sample_many(30));
  write_drift("no-drift", sample_no_drift());
  return 0;
}
