// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/play.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "accuracy/clicks.h"
#include "accuracy/hard/applause.h"
#include "accuracy/hard/truth_of.h"
#include "countwright/audio.h"
#include "unit/random.h"

static const double lead_s = 0.73, tail_s = 1.5;
static const double introduction_s = 11.4;
static const double loud_rms = 0.08;    ///< -22 dB of full scale
static const double hiss_rms = 0.00015; ///< of any recording

/// What plays.
typedef struct {
  const CwHardCase *hard;
  const CwWritten *written;
  const CwBeatMap *map;
} Players;

/// Downbeats are a little stronger, notes off the beat a little weaker; everybody is uneven.
static double loudness_of(const CwWritten *written, const CwWrittenNote *note, uint64_t *seed)
{
  static const double plain[] = {[CW_MELODY] = 1, [CW_CHORDS] = 0.3, [CW_BASS] = 0.75};
  double accent = fabs(remainder(note->at, written->beat)) < 1e-6 ? 1.05 : 0.95;
  for (size_t i = 0; i < written->n_bars; i++)
    if (fabs(written->bar[i].at - note->at) < 1e-6)
      accent = 1.2;
  return plain[note->part] * accent * random_between(seed, 0.85, 1.15);
}

static bool is_silent(const CwHardCase *hard, double beat)
{
  return beat >= hard->rest_at - 1e-6 && beat < hard->rest_at + hard->rest_beats - 1e-6;
}

/// When a note is let go: a little early, at a hold with the hold, and before everybody rests.
static double let_go_s(const Players *players, const CwWrittenNote *note)
{
  const CwHardCase *hard = players->hard;
  const double from = note->at / players->written->beat;
  double to = (note->at + note->length) / players->written->beat;
  if (hard->rest_beats > 0 && from < hard->rest_at && to > hard->rest_at)
    to = hard->rest_at;
  const double from_s = cw_beat_map_time(players->map, from), end_s = cw_beat_map_end(players->map, to);
  double to_s = from_s + (end_s - from_s) * (note->part == CW_CHORDS ? 0.85 : 0.95);
  if (!hard->silent_holds)
    to_s += fmax(0, cw_beat_map_time(players->map, to) - end_s - 0.3);
  return to_s;
}

static void play_notes(const Players *players, Sound *sound)
{
  const CwWritten *written = players->written;
  uint64_t seed = 4711;
  for (size_t i = 0; i < written->n_notes; i++) {
    const CwWrittenNote *note = &written->note[i];
    const double beat = note->at / written->beat;
    const double loudness = loudness_of(written, note, &seed);
    const CwVoice voice = players->hard->voice[note->part];
    // 5 ms to either side; and a bow begins before the beat, to be heard on it
    const double late_s = 0.01 * (random_share(&seed) + random_share(&seed) + random_share(&seed) - 1.5);
    const double at_s = cw_beat_map_time(players->map, beat) + late_s - (voice == CW_BOWED ? 0.02 : 0);
    if (!is_silent(players->hard, beat))
      cw_voice_play(sound, voice, note->pitch, loudness, at_s, let_go_s(players, note), (unsigned)i + 1);
  }
}

/// Chords rolled at times that are no multiples of anything.
static void play_introduction(const Players *players, Sound *sound)
{
  static const double chord_s[] = {0.4, 2.75, 3.62, 5.9, 7.02, 8.35};
  static const double step[] = {0, 5, 9, 2, 7, -5};
  double bass = 48;
  for (size_t i = 0; i < players->written->n_notes; i++)
    if (players->written->note[i].part == CW_BASS && players->written->note[i].at == 0)
      bass = players->written->note[i].pitch;
  for (unsigned c = 0; c < sizeof chord_s / sizeof *chord_s; c++)
    for (unsigned k = 0; k < 5; k++) {
      static const double interval[] = {0, 7, 12, 16, 19};
      const double at_s = chord_s[c] + 0.07 * k * (1 + 0.3 * c);
      cw_voice_play(sound, players->hard->voice[CW_BASS], bass + step[c] + interval[k], 0.6, at_s, chord_s[c] + 2.2,
                    1000 + 10 * c + k);
    }
}

static double rms_of(const Sound *sound)
{
  double power = 0;
  for (size_t i = 0; i < sound->n; i++)
    power += (double)sound->sample[i] * (double)sound->sample[i];
  return sqrt(power / (double)sound->n);
}

static Sound play_all(const Players *players)
{
  const CwHardCase *hard = players->hard;
  const double end_s = players->map->time_s[players->map->n - 1];
  Sound sound = sound_new(end_s + tail_s + hard->applause_s);
  play_notes(players, &sound);
  if (hard->introduction)
    play_introduction(players, &sound);
  cw_voice_room(&sound, 0.9, 0.35);
  const double gain = loud_rms / rms_of(&sound);
  for (size_t i = 0; i < sound.n; i++)
    sound.sample[i] = (float)fmin(fmax(gain * (double)sound.sample[i], -1), 1);
  if (hard->applause_s > 0)
    cw_applause_add(&sound, 1.2 * loud_rms, end_s + 0.4);
  cw_noise_add(sound.sample, sound.n, hiss_rms, true);
  return sound;
}

bool cw_hard_play(const CwHardCase *hard, CwPlayed *played)
{
  CwWritten written;
  if (!cw_written_read(hard->piece, hard->times, hard->style, &written))
    return false;
  CwBeatMap map;
  cw_beat_map_make(&hard->tempo, hard->hold, -ceil(written.pick_up / written.beat), written.length / written.beat,
                   lead_s + (hard->introduction ? introduction_s : 0), &map);
  const Players players = {hard, &written, &map};
  const bool good = cw_hard_truth(hard, &written, &map, &played->truth);
  if (good)
    played->sound = play_all(&players);
  cw_beat_map_free(&map);
  cw_written_free(&written);
  return good;
}

void cw_played_free(CwPlayed *played)
{
  sound_free(&played->sound);
  cw_hard_truth_free(&played->truth);
}
