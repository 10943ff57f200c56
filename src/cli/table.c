// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cli.h"

#include <string.h>

const char cli_purpose[] = "ties a dancer's counts to the music";

static const char *const sheet_endings[] = {".pdf", ".svg", ".png", ".txt", ".json", ".csv", ".mid", ".html", NULL};
static const char *const table_endings[] = {".txt", ".json", ".csv", NULL};
static const char *const sound_endings[] = {".wav", ".flac", ".ogg", ".opus", ".mp3", ".m4a", NULL};
static const char *const count_sounds[] = {"spoken", "clicked", "both", "none", NULL};
static const char *const announced[] = {"phrases", "sections", "both", NULL};
static const char *const notes_endings[] = {".txt", NULL};
static const char *const line_endings[] = {".json", ".csv", NULL};
static const char *const chart_endings[] = {".svg", ".pdf", ".png", NULL};
static const char *const lists[] = {"beats", "counts", "ones", "stretches", NULL};
static const char *const trackers[] = {"joint", "aubio", NULL};
static const char *const metres[] = {"2",   "3",   "4",   "5",   "6",   "2/4",  "3/4", "4/4",
                                     "5/4", "6/4", "3/8", "6/8", "9/8", "12/8", NULL};
static const char *const tapped[] = {"beats", "counts", "ones", NULL};
static const char *const ears[] = {"plain", "learned", NULL};
static const char *const sides[] = {"own", "other", NULL};
static const char *const spellings[] = {"own", "proper", NULL};
static const char *const languages[] = {"en", "fr", "de", "es", "it", "pt", "ru", "ja", NULL};
static const char *const pack_endings[] = {".html", ".pdf", NULL};
static const char *const sounds[] = {"aac", "opus", NULL};
static const char *const papers[] = {"a4", "letter", "a5", NULL};
static const char *const repeats[] = {"folded", "written", NULL};

