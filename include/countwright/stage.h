// SPDX-License-Identifier: GPL-3.0-or-later
/// @file stage.h
/// Places and paths on the stage, read from the words of a step and written as words again.
///
/// The words that are read are listed in src/stage/WORDS.md. What is not understood stays words; nothing is an error.
/// Left and right are the dancer's: stage left is at the left of a dancer who faces the audience.
#ifndef COUNTWRIGHT_STAGE_H
#define COUNTWRIGHT_STAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// What a place is named by.
typedef enum {
  CW_SPOT_AREA,    ///< one of the nine areas, or "DS", "centre line" ...
  CW_SPOT_QUARTER, ///< quarter mark: halfway from the centre line to the side
  CW_SPOT_EIGHTH,  ///< eighth mark: halfway from the centre line to the quarter mark
  CW_SPOT_WING     ///< off stage, between two side curtains
} CwSpot;

/// A place.
typedef struct {
  double x;      ///< -1 at the stage-right edge, 0 on the centre line, 1 at the stage-left edge; wings are beyond
  double y;      ///< 0 at the audience's edge, 1 at the back
  bool x_said;   ///< false: no words for x ("upstage"); x is then 0
  bool y_said;   ///< false: no words for y ("stage left"); y is then 0.5
  CwSpot spot;   ///< x without a side ("the quarter mark", "wing 3") is not said
  unsigned wing; ///< number of the wing, 1 nearest to the audience; 0: not a wing, or its number is not said
  size_t begin;  ///< its bytes in the text that was read: [begin, end)
  size_t end;
} CwPlace;

/// What a reading tells.
typedef enum {
  CW_STAGE_AT,     ///< someone is at a place
  CW_STAGE_PATH,   ///< someone goes along places
  CW_STAGE_CIRCLE, ///< someone goes round in a circle, about its place where one is given
  CW_STAGE_FACING  ///< someone faces a direction
} CwStageKind;

/// How a path goes.
typedef enum { CW_LINE_STRAIGHT, CW_LINE_DIAGONAL, CW_LINE_CURVE } CwPathLine;

/// To which side a curve or circle bends, for the dancer who goes along it. Seen from above, left is anticlockwise.
typedef enum { CW_BEND_UNKNOWN, CW_BEND_LEFT, CW_BEND_RIGHT } CwBend;

/// One thing that the words say of the stage.
typedef struct {
  CwStageKind kind;
  size_t begin; ///< its bytes in the text: [begin, end). Other words may stand between its parts
  size_t end;
  char *person;   ///< who; NULL: the dancer, or whose phrase it is
  CwPlace *place; ///< `n_places` of them, in the order of the path; a path may have none ("on the diagonal")
  size_t n_places;
  bool open_start; ///< path: it begins wherever the dancer is
  bool open_end;   ///< path: only where it begins is told ("from wing 3")
  CwPathLine line;
  CwBend bend;
  unsigned facing; ///< eighths of a turn from the audience towards stage left: 0 DS, 1 DSL, 2 SL, 3 USL, 4 US ... 7 DSR
} CwStageReading;

/// What was read. Release with cw_stage_readings_free().
typedef struct {
  CwStageReading *reading; ///< `n` of them, in the order of the text
  size_t n;
} CwStageReadings;

/// Read the words of a step or a remark.
/// @param text NUL-terminated, any bytes.
/// @param names Names of people beside those that are plainly names, up to a NULL, in any case; may be NULL.
/// @param[out] readings Empty on error. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_read(const char *text, const char *const *names, CwStageReadings *readings);

/// Write a reading in words that read the same: "DSL > C > USR", "to wing 2 SL", "o Mira USL", "circle left round C".
/// @param[out] text Release with free(); NULL on error. @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_write(const CwStageReading *reading, char **text);

/// Room for the name of a place.
#define CW_PLACE_ROOM 32

/// The name of a place as it is said. The bytes `begin` and `end` play no part. @return `name`.
CW_API const char *cw_place_name(const CwPlace *place, char name[CW_PLACE_ROOM]);

/// The place with a name that is nearest to a point: an area, quarter or eighth mark, or one of four wings a side.
/// @param x, y As in CwPlace; any finite numbers.
CW_API CwPlace cw_place_nearest(double x, double y);

/// The same on the other side.
CW_API void cw_place_mirror(CwPlace *place);
CW_API void cw_stage_mirror(CwStageReading *reading);

/// Release and set to empty. NULL is accepted.
CW_API void cw_stage_readings_free(CwStageReadings *readings);

CW_END

#endif
