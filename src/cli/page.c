// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page.h"

void cli_take_language(const CliArgs *args, CwSheet *sheet)
{
  const CliValue *language = &args->value[CLI_LANGUAGE];
  if (language->given) {
    sheet->labels = cw_language_find(language->text); // one of the words of the table
  }
}
