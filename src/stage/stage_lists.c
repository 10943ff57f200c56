// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/stage_lists.h"

#include <stddef.h>

const char *const cw_before_front[] = {"a", "la", "de", "vers", "au", "en", NULL};
const char *const cw_before_no_centre[] = {"your", "own",      "body",  "bodys", "s", "her",
                                           "his",  "the body", "their", "off",   NULL};
const char *const cw_after_no_centre[] = {"yourself", "dancers", "dancer", "couple", "couples", "your",
                                          "the",      "itself",  "girl",   "boy",    "pair",    "trio",
                                          "group",    "leg",     "back",   NULL};
const char *const cw_before_letter[] = {"vitamin", "section", "part",   "act",     "group", "cast",   "letter", "theme",
                                        "plan",    "of",      "phrase", "version", "team",  "ending", "b",      NULL};
const char *const cw_after_letter[] = {"major", "minor", "section", "sharp", "flat", "waits", "team", NULL};
const char *const cw_mark_words[] = {"quarter", "eighth", "wing", "wings", NULL};
const char *const cw_mark_names[] = {"mark", "marks", "line", "spot", "tape", NULL};
const char *const cw_after_no_mark[] = {"turn",      "turns", "note", "notes", "past", "of", "to",
                                        "pirouette", "tempo", "rest", "speed", "time", NULL};
const char *const cw_wing_words[] = {"wing", "wings", "coulisse", "coulisses", NULL};
const char *const cw_before_bare[] = {"to",     "from",   "at",    "in",    "towards",  "toward",  "run",    "walk",
                                      "travel", "chasse", "move",  "go",    "cross",    "start",   "finish", "end",
                                      "pose",   "boys",   "girls", "corps", "everyone", "tableau", "the",    NULL};
const char *const cw_after_bare[] = {"and", "then", "with", "facing", "corner", "on", "to", NULL};
const char *const cw_after_no_place[] = {"arm",   "arms",     "leg",     "legs",   "foot",    "feet",   "hand",
                                         "hands", "shoulder", "hip",     "knee",   "elbow",   "side",   "toe",
                                         "heel",  "dancer",   "dancers", "couple", "couples", "person", "profile",
                                         "eye",   "ear",      "lantern", "group",  "pair",    NULL};

const char *const cw_from_words[] = {"from", "de", "du", "depuis", NULL};
const char *const cw_to_words[] = {"to", "towards", "toward", "into", "onto", "vers", "jusqu", "a", "au", NULL};
const char *const cw_through_words[] = {"through", "via", "past", "across", "par", NULL};
const char *const cw_at_words[] = {"at", "in", "on", "by", "near", "is", "are", "dans", "sur", NULL};
const char *const cw_then_words[] = {"then", "puis", NULL};
const char *const cw_small_words[] = {"the", "le", "la", "l", NULL};
const char *const cw_filler[] = {"the", "le",   "la",  "l",        "a",    "off",   "out", "back",
                                 "up",  "down", "far", "straight", "over", "right", NULL};
const char *const cw_move_words[] = {
    "monter",  "descendre", "remonter", "redescendre", "run",     "runs",      "running",  "walk",    "walks",
    "walking", "travel",    "travels",  "travelling",  "go",      "goes",      "going",    "move",    "moves",
    "moving",  "cross",     "crosses",  "crossing",    "bourree", "bourrees",  "chasse",   "chasses", "skip",
    "skips",   "gallop",    "gallops",  "glide",       "glides",  "step",      "steps",    "return",  "returns",
    "come",    "comes",     "rush",     "hurry",       "back",    "backs",     "away",     "leap",    "leaps",
    "runs",    "courir",    "court",    "marcher",     "aller",   "traverser", "passer",   "waltz",   "creep",
    "drift",   "drifts",    "escape",   "carry",       "pas",     "jetes",     "glissade", "stagger", "crawl",
    "sortir",  "sortie",    "sort",     "slide",       "slides",  "stride",    "wander",   "march",   "prance",
    "chaines", "piques",    NULL};
