// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/table_print.h"

#include <math.h>
#include <stdio.h>

#include "unit/cw_test.h"

static const double slack = 0.02; ///< so that another compiler's last bits break nothing
static const char *const mode_words[CW_N_MODES] = {"CW_ALONE", "CW_NOTES", "CW_PINS", "CW_TAPPED"};

void cw_hard_print_figure(const CwHardLine *line, const CwVerdict *verdict, CwMeasure measure)
{
  const double value = verdict->value[measure];
  print_message("%-22s %-5s %-9s %.2f, held %.2f", line->name, cw_mode_names[line->mode], cw_measure_names[measure],
                value, line->held[measure]);
  if (value < line->wanted[measure])
    print_message(", short of %.2f", line->wanted[measure]);
  print_message("%s\n", value < line->held[measure] ? ": LOST" : "");
}

static void print_four(const double value[CW_N_MEASURES])
{
  for (int m = 0; m < CW_N_MEASURES; m++)
    printf("%s%.2f", m == 0 ? "{" : ", ", value[m]);
  printf("}");
}

void cw_hard_print_line(const CwHardLine *line, const CwVerdict *verdict)
{
  double held[CW_N_MEASURES];
  for (int m = 0; m < CW_N_MEASURES; m++) {
    const double value = isnan(verdict->value[m]) ? 0 : verdict->value[m];
    held[m] = value >= line->wanted[m] ? line->wanted[m] : fmax(0, floor(100 * (value - slack)) / 100);
  }
  printf("    {\"%s\", %s, ", line->name, mode_words[line->mode]);
  print_four(line->wanted);
  printf(", ");
  print_four(held);
  printf("},\n");
}

void cw_spoil_print_line(const CwSpoilLine *line, const double fall[CW_N_MEASURES])
{
  double held[CW_N_MEASURES];
  for (int m = 0; m < CW_N_MEASURES; m++) {
    const double value = isnan(fall[m]) ? 0 : fall[m];
    held[m] = value <= cw_wanted_fall ? cw_wanted_fall : ceil(100 * (value + slack)) / 100;
  }
  printf("    {\"%s\", %s, ", line->spoil, mode_words[line->mode]);
  print_four(held);
  printf("},\n");
}
