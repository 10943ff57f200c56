// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/mirror.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistr.h>

#include "base/memory.h"
#include "stage/mirror_line.h"

/// Bytes of a doubt that are quoted.
enum { QUOTED = 24 };

/// A mirrored text under way.
typedef struct {
  CwMirrored *mirrored;
  CwMirrorLine line;
  size_t room;
  size_t doubt_capacity;
} Mirroring;

/// Characters in `bytes` of a text; a byte that is not UTF-8 is one.
static size_t characters(const char *text, size_t bytes)
{
  size_t n = 0;
  for (size_t i = 0; i < bytes; n++) {
    ucs4_t c;
    const int length = u8_mbtoucr(&c, (const uint8_t *)text + i, bytes - i);
    i += length > 0 ? (size_t)length : 1;
  }
  return n;
}

static CwStatus put(Mirroring *mirroring, const char *text, size_t size)
{
  CwMirrored *mirrored = mirroring->mirrored;
  if (mirrored->size + size + 1 > mirroring->room) {
    const size_t room = 2 * (mirrored->size + size + 1);
    char *grown = cw_resize(mirrored->text, room, 1);
    if (!grown) {
      return CW_ERR_NO_MEM;
    }
    mirrored->text = grown;
    mirroring->room = room;
  }
  memcpy(mirrored->text + mirrored->size, text, size);
  mirrored->size += size;
  mirrored->text[mirrored->size] = '\0';
  return CW_OK;
}

/// What is said of a doubt: the word, or that it is a whole line.
static char *doubt_text(const char *line, size_t size, const CwEdit *doubt)
{
  char text[2 * QUOTED + 64];
  const size_t length = doubt->end - doubt->begin;
  if (length == size && length > QUOTED) {
    snprintf(text, sizeof text, "the line would not mirror back; it is left as it is");
  } else {
    snprintf(text, sizeof text, "'%.*s' may be a side; it is left as it is", (int)(length < QUOTED ? length : QUOTED),
             line + doubt->begin);
  }
  return cw_copy_text(text, strlen(text));
}

static CwStatus put_doubts(Mirroring *mirroring, const char *line, size_t size, size_t number)
{
  CwMirrored *mirrored = mirroring->mirrored;
  size_t at = 0;
  size_t column = 1;
  for (size_t i = 0; i < mirroring->line.doubts.n; i++) {
    const CwEdit *doubt = &mirroring->line.doubts.edit[i];
    column += characters(line + at, doubt->begin - at);
    at = doubt->begin;
    char *text = doubt_text(line, size, doubt);
    if (!text || !cw_grow(&mirrored->doubt, &mirroring->doubt_capacity, mirrored->n_doubts, sizeof *mirrored->doubt)) {
      free(text);
      return CW_ERR_NO_MEM;
    }
    mirrored->doubt[mirrored->n_doubts++] = (CwDiagnostic){number, column, text};
  }
  return CW_OK;
}

static CwStatus put_line(Mirroring *mirroring, const char *text, size_t size, size_t number)
{
  const char *out;
  size_t out_size;
  CwStatus status = cw_mirror_line(&mirroring->line, text, size, &out, &out_size);
  if (status == CW_OK) {
    status = put(mirroring, out, out_size);
  }
  mirroring->mirrored->n_changed += mirroring->line.edits.n;
  return status == CW_OK ? put_doubts(mirroring, text, size, number) : status;
}

static CwStatus end(Mirroring *mirroring, CwStatus status)
{
  cw_mirror_line_free(&mirroring->line);
  if (status != CW_OK) {
    cw_mirrored_free(mirroring->mirrored);
  }
  return status;
}

CwStatus cw_mirror_text(const char *text, CwMirrored *mirrored)
{
  *mirrored = (CwMirrored){0};
  Mirroring mirroring = {.mirrored = mirrored};
  return end(&mirroring, put_line(&mirroring, text, strlen(text), 1));
}

/// Whether a line is one of the head: a key that notes have, and a colon. What follows is a name.
static bool is_head_line(const CwTokens *tokens)
{
  static const char *const key[] = {"piece",    "dance", "role",      "recording",       "carried from",
                                    "metre",    "meter", "first",     "counts",          "beats",
                                    "language", "tempo", "first one", "beats per count", "counts per phrase"};
  char words[3 * CW_TOKEN_KEY + 3] = "";
  for (size_t i = 0; i < tokens->n && i < 4; i++) {
    if (cw_token_is(tokens, i, ":")) {
      for (size_t k = 0; k < sizeof key / sizeof key[0]; k++) {
        if (strcmp(words, key[k]) == 0) {
          return true;
        }
      }
      return false;
    }
    snprintf(words + strlen(words), sizeof words - strlen(words), "%s%s", *words ? " " : "", tokens->token[i].key);
  }
  return false;
}

/// How a line of the notebook is mirrored.
static CwStatus put_note_line(Mirroring *mirroring, const char *text, size_t size, size_t number)
{
  enum { LONGEST_KEY = 64 }; // bytes in which a key and its colon stand
  CwTokens *tokens = &mirroring->line.tokens;
  const CwStatus status = cw_tokens_read(tokens, text, size < LONGEST_KEY ? size : LONGEST_KEY);
  if (status != CW_OK) {
    return status;
  }
  return is_head_line(tokens) ? put(mirroring, text, size) : put_line(mirroring, text, size, number);
}

/// Bytes of the line at `i` without its end.
static size_t line_length(const char *text, size_t size, size_t i)
{
  size_t length = 0;
  while (i + length < size && text[i + length] != '\n' && text[i + length] != '\r') {
    length++;
  }
  return length;
}

CwStatus cw_mirror_notebook(const char *text, size_t size, CwMirrored *mirrored)
{
  *mirrored = (CwMirrored){0};
  Mirroring mirroring = {.mirrored = mirrored};
  CwStatus status = put(&mirroring, "", 0);
  for (size_t i = 0, number = 1; status == CW_OK && i < size; number++) {
    const size_t length = line_length(text, size, i);
    status = put_note_line(&mirroring, text + i, length, number);
    i += length;
    const size_t ending = i + 1 < size && text[i] == '\r' && text[i + 1] == '\n' ? 2 : i < size;
    if (status == CW_OK) {
      status = put(&mirroring, text + i, ending);
    }
    i += ending;
  }
  return end(&mirroring, status);
}

void cw_mirrored_free(CwMirrored *mirrored)
{
  if (!mirrored) {
    return;
  }
  free(mirrored->text);
  for (size_t i = 0; i < mirrored->n_doubts; i++) {
    free(mirrored->doubt[i].text);
  }
  free(mirrored->doubt);
  *mirrored = (CwMirrored){0};
}
