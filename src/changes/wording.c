// SPDX-License-Identifier: GPL-3.0-or-later
#include "changes/wording.h"

#include <stdlib.h>
#include <string.h>

#include <unicase.h>
#include <unictype.h>
#include <uninorm.h>
#include <unistr.h>

#include "base/memory.h"
#include "glossary/letters.h"
#include "glossary/proper.h"

#define SLIP 0.2F // of the letters; more is another word
enum { SHORTEST_SLIP = 4 };

/// A word of a wording.
typedef struct {
  const char *text;
  size_t n;
} Part;

/// In lower case and composed, marks of places kept, what else is no letter or digit made a blank.
static char *fold(const char *text)
{
  size_t size = 0;
  uint8_t *lower = u8_tolower((const uint8_t *)text, strlen(text), NULL, UNINORM_NFC, NULL, &size);
  char *folded = lower ? cw_new(size + 1, 1) : NULL;
  size_t n = 0;
  for (size_t i = 0; folded && i < size;) {
    ucs4_t c = 0;
    const size_t length = (size_t)u8_mbtoucr(&c, lower + i, size - i);
    if (uc_is_property_alphabetic(c) || uc_is_property_combining(c) || (c >= '0' && c <= '9') || c == '>' || c == '&' ||
        c == '/') {
      memcpy(folded + n, lower + i, length);
      n += length;
    } else if (c != '\'' && c != 0x2019 && n > 0 && folded[n - 1] != ' ') {
      folded[n++] = ' ';
    }
    i += length;
  }
  free(lower);
  while (folded && n > 0 && folded[n - 1] == ' ') {
    n--;
  }
  if (folded) {
    folded[n] = '\0';
  }
  return folded;
}

CwStatus cw_wording(CwWording *wording, const char *text, char **words)
{
  char *proper = NULL;
  *words = NULL;
  CwStatus status = CW_OK;
  if (wording->finder.glossary) {
    status = cw_proper_text(&wording->finder, text, "en", &proper);
  }
  if (status == CW_OK) {
    *words = fold(proper ? proper : text);
    status = *words ? CW_OK : CW_ERR_NO_MEM;
  }
  free(proper);
  return status;
}

/// The next word; its `n` is 0 at the end.
static Part next_word(const char **rest)
{
  *rest += strspn(*rest, " ");
  const Part part = {*rest, strcspn(*rest, " ")};
  *rest += part.n;
  return part;
}

static bool is_equal(Part a, Part b)
{
  return a.n == b.n && memcmp(a.text, b.text, a.n) == 0;
}

/// Words and signs of places of the stage, as the trade abbreviates them.
static bool is_place(Part word)
{
  static const char *const list[] = {
      "dsl", "dsr",  "dsc",   "usl",     "usr",       "usc",  "ds",    "us",      "sl", "sr", "cs",     "c",
      "cl",  "cr",   "dl",    "dr",      "ul",        "ur",   "dc",    "uc",      "l",  "r",  "centre", "center",
      "up",  "down", "stage", "upstage", "downstage", "wing", "wings", "quarter", ">",  "to", "corner"};
  for (size_t i = 0; i < sizeof list / sizeof list[0]; i++) {
    if (strlen(list[i]) == word.n && memcmp(list[i], word.text, word.n) == 0) {
      return true;
    }
  }
  return strspn(word.text, "0123456789") >= word.n;
}

/// Whether the wordings are the same but for places, and have some.
static bool differ_in_places(const char *before, const char *after)
{
  bool any = false;
  for (;;) {
    Part a = next_word(&before);
    Part b = next_word(&after);
    while (a.n > 0 && is_place(a)) {
      any = true;
      a = next_word(&before);
    }
    while (b.n > 0 && is_place(b)) {
      any = true;
      b = next_word(&after);
    }
    if (!is_equal(a, b)) {
      return false;
    }
    if (a.n == 0) {
      return any;
    }
  }
}

/// A word that everybody knows: another such word is no slip of the keys.
static bool is_known(const CwWording *wording, Part word)
{
  CwWords words = {0};
  size_t n = 0;
  bool known = true; // also where memory ran out: better another step than one unsaid
  if (wording->finder.glossary && cw_words_read(word.text, word.n, &words) == CW_OK && words.n == 1) {
    size_t term = 0;
    char name[64] = "";
    memcpy(name, word.text, word.n < sizeof name - 1 ? word.n : 0);
    known = cw_plain_words(wording->finder.glossary, words.word[0].letter, words.word[0].n, &n) ||
            cw_glossary_look_up(wording->finder.glossary, name, &term);
  }
  cw_words_free(&words);
  return known;
}

static bool is_slip(const CwWording *wording, Part a, Part b)
{
  CwLetters left = {.n = 0};
  CwLetters right = {.n = 0};
  if (is_equal(a, b)) {
    return true;
  }
  if (a.n < SHORTEST_SLIP || b.n < SHORTEST_SLIP || a.n > CW_LONGEST_SPELLING || b.n > CW_LONGEST_SPELLING) {
    return false;
  }
  cw_letters_add((const unsigned char *)a.text, a.n, &left);
  cw_letters_add((const unsigned char *)b.text, b.n, &right);
  const float room = SLIP * (float)(a.n > b.n ? a.n : b.n);
  return cw_letters_distance(&left, &right, room) <= (room > 1.0F ? room : 1.0F) &&
         !(is_known(wording, a) && is_known(wording, b));
}

static bool differ_in_slips(const CwWording *wording, const char *before, const char *after)
{
  for (;;) {
    const Part a = next_word(&before);
    const Part b = next_word(&after);
    if (a.n == 0 || b.n == 0) {
      return a.n == b.n;
    }
    if (!is_slip(wording, a, b)) {
      return false;
    }
  }
}

/// Share of the words that are in both.
static double common_share(const char *before, const char *after)
{
  size_t n = 0;
  size_t common = 0;
  for (Part a = next_word(&before); a.n > 0; a = next_word(&before), n++) {
    const char *rest = after;
    Part b = next_word(&rest);
    while (b.n > 0 && !is_equal(a, b)) {
      b = next_word(&rest);
    }
    common += b.n > 0;
  }
  for (Part b = next_word(&after); b.n > 0; b = next_word(&after)) {
    n++;
  }
  const double share = n > 0 ? 2.0 * (double)common / (double)n : 1.0;
  return share < 1.0 ? share : 1.0;
}

CwStatus cw_worded(CwWording *wording, const char *before, const char *after, CwWorded *worded, double *alike)
{
  char *old_words = NULL;
  char *new_words = NULL;
  *worded = CW_WORDED_SAME;
  *alike = 1.0;
  if (strcmp(before, after) == 0) {
    return CW_OK;
  }
  CwStatus status = cw_wording(wording, before, &old_words);
  if (status == CW_OK) {
    status = cw_wording(wording, after, &new_words);
  }
  if (status == CW_OK) {
    *alike = common_share(old_words, new_words);
    *worded = differ_in_slips(wording, old_words, new_words) ? CW_WORDED_SPELLING
              : differ_in_places(old_words, new_words)       ? CW_WORDED_PLACE
                                                             : CW_WORDED_ELSE;
  }
  free(old_words);
  free(new_words);
  return status;
}

void cw_wording_free(CwWording *wording)
{
  cw_finder_free(&wording->finder);
}
