// SPDX-License-Identifier: GPL-3.0-or-later
// Writes every sample in every form into the folder named on the command line, for the scripts that read them back.
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

static void write_sheet(const char *name, const CwSheet *sheet)
{
  FILE *out = begin(name, "-40.txt");
  end(out, cw_sheet_text(sheet, 40, out));
  out = begin(name, "-80.txt");
  end(out, cw_sheet_text(sheet, 80, out));
  out = begin(name, "-132.txt");
  end(out, cw_sheet_text(sheet, 132, out));
  out = begin(name, ".sheet.json");
  end(out, cw_sheet_json(sheet, out));
  out = begin(name, ".sheet.csv");
  end(out, cw_sheet_csv(sheet, out));
}

static void write_line(void)
{
  const CwCountLine line = sample_line();
  FILE *out = begin("line", ".count-line.json");
  end(out, cw_count_line_json(&line, "\xFFtake \"1\".wav", out));
  out = begin("line", ".count-line.csv");
  end(out, cw_count_line_csv(&line, out));
}

static void write_drift(void)
{
  const CwDrift drift = sample_drift();
  FILE *out = begin("drift", "-40.txt");
  end(out, cw_drift_text(&drift, sample_labels(), 40, out));
  out = begin("drift", "-80.txt");
  end(out, cw_drift_text(&drift, sample_labels(), 80, out));
  out = begin("drift", ".drift.json");
  end(out, cw_drift_json(&drift, sample_labels(), out));
  out = begin("drift", ".drift.csv");
  end(out, cw_drift_csv(&drift, sample_labels(), out));
}

int main(int argc, char **argv)
{
  if (argc != 2) {
    return 2;
  }
  folder = argv[1];
  const SampleSheet *samples = NULL;
  const size_t n = sample_sheets(&samples);
  for (size_t i = 0; i < n; i++) {
    write_sheet(samples[i].name, &samples[i].sheet);
  }
  write_sheet("many", sample_of_phrases(300));
  write_line();
  write_drift();
  return 0;
}
