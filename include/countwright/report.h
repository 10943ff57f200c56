// SPDX-License-Identifier: GPL-3.0-or-later
/// @file report.h
/// How a long call talks back: progress, notices, and a way to cancel it.
#ifndef COUNTWRIGHT_REPORT_H
#define COUNTWRIGHT_REPORT_H

#include <stdbool.h>
#include <stddef.h>

#include "countwright/api.h"
#include "countwright/status.h"

CW_BEGIN

/// Callbacks of a long call. The library itself never prints. Any member, and any CwReport pointer, may be NULL.
/// Called on the thread that made the call.
typedef struct {
  /// Told now and then how far a stage has come.
  /// @param stage Short constant text, such as "reading".
  /// @param fraction 0 to 1, or negative when the total is unknown.
  /// @return false to cancel: the call then ends with CW_ERR_CANCELLED.
  bool (*progress)(void *user, const char *stage, double fraction);

  /// Told once about something the user should know that is no error, such as
  /// "3 samples were not finite and are taken as silence". Lower case, no full stop.
  void (*notice)(void *user, const char *text);

  void *user; ///< handed to both
} CwReport;

/// Report progress. @return CW_OK, or CW_ERR_CANCELLED. `report` may be NULL.
CW_API CW_NODISCARD CwStatus cw_report_progress(const CwReport *report, const char *stage, double fraction);

/// Report a notice, formatted as by printf. Text over 511 bytes is cut. `report` may be NULL.
CW_API void cw_report_notice(const CwReport *report, const char *format, ...) CW_PRINTF(2, 3);

/// A growing list of messages to the dancer, in the order in which they were added.
typedef struct {
  char **text; ///< `n` strings, each owned by the list
  size_t n;
} CwMessages;

/// Append a message, formatted as by printf. @return CW_OK or CW_ERR_NO_MEM (the list is then unchanged).
CW_API CW_NODISCARD CwStatus cw_messages_add(CwMessages *messages, const char *format, ...) CW_PRINTF(2, 3);

/// Release a list and set it to empty. NULL is accepted.
CW_API void cw_messages_free(CwMessages *messages);

CW_END

#endif
