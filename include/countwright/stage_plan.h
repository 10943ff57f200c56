// SPDX-License-Identifier: GPL-3.0-or-later
/// @file stage_plan.h
/// A small plan of the stage for a phrase: who is where and goes where, drawn from the words of its steps.
///
/// It is seen from above with the audience at its foot, so stage left is on the right of the paper. All is told by shapes
/// and line styles, none by colour or grey: it can be read in black and white, 30 mm wide.
#ifndef COUNTWRIGHT_STAGE_PLAN_H
#define COUNTWRIGHT_STAGE_PLAN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "countwright/api.h"
#include "countwright/notebook.h"
#include "countwright/stage.h"
#include "countwright/status.h"

CW_BEGIN

/// What a plan has room for; more is left out.
#define CW_STAGE_PLAN_TRACKS 24
#define CW_STAGE_PLAN_POINTS 32

struct _cairo; ///< cairo_t of cairo.h

/// A point of a way, as in CwPlace.
typedef struct {
  double x;
  double y;
  bool wing;       ///< off stage
  CwPathLine line; ///< how the way comes to it
  CwBend bend;
} CwStagePlanPoint;

/// Someone's way through the phrase.
typedef struct {
  char *name;              ///< NULL: the dancer
  bool own;                ///< the dancer's, also when the phrase has a role and so a name
  CwStagePlanPoint *point; ///< `n_points` of them; one alone is where someone stays
  size_t n_points;
  bool start_unknown; ///< the way begins somewhere; its first point is where it goes
  bool end_unknown;   ///< only where it begins is told
  int facing;         ///< as CwStageReading.facing, at the end; -1 when not told
  bool circle;        ///< goes round in a circle about `circle_x`, `circle_y`
  CwBend circle_bend;
  double circle_x;
  double circle_y;
} CwStagePlanTrack;

/// A plan. Release with cw_stage_plan_free().
typedef struct {
  CwStagePlanTrack *track; ///< the dancer's first, when there is one
  size_t n;
  unsigned wings; ///< a side: four, or as many as are named, up to eight
} CwStagePlan;

/// Make the plan of a phrase.
/// @param step `n_steps` of them, as in CwNotePhrase.
/// @param remark Read before the steps, for entrances; NULL when there is none.
/// @param role Whose phrase it is: the dancer's name on the plan; NULL when it is everybody's.
/// @param before Where everyone was before: the plan of the phrase before, or what cw_stage_plan_go_on() has gathered; ways
/// that begin "wherever she is" begin there. NULL for none.
/// @param[out] plan Empty on error. A plan with no track has nothing to draw.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_plan_make(const CwStep *step, size_t n_steps, const char *remark,
                                                const char *role, const CwStagePlan *before, CwStagePlan *plan);

/// Who is meant by the words of a part without a role.
#define CW_STAGE_PLAN_SOMEONE "others"

/// Add what others do at the same time.
/// @param role Who they are; NULL: CW_STAGE_PLAN_SOMEONE. @param[in,out] plan Empty on error.
/// @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_plan_add(const CwStep *step, size_t n_steps, const char *remark, const char *role,
                                               const CwStagePlan *before, CwStagePlan *plan);

/// Gather where everyone is after one more phrase; who does not occur in it stays.
/// @param[in,out] where Zero to begin with; release with cw_stage_plan_free(). @return CW_OK or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_plan_go_on(const CwStagePlan *plan, CwStagePlan *where);

/// Whether anything of it can be drawn.
CW_API bool cw_stage_plan_shows(const CwStagePlan *plan);

/// The height of a plan of that width, in the same unit.
CW_API double cw_stage_plan_height(double width);

/// Draw a plan, its top left corner at x, y. Labels never lie over each other or over marks; one that finds no room is
/// left out. The state of `cr` is as before afterwards.
/// @param width Of the plan, in points (1/72 inch); from about 70 it can be read.
/// @param fonts Families for names, such as "DejaVu Sans, Sans"; NULL for "Sans".
CW_API void cw_stage_plan_draw(struct _cairo *cr, const CwStagePlan *plan, double x, double y, double width,
                               const char *fonts);

/// The plan alone as an SVG file. @return CW_OK, CW_ERR_WRITE or CW_ERR_NO_MEM.
CW_API CW_NODISCARD CwStatus cw_stage_plan_svg(const CwStagePlan *plan, double width, const char *fonts, FILE *out);

/// Release and set to empty. NULL is accepted.
CW_API void cw_stage_plan_free(CwStagePlan *plan);

CW_END

#endif
