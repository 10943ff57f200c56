// SPDX-License-Identifier: GPL-3.0-or-later
#include "desk/names.h"

#include <errno.h>
#include <fcntl.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>
#include <unistr.h>

#include "base/file.h"
#include "base/memory.h"

static const struct {
  const char *ending;
  DeskKind kind;
  const char *type;
} kinds[] = {{".txt", DESK_NOTES, "text/plain; charset=utf-8"},
             {".wav", DESK_RECORDING, "audio/wav"},
             {".flac", DESK_RECORDING, "audio/flac"},
             {".ogg", DESK_RECORDING, "audio/ogg"},
             {".oga", DESK_RECORDING, "audio/ogg"},
             {".opus", DESK_RECORDING, "audio/ogg"},
             {".mp3", DESK_RECORDING, "audio/mpeg"},
             {".m4a", DESK_RECORDING, "audio/mp4"},
             {".mp4", DESK_RECORDING, "audio/mp4"},
             {".mov", DESK_RECORDING, "audio/mp4"},
             {".aac", DESK_RECORDING, "audio/aac"},
             {".webm", DESK_RECORDING, "audio/webm"},
             {".3gp", DESK_RECORDING, "audio/3gpp"},
             {".aif", DESK_RECORDING, "audio/aiff"},
             {".aiff", DESK_RECORDING, "audio/aiff"},
             {".pdf", DESK_OTHER, "application/pdf"},
             {".html", DESK_OTHER, "text/html; charset=utf-8"},
             {".svg", DESK_OTHER, "image/svg+xml"}};
enum { N_KINDS = sizeof kinds / sizeof kinds[0] };

bool desk_is_name(const char *name)
{
  const size_t length = name ? strlen(name) : 0;
  if (length == 0 || length >= DESK_NAME || name[0] == '.' || u8_check((const uint8_t *)name, length)) {
    return false;
  }
  for (size_t i = 0; i < length; i++) {
    if (name[i] == '/' || (unsigned char)name[i] < ' ' || name[i] == 0x7F) {
      return false;
    }
  }
  return true;
}

/// Its row in the table; N_KINDS when there is none.
static size_t row_of(const char *name)
{
  const char *ending = strrchr(name, '.');
  size_t i = ending ? 0 : N_KINDS;
  while (i < N_KINDS && strcasecmp(kinds[i].ending, ending) != 0) {
    i++;
  }
  return i;
}

DeskKind desk_kind_of(const char *name)
{
  const size_t row = row_of(name);
  return row < N_KINDS ? kinds[row].kind : DESK_OTHER;
}

const char *desk_type_of(const char *name)
{
  const size_t row = row_of(name);
  return row < N_KINDS ? kinds[row].type : "application/octet-stream";
}

int desk_open_file(int folder, const char *name, struct stat *facts)
{
  struct stat own;
  facts = facts ? facts : &own;
  // without O_NONBLOCK a pipe of that name would hold the desk up
  const int fd = openat(folder, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (fd >= 0 && (fstat(fd, facts) != 0 || !S_ISREG(facts->st_mode))) {
    close(fd);
    return -1;
  }
  return fd;
}

static CwStatus read_whole(int fd, size_t size, char *text)
{
  size_t done = 0;
  while (done < size) {
    const ssize_t n = read(fd, text + done, size - done);
    if (n < 0 && errno == EINTR) {
      continue;
    }
    if (n <= 0) { // it became shorter meanwhile: to be read again later
      return CW_ERR_READ;
    }
    done += (size_t)n;
  }
  return CW_OK;
}

CwStatus desk_read_file(int folder, const char *name, char **text, size_t *size, struct stat *facts)
{
  struct stat own;
  facts = facts ? facts : &own;
  *text = NULL;
  *size = 0;
  const int fd = desk_open_file(folder, name, facts);
  if (fd < 0) {
    return CW_ERR_NOT_FOUND;
  }
  CwStatus status = (size_t)facts->st_size > DESK_MOST_TEXT ? CW_ERR_TOO_LONG : CW_OK;
  if (status == CW_OK) {
    *text = cw_new((size_t)facts->st_size + 1, 1);
    status = *text ? read_whole(fd, (size_t)facts->st_size, *text) : CW_ERR_NO_MEM;
  }
  close(fd);
  if (status == CW_OK) {
    *size = (size_t)facts->st_size;
  } else {
    free(*text);
    *text = NULL;
  }
  return status;
}
