// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/print/samples.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LENGTH(array) (sizeof(array) / sizeof(array)[0])
#define STEPS(array) .step = (array), .n_steps = LENGTH(array)
#define UNTIMED .start_s = NAN, .end_s = NAN, .counts_per_min = NAN, .confidence = -1
#define TIMED(from, to, per_min) .timed = true, .start_s = (from), .end_s = (to), .counts_per_min = (per_min)
#define HEADLESS .first_one_s = NAN, .slowest_per_min = NAN, .fastest_per_min = NAN

// a waltz with everything that a sheet can show
static CwStep waltz_1[] = {{1, 4, "balancé right, left"}, {5, 5, "tombé"}, {6, 6, "pas de bourrée"}, {8, 8, "hold"}};
static CwStep waltz_2[] = {{1, 1, "glissade"},
                           {2, 2, "assemblé"},
                           {3, 3, "sissonne"},
                           {3.5, 3.5, "close"},
                           {4, 4, "relevé"},
                           {5, 7, "chaînés"},
                           {8, 8, "fourth position, arms low"}};
static CwStep waltz_4[] = {{1, 1, "run upstage, look back over the left shoulder at the lamp"}, {7, 7, ""}};
static CwStep waltz_5[] = {
    {1, 1, "piqué"}, {4.0 / 3 + 0.0, 4.0 / 3, "and"}, {5.0 / 3, 5.0 / 3, "step"}, {2, 2, "piqué"}, {4, 6, "lower"}};
static CwSheetRow waltz_row[] = {
    {.number = 1,
     .counts = 8,
     .section = "A: low water",
     TIMED(4.21, 12.54, 57.6),
     .confidence = 1,
     .pinned = true,
     STEPS(waltz_1),
     .count_in = 4},
    {.number = 2, .counts = 8, TIMED(12.54, 20.95, 57.1), .confidence = 0.93, STEPS(waltz_2)},
    {.number = 3,
     .counts = 8,
     TIMED(20.95, 29.01, 59.6),
     .confidence = 0.9,
     STEPS(waltz_1),
     .like = 1,
     .other_side = true,
     .remark = "the gulls enter from the second wing",
     .hold_s = 5.5},
    {.number = 4,
     .counts = 8,
     .section = "B: the lamp",
     TIMED(34.51, 43.8, 51.7),
     .confidence = 0.42,
     .check_by_ear = true,
     STEPS(waltz_4),
     .count_in = 2},
    {.number = 5, .counts = 6, TIMED(43.8, 50.6, 52.9), .confidence = 0.81, STEPS(waltz_5), .role = "Keeper"},
    {.number = 6, .counts = 8, UNTIMED, .like = 2, .remark = "as in the first act"},
};
static char *waltz_message[] = {"the music ends before phrase 6",
                                "phrase 4 has 8 counts, the music seems to have 10 there (0:34.5 to 0:43.8)"};

// no notes: what is found in the music alone
static CwSheetRow bare_row[] = {
    {.number = 1, .counts = 8, .section = "A", TIMED(0.84, 5.02, 114.8), .confidence = 0.97},
    {.number = 2, .counts = 8, TIMED(5.02, 9.21, 114.6), .confidence = 0.94, .hold_s = 2.25},
    {.number = 3, .counts = 10, TIMED(11.46, 16.8, 112.4), .confidence = 0.31, .check_by_ear = true},
    {.number = 4, .counts = 4, .section = "B", TIMED(3616.8, 3619.0, 109.1), .confidence = -1, .pinned = true},
};

// notes without a recording
static CwStep notes_1[] = {{1, 1, "walk on"}, {5, 8, "turn to the mirror"}};
static CwSheetRow notes_row[] = {
    {.number = 1, .counts = 8, UNTIMED, STEPS(notes_1)},
    {.number = 2, .counts = 8, UNTIMED, .like = 1},
};

// what a hurried or a hostile hand may write
static CwStep hard_long[] = {
    {1, 1,
     "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaftsprobebühneneingangstürklinke"},
    {2, 2,
     "then a step that goes on and on with words enough to fill many lines under one narrow count, so that it "
     "has to be set in another way or the sheet would be unreadable for everyone who stands before the wall"},
    {3, 3, "end"}};
static CwStep hard_japanese[] = {
    {1, 2, "右足前へ"}, {3, 3, "回転"}, {4, 4, "止まる"}, {5, 5, "腕を上げてゆっくりと後ろを振り返り、客席を見る"}};
