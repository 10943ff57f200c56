// SPDX-License-Identifier: GPL-3.0-or-later
/// What is heard when: stretches of music, sounds on top of them, chapters.
#ifndef CW_PRACTICE_SCORE_H
#define CW_PRACTICE_SCORE_H

#include <stddef.h>

#include "countwright/audio_write.h"
#include "countwright/practice.h"
#include "practice/clips.h"
#include "practice/pace.h"

/// A sound on top of the music.
typedef struct {
  CwClipKind kind;
  size_t text; ///< of CW_WORDS: index into CwScore.text
  unsigned words_per_min;
  double from_s;  ///< where its first sample lies
  double to_s;    ///< where its last one lies
  double until_s; ///< where it is cut at the latest, as the next begins
  float gain;
} CwScoreSound;

/// A stretch of music.
typedef struct {
  CwPaceCurve curve;
  double zero_s; ///< when the curve's 0 comes out
  double from_s; ///< when it begins
  double to_s;   ///< when it has ended
  double fade_in_s;
  double fade_out_s;
} CwScoreSpan;

/// All of it, in seconds of what is made. Zeroed when empty.
typedef struct {
  CwScoreSound *sound; ///< by `from_s`, once cw_score_finish() has been called
  size_t n_sounds, sound_room;
  CwScoreSpan *span; ///< one after the other
  size_t n_spans, span_room;
  CwSoundChapter *chapter; ///< its titles are owned
  size_t n_chapters, chapter_room;
  CwPracticeCount *count;
  size_t n_counts, count_room;
  char **text;
  size_t n_texts, text_room;
  double duration_s;
} CwScore;

/// Add one more of each; arrays grow. @return CW_OK or CW_ERR_NO_MEM (then nothing is added, and a curve is released).
CW_NODISCARD CwStatus cw_score_add_sound(CwScore *score, const CwScoreSound *sound);
CW_NODISCARD CwStatus cw_score_add_span(CwScore *score, CwScoreSpan *span);
CW_NODISCARD CwStatus cw_score_add_chapter(CwScore *score, double start_s, const char *title);
CW_NODISCARD CwStatus cw_score_add_count(CwScore *score, const CwPracticeCount *count);

/// Keep a copy of a text. @param[out] index Of it.
CW_NODISCARD CwStatus cw_score_add_text(CwScore *score, const char *text, size_t *index);

/// Put the sounds in order, and the first chapter at the beginning.
void cw_score_finish(CwScore *score);

/// Release, and set to empty.
void cw_score_free(CwScore *score);

#endif
