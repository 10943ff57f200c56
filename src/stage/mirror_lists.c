// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage/mirror_lists.h"

#include <stddef.h>

const char *const cw_sided_things[] = {
    "foot",     "feet",      "leg",      "legs",       "arm",     "arms",   "hand",   "hands",   "side",     "sides",
    "shoulder", "shoulders", "hip",      "hips",       "knee",    "knees",  "elbow",  "elbows",  "toe",      "toes",
    "heel",     "heels",     "ankle",    "cheek",      "ear",     "eye",    "wrist",  "wrists",  "palm",     "fist",
    "thumb",    "finger",    "fingers",  "thigh",      "calf",    "temple", "wing",   "wings",   "corner",   "corners",
    "diagonal", "diagonals", "line",     "lines",      "column",  "row",    "half",   "quarter", "quarters", "eighth",
    "wall",     "profile",   "standing", "supporting", "working", "front",  "rear",   "blade",   "forearm",  "instep",
    "sole",     "rib",       "ribs",     "breast",     "group",   "couple", "boy",    "girl",    "handed",   "footed",
    "rope",     "oar",       "edge",     "curtain",    "ft",      "pointe", "shin",   "lower",   "upper",    "outside",
    "inside",   "downstage", "upstage",  "hemisphere", "fists",   "palms",  "sleeve", "shoe",    NULL};

const char *const cw_step_words[] = {
    "spiral",     "spirals",    "end",       "ends",      "finish",     "land",       "lands",     "unwind",
    "rebound",    "shuffle",    "flap",      "turn",      "turns",      "turning",    "step",      "steps",
    "stepping",   "look",       "looks",     "looking",   "lean",       "leans",      "leaning",   "tilt",
    "tilts",      "roll",       "rolls",     "rolling",   "slide",      "slides",     "sway",      "sways",
    "swing",      "swings",     "kick",      "kicks",     "pivot",      "pivots",     "spin",      "spins",
    "face",       "faces",      "facing",    "glance",    "glances",    "travel",     "travels",   "travelling",
    "move",       "moves",      "moving",    "walk",      "walks",      "walking",    "run",       "runs",
    "running",    "cross",      "crosses",   "circle",    "circles",    "curve",      "curves",    "bend",
    "bends",      "reach",      "reaches",   "point",     "points",     "open",       "opens",     "close",
    "closes",     "lunge",      "lunges",    "hop",       "hops",       "skip",       "skips",     "jump",
    "jumps",      "gallop",     "shift",     "shifts",    "twist",      "twists",     "drop",      "drops",
    "bow",        "bows",       "nod",       "push",      "pull",       "veer",       "go",        "goes",
    "going",      "head",       "heads",     "peel",      "sweep",      "together",   "touch",     "tap",
    "stamp",      "brush",      "drag",      "arms",      "arm",        "eyes",       "promenade", "pirouette",
    "pirouettes", "tendu",      "tendus",    "degage",    "degages",    "plie",       "glissade",  "glissades",
    "jete",       "jetes",      "assemble",  "assembles", "sissonne",   "sissonnes",  "chasse",    "chasses",
    "tombe",      "pas",        "basque",    "bourree",   "bourrees",   "balance",    "balances",  "waltz",
    "pique",      "piques",     "soutenu",   "chaine",    "chaines",    "deboule",    "coupe",     "passe",
    "retire",     "developpe",  "fondu",     "frappe",    "arabesque",  "attitude",   "cabriole",  "brise",
    "entrechat",  "changement", "echappe",   "saute",     "pose",       "failli",     "chat",      "cheval",
    "temps",      "lie",        "leve",      "ballonne",  "ballotte",   "ballottes",  "croise",    "efface",
    "ecarte",     "epaule",     "cambre",    "penche",    "detourne",   "fouette",    "fouettes",  "manege",
    "port",       "bras",       "curtsey",   "reverence", "grapevine",  "leap",       "leaps",     "lead",
    "leads",      "looks",      "back",      "forward",   "forwards",   "diagonally", "sideways",  "line",
    "side",       "hips",       "shoulders", "knees",     "feet",       "hands",      "legs",      "profile",
    "battement",  "battements", "rond",      "jambe",     "developpes", "enveloppe",  "tour",      "lame",
    "ducks",      "duck",       "rock",      "rocks",     "exit",       "enter",      "exits",     "enters",
    NULL};

const char *const cw_side_preps[] = {"to",   "on",   "from", "off", "into", "toward", "towards", "onto", "at", "by",
                                     "over", "near", "past", "in",  "onto", "via",    "outside", "with", NULL};

const char *const cw_how_far[] = {
    "half",  "quarter", "slightly", "far",    "farther", "further", "hard",  "sharp",   "sharply", "straight", "way",
    "more",  "first",   "second",   "always", "extreme", "full",    "quick", "quickly", "slow",    "slowly",   "once",
    "twice", "low",     "high",     "flat",   "came",    "come",    "comes", "again",   "mostly",  "only",     NULL};

const char *const cw_stage_words[] = {"stage",  "downstage", "upstage", "midstage", "house", "audience",
                                      "camera", "centre",    "center",  "down",     "up",    "ds",
                                      "us",     "wing",      "corner",  "diagonal", NULL};