const CliOption cli_option[CLI_N_OPTIONS] = {
    [CLI_OUTPUT] =
        {.name = "output",
         .letter = 'o',
         .kind = CLI_FILES,
         .value = "FILE",
         .words = sheet_endings,
         .help =
             "write the sheet to FILE instead of standard output, in the form of its ending. Of pictures each page has "
             "its own file: sheet.png, sheet-2.png, sheet-3.png"},
    [CLI_TABLE_OUTPUT] = {.name = "output",
                          .letter = 'o',
                          .kind = CLI_FILES,
                          .value = "FILE",
                          .words = table_endings,
                          .help = "write the table to FILE instead of standard output, in the form of its ending"},
    [CLI_LIST] = {.name = "list",
                  .alone = true,
                  .kind = CLI_WORD,
                  .words = lists,
                  .help = "print a plain list instead of the sheet. beats: a line for each beat, its seconds and b, or "
                          "db for the first of a bar. counts: a line for each count, its seconds, the number of its "
                          "phrase, the count and the phrase's confidence (1 where pinned, - where there is none). "
                          "ones: a line for each phrase, the seconds of its one, its number and its counts; "
                          "stretches: a line for each stretch of music with none of 5 s or more between its counts, "
                          "when it begins and ends, its first and its last phrase. A tab "
                          "stands between them"},
    [CLI_JSON] = {.name = "json", .alone = true, .kind = CLI_SWITCH, .help = "print JSON"},
    [CLI_CSV] = {.name = "csv", .alone = true, .kind = CLI_SWITCH, .help = "print CSV"},
    [CLI_TRACKER] = {.name = "tracker",
                     .kind = CLI_WORD,
                     .words = trackers,
                     .help = "what finds the beats: joint, the default, which finds beats and bars together, or "
                             "aubio, which finds beats alone"},
    [CLI_BEATS_PER_COUNT] = {.name = "beats-per-count",
                             .kind = CLI_NUMBER,
                             .value = "N",
                             .least = 0.25,
                             .most = 16,
                             .help = "beats that one count lasts, such as 3 for a waltz counted in one; without it, "
                                     "what tempo and metre suggest"},
    [CLI_METRE] = {.name = "metre",
                   .kind = CLI_WORD,
                   .words = metres,
                   .help = "beats in a bar; without it, what the music suggests. In 6/8, 9/8 and 12/8 a beat is three "
                           "eighths: 6/8 has two"},
    [CLI_EAR] = {.name = "ear",
                 .kind = CLI_WORD,
                 .words = ears,
                 .help = "what beats and bars are heard with: learned, the default, a small trained network, or plain, "
                         "which goes by onsets and accents"},
    [CLI_TAPS] = {.name = "taps",
                  .kind = CLI_FILE,
                  .value = "FILE",
                  .help = "go by the taps in FILE: seconds, one on a line, as someone tapped along, on every beat or, "
                          "with notes, on what '--taps-on' says. "
                          "They may be early or late, a few may be missing or double; '#' begins a remark and '-' "
                          "reads standard input"},
    [CLI_TAPS_ON] = {.name = "taps-on",
                     .kind = CLI_WORD,
                     .words = tapped,
                     .help = "what was tapped; without it, what fits the notes best by number"},
    [CLI_AT] = {.name = "at",
                .alone = true,
                .kind = CLI_FILE,
                .value = "FILE",
                .help = "for each time in A in FILE, one on a line, print the same place in B in seconds, or - where B "
                        "lacks it; '-' reads standard input"},
    [CLI_CHART] = {.name = "chart",
                   .kind = CLI_FILE,
                   .value = "FILE",
                   .words = chart_endings,
                   .help = "draw the tempo of each phrase to FILE"},
    [CLI_OWN_COUNTS] = {.name = "own-counts",
                        .kind = CLI_SWITCH,
                        .help = "find the counts of each recording in itself and compare phrase by phrase, instead of "
                                "following A's music into the others"},
    [CLI_FROM] = {.name = "from",
                  .kind = CLI_FILE,
                  .value = "RECORDING",
                  .help = "the recording that the notes belong to; without it, the one that they name"},
    [CLI_RUNS] = {.name = "runs",
                  .kind = CLI_SWITCH,
                  .help = "RECORDING is long, such as a whole day: print when the dance was run in it, instead of a "
                          "sheet"},
    [CLI_RUN] = {.name = "run",
                 .kind = CLI_WHOLE,
                 .value = "N",
                 .least = 1,
                 .most = 1000,
                 .help = "carry to the Nth of those runs"},
    [CLI_PINNED] = {.name = "pinned",
                    .kind = CLI_FILE,
                    .value = "FILE",
                    .words = notes_endings,
                    .help = "write a copy of the notes with pins where the counts fall in RECORDING"},
    [CLI_LINE] = {.name = "line",
                  .kind = CLI_FILE,
                  .value = "FILE",
                  .words = line_endings,
                  .help = "write the times of all counts in RECORDING"},
    [CLI_BY_LINE] = {.name = "line",
                     .kind = CLI_FILE,
                     .value = "FILE",
                     .words = line_endings,
                     .help = "go by the times of counts in FILE, as 'carry --line' writes them, instead of listening"},
    [CLI_PHRASES] = {.name = "phrases", .kind = CLI_SPAN, .value = "N-M", .help = "only phrases N to M"},
    [CLI_SECTION] = {.name = "section",
                     .kind = CLI_TEXT,
                     .value = "NAME",
                     .help = "only what stands under that heading in the notes; the beginning of the heading "
                             "is enough where no other has it"},
    [CLI_NOTES] = {.name = "notes",
                   .kind = CLI_FILE,
                   .value = "NOTES",
                   .help = "the notebook whose phrases are compared, lined up with A; without it, the phrases found "
                           "in A"},
    [CLI_ROLE] = {.name = "role",
                  .kind = CLI_TEXT,
                  .value = "NAME",
                  .help =
                      "the sheet of one role of the notes: what she dances, the phrases through which she waits, and "
                      "her times on and off stage"},
    [CLI_ENTRANCES] = {.name = "entrances",
                       .kind = CLI_SWITCH,
                       .help = "print who is on stage when, with the length of each wait, instead of the sheet; with "
                               "'--role' of one role alone"},
    [CLI_WARM] = {.name = "warm",
                  .kind = CLI_NUMBER,
                  .value = "MINUTES",
                  .least = 0,
                  .most = 60,
                  .help =
                      "how long before an entrance to begin to move again; 5 without it. That is common practice and "
                      "no rule: bodies differ, and teachers, physiotherapists and the rules of the house come first"},
    [CLI_SPREAD] = {.name = "spread",
                    .kind = CLI_SWITCH,
                    .help = "spread steps without count marks, parted by commas, over the counts of their phrase in "
                            "order; 'spread: yes' in the notes does the same"},
    [CLI_SIDE] = {.name = "side",
                  .kind = CLI_WORD,
                  .words = sides,
                  .help =
                      "other: mirror the notes for the cast on the other side: feet, arms, turns, places and paths. "
                      "Words that may be sides but are left as they are, are listed with line and column"},
    [CLI_MIRRORED] = {.name = "mirrored",
                      .kind = CLI_FILE,
                      .value = "FILE",
                      .words = notes_endings,
                      .help = "write a copy of the notes themselves, mirrored for the cast on the other side; mirrored "
                              "again it is the same as before"},
    [CLI_SPELLING] = {.name = "spelling",
                      .kind = CLI_WORD,
                      .words = spellings,
                      .help = "how steps are spelt: own, the default, as in the notes, or proper, where what stands "
                              "there is most likely a term of the glossary"},
    [CLI_GLOSSARY] = {.name = "glossary",
                      .kind = CLI_FILE,
                      .value = "FILE",
                      .help = "go by the terms in FILE, too: one to a line, then a tab and its meaning; without it, "
                              "by the academic vocabulary and by the file that the notes name in 'glossary:'"},
    [CLI_WORDS] = {.name = "words",
                   .kind = CLI_SWITCH,
                   .help = "print the terms that the notes use, with their meanings"},
    [CLI_SINCE] = {.name = "since",
                   .kind = CLI_FILE,
                   .value = "OLD-NOTES",
                   .help = "print, in place of all else, what differs from an older version of the notes, phrase by "
                           "phrase, for someone who learned that one"},
    [CLI_AGAINST] = {.name = "against",
                     .kind = CLI_FILE,
                     .value = "OTHER",
                     .help =
                         "hold the sheet against another recording of the music: for each phrase where it is there, "
                         "how fast it goes there, and whether that will feel faster or slower"},
    [CLI_SOUND] = {.name = "sound",
                   .kind = CLI_WORD,
                   .words = sounds,
                   .help = "put the recording inside the web sheet, made small, so that it plays there, without a "
                           "network, from any phrase, in loops and slower: aac plays on every phone, opus is smaller "
                           "and needs a newer one. The size is told beforehand"},
    [CLI_SOUND_OUTPUT] = {.name = "output",
                          .letter = 'o',
                          .kind = CLI_FILES,
                          .value = "FILE",
                          .words = sound_endings,
                          .help = "the file to write, in the form of its ending"},
    [CLI_COUNTS] = {.name = "counts",
                    .kind = CLI_WORD,
                    .words = count_sounds,
                    .help = "how counts sound: spoken, the default, clicked, with another sound on the one, both, or "
                            "none"},
    [CLI_SUB_COUNTS] = {.name = "sub-counts",
                        .kind = CLI_SWITCH,
                        .help = "let what lies between counts sound, too: 'and', or the 2 and 3 of a bar counted in "
                                "one"},
    [CLI_ANNOUNCE] = {.name = "announce",
                      .kind = CLI_WORD,
                      .words = announced,
                      .help = "say before each phrase its number, or before each section its name"},
    [CLI_STEPS] = {.name = "steps",
                   .kind = CLI_SWITCH,
                   .help = "say the words of steps before their count; counts under them are clicked"},
    [CLI_SPOKEN_LANGUAGE] = {.name = "language",
                             .kind = CLI_WORD,
                             .words = languages,
                             .help = "language that is spoken; without it, that of the notes when their head says it, "
                                     "else English"},
    [CLI_SPEED] = {.name = "speed",
                   .kind = CLI_TEXT,
                   .value = "N[,N...]",
                   .help = "percent of the recording's tempo, 50 to 120, at the same pitch. Several, as in "
                           "70,80,90,100, are played one after the other, each announced"},
    [CLI_EVEN] = {.name = "even",
                  .kind = CLI_SWITCH,
                  .help = "make the tempo of each section steady; holds stay as they are"},
    [CLI_LIKE] = {.name = "like",
                  .kind = CLI_FILE,
                  .value = "RECORDING",
                  .help = "give each phrase, and each hold, the length that it has in another recording of the music: "
                          "the pianist in the orchestra's tempo"},
    [CLI_DANCER] = {.name = "role",
                    .kind = CLI_TEXT,
                    .value = "NAME",
                    .help = "only while that role of the notes is on stage, with her steps"},
    [CLI_ONLY_ENTRANCES] = {.name = "entrances",
                            .kind = CLI_SWITCH,
                            .help = "with '--role': only her entrances, each with the phrase before it"},
    [CLI_CHAIN] = {.name = "chain",
                   .kind = CLI_SWITCH,
                   .help = "the first phrase, then the first two, the first three, and so on to the whole"},
    [CLI_LOOPS] =
        {.name = "loops", .kind = CLI_WHOLE, .value = "N", .least = 1, .most = 1000, .help = "play each N times"},
    [CLI_REST] = {.name = "rest",
                  .kind = CLI_NUMBER,
                  .value = "SECONDS",
                  .least = 0,
                  .most = 600,
                  .help = "silence between them; 2 without it"},
    [CLI_COUNT_IN] = {.name = "count-in",
                      .kind = CLI_WHOLE,
                      .value = "N",
                      .least = 0,
                      .most = 64,
                      .help = "counts given before the music, in its tempo; without it, what the notes say, else 4"},
    [CLI_DUCK] = {.name = "duck",
                  .kind = CLI_NUMBER,
                  .value = "DB",
                  .least = 0,
                  .most = 40,
                  .help = "how much softer the music is under counts; 6 without it"},
    [CLI_LOUDNESS] = {.name = "loudness",
                      .kind = CLI_NUMBER,
                      .value = "LUFS",
                      .least = -40,
                      .most = -8,
                      .help = "how loud the whole is by EBU R 128; -16 without it. No true peak is above -1 dBTP"},
    [CLI_BIT_RATE] = {.name = "bit-rate",
                      .kind = CLI_WHOLE,
                      .value = "KBIT",
                      .least = 8,
                      .most = 320,
                      .help = "kilobits a second of Ogg, Opus, MP3 and m4a; without it, what is usual"},
    [CLI_TIMES] = {.name = "times",
                   .kind = CLI_SWITCH,
                   .help = "print where each count falls in FILE: seconds, the number of its phrase, the count (0 and "
                           "below are counted in before the one) and the speed in percent, with a tab between"},
    [CLI_PACK_OUTPUT] = {.name = "output",
                         .letter = 'o',
                         .kind = CLI_FILE,
                         .value = "FILE",
                         .words = pack_endings,
                         .help = "the file to write; without it, one with the name of the notes, in this folder"},
    [CLI_PDF] = {.name = "pdf", .kind = CLI_SWITCH, .help = "make a PDF instead of a web page"},
    [CLI_CONTENTS] = {.name = "contents",
                      .kind = CLI_SWITCH,
                      .help = "only list what would be inside, and write nothing"},
    [CLI_LANGUAGE] = {.name = "language",
                      .kind = CLI_WORD,
                      .words = languages,
                      .help = "language of the sheet's labels; without it, that of the notes when their head says it, "
                              "else English"},
    [CLI_PAPER] = {.name = "paper",
                   .kind = CLI_WORD,
                   .words = papers,
                   .help = "paper of a PDF, or of the pages as pictures; a4 without it"},
    [CLI_LANDSCAPE] = {.name = "landscape", .kind = CLI_SWITCH, .help = "turn the paper on its side"},
    [CLI_BIG] = {.name = "big", .kind = CLI_SWITCH, .help = "print all of it half as large again"},
    [CLI_REPEATS] = {.name = "repeats",
                     .kind = CLI_WORD,
                     .words = repeats,
                     .help =
                         "folded, the default: of a phrase with the steps of an earlier one only that one is named; "
                         "written: its steps stand there again"},
    [CLI_FROM_PHRASE] = {.name = "from",
                         .kind = CLI_WHOLE,
                         .value = "N",
                         .least = 1,
                         .most = 1e6,
                         .help = "the sheet from phrase N on"},
    [CLI_TO_PHRASE] =
        {.name = "to", .kind = CLI_WHOLE, .value = "N", .least = 1, .most = 1e6, .help = "the sheet up to phrase N"},
    [CLI_WIDTH] = {.name = "width",
                   .kind = CLI_WHOLE,
                   .value = "N",
                   .least = 40,
                   .most = 1000,
                   .help = "columns of the text; without it, those of the terminal, else 80"},
    [CLI_OVERWRITE] = {.name = "overwrite", .kind = CLI_SWITCH, .help = "replace files that are there already"},
    [CLI_NO_CACHE] = {.name = "no-cache",
                      .kind = CLI_SWITCH,
                      .help = "measure the recordings anew, and keep nothing for the next time"},
    [CLI_PORT] = {.name = "port",
                  .kind = CLI_WHOLE,
                  .value = "N",
                  .least = 1024,
                  .most = 65535,
                  .help = "the port of this machine to answer at; without it, any that is free"},
    [CLI_NO_BROWSER] = {.name = "no-browser",
                        .kind = CLI_SWITCH,
                        .help = "only print the address, instead of opening it in the browser, too"},
    [CLI_LEAVE_OUT] = {.name = "leave-out",
                       .hidden = true,
                       .kind = CLI_CUES,
                       .value = "CUE[,CUE]",
                       .help = "find beats without these cues; 'list' prints the names"},
    [CLI_HELP] = {.name = "help", .letter = 'h', .kind = CLI_SWITCH, .help = "print this help"},
};