static CwStep hard_arabic[] = {{1, 1, "خطوة إلى اليمين"}, {3, 3, "دوران"}, {5, 5, "قفزة ثم سكون"}, {7, 8, "نهاية"}};
static CwStep hard_marks[] = {{1, 1, "de\xCC\x81veloppe\xCC\x81"},
                              {2, 2, "a\xCC\xA8\xCC\x81\xCC\x82\xCC\x83"},
                              {3, 3, "\xF0\x9F\x92\x83 spin"},
                              {5, 5, "नमस्ते"}};
static CwStep hard_control[] = {{1, 1, "red \x1B[31malert\x1B[0m \a\x7F"},
                                {2, 2, "tab\there\nand there"},
                                {3, 3, "bad \xFF\xC3 bytes \xC2\x9B"},
                                {4, 4, "\xE2\x80\xAEturned round"},
                                {5, 5, "\xF3\xB0\x80\x81 no font has this"}};
static CwStep hard_order[] = {{5, 5, "fifth"},    {1, 1, "first"},   {1, 1, "also first"}, {0.5, 0.5, "before"},
                              {9, 9, "too late"}, {3.4, 3.4, "odd"}, {NAN, NAN, "nowhere"}};
static CwStep hard_dense[] = {
    {1, 1, "développé"}, {1.5, 1.5, "coupé"},      {2, 2, "développé"}, {2.5, 2.5, "coupé"},
    {3, 3, "arabesque"}, {3.5, 3.5, "soubresaut"}, {4, 4, "arabesque"}, {4.25, 4.25, "soubresaut"},
    {4.5, 4.5, "en"},    {4.75, 4.75, "l'air"},    {5, 5, "entrechat"}, {6, 6, "entrechat six"},
    {7, 7, "tour"},      {8, 8, "fermé"}};
static CwSheetRow hard_row[] = {
    {.number = 1, .counts = 8, TIMED(0, 8, 60), .confidence = 0.5, .check_by_ear = true, STEPS(hard_long)},
    {.number = 2,
     .counts = 8,
     .section = "第二部 とても長い見出しがここにあります、とても長い見出しがここにあります",
     TIMED(8, 16, 60),
     .confidence = 0.9,
     STEPS(hard_japanese),
     .role = "灯台守"},
    {.number = 3,
     .counts = 8,
     TIMED(16, 24, 60),
     .confidence = 0.9,
     STEPS(hard_arabic),
     .remark = "ملاحظة طويلة عن الدخول من اليسار"},
    {.number = 4, .counts = 8, TIMED(24, 32, 60), .confidence = 0.9, STEPS(hard_marks)},
    {.number = 5,
     .counts = 8,
     .section = "\x1B]0;title\a",
     TIMED(32, 40, 60),
     .confidence = 0.9,
     STEPS(hard_control),
     .remark = "=1+1",
     .role = "@here"},
    {.number = 6, .counts = 8, TIMED(40, 48, 60), .confidence = 0.9, STEPS(hard_order), .remark = "-cmd, \"quoted\""},
    {.number = 7, .counts = 8, TIMED(48, 56, 60), .confidence = 0.9, STEPS(hard_dense), .remark = "'=kept apostrophe"},
};
static char *hard_message[] = {"nothing \x1B[1madds\x1B[0m up", ""};

// lengths other than eight
static CwStep length_1[] = {{1, 1, "jump"}};
static CwStep length_12[] = {{1, 3, "three steps forward"}, {4, 9, "promenade"}, {10, 10, "plié"}, {12, 12, "stand"}};
static CwStep length_32[] = {
    {1, 32, "cross the stage on the long diagonal, slowly, eyes on the lamp"}, {20, 20, "falter"}, {32, 32, "stop"}};
static CwStep length_7[] = {{1, 1, "down"}, {4, 4, "up"}, {6, 7, "and turn"}};
static CwSheetRow length_row[] = {
    {.number = 1, .counts = 1, TIMED(1, 2, 60), .confidence = 0.9, STEPS(length_1)},
    {.number = 2, .counts = 12, TIMED(2, 14, 60), .confidence = 0.9, STEPS(length_12)},
    {.number = 3, .counts = 32, TIMED(14, 46, 60), .confidence = 0.9, STEPS(length_32)},
    {.number = 4, .counts = 7, TIMED(46, 53, 60), .confidence = 0.9, STEPS(length_7)},
    {.number = 5, .counts = 10, TIMED(53, 63, 60), .confidence = 0.9},
};

// steps over several counts, steps before the one, repeats of repeats
static CwStep mark_1[] = {{1, 2, "walk"}, {3, 3, "ball change"}, {3.5, 3.5, ""},
                          {4, 4, ""},     {5, 5, "clap"},        {7, 7, ""}};
