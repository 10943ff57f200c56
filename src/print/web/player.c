// SPDX-License-Identifier: GPL-3.0-or-later
#include "print/label.h"
#include "print/web/page.h"

/// The labels in player.html and template.html, which scripts/labels does not read.
const char *const cw_page_labels[] = {
    CW_MSG("To the phrases"),
    CW_MSG("Player"),
    CW_MSG("Play"),
    CW_MSG("phrase"),
    CW_MSG("Phrase before"),
    CW_MSG("Phrase after"),
    CW_MSG("Slower, loop, count-in"),
    CW_MSG("Tempo"),
    CW_MSG("Count-in"),
    CW_MSG("none"),
    CW_MSG("Loop"),
    CW_MSG("from phrase"),
    CW_MSG("to phrase"),
    CW_MSG("The space bar plays and stops; the left and right arrow keys go to the phrase before and after."),
    NULL,
};

void cw_page_player(CwWebPage *page)
{
  if (page->plays) {
    cw_page_fill(page, cw_web_player(), cw_page_label);
  }
}
