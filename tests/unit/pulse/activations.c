// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/pulse/activations.h"

#include "base/memory.h"
#include "unit/cw_test.h"
#include "unit/random.h"

static float *new_noise(size_t n, double low, double high, uint64_t *seed)
{
  float *curve = cw_new(n, sizeof *curve);
  assert_non_null(curve);
  for (size_t i = 0; i < n; i++) {
    curve[i] = (float)random_between(seed, low, high);
  }
  return curve;
}

CwActivation activation_random(size_t n, size_t least, size_t most, double clarity, uint64_t *seed)
{
  CwActivation a = {new_noise(n, -3.0, 0.5, seed), new_noise(n, -2.0, 2.0, seed), new_noise(n, 0.0, 1.0, seed), n};
  size_t interval = least + random_below(seed, most - least + 1);
  for (size_t t = random_below(seed, most); t < n; t += interval) {
    if (random_below(seed, 12) == 0) { // nothing for a while
      for (size_t k = 20 + random_below(seed, 250); k > 0 && t < n; k--) {
        a.beat[t++] = CW_NO_BEAT;
      }
    }
    if (t < n && random_below(seed, 6) > 0) {
      a.beat[t] = (float)random_between(seed, 0.0, clarity);
    }
    if (random_below(seed, 4) == 0) {
      interval = least + random_below(seed, most - least + 1);
    }
  }
  return a;
}

CwModel model_random(size_t least, size_t most, uint64_t *seed)
{
  CwModel model = cw_model_default();
  model.max_bpm = 60.0 * CW_FEATURE_RATE_HZ / (double)least;
  model.min_bpm = 60.0 * CW_FEATURE_RATE_HZ / (double)most;
  model.likely_bpm = random_between(seed, model.min_bpm, model.max_bpm);
  model.tempo_weight = random_between(seed, 0.0, 2.0);
  model.change_cost = random_between(seed, 0.5, 30.0);
  model.jump_cost = random_between(seed, 0.5, 8.0);
  model.metre_cost = random_between(seed, 0.0, 6.0);
  model.enter_cost = random_between(seed, 0.5, 9.0);
  model.offbeat_weight = random_between(seed, 0.0, 1.0);
  model.thirds_weight = random_between(seed, 0.0, 2.0);
  static const unsigned metres[] = {0, 0, 0, 2, 3, 4, 5, 6};
  model.metre = metres[random_below(seed, sizeof metres / sizeof metres[0])];
  return model;
}
