// SPDX-License-Identifier: GPL-3.0-or-later
/// @file session.h
/// Notes lined up with a recording while pins come and go: the music is looked at once, and after each pin only the
/// counts near it are searched again.
#ifndef COUNTWRIGHT_SESSION_H
#define COUNTWRIGHT_SESSION_H

#include <stddef.h>

#include "countwright/api.h"
#include "countwright/count_line.h"
#include "countwright/features.h"
#include "countwright/lineup.h"
#include "countwright/notebook.h"
#include "countwright/report.h"
#include "countwright/status.h"

CW_BEGIN

/// Counts on each side of a pin that are searched again, when no other pin is nearer.
#define CW_SESSION_REACH 32

/// A session.
typedef struct CwSession CwSession;

/// Begin with a whole search, as cw_lineup().
/// @param features, notebook Must outlive the session.
/// @param options As for cw_lineup(); only read now.
/// @param[out] session Release with cw_session_free(); NULL on error.
/// @param[out] messages As cw_lineup() adds them.
/// @return As cw_lineup().
CW_API CW_NODISCARD CwStatus cw_session_begin(const CwFeatures *features, const CwNotebook *notebook,
                                              const CwLineupOptions *options, const CwReport *report,
                                              CwSession **session, CwMessages *messages);

/// The counts as they now are; valid until the next call that changes the session.
CW_API const CwCountLine *cw_session_line(const CwSession *session);

/// Pin a count, in place of the session's pin on the same count, if any. The counts between the pins on both sides, or
/// CW_SESSION_REACH counts to each side where these are farther, are searched again; the others stay as they are. So
/// every pin is obeyed to the millisecond. The search is that of cw_lineup(), but looks only within 0.6 s of where the
/// counts would go if they followed the pin evenly; where a whole search would not count another way, the result is the
/// same but for a frame (10 ms).
/// @param phrase From 0. @param count From 1; 3.5 is "3&".
/// @param[out] messages Told why a pin cannot be: it contradicts another, both are named, or it lies nowhere.
/// @return CW_OK, CW_ERR_BAD_ARG (the pin cannot be; nothing has changed) or CW_ERR_NO_MEM (nothing has changed).
CW_API CW_NODISCARD CwStatus cw_session_set_pin(CwSession *session, size_t phrase, double count, double time_s,
                                                CwMessages *messages);

/// Take a pin of the session away again, and search its neighbourhood. Pins of the notes stay.
/// @return CW_OK, CW_ERR_NOT_FOUND (there is none on that count) or CW_ERR_NO_MEM (nothing has changed).
CW_API CW_NODISCARD CwStatus cw_session_remove_pin(CwSession *session, size_t phrase, double count);

/// Release. NULL is accepted.
CW_API void cw_session_free(CwSession *session);

CW_END

#endif
