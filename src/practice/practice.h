// SPDX-License-Identifier: GPL-3.0-or-later
/// What a practice holds.
#ifndef CW_PRACTICE_PRACTICE_H
#define CW_PRACTICE_PRACTICE_H

#include "practice/score.h"

struct CwPractice {
  CwScore score;
  CwClips *clips;
  unsigned rate_hz;
  double duck_db;
  double loudness_lufs;
  unsigned kbit_s;
  char *title; ///< tags
  char *album; ///< may be NULL
  char *comment;
};

/// Copy what the writing needs of the options, and put tags together. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus cw_practice_name(const CwSheet *sheet, const CwPracticeOptions *options, CwPractice *practice);

#endif
