// SPDX-License-Identifier: GPL-3.0-or-later
/// @file practice.h
/// Sound to practise with: a recording with the counts in it, spoken or clicked, slower, in parts, with counts before it.
///
/// Counts are put on the music after it has been stretched, so that they are as exact at every speed. A spoken count is
/// heard to fall where its vowel begins, which is put on the count. Memory does not grow with the length of the music: it
/// is kept meanwhile in nameless files beside the one that is written, about 8 MB a minute.
#ifndef COUNTWRIGHT_PRACTICE_H
#define COUNTWRIGHT_PRACTICE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/language.h"
#include "countwright/report.h"
#include "countwright/sheet.h"
#include "countwright/status.h"

CW_BEGIN

/// Slowest and fastest speed, as parts of the recording's own.
#define CW_SLOWEST 0.5
#define CW_FASTEST 1.2

/// The level of the whole unless asked otherwise, in LUFS, and the highest true peak, in dBTP.
#define CW_PRACTICE_LUFS (-16.0)
#define CW_PRACTICE_PEAK_DBTP (-1.0)

/// Rows of a sheet, both included.
typedef struct {
  size_t first;
  size_t last;
} CwPassage;

/// The pace of the music.
typedef enum {
  CW_PACE_LIVING, ///< as it is played
  CW_PACE_EVEN,   ///< every count of a section as long as the others; holds as they are
  CW_PACE_LIKE    ///< each phrase as long as in another recording, and each hold
} CwPace;

/// What to make. cw_practice_defaults() sets it up.
typedef struct {
  bool spoken;              ///< counts are said
  bool clicked;             ///< counts are clicked, the one with another sound
  bool sub_counts;          ///< what lies between counts, too: "and", or the 2 and 3 of a bar counted in one
  bool say_phrases;         ///< a phrase's number is said before it
  bool say_sections;        ///< a section's name is said before it
  bool say_steps;           ///< the words of steps are said before their count
  CwLanguage language;      ///< that is spoken, and of titles
  const CwPassage *passage; ///< `n_passages` of them; none: the whole dance, with what comes before and after it
  size_t n_passages;
  bool chain;          ///< of each passage its first phrase, then its first two, three, ... to the whole
  unsigned loops;      ///< how often each is played; 0 as 1
  double rest_s;       ///< between them, 0 to 600
  const double *speed; ///< `n_speeds` of them, CW_SLOWEST to CW_FASTEST, one after the other; none: 1
  size_t n_speeds;
  CwPace pace;
  const CwCountLine *like; ///< CW_PACE_LIKE: the counts in the other recording,
  const size_t *like_kept; ///< and for each row of the sheet its phrase in them, SIZE_MAX where that lacks it
  int count_in;            ///< counts given before each passage; negative: what the notes say, else 4
  double duck_db;          ///< how much softer the music is under counts, 0 to 40
  double loudness_lufs;    ///< of the whole, by EBU R 128; -40 to -8
  unsigned kbit_s;         ///< as in CwSoundOptions
} CwPracticeOptions;

/// Where a count falls in what is made.
typedef struct {
  double at_s;
  unsigned phrase; ///< its number, from 1
  double count;    ///< 1 is the one; 0 and below are counted in before it
  double speed;
} CwPracticeCount;

/// What will be made. Opaque.
typedef struct CwPractice CwPractice;

/// What came of it.
typedef struct {
  double duration_s;
  double loudness_lufs; ///< as measured; NaN when nothing could be measured
  double peak_dbtp;
  double limited_db; ///< by how much the loudest moment was turned down to keep the peak; 0: not at all
} CwPracticeResult;

/// Spoken and clicked counts of the whole at its own pace, with the usual levels.
CW_API void cw_practice_defaults(CwPracticeOptions *options);

/// The phrases round each entrance of a role: the one before it, and the one in which it is.
/// @param sheet As cw_sheet_build() makes it, with its cast. @param role NULL: everyone's.
/// @param[out] passage Release with free(); NULL when there are none. @param[out] n How many.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_practice_entrances(const CwSheet *sheet, const char *role, CwPassage **passage,
                                                   size_t *n);

/// The phrases through which a role is on stage. @return As cw_practice_entrances().
CW_API CW_NODISCARD CwStatus cw_practice_on_stage(const CwSheet *sheet, const char *role, CwPassage **passage,
                                                  size_t *n);

/// Lay out what will be heard when.
/// @param sheet Whose rows are danced; only read now. Rows without times are left out.
/// @param line The counts in the recording, and `kept` for each row its phrase there, as for cw_sheet_build_carried(); NULL:
/// the row's own index. Both must outlive the practice.
/// @param[out] practice Release with cw_practice_free(); NULL on error.
/// @param[out] messages What had to be left out; appended to.
/// @return CW_OK, CW_ERR_UNSUPPORTED (this build has no voice, or none for the language), CW_ERR_TOO_SHORT (no phrase with
/// times is asked for), CW_ERR_TOO_LONG (over 12 hours), CW_ERR_BAD_ARG or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_practice_plan(const CwSheet *sheet, const CwCountLine *line, const size_t *kept,
                                              const CwPracticeOptions *options, CwPractice **practice,
                                              CwMessages *messages);

/// All counts in the order in which they are heard, `n` of them; they belong to the practice.
CW_API const CwPracticeCount *cw_practice_counts(const CwPractice *practice, size_t *n);

/// How long it will be.
CW_API double cw_practice_duration(const CwPractice *practice);

/// Make it.
/// @param recording Of the count line. @param path Its ending says the form (countwright/audio_write.h).
/// @param[out] result May be NULL.
/// @return As cw_audio_stream() and cw_sound_writer_open(), CW_ERR_UNSUPPORTED (no stretcher in this build),
/// CW_ERR_CANCELLED or CW_ERR_NO_MEM. On error nothing is left behind.
CW_API CW_NODISCARD CwStatus cw_practice_write(CwPractice *practice, const char *recording, const char *path,
                                               bool overwrite, const CwReport *report, CwPracticeResult *result);

/// The caution that goes into the comment of every file: a short sentence in the language.
CW_API const char *cw_practice_caution(CwLanguage language);

/// Release. NULL is accepted.
CW_API void cw_practice_free(CwPractice *practice);

CW_END

#endif
