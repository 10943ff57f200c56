// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/mirror_line.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "stage/mirror_lists.h"
#include "stage/mirror_rules.h"

/// Words that always change, into each other. "Clockwise" has several opposites: each has a spelling of its own to
/// change into, so that it comes back.
static const char *const pair[][2] = {{"clockwise", "anticlockwise"},
                                      {"clock-wise", "counterclockwise"},
                                      {"clockwards", "counter-clockwise"},
                                      {"clock-wards", "anti-clockwise"},
                                      {"cw", "ccw"},
                                      {"lefts", "rights"},
                                      {"leftward", "rightward"},
                                      {"leftwards", "rightwards"},
                                      {"leftmost", "rightmost"},
                                      {"lefthand", "righthand"},
                                      {"lefthanded", "righthanded"}};

/// The reading of a line under way.
typedef struct {
  const CwTokens *tokens;
  CwEdits *edits;
  CwEdits *doubts;
  bool full;
} Reading;

static CwEdit *add(Reading *reading, CwEdits *list, size_t begin, size_t end)
{
  if (!cw_grow(&list->edit, &list->capacity, list->n, sizeof *list->edit)) {
    reading->full = true;
    return NULL;
  }
  CwEdit *edit = &list->edit[list->n++];
  *edit = (CwEdit){.begin = begin, .end = end};
  return edit;
}

static void doubt(Reading *reading, size_t first, size_t last)
{
  (void)add(reading, reading->doubts, reading->tokens->token[first].begin, reading->tokens->token[last].end);
}

static char upper(char c)
{
  return (char)(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c);
}

/// Whether the bytes are `word` in lower, upper or title case; then write `other` in the same case.
static bool put_in_case(const char *bytes, size_t size, const char *word, const char *other, char out[CW_EDIT_ROOM])
{
  bool is_lower = true;
  bool is_upper = true;
  bool is_title = true;
  if (strlen(word) != size) {
    return false;
  }
  for (size_t i = 0; i < size; i++) {
    is_lower = is_lower && bytes[i] == word[i];
    is_upper = is_upper && bytes[i] == upper(word[i]);
    is_title = is_title && bytes[i] == (i == 0 ? upper(word[i]) : word[i]);
  }
  if (!is_lower && !is_upper && !is_title) {
    return false;
  }
  size_t n = 0;
  for (; other[n]; n++) {
    out[n] = is_lower || (is_title && n > 0 && !is_upper) ? other[n] : upper(other[n]);
  }
  out[n] = '\0';
  return true;
}

/// Turn tokens `first` to `last` from `word` to `other`, or leave them in doubt.
static void turn(Reading *reading, size_t first, size_t last, const char *word, const char *other)
{
  const CwTokens *tokens = reading->tokens;
  const size_t begin = tokens->token[first].begin;
  const size_t end = tokens->token[last].end;
  char text[CW_EDIT_ROOM];
  if (!put_in_case(tokens->text + begin, end - begin, word, other, text)) {
    doubt(reading, first, last);
    return;
  }
  CwEdit *edit = add(reading, reading->edits, begin, end);
  if (edit) {
    memcpy(edit->text, text, sizeof text);
  }
}

/// L for R and R for L in a token, from character `from` on.
static void flip(Reading *reading, size_t i, size_t from)
{
  const CwToken *token = &reading->tokens->token[i];
  const size_t size = token->end - token->begin;
  if (size >= CW_EDIT_ROOM) {
    doubt(reading, i, i);
    return;
  }
  CwEdit *edit = add(reading, reading->edits, token->begin, token->end);
  for (size_t k = 0; edit && k < size; k++) {
    static const char letters[] = "LRlr";
    static const char others[] = "RLrl";
    const char c = reading->tokens->text[token->begin + k];
    const char *at = k >= from ? strchr(letters, c) : NULL;
    edit->text[k] = at && *at ? others[at - letters] : c;
  }
}

