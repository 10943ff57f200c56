// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page.h"

#include <string.h>

#include "cli/talk.h"

static bool is_word(const CliValue *value, const char *word)
{
  return value->given && strcmp(value->text, word) == 0;
}

CwPage cli_page(const CliArgs *args)
{
  const CliValue *value = args->value;
  return (CwPage){.paper = is_word(&value[CLI_PAPER], "letter") ? CW_PAPER_LETTER
                           : is_word(&value[CLI_PAPER], "a5")   ? CW_PAPER_A5
                                                                : CW_PAPER_A4,
                  .landscape = value[CLI_LANDSCAPE].given,
                  .big = value[CLI_BIG].given};
}

/// Keep only the phrases asked for.
static int take_passage(const CliArgs *args, CwSheet *sheet)
{
  const CliValue *from = &args->value[CLI_FROM_PHRASE];
  const CliValue *to = &args->value[CLI_TO_PHRASE];
  if (!from->given && !to->given) {
    return CLI_GOOD;
  }
  const size_t first = from->given ? (size_t)from->number : 1;
  const size_t last = to->given ? (size_t)to->number : sheet->n_rows;
  if (first > sheet->n_rows || last > sheet->n_rows) {
    cli_say(first > sheet->n_rows ? from->text : to->text, "there are only %zu phrases", sheet->n_rows);
    return CLI_FAILED;
  }
  if (first > last) {
    cli_say(to->text, "this is before phrase %zu", first);
    return CLI_FAILED;
  }
  if (first > 1 || last < sheet->n_rows) {
    cw_sheet_keep_phrases(sheet, first - 1, last - 1);
  }
  return CLI_GOOD;
}

int cli_take_page(const CliArgs *args, CwSheet *sheet)
{
  const CliValue *language = &args->value[CLI_LANGUAGE];
  if (language->given) {
    sheet->labels = cw_language_find(language->text); // one of the words of the table
  }
  sheet->repeats_written = is_word(&args->value[CLI_REPEATS], "written");
  return take_passage(args, sheet);
}
