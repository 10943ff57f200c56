// SPDX-License-Identifier: GPL-3.0-or-later
/// A glossary file read line by line.
#include <stdlib.h>
#include <string.h>

#include <unistr.h>

#include "base/memory.h"
#include "glossary/glossary.h"
#include "glossary/plural.h"

enum { N_FIELDS = 4 };

/// Part of a text.
typedef struct {
  const char *text;
  size_t n;
} Span;

/// The file being read.
typedef struct {
  CwGlossary *glossary;
  CwDiagnostic **diagnostic; ///< NULL: nobody wants them
  size_t *n_diagnostics;
  size_t room;
  size_t line; ///< from 1
  CwWords words;
} Reader;

static Span trim(Span span)
{
  while (span.n > 0 && strchr(" \t\r", span.text[0])) {
    span.text++;
    span.n--;
  }
  while (span.n > 0 && strchr(" \t\r", span.text[span.n - 1])) {
    span.n--;
  }
  return span;
}

/// The part before the next `mark`, which is taken off `rest` with the mark.
static Span cut(Span *rest, char mark)
{
  const char *end = memchr(rest->text, mark, rest->n);
  const Span part = {rest->text, end ? (size_t)(end - rest->text) : rest->n};
  const size_t used = part.n + (end != NULL);
  *rest = (Span){rest->text + used, rest->n - used};
  return part;
}

static CwStatus complain(Reader *reader, size_t column, const char *text)
{
  if (!reader->diagnostic) {
    return CW_OK;
  }
  if (!cw_grow(reader->diagnostic, &reader->room, *reader->n_diagnostics, sizeof **reader->diagnostic)) {
    return CW_ERR_NO_MEM;
  }
  char *copy = cw_copy_text(text, strlen(text));
  if (!copy) {
    return CW_ERR_NO_MEM;
  }
  (*reader->diagnostic)[(*reader->n_diagnostics)++] = (CwDiagnostic){reader->line, column, copy};
  return CW_OK;
}

/// "! word word" or "!fr word word".
static CwStatus add_plain(Reader *reader, Span line)
{
  CwGlossary *g = reader->glossary;
  char language[3] = "";
  if (line.n > 3 && line.text[1] != ' ' && line.text[1] != '\t' && strchr(" \t", line.text[3])) {
    memcpy(language, line.text + 1, 2);
    line = (Span){line.text + 2, line.n - 2};
  }
  CwStatus status = cw_words_read(line.text + 1, line.n - 1, &reader->words);
  for (size_t i = 0; i < reader->words.n && status == CW_OK; i++) {
    const CwWord *word = &reader->words.word[i];
    if (!cw_grow(&g->plain, &g->plain_room, g->n_plain, sizeof *g->plain)) {
      return CW_ERR_NO_MEM;
    }
    CwPlainWord *plain = &g->plain[g->n_plain];
    *plain = (CwPlainWord){.of_term = false};
    memcpy(plain->language, language, sizeof language);
    plain->word = cw_copy_text((const char *)word->letter, word->n);
    status = plain->word ? CW_OK : CW_ERR_NO_MEM;
    g->n_plain += status == CW_OK;
  }
  return status;
}

/// A way to write a term. @param[out] good False when it has no letters or too many.
static CwStatus add_form(Reader *reader, Span spelling, CwForm form, bool *good)
{
  CwGlossary *g = reader->glossary;
  CwStatus status = cw_words_read(spelling.text, spelling.n, &reader->words);
  *good =
      status == CW_OK && cw_spell_words(reader->words.word, reader->words.n, &form.spelt, &form.joined, &form.sounds);
  if (!*good) {
    return status;
  }
  form.weight = cw_sounds_weight(&g->costs, &form.sounds);
  if (!cw_grow(&g->form, &g->form_room, g->n_forms, sizeof *g->form)) {
    return CW_ERR_NO_MEM;
  }
  g->form[g->n_forms++] = form;
  return CW_OK;
}

/// The place of a term: its own when it is there already, whose forms are then taken out; else a new one.
static CwStatus place_term(CwGlossary *g, Span name, size_t *place)
{
  for (*place = 0; *place < g->n_terms; ++*place) {
    CwTermText *term = &g->term[*place];
    if (strlen(term->name) == name.n && memcmp(term->name, name.text, name.n) == 0) {
      size_t kept = 0;
      for (size_t i = 0; i < g->n_forms; i++) {
        g->form[kept] = g->form[i];
        kept += g->form[i].term != *place;
      }
      g->n_forms = kept;
      return CW_OK;
    }
  }
  if (!cw_grow(&g->term, &g->term_room, g->n_terms, sizeof *g->term)) {
    return CW_ERR_NO_MEM;
  }
  g->term[g->n_terms++] = (CwTermText){NULL, NULL, NULL};
  return CW_OK;
}

static CwStatus set_texts(CwTermText *term, Span name, Span meaning, Span plural)
{
  const CwTermText text = {cw_copy_text(name.text, name.n), cw_copy_text(meaning.text, meaning.n),
                           plural.n == 1 && plural.text[0] == '-' ? NULL
                           : plural.n > 0                         ? cw_copy_text(plural.text, plural.n)
                                                                  : cw_make_plural(name.text, name.n)};
  const bool none = plural.n == 1 && plural.text[0] == '-';
  if (!text.name || !text.meaning || (!text.plural && !none)) {
    free(text.name);
    free(text.meaning);
    free(text.plural);
    return CW_ERR_NO_MEM;
  }
  free(term->name);
  free(term->meaning);
  free(term->plural);
  *term = text;
  return CW_OK;
}

