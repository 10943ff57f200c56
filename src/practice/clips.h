// SPDX-License-Identifier: GPL-3.0-or-later
/// The short sounds that are put on counts: clicks, and words in a voice. The last words are kept, so that memory does not
/// grow with what is said.
#ifndef CW_PRACTICE_CLIPS_H
#define CW_PRACTICE_CLIPS_H

#include <stdbool.h>
#include <stddef.h>

#include "practice/voice.h"

/// What sounds.
typedef enum {
  CW_CLICK_ONE,   ///< on the one
  CW_CLICK_COUNT, ///< on other counts
  CW_CLICK_SUB,   ///< between counts
  CW_WORDS
} CwClipKind;

/// A sound. It belongs to the clips, and stays until the next call.
typedef struct {
  const float *sample;
  size_t n;
  size_t onset; ///< the sample that falls on the count
} CwClip;

typedef struct CwClips CwClips;

/// @param with_voice Whether words will be asked for.
/// @param[out] clips Release with cw_clips_free(); NULL on error. @return As cw_voice_open().
CW_NODISCARD CwStatus cw_clips_new(unsigned rate_hz, bool with_voice, CwLanguage language, CwClips **clips);

/// @param text, words_per_min Of CW_WORDS. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_clips_get(CwClips *clips, CwClipKind kind, const char *text, unsigned words_per_min,
                                   CwClip *clip);

/// Release. NULL is accepted.
void cw_clips_free(CwClips *clips);

#endif