static CwStep mark_2[] = {{0.5, 0.5, "up"}, {1, 1, ""}, {2, 2, "down"}, {4.5, 4.5, "quick feet"},
                          {4.75, 4.75, ""}, {5, 5, ""}, {8, 8, ""}};
static CwStep mark_3[] = {{1, 1, "run"},    {1.25, 1.25, ""}, {1.5, 1.5, ""},
                          {1.75, 1.75, ""}, {2, 2, ""},       {3, 3, "Wirbelsturmschrittkombinationen"},
                          {4, 4, "then"},   {5, 5, ""},       {7, 7, ""},
                          {9, 9, "beyond"}};
static CwStep mark_4[] = {{5, 8, ""}};
static CwSheetRow mark_row[] = {
    {.number = 1, .counts = 8, UNTIMED, STEPS(mark_1)},
    {.number = 2, .counts = 8, UNTIMED, STEPS(mark_2)},
    {.number = 3, .counts = 8, UNTIMED, STEPS(mark_3)},
    {.number = 4, .counts = 8, UNTIMED, STEPS(mark_4)},
    {.number = 5, .counts = 8, UNTIMED, STEPS(mark_1), .like = 1, .other_side = true},
    {.number = 6, .counts = 8, UNTIMED, STEPS(mark_1), .like = 5, .other_side = true},
    {.number = 7, .counts = 8, UNTIMED, STEPS(mark_1), .like = 5},
    {.number = 8, .counts = 8, UNTIMED, STEPS(mark_2), .like = 7, .other_side = true},
};

static const SampleSheet sample[] = {
    {"waltz",
     {.piece = "The Tide Table",
      .dance = "Lighthouse waltz",
      .role = "Keeper's daughter",
      .recording = "tide-table-piano.flac",
      .language = "en",
      .metre = 3,
      .metre_unit = 4,
      .beats_per_count = 3,
      .duration_s = 63.4,
      .first_one_s = 4.21,
      .slowest_per_min = 51.7,
      .fastest_per_min = 59.6,
      .row = waltz_row,
      .n_rows = LENGTH(waltz_row),
      .message = {waltz_message, LENGTH(waltz_message)}}},
    {"bare",
     {.recording = "found.wav",
      .metre = 4,
      .metre_unit = 4,
      .beats_per_count = 1,
      .duration_s = 3620,
      .first_one_s = 0.84,
      .slowest_per_min = 109.1,
      .fastest_per_min = 114.8,
      .row = bare_row,
      .n_rows = LENGTH(bare_row)}},
    {"notes",
     {.piece = "Salt",
      .beats_per_count = 0,
      .duration_s = NAN,
      HEADLESS,
      .row = notes_row,
      .n_rows = LENGTH(notes_row)}},
    {"marks", {.piece = "Marks", HEADLESS, .row = mark_row, .n_rows = LENGTH(mark_row)}},
    {"empty", {.duration_s = 0, HEADLESS}},
    {"hard",
     {.piece = "A piece with a title so long that no line of any terminal or page could ever hold it all at once, "
               "and which therefore has to be broken over several",
      .dance = "\xFFlamp",
      .role = "=HYPERLINK(\"x\")",
      .recording = "日本語の録音.wav",
      .metre = 5,
      .beats_per_count = 0.5,
      .duration_s = 56,
      .first_one_s = 0,
      .slowest_per_min = 60,
      .fastest_per_min = 60,
      .row = hard_row,
      .n_rows = LENGTH(hard_row),
      .message = {hard_message, LENGTH(hard_message)}}},
    {"lengths",
     {.piece = "Lengths",
      .metre = 6,
      .metre_unit = 8,
      .beats_per_count = 1.5,
      .duration_s = 64,
      .first_one_s = 1,
      .slowest_per_min = 60,
      .fastest_per_min = 60.3,
      .row = length_row,
      .n_rows = LENGTH(length_row)}},
};

size_t sample_sheets(const SampleSheet **samples)
{
  *samples = sample;
  return LENGTH(sample);
}

const CwSheet *sample_sheet(const char *name)
{
  for (size_t i = 0; i < LENGTH(sample); i++) {
    if (strcmp(sample[i].name, name) == 0) {
      return &sample[i].sheet;
    }
  }
  return NULL;
}

