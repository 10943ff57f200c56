// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "countwright/print.h"
#include "print/cast_json.h"
#include "print/cast_words.h"
#include "print/label.h"
#include "print/terminal.h"

CwStatus cw_cast_text(const CwCast *cast, CwLanguage labels, unsigned columns, FILE *out)
{
  CwTerminal terminal = cw_terminal(out, columns);
  CwMessages lines = {0};
  terminal.status = cw_cast_lines(cast, labels, &lines);
  for (size_t i = 0; i < lines.n && terminal.status == CW_OK; i++) {
    const bool below = strncmp(lines.text[i], "  ", 2) == 0;
    if (!below && i > 0) {
      cw_terminal_space(&terminal);
    }
    cw_terminal_put(&terminal, below ? 4 : 0, below ? "  " : "", lines.text[i] + (below ? 2 : 0));
  }
  if (lines.n == 0 && terminal.status == CW_OK) {
    cw_terminal_put(&terminal, 0, "", cw_label(labels, "Nobody enters or goes off."));
  }
  cw_messages_free(&lines);
  return cw_terminal_end(&terminal);
}

CwStatus cw_cast_json(const CwCast *cast, FILE *out)
{
  bool good = true;
  json_t *root = cw_json_begin("countwright-cast", &good);
  cw_json_number(root, "warm_lead_s", cast->lead_s, CW_TIME_DIGITS, &good);
  cw_json_put(root, "cast", cw_cast_value(cast, &good), &good);
  return cw_json_end(root, good, out);
}