const char *const cw_owners[] = {"the", "your", "his", "her", "their", "my", "our", "its", "each", "both", NULL};

const char *const cw_join_words[] = {"and",   "or",   "then", "with",  "while",   "as",    "but", "plus",
                                     "first", "high", "low",  "again", "foot",    "twice", "et",  "puis",
                                     "hand",  "is",   "goes", "leads", "forward", "into",  NULL};

const char *const cw_groups[] = {"boys", "girls",   "men",      "women",      "ladies",    "corps", "everyone",
                                 "all",  "others",  "couples",  "soloists",   "ferrymen",  "group", "dancers",
                                 "trio", "quartet", "children", "principals", "everybody", "rest",  NULL};

const char *const cw_right_things[] = {
    "moment", "time",   "timing",    "tempo",   "music",  "count",  "counts",  "way",      "place",    "places",
    "height", "length", "amount",    "reason",  "note",   "notes",  "word",    "words",    "people",   "person",
    "speed",  "order",  "thing",     "one",     "size",   "shape",  "spot",    "feeling",  "idea",     "energy",
    "mood",   "cue",    "recording", "version", "track",  "angle",  "angles",  "beat",     "beats",    "rhythm",
    "key",    "accent", "distance",  "number",  "answer", "attack", "quality", "dynamics", "phrasing", NULL};

const char *const cw_right_now[] = {"away", "now", "there", "here", "through", "across", "throughout", NULL};

const char *const cw_right_where[] = {
    "then",       "before", "after", "once",    "when",  "where",  "until",   "till", "behind", "beside",
    "underneath", "above",  "below", "beneath", "along", "inside", "past",    "up",   "down",   "by",
    "near",       "next",   "under", "between", "out",   "at",     "in",      "on",   "as",     "into",
    "to",         "from",   "off",   "over",    "round", "around", "against", "for",  "back",   NULL};

const char *const cw_on_what[] = {"count", "counts", "time", "top", "beat",   "music",    "cue",
                                  "note",  "one",    "it",   "the", "number", "schedule", NULL};

const char *const cw_is_right[] = {"all",     "is",         "was",     "s",     "are",    "this",   "that",
                                   "it",      "just",       "exactly", "quite", "almost", "nearly", "not",
                                   "feels",   "feel",       "sounds",  "own",   "be",     "them",   "re",
                                   "alright", "absolutely", "really",  NULL};

const char *const cw_make_right[] = {"get",   "gets", "got", "getting", "put", "make",
                                     "makes", "set",  "do",  "count",   NULL};

const char *const cw_left_after[] = {"out",        "off",    "behind", "alone", "hanging", "over",
                                     "unfinished", "unsaid", "open",   "loose", NULL};

const char *const cw_left_by[] = {
    "he",      "she",     "they",      "we",     "i",        "you",     "who",      "it",        "is",    "are",  "was",
    "were",    "s",       "has",       "have",   "had",      "been",    "be",       "counts",    "count", "bars", "bar",
    "beats",   "seconds", "minutes",   "time",   "eights",   "nothing", "anything", "something", "much",  "many", "few",
    "none",    "one",     "ones",      "room",   "space",    "breath",  "energy",   "phrases",   "re",    "ve",   "d",
    "already", "just",    "everybody", "nobody", "everyone", "phrase",  "bit",      "what",      NULL};

const char *const cw_left_what[] = {"the",     "a",    "his",  "her",  "my",   "our", "their", "early", "late",
                                    "without", "this", "that", "town", "home", "us",  "them",  NULL};

const char *const cw_masculine[] = {"pied",   "pieds",  "bras",    "cote",  "cotes",  "genou",  "genoux",  "coude",
                                    "coudes", "talon",  "talons",  "poing", "poings", "mollet", "poignet", "profil",
                                    "coin",   "orteil", "orteils", "quart", "pouce",  "doigt",  "demi",    NULL};

const char *const cw_straight[] = {"tout",   "toute", "dos",    "corps",   "buste", "tronc",  "angle",
                                   "angles", "ligne", "lignes", "bien",    "tres",  "rester", "tenu",
                                   "torse",  "le",    "reste",  "restent", "tenir", "tient",  NULL};

const char *const cw_french_before[] = {"a",       "la",   "de",      "sur",    "vers",   "par",       "en",
                                        "et",      "puis", "jambe",   "main",   "hanche", "epaule",    "cheville",
                                        "cuisse",  "joue", "oreille", "paume",  "jambes", "mains",     "epaules",
                                        "hanches", "demi", "tour",    "regard", "tete",   "diagonale", "coulisse",
                                        "pointe",  "ou",   "scene",   "rotule", NULL};

const char *const cw_cour_before[] = {"cote",   "lointain", "face",   "coulisse", "coulisses", "vers",   "centre",
                                      "milieu", "fond",     "a",      "quart",    "de",        "plan",   "depuis",
                                      "scene",  "entrer",   "sortir", "o",        "et",        "facing", NULL};

const char *const cw_numbered[] = {"corner", "wall", "point", "coin", "angle", "mur", NULL};

const char *const cw_articles[] = {"le",    "la",  "un",   "une", "mon", "ma", "ce",
                                   "cette", "les", "dans", "son", "sa",  NULL};
