// SPDX-License-Identifier: GPL-3.0-or-later
/// The wordings that the printed forms share, in the language of the labels. They never follow the locale.
#ifndef CW_PRINT_WORDS_H
#define CW_PRINT_WORDS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/sheet.h"
#include "print/buffer.h"
#include "print/label.h"
#include "print/repeats.h"

/// Room for each of the short texts.
enum { CW_WORD_ROOM = 128 };

/// A count as it is spoken: "3", "3&" (half), "3e", "3a" (quarters, or the 2 and 3 of a bar of three), else "3.4".
/// Before the one, "&"; "?" for no number.
void cw_count_label(double count, char out[CW_WORD_ROOM]);

/// "3", or "1-4" when `until` is another count.
void cw_span_label(double count, double until, char out[CW_WORD_ROOM]);

/// The same in a phrase of `counts`: past its last count are those of the next, "7-2", and "+1" where all of it is there.
void cw_span_label_in(double count, double until, unsigned counts, char out[CW_WORD_ROOM]);

/// Tempo in whole counts a minute, "-" when unknown.
void cw_tempo_label(double counts_per_min, char out[CW_WORD_ROOM]);

/// "8 counts", "1 count".
void cw_counts_label(CwLanguage language, unsigned counts, char out[CW_WORD_ROOM]);

/// The label of a count on which a step goes on, or is marked without words: "4•"; a sub-count stays as it is, since
/// it is only there for the mark.
void cw_marked_label(double count, char out[CW_WORD_ROOM]);

/// "like 5, other side", "like 5", "other side", or nothing.
void cw_like_label(CwLanguage language, const CwRepeat *repeat, char out[CW_WORD_ROOM]);

/// "check by ear (42 % sure)".
void cw_check_label(CwLanguage language, const CwSheetRow *row, char out[CW_WORD_ROOM]);

/// "hold 0:06.0".
void cw_hold_label(CwLanguage language, const CwSheetRow *row, char out[CW_WORD_ROOM]);

/// Dance, role and side: the line under the title. May add nothing.
void cw_put_subtitle(const CwSheet *sheet, CwBuffer *out);

/// What the sheet is of: recording, its length, metre, beats per count. May add nothing.
void cw_put_music_facts(const CwSheet *sheet, CwBuffer *out);

/// The recording that the sheet is held against. May add nothing.
void cw_put_other_fact(const CwSheet *sheet, CwBuffer *out);

/// Tempo range, first one and number of phrases.
void cw_put_tempo_facts(const CwSheet *sheet, CwBuffer *out);

/// What is told of a phrase beside its time: role, a change of metre or of beats per count, count-in, repeat, pin. May add nothing.
/// @param separator Put between two of them.
void cw_put_tags(CwLanguage language, const CwSheetRow *row, const CwRepeat *repeat, const char *separator,
                 CwBuffer *out);

/// Whether anything has a time.
bool cw_sheet_is_timed(const CwSheet *sheet);

/// A line of the legend.
typedef struct {
  char sign[CW_WORD_ROOM];
  const char *words;
} CwLegend;

/// Most lines that a legend can have.
enum { CW_LEGEND_ROOM = 24 };

/// The legend of a sheet: only what occurs on it. @return Number of lines.
size_t cw_legend(const CwSheet *sheet, const CwRepeat *repeats, CwLegend legend[CW_LEGEND_ROOM]);

#endif
