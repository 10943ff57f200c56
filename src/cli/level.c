// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/level.h"

#include "cli/talk.h"
#include "countwright/phrases.h"

/// Say the messages and release them.
static int say(const char *subject, CwStatus status, CwMessages *messages)
{
  cli_say_all(subject, messages);
  cw_messages_free(messages);
  return status == CW_OK ? CLI_GOOD : cli_say_status(subject, status);
}

int cli_say_level(const char *subject, const CwCountLine *line, const char *key)
{
  CwMessages messages = {0};
  return say(subject, cw_level_explain(line, key, &messages), &messages);
}

int cli_say_evidence(const char *subject, const CwCountLine *line, const CwEvidence *evidence)
{
  CwMessages messages = {0};
  CwStatus status = cw_evidence_explain(evidence, &messages);
  if (status == CW_OK && evidence->known && !evidence->level_given) {
    status = cw_level_explain(line, "beats per count:", &messages);
  }
  return say(subject, status, &messages);
}
