// SPDX-License-Identifier: GPL-3.0-or-later
#include "practice/practice.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "print/label.h"

const char *cw_practice_caution(CwLanguage language)
{
  return cw_label(language, "Practise at speed only what is sure slowly, and rest when tired: most hurts happen then. "
                            "Bodies differ; teachers and physiotherapists come first.");
}

static char *copy_of(const char *text)
{
  return cw_copy_text(text, strlen(text));
}

CwStatus cw_practice_name(const CwSheet *sheet, const CwPracticeOptions *options, CwPractice *practice)
{
  practice->duck_db = options->duck_db;
  practice->loudness_lufs = options->loudness_lufs;
  practice->kbit_s = options->kbit_s;
  const char *title = sheet->dance ? sheet->dance : sheet->piece ? sheet->piece : sheet->recording;
  practice->title = copy_of(title ? title : cw_label(options->language, "counts to practise with"));
  practice->comment = copy_of(cw_practice_caution(options->language));
  practice->album = sheet->piece ? copy_of(sheet->piece) : NULL;
  return practice->title && practice->comment && (practice->album || !sheet->piece) ? CW_OK : CW_ERR_NO_MEM;
}

const CwPracticeCount *cw_practice_counts(const CwPractice *practice, size_t *n)
{
  *n = practice->score.n_counts;
  return practice->score.count;
}

double cw_practice_duration(const CwPractice *practice)
{
  return practice->score.duration_s;
}

void cw_practice_free(CwPractice *practice)
{
  if (practice) {
    cw_score_free(&practice->score);
    cw_clips_free(practice->clips);
    free(practice->title);
    free(practice->album);
    free(practice->comment);
    free(practice);
  }
}
