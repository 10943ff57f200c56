// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/tokens.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unictype.h>
#include <unistr.h>

#include "base/memory.h"

/// A character of the text.
typedef struct {
  ucs4_t code;
  size_t bytes;
} Character;

static Character character_at(const char *text, size_t size)
{
  ucs4_t code = 0;
  const int length = u8_mbtoucr(&code, (const uint8_t *)text, size);
  if (length > 0) {
    return (Character){code, (size_t)length};
  }
  return (Character){(unsigned char)*text, 1};
}

static bool is_blank(ucs4_t c)
{
  return c == ' ' || (c >= 0x09 && c <= 0x0D) || c == 0xA0 || (c >= 0x2000 && c <= 0x200B) || c == 0x202F ||
         c == 0x3000 || c == 0xFEFF;
}

static bool is_digit(ucs4_t c)
{
  return c >= '0' && c <= '9';
}

/// Marks that stand over the letter before them.
static bool is_accent(ucs4_t c)
{
  return c >= 0x300 && c <= 0x36F;
}

static bool is_letter(ucs4_t c)
{
  if (c < 0x80) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  }
  return c != 0xD7 && c != 0xF7 && (uc_is_general_category(c, UC_LETTER) || is_accent(c));
}

/// A letter of Latin-1 and a few more without its accent, in lower case; other letters as '~'.
static const char *folded(ucs4_t c)
{
  static const char plain[] = "aaaaaaaceeeeiiiidnooooo.ouuuuyts"
                              "aaaaaaaceeeeiiiidnooooo.ouuuuyty";
  static const char *const ascii = "a\0b\0c\0d\0e\0f\0g\0h\0i\0j\0k\0l\0m\0n\0o\0p\0q\0r\0s\0t\0u\0v\0w\0x\0y\0z";
  if (c >= 'A' && c <= 'Z') {
    return ascii + 2 * (c - 'A');
  }
  if (c >= 'a' && c <= 'z') {
    return ascii + 2 * (c - 'a');
  }
  if (c >= 0xC0 && c <= 0xFF && plain[c - 0xC0] != '.') {
    return ascii + 2 * (plain[c - 0xC0] - 'a');
  }
  return c == 0x152 || c == 0x153 ? "oe" : is_accent(c) ? "" : "~";
}

static bool is_upper(ucs4_t c)
{
  return (c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE) || (c > 0xFF && uc_is_property(c, UC_PROPERTY_UPPERCASE));
}

/// The one ASCII character that stands for a sign.
static char sign_key(ucs4_t c)
{
  if (c < 0x80) {
    return c > ' ' && c < 0x7F ? (char)c : '?';
  }
  if ((c >= 0x2010 && c <= 0x2015) || c == 0x2212) {
    return '-';
  }
  if (c == 0x2018 || c == 0x2019) {
    return '\'';
  }
  if (c == 0x2192 || c == 0x21D2 || c == 0x27F6 || c == 0x279C || c == 0x2794 || c == 0x203A) {
    return '>';
  }
  return c == 0xBC ? 'q' : '?'; // "¼"
}

/// Add `piece` to a key, marked as cut when it does not fit.
static void add_key(char key[CW_TOKEN_KEY], const char *piece)
{
  const size_t used = strlen(key);
  if (used + strlen(piece) < CW_TOKEN_KEY) {
    memcpy(key + used, piece, strlen(piece) + 1);
  } else {
    key[0] = '~';
  }
}

static CwTokenCase case_of(size_t letters, size_t upper, bool first_upper)
{
  if (upper == 0) {
    return CW_CASE_LOWER;
  }
  if (upper == letters) {
    return CW_CASE_UPPER;
  }
  return upper == 1 && first_upper ? CW_CASE_TITLE : CW_CASE_MIXED;
}

static void read_word(CwToken *token, const char *text, size_t size)
{
  size_t letters = 0;
  size_t upper = 0;
  bool first_upper = false;
  while (token->end < size) {
    const Character c = character_at(text + token->end, size - token->end);
    if (!is_letter(c.code)) {
      break;
    }
    add_key(token->key, folded(c.code));
    const bool is_big = is_upper(c.code);
    first_upper = letters == 0 ? is_big : first_upper;
    upper += is_big;
    letters += !is_accent(c.code);
    token->end += c.bytes;
  }
  token->written = case_of(letters, upper, first_upper);
}

