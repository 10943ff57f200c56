// SPDX-License-Identifier: GPL-3.0-or-later
#include "eval/scores.h"

CwTimes cw_eval_trim(CwTimes times, double from_s)
{
  while (times.n > 0 && times.time_s[0] < from_s) {
    times.time_s++;
    times.n--;
  }
  return times;
}

CwStatus cw_eval_beats(CwTimes truth, CwTimes found, CwBeatScores *scores)
{
  *scores = (CwBeatScores){.hits = cw_eval_hits(truth, found, CW_EVAL_WINDOW_S),
                           .continuity = cw_eval_continuity(truth, found)};
  scores->cemgil = cw_eval_cemgil(truth, found, &scores->cemgil_best);
  const CwStatus status = cw_eval_p_score(truth, found, &scores->p_score);
  return status == CW_OK ? cw_eval_tempo(truth, found, &scores->tempo) : status;
}