/// As a verdict says.
static void judge(Reading *reading, size_t i, CwVerdict verdict, const char *word, const char *other)
{
  if (verdict == CW_MIRROR_SWAP) {
    turn(reading, i, i, word, other);
  } else if (verdict == CW_MIRROR_DOUBT) {
    doubt(reading, i, i);
  }
}

/// A word that always changes, one token or two with a hyphen. @return Tokens read; 0 for none.
static size_t read_pair(Reading *reading, size_t i)
{
  const CwTokens *tokens = reading->tokens;
  for (size_t more = 3; more-- > 0;) {
    if (i + more >= tokens->n) {
      continue;
    }
    const size_t begin = tokens->token[i].begin;
    const size_t size = tokens->token[i + more].end - begin;
    for (size_t k = 0; k < sizeof pair / sizeof pair[0]; k++) {
      for (size_t side = 0; side < 2; side++) {
        const char *word = pair[k][side];
        if (strlen(word) == size && strncasecmp(tokens->text + begin, word, size) == 0) {
          turn(reading, i, i + more, word, pair[k][1 - side]);
          return more + 1;
        }
      }
    }
  }
  return 0;
}

/// "DSL", "SR", "RF", "L". @return Whether it is an abbreviation with sides.
static bool read_abbreviation(Reading *reading, size_t i)
{
  static const char *const areas[] = {"dsl", "dsr", "usl", "usr", "csl", "csr", "msl", "msr", "sl", "sr", NULL};
  static const char *const centred[] = {"dlc", "drc", "ulc", "urc", NULL};
  static const char *const shorter[] = {"dl", "dr", "ul", "ur", "cl", "cr", "lc", "rc", NULL};
  static const char *const limbs[] = {"lf", "rf", "lh", "rh", NULL};
  static const char *const unsure[] = {"ll", "rr", "lr", "rl", "la", "ra", "acw", NULL};
  static const char *const letters[] = {"l", "r", "lt", "rt", "lft", "rgt", NULL};
  const CwTokens *tokens = reading->tokens;
  const CwToken *token = &tokens->token[i];
  const bool is_upper = token->written == CW_CASE_UPPER;
  if (cw_token_in(tokens, i, areas) || cw_token_in(tokens, i, limbs)) {
    flip(reading, i, 0); // no other letter of theirs is L or R
  } else if (is_upper && (cw_token_in(tokens, i, centred) || cw_token_in(tokens, i, shorter))) {
    flip(reading, i, 0);
  } else if (is_upper && strlen(token->key) > 2 && strspn(token->key, "lr") == strlen(token->key)) {
    flip(reading, i, 0); // "RLR", feet in turn
  } else if (is_upper && cw_token_in(tokens, i, unsure)) {
    doubt(reading, i, i);
  } else if (cw_token_in(tokens, i, letters)) {
    const char *key = token->key;
    const char *other = strcmp(key, "lft") == 0 ? "rgt" : strcmp(key, "rgt") == 0 ? "lft" : "";
    const CwVerdict verdict = cw_judge_letter(tokens, i);
    if (verdict == CW_MIRROR_SWAP && !*other) {
      flip(reading, i, 0);
    } else {
      judge(reading, i, verdict, key, other);
    }
  } else {
    return false;
  }
  return true;
}

