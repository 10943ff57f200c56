// SPDX-License-Identifier: GPL-3.0-or-later
/// Words around places. All are folded as in tokens.h; each list ends with NULL.
#ifndef CW_STAGE_STAGE_LISTS_H
#define CW_STAGE_STAGE_LISTS_H

extern const char *const cw_before_front[];     ///< French: "face" after them is the front of the stage
extern const char *const cw_before_no_centre[]; ///< "your": the centre after it is the body's
extern const char *const cw_after_no_centre[];  ///< "yourself"
extern const char *const cw_before_letter[];    ///< "section": C after it is a letter
extern const char *const cw_after_letter[];     ///< "major"
extern const char *const cw_mark_words[];       ///< "quarter", "wing": a side before them is theirs
extern const char *const cw_mark_names[];       ///< "mark"
extern const char *const cw_after_no_mark[];    ///< "turn": a quarter before it is no mark
extern const char *const cw_wing_words[];       ///< "wing"
extern const char *const cw_before_bare[];      ///< "to": "up left" after it is a place
extern const char *const cw_after_bare[];       ///< "and"
extern const char *const cw_after_no_place[];   ///< "arm": an area before it says which one

extern const char *const cw_from_words[];
extern const char *const cw_to_words[];
extern const char *const cw_through_words[]; ///< "through", "via"
extern const char *const cw_at_words[];
extern const char *const cw_then_words[];
extern const char *const cw_small_words[]; ///< articles
extern const char *const cw_filler[];      ///< articles and the like between a word and its place
extern const char *const cw_move_words[];  ///< who moves and then names a place goes to it
extern const char *const cw_move_adverbs[];
extern const char *const cw_enter_words[];
extern const char *const cw_exit_words[];
extern const char *const cw_gaze_words[];   ///< a place after them is looked at
extern const char *const cw_be_words[];     ///< between a person and their place
extern const char *const cw_limb_words[];   ///< what is circled or held along a diagonal and is no path
extern const char *const cw_no_names[];     ///< capital words that are no names
extern const char *const cw_person_words[]; ///< dancers by what they are

#endif
