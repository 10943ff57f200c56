// SPDX-License-Identifier: GPL-3.0-or-later
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "notes/parser.h"
#include "notes/retime.h"

/// The latest time that was given, and where.
typedef struct {
  double time_s;
  bool hold; ///< the end of a hold
  size_t line;
  size_t column;
} Given;

static int by_count(const void *a, const void *b)
{
  const CwPin *left = a;
  const CwPin *right = b;
  if (left->count != right->count) {
    return left->count < right->count ? -1 : 1;
  }
  return left->column < right->column ? -1 : left->column > right->column;
}

static void check_pin(CwParser *parser, const CwPin *pin, Given *last)
{
  char now[32];
  char before[32];
  if (!(pin->time_s > last->time_s)) {
    cw_format_pin(pin->time_s, now);
    cw_format_pin(last->time_s, before);
    if (last->hold) {
      cw_diagnose_at(parser, pin->line, pin->column, "expected a time after %s, where the hold ends, found %s", before,
                     now);
    } else {
      cw_diagnose_at(parser, pin->line, pin->column,
                     "expected a time after %s, pinned at line %zu, column %zu, found %s", before, last->line,
                     last->column, now);
    }
  }
  *last = (Given){pin->time_s, false, pin->line, pin->column};
}

static void check_hold(CwParser *parser, const CwNotePhrase *phrase, Given *last)
{
  char end[32];
  char before[32];
  if (isnan(phrase->hold_until_s)) {
    return;
  }
  if (!(phrase->hold_until_s > last->time_s)) {
    cw_format_pin(phrase->hold_until_s, end);
    cw_format_pin(last->time_s, before);
    cw_diagnose_at(parser, phrase->line, 1, "expected the hold after this phrase to end after %s, found %s", before,
                   end);
  }
  *last = (Given){phrase->hold_until_s, true, phrase->line, 1};
}

/// True when the first one of the head and the pin of the first phrase's one are the same time.
static bool repeats_head(const CwParser *parser)
{
  const CwNotebook *notebook = parser->notebook;
  const CwNotePhrase *first = notebook->n_phrases ? &notebook->phrase[0] : NULL;
  for (size_t i = 0; first && i < first->n_pins; i++) {
    if (first->pin[i].count == 1 && fabs(first->pin[i].time_s - parser->first_one.time_s) < 0.0005) {
      return true;
    }
  }
  return false;
}

void cw_check_pins(CwParser *parser)
{
  Given last = {.time_s = -1};
  CwNotebook *notebook = parser->notebook;
  const CwPin *head = &parser->first_one;
  if (head->line > 0 && !repeats_head(parser)) {
    check_pin(parser, head, &last);
  }
  for (size_t k = 0; k < notebook->n_phrases && !parser->full; k++) {
    CwNotePhrase *phrase = &notebook->phrase[k];
    if (phrase->n_pins > 1) {
      qsort(phrase->pin, phrase->n_pins, sizeof *phrase->pin, by_count);
    }
    for (size_t i = 0; i < phrase->n_pins; i++) {
      check_pin(parser, &phrase->pin[i], &last);
    }
    check_hold(parser, phrase, &last);
  }
}