/// French words. @return Tokens read; 0 for none.
static size_t read_french(Reading *reading, size_t i)
{
  static const char *const rights[] = {"droit", "droite", "droits", "droites", NULL};
  static const char *const feet[] = {"pg", "pd", "jg", "jd", NULL};
  const CwTokens *tokens = reading->tokens;
  const CwToken *token = &tokens->token[i];
  const bool plural = token->key[strlen(token->key) - 1] == 's';
  if (cw_token_is(tokens, i, "gauche") || cw_token_is(tokens, i, "gauches")) {
    const bool masculine = cw_is_masculine(tokens, i);
    const char *other = masculine ? (plural ? "droits" : "droit") : plural ? "droites" : "droite";
    judge(reading, i, cw_judge_french(tokens, i), token->key, other);
  } else if (cw_token_in(tokens, i, rights)) {
    judge(reading, i, cw_judge_french(tokens, i), token->key, plural ? "gauches" : "gauche");
  } else if (cw_token_is(tokens, i, "cour") || cw_token_is(tokens, i, "jardin")) {
    judge(reading, i, cw_judge_cour(tokens, i), token->key, token->key[0] == 'c' ? "jardin" : "cour");
  } else if (token->written == CW_CASE_UPPER && cw_token_in(tokens, i, feet)) {
    char other[3] = {token->key[0], token->key[1] == 'g' ? 'd' : 'g', '\0'};
    turn(reading, i, i, token->key, other);
  } else if (cw_token_is(tokens, i, "sens") && cw_token_is(tokens, i + 1, "des") &&
             cw_token_is(tokens, i + 2, "aiguilles")) {
    turn(reading, i, i + 1, "sens des", "sens inverse des");
    return 2;
  } else if (cw_token_is(tokens, i, "sens") && cw_token_is(tokens, i + 1, "inverse") &&
             cw_token_is(tokens, i + 2, "des") && cw_token_is(tokens, i + 3, "aiguilles")) {
    turn(reading, i, i + 2, "sens inverse des", "sens des");
    return 3;
  } else {
    return 0;
  }
  return 1;
}

/// "corner 1": its other corner has another number, and schools number differently. @return Tokens read; 0 for none.
static size_t read_numbered(Reading *reading, size_t i)
{
  size_t next = 0;
  if (cw_token_in(reading->tokens, i, cw_numbered) && cw_token_number(reading->tokens, i + 1, &next) > 0) {
    doubt(reading, i, next - 1);
    return next - i;
  }
  if ((cw_token_is(reading->tokens, i, "prompt") && cw_token_is(reading->tokens, i + 1, "side")) ||
      (cw_token_is(reading->tokens, i, "opposite") && cw_token_is(reading->tokens, i + 1, "prompt"))) {
    doubt(reading, i, i + 1);
    return 2;
  }
  return 0;
}

/// @return Tokens read, at least 1.
static size_t read_token(Reading *reading, size_t i)
{
  const CwTokens *tokens = reading->tokens;
  if (tokens->token[i].kind != CW_TOKEN_WORD) {
    return 1;
  }
  const size_t paired = read_pair(reading, i);
  if (paired > 0) {
    return paired;
  }
  if (cw_token_is(tokens, i, "left") || cw_token_is(tokens, i, "right")) {
    const bool right = tokens->token[i].key[0] == 'r';
    judge(reading, i, cw_judge_side(tokens, i), tokens->token[i].key, right ? "left" : "right");
    return 1;
  }
  if (read_abbreviation(reading, i)) {
    return 1;
  }
  const size_t numbered = read_numbered(reading, i);
  const size_t french = numbered ? numbered : read_french(reading, i);
  return french ? french : 1;
}

/// Find the edits and doubts of a line.
static CwStatus read_line(CwTokens *tokens, const char *text, size_t size, CwEdits *edits, CwEdits *doubts)
{
  edits->n = 0;
  doubts->n = 0;
  if (cw_tokens_read(tokens, text, size) != CW_OK) {
    return CW_ERR_NO_MEM;
  }
  Reading reading = {.tokens = tokens, .edits = edits, .doubts = doubts};
  for (size_t i = 0; i < tokens->n && !reading.full;) {
    i += read_token(&reading, i);
  }
  return reading.full ? CW_ERR_NO_MEM : CW_OK;
}

/// The line with its edits made.
static CwStatus write_line(const char *text, size_t size, const CwEdits *edits, char **out, size_t *room,
                           size_t *out_size)
{
  const size_t needed = size + edits->n * CW_EDIT_ROOM + 1;
  if (needed > *room) {
    char *grown = cw_resize(*out, 2 * needed, 1);
    if (!grown) {
      return CW_ERR_NO_MEM;
    }
    *out = grown;
    *room = 2 * needed;
  }
  size_t from = 0;
  size_t to = 0;
  for (size_t i = 0; i <= edits->n; i++) {
    const size_t begin = i < edits->n ? edits->edit[i].begin : size;
    memcpy(*out + to, text + from, begin - from);
    to += begin - from;
    if (i < edits->n) {
      const size_t length = strlen(edits->edit[i].text);
      memcpy(*out + to, edits->edit[i].text, length);
      to += length;
      from = edits->edit[i].end;
    }
  }
  (*out)[to] = '\0';
  *out_size = to;
  return CW_OK;
}