const CwSheet *sample_of_phrases(size_t n)
{
  static CwSheetRow row[1000];
  static CwSheet sheet = {.piece = "Many", .duration_s = 9000, .beats_per_count = 1, HEADLESS};
  static char section[LENGTH(row)][32];
  sheet.row = row;
  sheet.n_rows = n < LENGTH(row) ? n : LENGTH(row);
  for (size_t i = 0; i < sheet.n_rows; i++) {
    snprintf(section[i], sizeof section[i], "Part %zu", i / 16 + 1);
    row[i] = (CwSheetRow){.number = (unsigned)i + 1,
                          .counts = 8,
                          .section = i % 16 == 0 ? section[i] : NULL,
                          TIMED(8.0 * (double)i, 8.0 * (double)i + 8, 60),
                          .confidence = 0.9,
                          .step = i % 2 ? waltz_2 : waltz_1,
                          .n_steps = i % 2 ? LENGTH(waltz_2) : LENGTH(waltz_1)};
  }
  return &sheet;
}

/// Numbers from a seed, the same everywhere (the linear congruence of Numerical Recipes, from memory).
static unsigned draw(unsigned *seed, unsigned below)
{
  *seed = *seed * 1664525U + 1013904223U;
  return (*seed >> 8) % below;
}

enum { RANDOM_ROWS = 40, RANDOM_STEPS = 9, RANDOM_TEXT = 128 };

static void draw_row(unsigned *seed, unsigned number, CwSheetRow *row, CwStep *step, char (*text)[RANDOM_TEXT])
{
  static const double parts[] = {0, 0, 0, 0.25, 0.5, 0.75, 1.0 / 3, 2.0 / 3};
  const double start_s = 10.0 * number;
  *row = (CwSheetRow){.number = number,
                      .counts = 1 + draw(seed, 20),
                      TIMED(start_s, start_s + 10, 60),
                      .confidence = 0.9,
                      .step = step,
                      .n_steps = draw(seed, RANDOM_STEPS + 1)};
  for (size_t i = 0; i < row->n_steps; i++) {
    size_t at = 0;
    text[i][0] = '\0';
    for (unsigned word = draw(seed, 5); word > 0; word--) {
      const int length = (int)(1 + draw(seed, 12));
      at += (size_t)snprintf(text[i] + at, RANDOM_TEXT - at, "%s%.*s%u/%zu/%u", at ? " " : "", length, "abcdefghijklm",
                             number, i, word);
    }
    const double count = 1 + draw(seed, row->counts) + parts[draw(seed, 8)];
    step[i] = (CwStep){count, count + draw(seed, 3), text[i]};
  }
}

const CwSheet *sample_random(unsigned seed)
{
  static CwSheetRow row[RANDOM_ROWS];
  static CwStep step[RANDOM_ROWS][RANDOM_STEPS];
  static char text[RANDOM_ROWS][RANDOM_STEPS][RANDOM_TEXT];
  static const CwSheet sheet = {.piece = "Chance", .duration_s = 420, HEADLESS, .row = row, .n_rows = RANDOM_ROWS};
  for (unsigned i = 0; i < RANDOM_ROWS; i++) {
    draw_row(&seed, i + 1, &row[i], step[i], text[i]);
  }
  return &sheet;
}

const CwSheet *sample_tall(void)
{
  static char words[24000];
  static char word[6000];
  static CwStep step[] = {{1, 1, words}, {2, 3, word}, {5, 5, "end"}};
  static char *message[] = {words, "second"};
  static CwSheetRow row[] = {
      {.number = 1, .counts = 8, TIMED(0, 8, 60), .confidence = 0.9, STEPS(step), .remark = words},
      {.number = 2, .counts = 8, TIMED(8, 16, 60), .confidence = 0.9, STEPS(waltz_1), .hold_s = 600},
      {.number = 3,
       .counts = 8,
       .section = words,
       TIMED(16, 24, 60),
       .confidence = 0.1,
       .check_by_ear = true,
       STEPS(waltz_2),
       .role = words,
       .remark = words},
      {.number = 4, .counts = 4000000000, TIMED(24, 25, 60), .confidence = 0.9, .like = 9, STEPS(waltz_2)}};
  static const CwSheet sheet = {.piece = "Tall",
                                .duration_s = 16,
                                HEADLESS,
                                .row = row,
                                .n_rows = LENGTH(row),
                                .message = {message, LENGTH(message)}};
  size_t at = 0;
  for (unsigned i = 0; at + 16 < sizeof words; i++) {
    at += (size_t)snprintf(words + at, sizeof words - at, "word%u ", i);
  }
  memset(word, 'w', sizeof word - 1);
  return &sheet;
}

CwCountLine sample_line(void)
{
  static double count_s[] = {1.0, 1.5, 2.0, 2.5004, 6.0, 6.4};
  static CwPhrase phrase[] = {{0, 4, 3.0, 0.912}, {4, 2, 6.8, -1}};
  return (CwCountLine){count_s, LENGTH(count_s), phrase, LENGTH(phrase), 4, 1, 20.0};
}

