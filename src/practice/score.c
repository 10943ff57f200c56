// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/score.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

CwStatus cw_score_add_sound(CwScore *score, const CwScoreSound *sound)
{
  if (!cw_grow(&score->sound, &score->sound_room, score->n_sounds, sizeof *sound)) {
    return CW_ERR_NO_MEM;
  }
  score->sound[score->n_sounds++] = *sound;
  return CW_OK;
}

CwStatus cw_score_add_span(CwScore *score, CwScoreSpan *span)
{
  if (!cw_grow(&score->span, &score->span_room, score->n_spans, sizeof *span)) {
    cw_pace_free(&span->curve);
    return CW_ERR_NO_MEM;
  }
  score->span[score->n_spans++] = *span;
  return CW_OK;
}

CwStatus cw_score_add_chapter(CwScore *score, double start_s, const char *title)
{
  char *copy = cw_copy_text(title, strlen(title));
  if (!copy || !cw_grow(&score->chapter, &score->chapter_room, score->n_chapters, sizeof *score->chapter)) {
    free(copy);
    return CW_ERR_NO_MEM;
  }
  score->chapter[score->n_chapters++] = (CwSoundChapter){start_s, copy};
  return CW_OK;
}

CwStatus cw_score_add_count(CwScore *score, const CwPracticeCount *count)
{
  if (!cw_grow(&score->count, &score->count_room, score->n_counts, sizeof *count)) {
    return CW_ERR_NO_MEM;
  }
  score->count[score->n_counts++] = *count;
  return CW_OK;
}

CwStatus cw_score_add_text(CwScore *score, const char *text, size_t *index)
{
  char *copy = cw_copy_text(text, strlen(text));
  if (!copy || !cw_grow(&score->text, &score->text_room, score->n_texts, sizeof *score->text)) {
    free(copy);
    return CW_ERR_NO_MEM;
  }
  *index = score->n_texts;
  score->text[score->n_texts++] = copy;
  return CW_OK;
}

static int by_beginning(const void *a, const void *b)
{
  const CwScoreSound *left = a;
  const CwScoreSound *right = b;
  return (left->from_s > right->from_s) - (left->from_s < right->from_s);
}

void cw_score_finish(CwScore *score)
{
  if (score->n_sounds > 0) {
    qsort(score->sound, score->n_sounds, sizeof *score->sound, by_beginning);
  }
  if (score->n_chapters > 0) {
    score->chapter[0].start_s = 0;
  }
}

void cw_score_free(CwScore *score)
{
  for (size_t i = 0; i < score->n_spans; i++) {
    cw_pace_free(&score->span[i].curve);
  }
  for (size_t i = 0; i < score->n_chapters; i++) {
    char *title = NULL; // ours, though a chapter's title is const to writers
    memcpy(&title, &score->chapter[i].title, sizeof title);
    free(title);
  }
  for (size_t i = 0; i < score->n_texts; i++) {
    free(score->text[i]);
  }
  free(score->sound);
  free(score->span);
  free(score->chapter);
  free(score->count);
  free(score->text);
  *score = (CwScore){0};
}
