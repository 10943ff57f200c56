// SPDX-License-Identifier: GPL-3.0-or-later
/// Text of notes as words, numbers and signs, each with the bytes that it stands on.
#ifndef CW_STAGE_TOKENS_H
#define CW_STAGE_TOKENS_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/status.h"

/// What a token is.
typedef enum {
  CW_TOKEN_WORD,   ///< letters of any script
  CW_TOKEN_NUMBER, ///< digits 0 to 9
  CW_TOKEN_SIGN    ///< any other character but a blank, one at a time; "->" and "=>" are one, '>'
} CwTokenKind;

/// How a word is written.
typedef enum {
  CW_CASE_LOWER,
  CW_CASE_UPPER, ///< all letters, also a single one
  CW_CASE_TITLE, ///< only the first
  CW_CASE_MIXED, ///< any other way
} CwTokenCase;

/// Room for the folded form of a word; a longer one is cut, and matches nothing.
enum { CW_TOKEN_KEY = 20 };

/// A word, a number or a sign.
typedef struct {
  size_t begin; ///< first byte in the text
  size_t end;   ///< byte after it
  CwTokenKind kind;
  CwTokenCase written;
  bool glued;             ///< no blank stands before it
  char key[CW_TOKEN_KEY]; ///< lower case without accents ("cote"); of a number its digits; of a sign one ASCII
                          ///< character: any arrow is '>', any dash '-', any apostrophe '\'', else what it is, or '?'
} CwToken;

/// A text cut up. Zero to begin with; reused from text to text; release with cw_tokens_free().
typedef struct {
  const char *text; ///< not owned
  CwToken *token;
  size_t n;
  size_t capacity;
} CwTokens;

/// Cut up `size` bytes. Bytes that are not UTF-8 are letters of Latin-1. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_tokens_read(CwTokens *tokens, const char *text, size_t size);

/// Release and set to empty.
void cw_tokens_free(CwTokens *tokens);

/// Whether token `i` is there and is this word, number or sign.
bool cw_token_is(const CwTokens *tokens, size_t i, const char *key);

/// Whether token `i` is there and one of a list that ends with NULL.
bool cw_token_in(const CwTokens *tokens, size_t i, const char *const *list);

/// Whether token `i` is there and a word.
bool cw_token_is_word(const CwTokens *tokens, size_t i);

/// The whole number that token `i` says, in digits or as a word from "one" to "eight", as "2nd", "second", "2e" or
/// "deuxième". @param[out] next Token after it. @return 0 when it says none.
unsigned cw_token_number(const CwTokens *tokens, size_t i, size_t *next);

#endif