static CwDriftRow drift_row[] = {
    {1, 8, true, 4.2, 12.5, 7.1, 15.3, 57.8, 58.5, 1.21, 0.0},
    {2, 8, true, 12.5, 20.9, 15.3, 23.4, 57.1, 59.3, 3.7, 0.1},
    {3, 8, true, 20.9, 29.0, 23.4, 30.9, 59.3, 64.0, 8.0, 0.4},
    {4, 8, true, 29.0, 37.4, 30.9, 39.6, 57.1, 55.2, -3.4, 1.0},
    {5, 8, false, 37.4, 45.9, NAN, NAN, 56.5, NAN, NAN, NAN},
    {6, 6, true, 45.9, 52.0, 39.6, 47.0, 59.0, 48.6, -17.6, 9.2},
    {7, 8, true, 3615.0, 3623.2, 3627.0, 3635.4, 58.5, 57.1, -2.4, -9.1},
};

static const char first_heading[] = "In the net loft";
static const char second_heading[] = "=Ebb \x1B[31m";
static const char *const drift_section[] = {first_heading,  first_heading,  first_heading, NULL,
                                            second_heading, second_heading, second_heading};
static char *summary_line[] = {"phrase 6 is 18 % slower in orchestra.wav", "orchestra.wav leaves out phrase 5"};
static const CwMessages drift_summary = {summary_line, LENGTH(summary_line)};
static const char first_name[] = "rehearsal-piano.flac";
static const char other_name[] = "=orchestra \x1B[31m夜の公演.wav";

const CwDriftTable *sample_drift(void)
{
  static const CwTimeMap map = {.offset_s = 0.0583, .tuning_cents = -12.4};
  static const CwDriftOther other = {other_name, {drift_row, LENGTH(drift_row)}, &map};
  static const CwDriftTable table = {first_name, &other, 1, drift_section, &drift_summary};
  return &table;
}

const CwDriftTable *sample_long_drift(void)
{
  static CwDriftRow row[120];
  static const CwDriftOther other = {other_name, {row, LENGTH(row)}, NULL};
  static const CwDriftTable table = {first_name, &other, 1, NULL, &drift_summary};
  for (size_t i = 0; i < LENGTH(row); i++) {
    const double x = (double)i;
    const bool present = i % 50 < 44 && i != 20;
    row[i] = (CwDriftRow){(unsigned)i + 1, 8, present, x * 8, x * 8 + 8, NAN, NAN, 60 + 4 * sin(x / 7), NAN, NAN, NAN};
    if (present) {
      row[i].b_start_s = x * 7.7;
      row[i].b_end_s = x * 7.7 + 7.7;
      row[i].b_counts_per_min = 62 + 5 * sin(x / 6);
      row[i].percent = 100 * (row[i].b_counts_per_min / row[i].a_counts_per_min - 1);
      row[i].ahead_s = x * 0.3 - 6 * sin(x / 20);
    }
  }
  return &table;
}

const CwDriftTable *sample_many(size_t n)
{
  enum { MOST = 30, ROWS = LENGTH(drift_row) };
  static CwDriftRow row[MOST][ROWS];
  static CwDriftOther other[MOST];
  static CwDriftTable table;
  for (size_t o = 0; o < n; o++) {
    const double pace = 1 + 0.04 * sin(1.7 * (double)o);
    for (size_t i = 0; i < ROWS; i++) {
      row[o][i] = drift_row[i];
      row[o][i].present = o % 7 == 3 ? i != 4 && i != 2 : i != 4 || o % 2 == 1;
      const double own = pace + 0.02 * sin((double)(o + 3 * i));
      const bool there = row[o][i].present;
      row[o][i].b_start_s = there ? drift_row[i].a_start_s / own : (double)NAN;
      row[o][i].b_end_s = there ? drift_row[i].a_end_s / own : (double)NAN;
      row[o][i].b_counts_per_min = there ? drift_row[i].a_counts_per_min * own : (double)NAN;
      row[o][i].percent = there ? 100 * (own - 1) : (double)NAN;
      row[o][i].ahead_s = there ? (double)i * 8 * (own - 1) : (double)NAN;
    }
    other[o] = (CwDriftOther){o % 3 ? "second night.wav" : other_name, {row[o], ROWS}, NULL};
  }
  table = (CwDriftTable){first_name, other, n, drift_section, &drift_summary};
  return &table;
}

const CwDriftTable *sample_no_drift(void)
{
  static const CwDriftOther other = {0};
  static const CwDriftTable table = {.name = "", .other = &other, .n = 1};
  return &table;
}
