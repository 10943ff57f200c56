// SPDX-License-Identifier: GPL-3.0-or-later
/// The voice of espeak-ng.
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include <espeak-ng/speak_lib.h>

#include "base/memory.h"
#include "practice/voice.h"

struct CwVoice {
  unsigned rate_hz;
};

/// What a call of the synthesiser gathers.
typedef struct {
  CwSpeech speech;
  size_t room;
  double vowel_s; ///< negative until there is one
  unsigned rate_hz;
  bool failed;
} Gathered;

/// Whether a phoneme in IPA is a vowel, from the chart of the IPA (2015).
static bool is_vowel(const char *phoneme)
{
  static const char *const vowel[] = {"a", "e", "i", "o", "u", "y", "ɑ", "ɐ", "ɒ", "æ", "ɔ", "ə", "ɚ",
                                      "ɛ", "ɜ", "ɝ", "ɞ", "ɘ", "ɨ", "ɪ", "ɯ", "ɵ", "ɤ", "ø", "œ", "ɶ",
                                      "ʊ", "ʉ", "ʌ", "ʏ", "ä", "ã", "õ", "ẽ", "ĩ", "ũ", "á", "é"};
  static const char *const stress[] = {"ˈ", "ˌ"};
  for (size_t i = 0; i < 2; i++) {
    const size_t length = strlen(stress[i]);
    phoneme += strncmp(phoneme, stress[i], length) == 0 ? length : 0;
  }
  for (size_t i = 0; i < sizeof vowel / sizeof vowel[0]; i++) {
    if (strncmp(phoneme, vowel[i], strlen(vowel[i])) == 0) {
      return true;
    }
  }
  return false;
}

static void note_vowels(Gathered *gathered, const espeak_EVENT *event)
{
  for (; event->type != espeakEVENT_LIST_TERMINATED; event++) {
    char phoneme[sizeof event->id.string + 1] = "";
    if (event->type == espeakEVENT_PHONEME && gathered->vowel_s < 0) {
      memcpy(phoneme, event->id.string, sizeof event->id.string);
      gathered->vowel_s = is_vowel(phoneme) ? event->audio_position / 1000.0 : -1;
    }
  }
}

static int gather(short *samples, int n, espeak_EVENT *event)
{
  Gathered *gathered = event->user_data;
  note_vowels(gathered, event);
  for (int i = 0; samples && i < n; i++) {
    if (!cw_grow(&gathered->speech.sample, &gathered->room, gathered->speech.n, sizeof(float))) {
      gathered->failed = true;
      return 1; // which ends the synthesis
    }
    gathered->speech.sample[gathered->speech.n++] = (float)samples[i] / 32768;
  }
  return 0;
}

/// Start the synthesiser, once for the program: ending it at once after its start can wait for ever on the thread that it
/// keeps for itself. @return Its rate in Hz; not positive when it cannot start.
static int start(void)
{
  static int rate_hz;
  if (rate_hz <= 0) {
    const int options = espeakINITIALIZE_PHONEME_EVENTS | espeakINITIALIZE_PHONEME_IPA | espeakINITIALIZE_DONT_EXIT;
    rate_hz = espeak_Initialize(AUDIO_OUTPUT_SYNCHRONOUS, 0, NULL, options);
    espeak_SetSynthCallback(gather);
  }
  return rate_hz;
}

CwStatus cw_voice_open(CwLanguage language, CwVoice **voice)
{
  *voice = NULL;
  CwVoice *made = cw_new(1, sizeof *made);
  if (!made) {
    return CW_ERR_NO_MEM;
  }
  const int rate = start();
  espeak_VOICE wanted = {.languages = cw_language_tag(language)};
  if (rate <= 0 || espeak_SetVoiceByProperties(&wanted) != EE_OK) {
    free(made);
    return CW_ERR_UNSUPPORTED;
  }
  made->rate_hz = (unsigned)rate;
  *voice = made;
  return CW_OK;
}

unsigned cw_voice_rate(const CwVoice *voice)
{
  return voice->rate_hz;
}

/// Cut off what is too faint to be heard at both ends: below a hundredth of the peak.
static void trim(CwSpeech *speech)
{
  float peak = 0;
  for (size_t i = 0; i < speech->n; i++) {
    peak = fmaxf(peak, fabsf(speech->sample[i]));
  }
  size_t first = 0;
  while (first < speech->n && fabsf(speech->sample[first]) <= 0.01F * peak) {
    first++;
  }
  while (speech->n > first && fabsf(speech->sample[speech->n - 1]) <= 0.01F * peak) {
    speech->n--;
  }
  speech->n -= first;
  speech->onset = speech->onset > first ? speech->onset - first : 0;
  speech->onset = speech->onset < speech->n ? speech->onset : 0;
  if (speech->sample) {
    memmove(speech->sample, speech->sample + first, speech->n * sizeof *speech->sample);
  }
}

CwStatus cw_voice_say(CwVoice *voice, const char *text, unsigned words_per_min, CwSpeech *speech)
{
  *speech = (CwSpeech){0};
  Gathered gathered = {.rate_hz = voice->rate_hz, .vowel_s = -1};
  espeak_SetParameter(espeakRATE, (int)words_per_min, 0);
  const espeak_ERROR error =
      espeak_Synth(text, strlen(text) + 1, 0, POS_CHARACTER, 0, espeakCHARS_UTF8, NULL, &gathered);
  if (gathered.failed || error != EE_OK) {
    free(gathered.speech.sample);
    return CW_ERR_NO_MEM;
  }
  *speech = gathered.speech;
  speech->onset = (size_t)llround(fmax(0, gathered.vowel_s) * voice->rate_hz);
  trim(speech);
  return CW_OK;
}

void cw_voice_free(CwVoice *voice)
{
  free(voice);
}
