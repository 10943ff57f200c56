// SPDX-License-Identifier: GPL-3.0-or-later
/// What takes long, one after the other, on a thread of its own.
#ifndef CW_DESK_WORK_H
#define CW_DESK_WORK_H

#include <pthread.h>
#include <stdbool.h>

#include "countwright/status.h"

/// Tasks that may wait.
enum { DESK_TASKS = 64 };

typedef struct {
  void (*run)(void *user); ///< looks at desk_work_is_over() now and then, if it takes long
  void *user;
} DeskTask;

typedef struct {
  pthread_t thread;
  pthread_mutex_t lock;
  pthread_cond_t changed;
  DeskTask task[DESK_TASKS];
  size_t n;
  bool over;
  bool begun;
} DeskWork;

/// Begin the thread. @return CW_OK or CW_ERR_NO_MEM.
CW_NODISCARD CwStatus desk_work_begin(DeskWork *work);

/// Put a task behind the others. @return false when there are too many, or it is over.
bool desk_work_add(DeskWork *work, DeskTask task);

/// Whether whatever runs should end.
bool desk_work_is_over(DeskWork *work);

/// Let what runs end soon, without waiting for it.
void desk_work_finish(DeskWork *work);

/// Wait for what runs, and do no more. Safe on one that was not begun.
void desk_work_end(DeskWork *work);

#endif