static void read_number(CwToken *token, const char *text, size_t size)
{
  while (token->end < size && is_digit((unsigned char)text[token->end])) {
    add_key(token->key, (char[2]){text[token->end], '\0'});
    token->end++;
  }
}

static void read_sign(CwToken *token, const char *text, size_t size, Character c)
{
  token->end += c.bytes;
  token->key[0] = sign_key(c.code);
  if (strchr("-=", token->key[0]) && token->end < size && text[token->end] == '>') {
    token->key[0] = '>';
    token->end++;
  }
}

CwStatus cw_tokens_read(CwTokens *tokens, const char *text, size_t size)
{
  tokens->text = text;
  tokens->n = 0;
  bool glued = false;
  for (size_t i = 0; i < size;) {
    const Character c = character_at(text + i, size - i);
    if (is_blank(c.code)) {
      i += c.bytes;
      glued = false;
      continue;
    }
    if (!cw_grow(&tokens->token, &tokens->capacity, tokens->n, sizeof *tokens->token)) {
      return CW_ERR_NO_MEM;
    }
    CwToken *token = &tokens->token[tokens->n++];
    *token = (CwToken){.begin = i, .end = i, .glued = glued};
    if (is_letter(c.code)) {
      token->kind = CW_TOKEN_WORD;
      read_word(token, text, size);
    } else if (is_digit(c.code)) {
      token->kind = CW_TOKEN_NUMBER;
      read_number(token, text, size);
    } else {
      token->kind = CW_TOKEN_SIGN;
      read_sign(token, text, size, c);
    }
    i = token->end;
    glued = true;
  }
  return CW_OK;
}

void cw_tokens_free(CwTokens *tokens)
{
  free(tokens->token);
  *tokens = (CwTokens){0};
}

bool cw_token_is(const CwTokens *tokens, size_t i, const char *key)
{
  return i < tokens->n && strcmp(tokens->token[i].key, key) == 0;
}

bool cw_token_in(const CwTokens *tokens, size_t i, const char *const *list)
{
  for (; i < tokens->n && *list; list++) {
    if (strcmp(tokens->token[i].key, *list) == 0) {
      return true;
    }
  }
  return false;
}

bool cw_token_is_word(const CwTokens *tokens, size_t i)
{
  return i < tokens->n && tokens->token[i].kind == CW_TOKEN_WORD;
}

unsigned cw_token_number(const CwTokens *tokens, size_t i, size_t *next)
{
  static const char *const said[][5] = {
      {"one", "first", "un", "premiere", "premier"},       {"two", "second", "deux", "deuxieme", "seconde"},
      {"three", "third", "trois", "troisieme", "third"},   {"four", "fourth", "quatre", "quatrieme", "fourth"},
      {"five", "fifth", "cinq", "cinquieme", "fifth"},     {"six", "sixth", "six", "sixieme", "sixth"},
      {"seven", "seventh", "sept", "septieme", "seventh"}, {"eight", "eighth", "huit", "huitieme", "eighth"}};
  static const char *const ending[] = {"st", "nd", "rd", "th", "e", "er", "re", "ere", "eme", "ieme", NULL};
  if (i >= tokens->n) {
    return 0;
  }
  const CwToken *token = &tokens->token[i];
  if (token->kind == CW_TOKEN_NUMBER && token->end - token->begin == 1) {
    *next = i + 1;
    if (i + 1 < tokens->n && tokens->token[i + 1].glued && cw_token_in(tokens, i + 1, ending)) {
      *next = i + 2;
    }
    return (unsigned)(token->key[0] - '0');
  }
  for (unsigned k = 0; token->kind == CW_TOKEN_WORD && k < sizeof said / sizeof said[0]; k++) {
    for (size_t way = 0; way < 5; way++) {
      if (strcmp(token->key, said[k][way]) == 0) {
        *next = i + 1;
        return k + 1;
      }
    }
  }
  return 0;
}
