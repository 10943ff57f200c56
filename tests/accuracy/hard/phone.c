// SPDX-License-Identifier: GPL-3.0-or-later
#include "accuracy/hard/phone.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "accuracy/hard/written.h"
#include "countwright/audio.h"

static const double pi = 3.14159265358979323846;
static const double rate_hz = CW_ANALYSIS_RATE_HZ;

/// A Butterworth filter of the second order, in place (bilinear transform, as in any book of filters).
static void filter(Sound *sound, double edge_hz, bool keep_above)
{
  const double w = tan(pi * edge_hz / rate_hz), norm = 1 / (1 + sqrt(2) * w + w * w);
  const double gain = (keep_above ? 1 : w * w) * norm, middle = keep_above ? -2 : 2;
  const double a1 = 2 * (w * w - 1) * norm, a2 = (1 - sqrt(2) * w + w * w) * norm;
  double x1 = 0, x2 = 0, y1 = 0, y2 = 0;
  for (size_t i = 0; i < sound->n; i++) {
    const double x = (double)sound->sample[i];
    const double y = gain * (x + middle * x1 + x2) - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    sound->sample[i] = (float)y;
  }
}

/// Two walls: the sound again after 61 and 97 ms.
static void add_echo(Sound *sound)
{
  const size_t near = (size_t)(0.061 * rate_hz), far = (size_t)(0.097 * rate_hz);
  for (size_t i = sound->n; i-- > far;)
    sound->sample[i] += 0.5F * sound->sample[i - near] + 0.35F * sound->sample[i - far];
}

/// An automatic level: quick to turn down, slow to turn up; and a hand over the microphone now and then.
static void change_level(Sound *sound)
{
  double level = 0.01;
  for (size_t i = 0; i < sound->n; i++) {
    const double now = fabs((double)sound->sample[i]), t = (double)i / rate_hz;
    level += (now > level ? 0.002 : 0.00002) * (now - level);
    const double hand = 1 - 0.6 * fmax(0, sin(2 * pi * t / 17.3));
    sound->sample[i] = (float)((double)sound->sample[i] * hand * 0.08 / (level + 0.02));
  }
}

void cw_phone_take(Sound *sound)
{
  for (int slope = 0; slope < 2; slope++) {
    filter(sound, 300, true);
    filter(sound, 3400, false);
  }
  add_echo(sound);
  change_level(sound);
}
