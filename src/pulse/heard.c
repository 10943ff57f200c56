// SPDX-License-Identifier: GPL-3.0-or-later
/// What the learned ear hears, as the evidence that the decoding weighs.
#include <math.h>

#include "pulse/activation.h"
#include "pulse/lanes.h"

// Chosen on the music that the network was validated on: peaks a little under even odds are beats there too.
#define BEAT_SCALE 0.8F
#define BEAT_SHIFT 2.9F // the log-odds at which a beat is as likely as not, below 0
#define LEAST_LOG_ODDS (-6.0F)
#define MOST_LOG_ODDS 5.0F
#define LEAST_BEAT 0.02F     // probability: below it nothing is known of downbeats
#define LEAST_DOWNBEAT 0.02F // likewise of a downbeat given a beat
#define BAR_SCALE 0.4F
#define DOWNBEAT_SHARE 0.3F // of beats, on the whole

static float probability(float log_odds)
{
  return 1.0F / (1.0F + expf(-log_odds));
}

/// The accent of which the decoding makes as much evidence for a downbeat, against a weak beat, as the log-odds of a
/// downbeat given a beat are.
static float accent_of(float log_odds)
{
  const float first = CW_ACCENT_FIRST;
  const float weak = CW_ACCENT_WEAK;
  const float usual = logf(DOWNBEAT_SHARE / (1.0F - DOWNBEAT_SHARE));
  return (BAR_SCALE * (log_odds - usual) + 0.5F * (first * first - weak * weak)) / (first - weak);
}

void cw_activation_hear(const CwHeard *heard, CwActivation *a)
{
  for (size_t i = 0; i < a->n && i < heard->n; i++) {
    const float beat = fminf(fmaxf(heard->beat[i], LEAST_LOG_ODDS), MOST_LOG_ODDS);
    const float share = probability(heard->downbeat[i]) / fmaxf(probability(beat), LEAST_BEAT);
    const float downbeat = fminf(fmaxf(share, LEAST_DOWNBEAT), 1.0F - LEAST_DOWNBEAT);
    a->beat[i] = a->beat[i] > CW_NO_BEAT ? BEAT_SCALE * (beat + BEAT_SHIFT) : CW_NO_BEAT;
    a->downbeat[i] = accent_of(logf(downbeat / (1.0F - downbeat)));
  }
}
