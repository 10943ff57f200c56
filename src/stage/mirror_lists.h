// SPDX-License-Identifier: GPL-3.0-or-later
/// Words by which left and right are told from "right away" and "he left". All are folded as in tokens.h; each list ends
/// with NULL.
#ifndef CW_STAGE_MIRROR_LISTS_H
#define CW_STAGE_MIRROR_LISTS_H

extern const char *const cw_sided_things[];  ///< what has a left and a right: limbs, wings, corners
extern const char *const cw_step_words[];    ///< steps and moves that are done to a side
extern const char *const cw_side_preps[];    ///< "to", "from"
extern const char *const cw_how_far[];       ///< "slightly", "half"
extern const char *const cw_stage_words[];   ///< "stage", "upstage"
extern const char *const cw_owners[];        ///< "the", "your"
extern const char *const cw_join_words[];    ///< "and", "then": a part of a sentence ends here
extern const char *const cw_groups[];        ///< dancers
extern const char *const cw_right_things[];  ///< "moment": the right one is no side
extern const char *const cw_right_now[];     ///< "away": right before it is no side
extern const char *const cw_right_where[];   ///< "after", "on": right before it may be no side
extern const char *const cw_on_what[];       ///< "count": right on it is no side
extern const char *const cw_is_right[];      ///< "all": right after it is no side
extern const char *const cw_make_right[];    ///< "get": makes something right
extern const char *const cw_left_after[];    ///< "out": left before it is no side
extern const char *const cw_left_by[];       ///< "he": left after it is no side
extern const char *const cw_left_what[];     ///< "the": left before it is a verb
extern const char *const cw_masculine[];     ///< French: what is "droit"
extern const char *const cw_straight[];      ///< French: what is straight when it is "droit"
extern const char *const cw_french_before[]; ///< French: words before a side
extern const char *const cw_cour_before[];   ///< French: words before "cour" and "jardin" as sides
extern const char *const cw_numbered[];      ///< "corner": its number depends on the school
extern const char *const cw_articles[];      ///< French articles: a garden, not a side

#endif
