// SPDX-License-Identifier: GPL-3.0-or-later
/// No voice, in a build without espeak-ng.
#include "practice/voice.h"

CwStatus cw_voice_open(CwLanguage language, CwVoice **voice)
{
  (void)language;
  *voice = NULL;
  return CW_ERR_UNSUPPORTED;
}

unsigned cw_voice_rate(const CwVoice *voice)
{
  (void)voice;
  return 0;
}

CwStatus cw_voice_say(CwVoice *voice, const char *text, unsigned words_per_min, CwSpeech *speech)
{
  (void)voice;
  (void)text;
  (void)words_per_min;
  *speech = (CwSpeech){0};
  return CW_ERR_UNSUPPORTED;
}

void cw_voice_free(CwVoice *voice)
{
  (void)voice;
}
