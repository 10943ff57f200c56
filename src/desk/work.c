// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/work.h"

#include <string.h>

static void *work_on(void *user)
{
  DeskWork *work = user;
  pthread_mutex_lock(&work->lock);
  while (!work->over) {
    if (work->n == 0) {
      pthread_cond_wait(&work->changed, &work->lock);
      continue;
    }
    const DeskTask task = work->task[0];
    memmove(work->task, work->task + 1, --work->n * sizeof *work->task);
    pthread_mutex_unlock(&work->lock);
    task.run(task.user);
    pthread_mutex_lock(&work->lock);
  }
  pthread_mutex_unlock(&work->lock);
  return NULL;
}

CwStatus desk_work_begin(DeskWork *work)
{
  pthread_mutex_init(&work->lock, NULL);
  pthread_cond_init(&work->changed, NULL);
  work->begun = pthread_create(&work->thread, NULL, work_on, work) == 0;
  return work->begun ? CW_OK : CW_ERR_NO_MEM;
}

bool desk_work_add(DeskWork *work, DeskTask task)
{
  pthread_mutex_lock(&work->lock);
  const bool room = work->n < DESK_TASKS && !work->over && work->begun;
  if (room) {
    work->task[work->n++] = task;
    pthread_cond_signal(&work->changed);
  }
  pthread_mutex_unlock(&work->lock);
  return room;
}

bool desk_work_is_over(DeskWork *work)
{
  pthread_mutex_lock(&work->lock);
  const bool over = work->over;
  pthread_mutex_unlock(&work->lock);
  return over;
}

void desk_work_finish(DeskWork *work)
{
  if (work->begun) {
    pthread_mutex_lock(&work->lock);
    work->over = true;
    pthread_cond_signal(&work->changed);
    pthread_mutex_unlock(&work->lock);
  }
}

void desk_work_end(DeskWork *work)
{
  if (!work->begun) {
    return;
  }
  desk_work_finish(work);
  pthread_join(work->thread, NULL);
  work->begun = false;
  pthread_cond_destroy(&work->changed);
  pthread_mutex_destroy(&work->lock);
}
