// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/passage.h"

#include <string.h>
#include <strings.h>

#include "base/memory.h"
#include "cli/talk.h"

const char **cli_sections(const CwNotebook *notebook, size_t n)
{
  const char **section = cw_new(n + 1, sizeof *section);
  for (size_t i = 0; section && i < n && i < notebook->n_phrases; i++) {
    const size_t k = notebook->phrase[i].section;
    section[i] = k == CW_NONE ? NULL : notebook->section[k];
  }
  return section;
}

/// The phrases under the headings that begin with `name`. @return How many headings there are; where one is just the
/// name, 1.
static size_t find_section(const char *name, const char *const *section, size_t n, size_t *first, size_t *last)
{
  size_t found = 0;
  for (size_t i = 0; i < n; i++) {
    const bool begins = i == 0 || section[i] != section[i - 1];
    if (!begins || !section[i] || strncasecmp(section[i], name, strlen(name)) != 0) {
      continue;
    }
    const bool exact = strcasecmp(section[i], name) == 0;
    if (found == 0 || exact) {
      *first = i;
      for (*last = i; *last + 1 < n && section[*last + 1] == section[i]; ++*last) {
      }
    }
    if (exact) {
      return 1;
    }
    found++;
  }
  return found;
}

static bool passage_of_section(const char *name, const char *const *section, size_t n, size_t *first, size_t *last)
{
  const size_t found = name[0] ? find_section(name, section, n, first, last) : 0;
  if (found == 0) {
    cli_say(name, "the notes have no phrases under such a heading");
  } else if (found > 1) {
    cli_say(name, "%zu headings begin so", found);
  }
  return found == 1;
}

bool cli_passage(const CliArgs *args, const char *const *section, size_t n, size_t *first, size_t *last)
{
  const CliValue *phrases = &args->value[CLI_PHRASES];
  const CliValue *name = &args->value[CLI_SECTION];
  *first = 0;
  *last = n ? n - 1 : 0;
  if (phrases->given && phrases->last > (double)n) {
    cli_say(phrases->text, "there are only %zu phrases", n);
    return false;
  }
  if (phrases->given) {
    *first = (size_t)phrases->number - 1;
    *last = (size_t)phrases->last - 1;
  }
  return !name->given || passage_of_section(name->text, section, n, first, last);
}
