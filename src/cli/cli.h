// SPDX-License-Identifier: GPL-3.0-or-later
/// Options and commands as one table, from which parsing, help, the man page and shell completion are made.
#ifndef CW_CLI_CLI_H
#define CW_CLI_CLI_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/// What the program ends with.
enum { CLI_GOOD = 0, CLI_FAILED = 1, CLI_USAGE = 2 };

/// What an option takes.
typedef enum {
  CLI_SWITCH, ///< nothing
  CLI_CUES,   ///< names of cues, or "list"
  CLI_FILE,
  CLI_FILES, ///< a file, and the option may be given again: CliArgs.output
  CLI_WORD,  ///< one of CliOption.words
  CLI_TEXT,  ///< any text
  CLI_SPAN,  ///< a whole number, or two with a dash between, the first not above the second
  CLI_WHOLE, ///< a whole number within CliOption.least and most
  CLI_NUMBER ///< a number within CliOption.least and most
} CliKind;

/// An option. Several may share a name, as long as no command has two of them.
typedef struct {
  const char *name;  ///< without the dashes
  const char *value; ///< how its value is called, such as "FILE"; NULL for a switch or one of words
  const char *help;
  const char *const
      *words; ///< CLI_WORD: what is allowed. CLI_FILE, CLI_FILES: allowed endings, NULL for any. NULL ends
  double least;
  double most;
  CliKind kind;
  char letter; ///< short form, 0 for none
  bool hidden; ///< for developers: not in help, manual or completion
  bool alone;  ///< of all options with this mark, only one may be given
} CliOption;

typedef enum {
  CLI_OUTPUT,
  CLI_TABLE_OUTPUT,
  CLI_LIST,
  CLI_JSON,
  CLI_CSV,
  CLI_TRACKER,
  CLI_BEATS_PER_COUNT,
  CLI_METRE,
  CLI_EAR,
  CLI_TAPS,
  CLI_TAPS_ON,
  CLI_AT,
  CLI_CHART,
  CLI_OWN_COUNTS,
  CLI_FROM,
  CLI_RUNS,
  CLI_RUN,
  CLI_PINNED,
  CLI_LINE,
  CLI_BY_LINE,
  CLI_PHRASES,
  CLI_SECTION,
  CLI_NOTES,
  CLI_ROLE,
  CLI_ENTRANCES,
  CLI_WARM,
  CLI_SPREAD,
  CLI_SIDE,
  CLI_MIRRORED,
  CLI_SPELLING,
  CLI_GLOSSARY,
  CLI_WORDS,
  CLI_SINCE,
  CLI_AGAINST,
  CLI_SOUND_OUTPUT,
  CLI_COUNTS,
  CLI_SUB_COUNTS,
  CLI_ANNOUNCE,
  CLI_STEPS,
  CLI_SPOKEN_LANGUAGE,
  CLI_SPEED,
  CLI_EVEN,
  CLI_LIKE,
  CLI_DANCER,
  CLI_ONLY_ENTRANCES,
  CLI_CHAIN,
  CLI_LOOPS,
  CLI_REST,
  CLI_COUNT_IN,
  CLI_DUCK,
  CLI_LOUDNESS,
  CLI_BIT_RATE,
  CLI_TIMES,
  CLI_LANGUAGE,
  CLI_SOUND,
  CLI_PACK_OUTPUT,
  CLI_PDF,
  CLI_CONTENTS,
  CLI_PAPER,
  CLI_LANDSCAPE,
  CLI_BIG,
  CLI_REPEATS,
  CLI_FROM_PHRASE,
  CLI_TO_PHRASE,
  CLI_WIDTH,
  CLI_OVERWRITE,
  CLI_NO_CACHE,
  CLI_PORT,
  CLI_NO_BROWSER,
  CLI_LEAVE_OUT,
  CLI_HELP,
  CLI_N_OPTIONS
} CliOptionId;

extern const CliOption cli_option[CLI_N_OPTIONS];

/// The value of an option.
typedef struct {
  bool given;
  const char *text; ///< as written; NULL when not given or a switch
  double number;    ///< 0 when not given or not a number; of a span, the first
  double last;      ///< of a span, the last
} CliValue;

typedef struct CliCommand CliCommand;

/// A command line, understood. Strings belong to the command line.
typedef struct {
  const CliCommand *command;
  const char **operand;
  size_t n_operands;
  const char **output; ///< values of the option of kind CLI_FILES
  size_t n_outputs;
  CliValue value[CLI_N_OPTIONS];
  char problem[400]; ///< what is wrong with it
} CliArgs;

/// A command.
struct CliCommand {
  const char *name;
  const char *operands; ///< such as "NOTES [RECORDING]"
  const char *summary;  ///< what it does, in a line
  const char *text;     ///< the same in full, paragraphs divided by "\n"
  const char *example;
  int (*run)(const CliArgs *args); ///< @return CLI_GOOD, CLI_FAILED or CLI_USAGE
  size_t least_operands;
  size_t most_operands;
  CliOptionId option[40]; ///< in the order of the help; ends with CLI_HELP
};

/// The commands; `cli_n_commands` of them.
extern const CliCommand cli_command[];
extern const size_t cli_n_commands;

/// What the program does, in a line.
extern const char cli_purpose[];

/// The command of that name, NULL when there is none.
const CliCommand *cli_find_command(const char *name);

/// Understand what follows the command's name.
/// @param[out] args Release with cli_args_free(), also on error.
/// @return CLI_GOOD, CLI_USAGE (args->problem says why) or CLI_FAILED (memory ran out).
int cli_parse(const CliCommand *command, int n, char *const *words, CliArgs *args);

/// What '--leave-out' takes in place of names, to print them.
#define CLI_LIST_CUES "list"

/// Whether the names of cues are asked for, instead of what the command does.
bool cli_lists_cues(const CliArgs *args);

/// Release. Safe on a zeroed CliArgs.
void cli_args_free(CliArgs *args);

/// The words of a list with `between` in between, cut to `size`. @return `out`.
const char *cli_join(const char *const *words, const char *between, char *out, size_t size);

/// How an option's value is called, such as "FILE" or "a4|letter", cut to `size`; "" for a switch. @return `out`.
const char *cli_value_name(const CliOption *option, char *out, size_t size);

/// What an option does, in full, cut to `size`. @return `out`.
const char *cli_option_help(const CliOption *option, char *out, size_t size);

/// Help on the program, or on one command.
void cli_help(FILE *out);
void cli_command_help(const CliCommand *command, FILE *out);

/// The manual page, for man(7).
void cli_man(FILE *out);

/// Completion for bash.
void cli_completion(FILE *out);
void cli_completion_zsh(FILE *out);
void cli_completion_fish(FILE *out);

// the commands, each in a file of its name
int cli_count(const CliArgs *args);
int cli_sheet(const CliArgs *args);
int cli_pack(const CliArgs *args);
int cli_drift(const CliArgs *args);
int cli_carry(const CliArgs *args);
int cli_check(const CliArgs *args);
int cli_rehearse(const CliArgs *args);
int cli_desk(const CliArgs *args);

#endif
