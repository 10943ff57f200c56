// SPDX-License-Identifier: GPL-3.0-or-later
/// What can be asked of the desk: a row for each method and path.
#ifndef CW_DESK_ROUTES_H
#define CW_DESK_ROUTES_H

#include <stdbool.h>
#include <stdint.h>

#include "countwright/desk.h"
#include "desk/request.h"

/// What content a request brings.
typedef enum { DESK_NO_BODY, DESK_JSON_BODY, DESK_FILE_BODY } DeskBody;

typedef struct {
  const char *method;
  const char *path; ///< one that ends with '*' stands for all that begin so
  void (*answer)(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
  DeskBody body;
  uint64_t most_bytes; ///< of it
} DeskRoute;

/// Whether a request may be answered, by all that is known before its content came.
/// @param content_length What it says of its content; UINT64_MAX when it does not say.
/// @return Its route; NULL when it is answered already.
const DeskRoute *desk_admit(CwDesk *desk, const DeskRequest *request, uint64_t content_length, DeskResponse *response);

/// What each row does, in the file of its subject.
void desk_get_page(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_part(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_events(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_shelf(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_recording(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_piece(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_beats(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_peaks(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_put_notes(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_put_taps(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_step(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_correction(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_sheet(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_spelling(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_plan(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_stage(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_recording(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_compare(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_compared(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_chart(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_practice(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_get_practice(CwDesk *desk, const DeskRequest *request, DeskResponse *response);
void desk_post_stop(CwDesk *desk, const DeskRequest *request, DeskResponse *response);

#endif
