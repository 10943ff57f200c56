// SPDX-License-Identifier: GPL-3.0-or-later
/// Who may ask: only the browser that came with the secret, only from the desk's own page, and not too often.
#ifndef CW_DESK_GUARD_H
#define CW_DESK_GUARD_H

#include <pthread.h>
#include <stdbool.h>

#include "desk/request.h"

/// Digits of a secret, NUL included: 32 random bytes.
enum { DESK_SECRET = 65 };

typedef struct {
  pthread_mutex_t lock;
  char secret[DESK_SECRET]; ///< in the address; good once
  bool used;
  char pass[DESK_SECRET]; ///< in the cookie
  char cookie[32];        ///< its name: cookies know no ports, so each desk needs its own
  char host[32];          ///< "127.0.0.1:40000"
  char origin[48];        ///< "http://127.0.0.1:40000"
  double tokens;          ///< requests that may come at once now
  double filled_s;        ///< when they were last filled up
  unsigned wrong;         ///< strangers since `wrong_s`
  double wrong_s;
} DeskGuard;

/// Set up for a port. @return CW_OK or CW_ERR_READ (there is no randomness).
CW_NODISCARD CwStatus desk_guard_init(DeskGuard *guard, unsigned port);

/// Whether a request comes from the desk's own page, at its own address, and not too often.
/// @param[out] response Answered when not.
bool desk_guard_place(DeskGuard *guard, const DeskRequest *request, DeskResponse *response);

/// Whether it comes from the browser that is known.
/// @param[out] response Answered when not; a request with the secret is answered by the cookie.
bool desk_guard_person(DeskGuard *guard, const DeskRequest *request, DeskResponse *response);

#endif