static CwStatus add_forms(Reader *reader, size_t place, Span others)
{
  const CwTermText *term = &reader->glossary->term[place];
  bool good = true;
  CwStatus status =
      add_form(reader, (Span){term->name, strlen(term->name)}, (CwForm){.term = place, .own = true}, &good);
  if (status == CW_OK && term->plural && strcmp(term->plural, term->name) != 0) {
    status = add_form(reader, (Span){term->plural, strlen(term->plural)},
                      (CwForm){.term = place, .own = true, .plural = true}, &good);
  }
  while (others.n > 0 && status == CW_OK) {
    const Span other = trim(cut(&others, '|'));
    status = other.n > 0 ? add_form(reader, other, (CwForm){.term = place}, &good) : CW_OK;
  }
  return status;
}

/// Whether a name has letters, and not too many: only then can it be found.
static CwStatus is_name(Reader *reader, Span name, bool *good)
{
  CwLetters spelt = {.n = 0};
  CwLetters joined = {.n = 0};
  CwSounds sounds = {.n = 0};
  const CwStatus status = cw_words_read(name.text, name.n, &reader->words);
  *good = status == CW_OK && cw_spell_words(reader->words.word, reader->words.n, &spelt, &joined, &sounds);
  return status;
}

static CwStatus add_term(Reader *reader, Span line)
{
  Span field[N_FIELDS] = {{"", 0}, {"", 0}, {"", 0}, {"", 0}};
  for (size_t i = 0; i < N_FIELDS && line.n > 0; i++) {
    field[i] = trim(cut(&line, '\t'));
  }
  bool good = false;
  CwStatus status = is_name(reader, field[0], &good);
  if (status != CW_OK || !good) {
    return status == CW_OK ? complain(reader, 1, "expected a term in letters, of at most 63 of them") : status;
  }
  size_t place = 0;
  const size_t n_before = reader->glossary->n_terms;
  status = place_term(reader->glossary, field[0], &place);
  if (status == CW_OK) {
    status = set_texts(&reader->glossary->term[place], field[0], field[1], field[2]);
    if (status != CW_OK && place == n_before) {
      reader->glossary->n_terms--;
    }
  }
  return status == CW_OK ? add_forms(reader, place, field[3]) : status;
}

static CwStatus read_line(Reader *reader, Span line)
{
  const Span trimmed = trim(line);
  if (trimmed.n == 0 || trimmed.text[0] == '#') {
    return CW_OK;
  }
  const uint8_t *wrong = u8_check((const uint8_t *)line.text, line.n);
  if (wrong) {
    const size_t column = u8_mbsnlen((const uint8_t *)line.text, (size_t)(wrong - (const uint8_t *)line.text)) + 1;
    return complain(reader, column, "expected UTF-8");
  }
  for (size_t i = 0; i < trimmed.n; i++) {
    const unsigned char c = (unsigned char)trimmed.text[i];
    if ((c < ' ' && c != '\t') || c == 0x7F) {
      return complain(reader, (size_t)(trimmed.text - line.text) + i + 1, "expected no control character but tabs");
    }
  }
  return trimmed.text[0] == '!' ? add_plain(reader, trimmed) : add_term(reader, line);
}

/// Note that a word, with its marks or without, is part of a term.
static void mark_part(CwGlossary *g, const unsigned char *letter, size_t n_letters)
{
  unsigned char bare[CW_LONGEST_SPELLING];
  for (size_t i = 0; i < n_letters; i++) {
    bare[i] = cw_bare_letter(letter[i]);
  }
  for (size_t turn = 0; turn < 2; turn++) {
    size_t n = 0;
    const CwPlainWord *plain = cw_plain_words(g, turn ? bare : letter, n_letters, &n);
    for (size_t k = 0; k < n; k++) {
      g->plain[plain - g->plain + (ptrdiff_t)k].of_term = true;
    }
  }
}

static void mark_parts(CwGlossary *g)
{
  for (size_t i = 0; i < g->n_forms; i++) {
    const CwLetters *spelt = &g->form[i].spelt;
    for (size_t from = 0, to = 0; from < spelt->n; from = to + 1) {
      for (to = from; to < spelt->n && spelt->letter[to] != ' ' && spelt->letter[to] != '-';) {
        to++;
      }
      mark_part(g, spelt->letter + from, to - from);
    }
  }
}

static int compare_plain(const void *left, const void *right)
{
  return strcmp(((const CwPlainWord *)left)->word, ((const CwPlainWord *)right)->word);
}

CwStatus cw_glossary_add(CwGlossary *glossary, const char *text, size_t size, CwDiagnostic **diagnostic,
                         size_t *n_diagnostics)
{
  static const char mark[] = "\xEF\xBB\xBF"; // byte order mark
  Reader reader = {.glossary = glossary, .diagnostic = diagnostic, .n_diagnostics = n_diagnostics};
  if (diagnostic) {
    *diagnostic = NULL;
    *n_diagnostics = 0;
  }
  Span rest = {text, size};
  if (size >= 3 && memcmp(text, mark, 3) == 0) {
    rest = (Span){text + 3, size - 3};
  }
  CwStatus status = CW_OK;
  while (rest.n > 0 && status == CW_OK) {
    reader.line++;
    status = read_line(&reader, cut(&rest, '\n'));
  }
  cw_words_free(&reader.words);
  if (glossary->n_plain > 0) {
    qsort(glossary->plain, glossary->n_plain, sizeof *glossary->plain, compare_plain);
  }
  mark_parts(glossary);
  return status;
}