const CliCommand cli_command[] = {
    {.name = "count",
     .operands = "RECORDING",
     .least_operands = 1,
     .most_operands = 1,
     .summary = "find beats, bars and eights; print the bare count sheet",
     .text =
         "Finds the beats of a recording, joins them to counts and the counts to phrases, and prints the sheet that "
         "one has before there are any notes: where each phrase starts and how fast it goes. Phrases that are "
         "doubtful are marked 'check by ear'.",
     .example = "countwright count rehearsal.wav -o sheet.pdf",
     .run = cli_count,
     .option = {CLI_OUTPUT, CLI_LIST, CLI_JSON, CLI_TRACKER, CLI_EAR, CLI_BEATS_PER_COUNT, CLI_METRE, CLI_TAPS,
                CLI_LANGUAGE, CLI_PAPER, CLI_LANDSCAPE, CLI_BIG, CLI_WIDTH, CLI_OVERWRITE, CLI_LEAVE_OUT, CLI_HELP}},
    {.name = "sheet",
     .operands = "NOTES [RECORDING]",
     .least_operands = 1,
     .most_operands = 2,
     .summary = "line notes up with a recording; print the count sheet",
     .text = "Lines the notebook up with the recording and prints the count sheet. Without RECORDING it is the one "
             "that the notes name in their head, looked for in the notes' folder; when they name none, the sheet has "
             "no times. NOTES may be '-' for standard input.",
     .example = "countwright sheet notes.txt -o sheet.pdf -o sheet.txt",
     .run = cli_sheet,
     .option = {CLI_OUTPUT,  CLI_FROM_PHRASE, CLI_TO_PHRASE,       CLI_ROLE,     CLI_ENTRANCES, CLI_WARM,
                CLI_SPREAD,  CLI_SIDE,        CLI_MIRRORED,        CLI_SPELLING, CLI_GLOSSARY,  CLI_LIST,
                CLI_JSON,    CLI_EAR,         CLI_BEATS_PER_COUNT, CLI_TAPS,     CLI_TAPS_ON,   CLI_BY_LINE,
                CLI_AGAINST, CLI_LANGUAGE,    CLI_SOUND,           CLI_PAPER,    CLI_LANDSCAPE, CLI_BIG,
                CLI_REPEATS, CLI_WIDTH,       CLI_OVERWRITE,       CLI_NO_CACHE, CLI_HELP}},
    {.name = "drift",
     .operands = "A B [C ...]",
     .least_operands = 2,
     .most_operands = 1000,
     .summary = "show how tempo differs between recordings of the same music",
     .text = "Follows the music of recording A into recording B and prints, phrase by phrase, the tempo in both and "
             "how many seconds B is ahead or behind. Cuts, repeats, pauses and new starts are told in words. More "
             "recordings are each compared with A, and the slowest, median and fastest tempo of each phrase over all "
             "of them is printed too. Differences under 2.5 % are the same: they are hardly heard.",
     .example = "countwright drift rehearsal.wav performance.m4a --notes notes.txt --chart drift.pdf",
     .run = cli_drift,
     .option = {CLI_TABLE_OUTPUT, CLI_NOTES, CLI_PHRASES, CLI_SECTION, CLI_OWN_COUNTS, CLI_EAR, CLI_AT, CLI_CHART,
                CLI_JSON, CLI_CSV, CLI_WIDTH, CLI_OVERWRITE, CLI_NO_CACHE, CLI_HELP}},
    {.name = "carry",
     .operands = "NOTES RECORDING",
     .least_operands = 2,
     .most_operands = 2,
     .summary = "take counts over to another recording of the music",
     .text = "Lines the notes up with the recording that they belong to, follows that music into RECORDING and prints "
             "the count sheet for RECORDING. How sure each phrase is goes with it; phrases that RECORDING lacks have "
             "no times, and cuts, repeats and new starts are told in words. The notes themselves are never written "
             "over: '--pinned' makes a copy of them with pins. A copy says what it was carried from, and carrying it "
             "on starts there again, so that errors do not add up.",
     .example = "countwright carry notes.txt performance.m4a -o sheet.pdf --pinned performance.txt",
     .run = cli_carry,
     .option = {CLI_OUTPUT, CLI_PINNED, CLI_LINE, CLI_FROM, CLI_RUNS, CLI_RUN, CLI_LIST, CLI_JSON, CLI_BEATS_PER_COUNT,
                CLI_EAR, CLI_LANGUAGE, CLI_PAPER, CLI_LANDSCAPE, CLI_BIG, CLI_REPEATS, CLI_WIDTH, CLI_OVERWRITE,
                CLI_NO_CACHE, CLI_HELP}},

    {.name = "rehearse",
     .operands = "NOTES [RECORDING]",
     .least_operands = 1,
     .most_operands = 2,
     .summary = "make practice audio: the recording with the counts in it",
     .text = "Lines the notebook up with the recording and writes the music with its counts, spoken or clicked, at any "
             "tempo from half to a fifth faster, whole or in passages, once or again and again. Without RECORDING it "
             "is the one that the notes name. Counts are put on the music after it has been slowed down, so they are "
             "as exact at every speed. The file has chapters at the sections.\n"
             "Practise at speed only what is sure slowly, and rest when tired: most hurts happen then. Bodies differ; "
             "teachers and physiotherapists come first.",
     .example = "countwright rehearse notes.txt -o practice.mp3 --speed 70,80,90,100 --phrases 3-6",
     .run = cli_rehearse,
     .option = {CLI_SOUND_OUTPUT, CLI_COUNTS,          CLI_SUB_COUNTS, CLI_ANNOUNCE,
                CLI_STEPS,        CLI_SPEED,           CLI_EVEN,       CLI_LIKE,
                CLI_PHRASES,      CLI_SECTION,         CLI_DANCER,     CLI_ONLY_ENTRANCES,
                CLI_CHAIN,        CLI_LOOPS,           CLI_REST,       CLI_COUNT_IN,
                CLI_DUCK,         CLI_LOUDNESS,        CLI_BIT_RATE,   CLI_TIMES,
                CLI_BY_LINE,      CLI_SPOKEN_LANGUAGE, CLI_EAR,        CLI_BEATS_PER_COUNT,
                CLI_SPREAD,       CLI_OVERWRITE,       CLI_NO_CACHE,   CLI_HELP}},
    {.name = "pack",
     .operands = "NOTES [RECORDING]",
     .least_operands = 1,
     .most_operands = 2,
     .summary = "make one file to send to an understudy",
     .text =
         "Makes one file of everything that someone needs who learns the part: the count sheet as a web page, which "
         "opens on any phone without a network, with the recording inside when '--sound' asks for it, or as a PDF. "
         "Role, side and spelling are as asked. Private remarks stay behind, and so does what does not add up, which "
         "is told here alone. What is inside is listed before it is written.",
     .example = "countwright pack notes.txt --role Ferryman --side other --sound aac -o for-mira.html",
     .run = cli_pack,
     .option = {CLI_PACK_OUTPUT, CLI_PDF,     CLI_SOUND,       CLI_CONTENTS,
                CLI_ROLE,        CLI_SIDE,    CLI_SPELLING,    CLI_GLOSSARY,
                CLI_LANGUAGE,    CLI_REPEATS, CLI_FROM_PHRASE, CLI_TO_PHRASE,
                CLI_WARM,        CLI_SPREAD,  CLI_EAR,         CLI_BEATS_PER_COUNT,
                CLI_TAPS,        CLI_TAPS_ON, CLI_BY_LINE,     CLI_PAPER,
                CLI_LANDSCAPE,   CLI_BIG,     CLI_OVERWRITE,   CLI_NO_CACHE,
                CLI_HELP}},
    {.name = "check",
     .operands = "NOTES [RECORDING]",
     .least_operands = 1,
     .most_operands = 2,
     .summary = "say what is unclear in notes, and where they do not fit the music",
     .text = "Prints each place of the notebook that is unclear or does not add up, with line and column. Nothing in "
             "notes is an error that stops a sheet: what is not understood is printed there as a remark. Then come "
             "spellings behind which there is most likely a term, which 'sheet --spelling proper' prints. With "
             "RECORDING the notes are held against the music, and the smallest changes are named that would make them "
             "fit better. NOTES may be '-' for standard input. Ends with 1 when anything is unclear or does not fit.",
     .example = "countwright check notes.txt",
     .run = cli_check,
     .option = {CLI_SINCE, CLI_SIDE, CLI_WORDS, CLI_GLOSSARY, CLI_EAR, CLI_BEATS_PER_COUNT, CLI_JSON, CLI_HELP}},
    {.name = "desk",
     .operands = "FOLDER",
     .least_operands = 1,
     .most_operands = 1,
     .summary = "open a page on which to listen, tap, correct and write",
     .text = "Serves a page for a folder of recordings and notebooks and opens it in the browser: the music with its "
             "counts, the notes beside it, corrections by hand, and what comes of them to print. Only this machine can "
             "reach it, and only the browser that opens the printed address. The notebooks stay plain files of the "
             "folder, and may be changed elsewhere meanwhile. Steps to undo are kept in '.countwright' there. Ctrl-C "
             "ends it.",
     .example = "countwright desk ferrymen",
     .run = cli_desk,
     .option = {CLI_PORT, CLI_NO_BROWSER, CLI_NO_CACHE, CLI_HELP}},
};

