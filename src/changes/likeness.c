// SPDX-License-Identifier: GPL-3.0-or-later
#include "changes/likeness.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "changes/wording.h"

#define WORDS_SHARE 0.75 // of the likeness; the rest is the counts on which steps fall

static uint64_t mix(uint64_t hash, const void *data, size_t size)
{
  const unsigned char *byte = data;
  for (size_t i = 0; i < size; i++) {
    hash = (hash ^ byte[i]) * 1099511628211U; // FNV-1a
  }
  return hash;
}

static const uint64_t seed = 14695981039346656037U;

static void put(uint32_t *list, size_t *n, uint64_t value)
{
  if (*n < CW_MOST_WORDS_COMPARED) {
    list[(*n)++] = (uint32_t)(value ^ (value >> 32));
  }
}

static int compare(const void *left, const void *right)
{
  const uint32_t a = *(const uint32_t *)left;
  const uint32_t b = *(const uint32_t *)right;
  return a < b ? -1 : a > b;
}

static void put_words(CwGist *gist, const char *wording)
{
  for (const char *word = wording; *word;) {
    const size_t n = strcspn(word, " ");
    if (n > 0) {
      put(gist->word, &gist->n_words, mix(seed, word, n));
    }
    word += n + (word[n] != '\0');
  }
}

/// What all of a phrase says, steps apart.
static uint64_t hash_frame(const CwNotePhrase *phrase)
{
  uint64_t hash = mix(seed, &phrase->counts, sizeof phrase->counts);
  hash = mix(hash, &phrase->other_side, sizeof phrase->other_side);
  hash = phrase->role ? mix(hash, phrase->role, strlen(phrase->role) + 1) : hash;
  return phrase->remark ? mix(hash, phrase->remark, strlen(phrase->remark) + 1) : hash;
}

/// What others do in the phrase counts for whether two are the same, not for how alike they are.
static void add_parts(CwGist *gist, const CwNotePhrase *phrase)
{
  for (size_t i = 0; i < phrase->n_parts; i++) {
    const CwNotePart *part = &phrase->part[i];
    gist->whole = part->role ? mix(gist->whole, part->role, strlen(part->role) + 1) : gist->whole;
    gist->whole = mix(gist->whole, &part->delay, sizeof part->delay);
    for (size_t k = 0; k < part->n_steps; k++) {
      gist->whole = mix(gist->whole, part->step[k].text, strlen(part->step[k].text) + 1);
      gist->whole = mix(gist->whole, &part->step[k].count, sizeof part->step[k].count);
    }
  }
}

static CwStatus make_gist(CwWording *wording, const CwNotePhrase *phrase, CwGist *gist)
{
  *gist = (CwGist){.whole = hash_frame(phrase), .counts = phrase->counts};
  for (size_t i = 0; i < phrase->n_steps; i++) {
    const CwStep *step = &phrase->step[i];
    char *words = NULL;
    const CwStatus status = cw_wording(wording, step->text, &words);
    if (status != CW_OK) {
      return status;
    }
    put_words(gist, words);
    free(words);
    const long at[2] = {lround(step->count * 12), lround(step->until * 12)};
    put(gist->place, &gist->n_places, mix(seed, at, sizeof at));
    gist->whole = mix(mix(gist->whole, at, sizeof at), step->text, strlen(step->text) + 1);
  }
  add_parts(gist, phrase);
  if (phrase->role) {
    put(gist->word, &gist->n_words, mix(seed + 1, phrase->role, strlen(phrase->role)));
  }
  if (phrase->other_side) {
    put(gist->word, &gist->n_words, 2);
  }
  qsort(gist->word, gist->n_words, sizeof *gist->word, compare);
  qsort(gist->place, gist->n_places, sizeof *gist->place, compare);
  return CW_OK;
}

CwStatus cw_gists(const CwNotebook *notebook, const CwGlossary *glossary, CwGist **gist)
{
  CwWording wording = {.finder = {.glossary = glossary}};
  *gist = cw_new(notebook->n_phrases + 1, sizeof **gist);
  CwStatus status = *gist ? CW_OK : CW_ERR_NO_MEM;
  for (size_t i = 0; i < notebook->n_phrases && status == CW_OK; i++) {
    status = make_gist(&wording, &notebook->phrase[i], &(*gist)[i]);
  }
  cw_wording_free(&wording);
  if (status != CW_OK) {
    free(*gist);
    *gist = NULL;
  }
  return status;
}

/// Dice's coefficient of two ascending lists; 1 when both are empty.
static double dice(const uint32_t *left, size_t n_left, const uint32_t *right, size_t n_right)
{
  size_t common = 0;
  for (size_t i = 0, k = 0; i < n_left && k < n_right;) {
    common += left[i] == right[k];
    const bool forward = left[i] <= right[k];
    k += right[k] <= left[i];
    i += forward;
  }
  return n_left + n_right > 0 ? 2.0 * (double)common / (double)(n_left + n_right) : 1.0;
}

double cw_gist_likeness(const CwGist *left, const CwGist *right)
{
  if (left->whole == right->whole) {
    return 1.0;
  }
  const double words = dice(left->word, left->n_words, right->word, right->n_words);
  const double places = dice(left->place, left->n_places, right->place, right->n_places);
  const double counts = left->counts == right->counts ? 1.0 : 0.5;
  return 0.99 * (WORDS_SHARE * words + (1 - WORDS_SHARE) * places * counts);
}
