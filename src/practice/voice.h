// SPDX-License-Identifier: GPL-3.0-or-later
/// A voice that says words, as samples.
#ifndef CW_PRACTICE_VOICE_H
#define CW_PRACTICE_VOICE_H

#include <stddef.h>

#include "countwright/language.h"
#include "countwright/status.h"

/// What was said.
typedef struct {
  float *sample; ///< full scale 1.0; release with free()
  size_t n;
  size_t onset; ///< where the first vowel begins: the moment at which a word is heard to fall
} CwSpeech;

/// A voice. One at a time in a program, as the synthesiser has no more.
typedef struct CwVoice CwVoice;

/// @param[out] voice Release with cw_voice_free(); NULL on error.
/// @return CW_OK, CW_ERR_UNSUPPORTED (built without a synthesiser, or it lacks the language) or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_voice_open(CwLanguage language, CwVoice **voice);

/// Samples a second.
unsigned cw_voice_rate(const CwVoice *voice);

/// Say a text, silence at its ends cut off. @param words_per_min 80 to 450.
/// @param[out] speech Empty on error, and where nothing is to be heard. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_voice_say(CwVoice *voice, const char *text, unsigned words_per_min, CwSpeech *speech);

/// Release. NULL is accepted.
void cw_voice_free(CwVoice *voice);

#endif