const size_t cli_n_commands = sizeof cli_command / sizeof cli_command[0];

const CliCommand *cli_find_command(const char *name)
{
  for (size_t i = 0; i < cli_n_commands; i++) {
    if (strcmp(cli_command[i].name, name) == 0) {
      return &cli_command[i];
    }
  }
  return NULL;
}

const char *cli_join(const char *const *words, const char *between, char *out, size_t size)
{
  out[0] = '\0';
  for (size_t i = 0; words[i]; i++) {
    const size_t used = strlen(out);
    snprintf(out + used, size - used, "%s%s", i ? between : "", words[i]);
  }
  return out;
}

const char *cli_value_name(const CliOption *option, char *out, size_t size)
{
  if (option->kind == CLI_WORD) {
    return cli_join(option->words, "|", out, size);
  }
  snprintf(out, size, "%s", option->value ? option->value : "");
  return out;
}

const char *cli_option_help(const CliOption *option, char *out, size_t size)
{
  char endings[100] = "";
  if (option->words && option->kind != CLI_WORD) {
    cli_join(option->words, ", ", endings, sizeof endings);
  }
  const char *again = option->kind == CLI_FILES ? "; may be given several times" : "";
  snprintf(out, size, endings[0] ? "%s (%s%s)" : "%s", option->help, endings, again);
  return out;
}