const char *const cw_move_adverbs[] = {"back",    "off",  "out",    "over",    "straight", "home",
                                       "down",    "up",   "across", "forward", "slowly",   "quickly",
                                       "quietly", "away", "right",  "all",     "on",       NULL};
const char *const cw_enter_words[] = {"enter",  "enters", "entering", "entrer", "entrez",
                                      "entree", "entre",  "entrance", NULL};
const char *const cw_exit_words[] = {"exit",   "exits", "exiting", "sortir", "sortie",
                                     "sortez", "leave", "leaves",  "exeunt", NULL};
const char *const cw_gaze_words[] = {
    "look",    "looks", "looking", "gaze",     "gazes", "eyes",    "eye",      "head",    "heads",    "arm",
    "arms",    "point", "points",  "pointing", "reach", "reaches", "reaching", "focus",   "regard",   "glance",
    "glances", "face",  "facing",  "tete",     "along", "hand",    "hands",    "gesture", "gestures", "lean",
    "tilt",    "turn",  "sees",    "see",      "watch", "watches", NULL};
const char *const cw_be_words[] = {
    "is",     "are",     "at",   "in",       "on",    "to",      "from",    "stands",  "stand",  "waits",
    "wait",   "stays",   "stay", "runs",     "run",   "walks",   "walk",    "goes",    "go",     "enters",
    "enter",  "exits",   "exit", "crosses",  "cross", "moves",   "move",    "the",     "poses",  "pose",
    "kneels", "kneel",   "sits", "sit",      "lies",  "off",     "into",    "towards", "toward", "comes",
    "come",   "travels", "hold", "holds",    "rope",  "lantern", "already", "alone",   "then",   "starts",
    "start",  "ends",    "end",  "finishes", "row",   "rows",    "faces",   "turns",   "out",    NULL};
const char *const cw_limb_words[] = {"arm",       "arms",  "hip",    "hips",    "head",  "heads", "shoulder",
                                     "shoulders", "wrist", "wrists", "knee",    "knees", "leg",   "legs",
                                     "hand",      "hands", "foot",   "ankle",   "torso", "elbow", "port",
                                     "lines",     "skirt", "fan",    "lantern", "upper", NULL};
const char *const cw_no_names[] = {
    "the",     "and",     "then",   "all",    "start",  "finish",  "end",    "begin",  "hold",   "stand",  "kneel",
    "wait",    "gather",  "row",    "lie",    "sit",    "freeze",  "stop",   "repeat", "pose",   "stay",   "form",
    "make",    "break",   "land",   "arrive", "from",   "to",      "at",     "in",     "on",     "with",   "while",
    "when",    "slow",    "slowly", "fast",   "quick",  "quickly", "small",  "big",    "both",   "enter",  "exit",
    "rise",    "fall",    "same",   "now",    "again",  "down",    "up",     "front",  "back",   "coda",   "adagio",
    "waltz",   "allegro", "six",    "four",   "two",    "three",   "eight",  "one",    "five",   "seven",  "lift",
    "catch",   "drop",    "meet",   "swap",   "change", "places",  "line",   "lines",  "split",  "spread", "lights",
    "tableau", "curtain", "bow",    "bows",   "corner", "stage",   "centre", "center", "wing",   "wings",  "quarter",
    "courir",  "pied",    "jambe",  "bras",   "tout",   "face",    "on",     "cross",  "travel", "return", "music",
    "leap",    "leaps",   NULL};
const char *const cw_person_words[] = {
    "boys",    "girls",    "men",        "women",     "ladies",   "corps",    "everyone", "everybody",
    "others",  "couples",  "soloists",   "soloist",   "ferrymen", "ferryman", "dancers",  "trio",
    "quartet", "children", "principals", "principal", "boy",      "girl",     "man",      "woman",
    "couple",  "partner",  "he",         "she",       "they",     "rest",     "all",      "filles",
    "garcons", "ensemble", "tous",       "hommes",    "femmes",   NULL};
