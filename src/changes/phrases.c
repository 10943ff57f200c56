// SPDX-License-Identifier: GPL-3.0-or-later
/// Phrases that are new, gone or elsewhere.
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "changes/list.h"
#include "changes/marks.h"

enum { MOST_SHOWN = 4 }; // phrases of a group whose words are told

char *cw_steps_in_a_line(const CwStep *step, size_t n_steps)
{
  char *line = cw_copy_text("", 0);
  size_t n = 0;
  for (size_t i = 0; line && i < n_steps;) {
    const CwWholeStep whole = cw_whole_step(step, n_steps, i);
    char *on = cw_marks_text(whole);
    const size_t text = strlen(whole.step->text);
    char *longer = on ? cw_resize(line, n + text + strlen(on) + 4, 1) : NULL;
    if (!longer) {
      free(on);
      free(line);
      return NULL;
    }
    line = longer;
    const char *part[] = {i ? " " : "", on, text ? " " : "", whole.step->text};
    for (size_t k = 0; k < sizeof part / sizeof part[0]; k++) {
      memcpy(line + n, part[k], strlen(part[k]) + 1);
      n += strlen(part[k]);
    }
    free(on);
    i += whole.n;
  }
  return line;
}

/// The words of some phrases. @param[out] text NULL when they are too many to tell.
static CwStatus words_of(const CwNotePhrase *phrase, size_t n, char **text)
{
  *text = n <= MOST_SHOWN ? cw_copy_text("", 0) : NULL;
  for (size_t i = 0; i < n && n <= MOST_SHOWN && *text; i++) {
    char *line = cw_steps_in_a_line(phrase[i].step, phrase[i].n_steps);
    const size_t used = strlen(*text);
    char *longer = line ? cw_resize(*text, used + strlen(line) + 4, 1) : NULL;
    if (!longer) {
      free(*text);
      *text = NULL;
    } else {
      *text = longer;
      memcpy(longer + used, i ? " / " : "", i ? 4 : 1);
      memcpy(longer + strlen(longer), line, strlen(line) + 1);
    }
    free(line);
  }
  return n <= MOST_SHOWN && !*text ? CW_ERR_NO_MEM : CW_OK;
}

CwStatus cw_list_gone(CwListing *listing, size_t *old_from, size_t old_to)
{
  CwStatus status = CW_OK;
  while (*old_from < old_to && status == CW_OK) {
    const size_t i = *old_from;
    size_t n = 0;
    while (i + n < old_to && listing->pairs.new_of[i + n] == CW_NONE) {
      n++;
    }
    *old_from = i + (n ? n : 1);
    if (n == 0) {
      continue;
    }
    char *text = NULL;
    status = words_of(&listing->before->phrase[i], n, &text);
    if (status == CW_OK) {
      status = cw_list_change(listing, (CwChange){.kind = CW_CHANGE_PHRASE_GONE, .old_phrase = i + 1, .n_phrases = n},
                              text, NULL);
    }
    free(text);
    listing->changes->n_removed += n;
  }
  return status;
}

static CwStatus list_new(CwListing *listing, size_t new_phrase)
{
  size_t n = 0;
  while (new_phrase + n < listing->pairs.n_new && listing->pairs.old_of[new_phrase + n] == CW_NONE) {
    listing->told[new_phrase + n++] = true;
  }
  char *text = NULL;
  CwStatus status = words_of(&listing->after->phrase[new_phrase], n, &text);
  if (status == CW_OK) {
    status = cw_list_change(
        listing, (CwChange){.kind = CW_CHANGE_PHRASE_NEW, .new_phrase = new_phrase + 1, .n_phrases = n}, NULL, text);
  }
  free(text);
  listing->changes->n_added += n;
  return status;
}

/// How many phrases from a new one on follow each other in the old notes, too, and moved or not as it did.
static size_t run_length(const CwPairs *pairs, size_t k)
{
  size_t n = 1;
  while (k + n < pairs->n_new && pairs->old_of[k + n] == pairs->old_of[k] + n &&
         pairs->moved[k + n] == pairs->moved[k]) {
    n++;
  }
  return n;
}

/// How many of the old phrases before `i` are paired.
static size_t old_rank(const CwPairs *pairs, size_t i)
{
  size_t rank = 0;
  for (size_t p = 0; p < i; p++) {
    rank += pairs->new_of[p] != CW_NONE;
  }
  return rank;
}

/// How many of the new phrases before `k` are paired.
static size_t new_rank(const CwPairs *pairs, size_t k)
{
  size_t rank = 0;
  for (size_t p = 0; p < k; p++) {
    rank += pairs->old_of[p] != CW_NONE;
  }
  return rank;
}

/// The new phrase with which those from `k` on have changed places; CW_NONE when there is none.
static size_t changed_places(const CwPairs *pairs, size_t k, size_t n)
{
  const size_t wanted = old_rank(pairs, pairs->old_of[k]); // place among the paired: where it was
  size_t other = 0;
  for (size_t rank = 0; other < pairs->n_new; other++) {
    if (pairs->old_of[other] != CW_NONE && rank++ == wanted) {
      break;
    }
  }
  if (other >= pairs->n_new || other + n > pairs->n_new || (other < k ? other + n > k : k + n > other)) {
    return CW_NONE;
  }
  const bool there = old_rank(pairs, pairs->old_of[other]) == new_rank(pairs, k);
  bool whole = true;
  for (size_t i = 0; i < n && whole; i++) {
    whole = pairs->old_of[other + i] == pairs->old_of[other] + i;
  }
  return there && whole ? other : CW_NONE;
}

static CwStatus list_moved(CwListing *listing, size_t k)
{
  const CwPairs *pairs = &listing->pairs;
  const size_t n = run_length(pairs, k);
  const size_t other = changed_places(pairs, k, n);
  const bool places = other != CW_NONE && !listing->told[other];
  const size_t first = places && other < k ? other : k;
  const size_t second = places && other < k ? k : other;
  CwStatus status = cw_list_change(listing,
                                   (CwChange){.kind = places ? CW_CHANGE_PHRASE_PLACES : CW_CHANGE_PHRASE_MOVED,
                                              .old_phrase = pairs->old_of[first] + 1,
                                              .new_phrase = first + 1,
                                              .n_phrases = n},
                                   NULL, NULL);
  for (size_t i = 0; i < n; i++) {
    listing->told[k + i] = true;
    listing->told[places ? other + i : k + i] = true;
  }
  listing->changes->n_moved += places ? 2 * n : n;
  if (status == CW_OK && places) {
    status = cw_list_repeat(&listing->changes->change[listing->changes->n - 1], second + 1);
  }
  return status;
}

CwStatus cw_list_order(CwListing *listing, size_t new_phrase)
{
  if (listing->told[new_phrase]) {
    return CW_OK;
  }
  if (listing->pairs.old_of[new_phrase] == CW_NONE) {
    return list_new(listing, new_phrase);
  }
  return listing->pairs.moved[new_phrase] ? list_moved(listing, new_phrase) : CW_OK;
}