static int compare_begins(const void *a, const void *b)
{
  const CwEdit *one = a;
  const CwEdit *other = b;
  return (one->begin > other->begin) - (one->begin < other->begin);
}

/// Move the edits that have none on the way back to the doubts. @return How many.
static size_t give_up(CwMirrorLine *line, Reading *reading)
{
  size_t kept = 0;
  size_t there = 0; // where the edit is on the way back
  for (size_t i = 0, k = 0, longer = 0; i < line->edits.n; i++) {
    const CwEdit edit = line->edits.edit[i];
    there = edit.begin + longer;
    longer += strlen(edit.text) - (edit.end - edit.begin);
    while (k < line->others.n && line->others.edit[k].begin < there) {
      k++;
    }
    if (k < line->others.n && line->others.edit[k].begin == there) {
      line->edits.edit[kept++] = edit;
    } else {
      (void)add(reading, &line->doubts, edit.begin, edit.end);
    }
  }
  const size_t given_up = line->edits.n - kept;
  line->edits.n = kept;
  return given_up;
}

/// Find the edits of a line that would come back: in "step left now" nothing changes, since "step right now" is read
/// otherwise.
static CwStatus find_edits(CwMirrorLine *line, const char *text, size_t size)
{
  enum { TRIES = 16 }; // what is given up may take its neighbours with it, but not through a whole book
  Reading reading = {.doubts = &line->doubts};
  CwStatus status = read_line(&line->tokens, text, size, &line->edits, &line->doubts);
  size_t given_up = line->edits.n;
  for (int i = 0; i < TRIES && given_up > 0 && status == CW_OK; i++) {
    size_t there = 0;
    status = write_line(text, size, &line->edits, &line->there, &line->there_room, &there);
    if (status == CW_OK) {
      status = read_line(&line->tokens, line->there, there, &line->others, &line->unneeded);
    }
    given_up = status == CW_OK ? give_up(line, &reading) : 0;
  }
  if (line->doubts.n > 1) {
    qsort(line->doubts.edit, line->doubts.n, sizeof *line->doubts.edit, compare_begins);
  }
  return reading.full ? CW_ERR_NO_MEM : status;
}

CwStatus cw_mirror_line(CwMirrorLine *line, const char *text, size_t size, const char **out, size_t *out_size)
{
  CwMirrorLine back = {0};
  *out = text;
  *out_size = size;
  CwStatus status = find_edits(line, text, size);
  if (status != CW_OK || line->edits.n == 0) {
    return status;
  }
  size_t back_size = 0;
  status = write_line(text, size, &line->edits, &line->there, &line->there_room, out_size);
  if (status == CW_OK) {
    status = find_edits(&back, line->there, *out_size);
  }
  if (status == CW_OK) {
    status = write_line(line->there, *out_size, &back.edits, &back.there, &back.there_room, &back_size);
  }
  const bool returns = status == CW_OK && back_size == size && memcmp(back.there, text, size) == 0;
  cw_mirror_line_free(&back);
  if (returns) {
    *out = line->there;
    return CW_OK;
  }
  *out_size = size;
  line->edits.n = 0;
  line->doubts.n = 0;
  Reading reading = {.doubts = &line->doubts, .full = status != CW_OK};
  (void)add(&reading, &line->doubts, 0, size);
  return reading.full ? CW_ERR_NO_MEM : CW_OK;
}

void cw_mirror_line_free(CwMirrorLine *line)
{
  cw_tokens_free(&line->tokens);
  free(line->edits.edit);
  free(line->doubts.edit);
  free(line->others.edit);
  free(line->unneeded.edit);
  free(line->there);
  *line = (CwMirrorLine){0};
}
