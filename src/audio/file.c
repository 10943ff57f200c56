// SPDX-License-Identifier: GPL-3.0-or-later
#include "audio/file.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static CwStatus from_errno(int number)
{
  switch (number) {
  case ENOENT:
  case ENOTDIR:
    return CW_ERR_NOT_FOUND;
  case EACCES:
  case EPERM:
    return CW_ERR_NO_ACCESS;
  case ENXIO: // a socket
    return CW_ERR_NOT_AUDIO;
  default:
    return CW_ERR_READ;
  }
}

static CwStatus check_kind(int descriptor, const CwReport *report)
{
  struct stat facts;
  if (fstat(descriptor, &facts) != 0) {
    return CW_ERR_READ;
  }
  if (S_ISDIR(facts.st_mode)) {
    return CW_ERR_IS_DIRECTORY;
  }
  if (!S_ISREG(facts.st_mode)) {
    cw_report_notice(report, "a pipe or a device cannot be read as a recording, save it to a file first");
    return CW_ERR_NOT_AUDIO;
  }
  return facts.st_size == 0 ? CW_ERR_EMPTY : CW_OK;
}

CwStatus cw_file_open(const char *path, const CwReport *report, int *descriptor)
{
  *descriptor = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
  if (*descriptor < 0) {
    return from_errno(errno);
  }
  const CwStatus status = check_kind(*descriptor, report);
  if (status != CW_OK) {
    close(*descriptor);
    *descriptor = -1;
  }
  return status;
}

/// Read exactly `n` bytes at `offset`.
static bool read_at(int descriptor, uint64_t offset, void *bytes, size_t n)
{
  return pread(descriptor, bytes, n, (off_t)offset) == (ssize_t)n;
}

CwStatus cw_file_why_not(int descriptor)
{
  static const struct {
    unsigned offset;
    const char *bytes;
    bool only_ffmpeg;
  } signature[] = {
      {8, "WAVE", false},    {8, "AIFF", false},
      {0, "OggS", false},    {0, "ID3", false},
      {0, "fLaC", false},    {4, "ftyp", true},             // m4a, mp4, mov, 3gp
      {4, "moov", true},     {0, "\x1A\x45\xDF\xA3", true}, // webm, mkv
      {0, "#!AMR", true},    {0, "\xFF\xF1", true},         // AAC without a container
      {0, "\xFF\xF9", true}, {0, "FLV\x01", true},
      {8, "AVI ", true},     {0, "\x30\x26\xB2\x75\x8E\x66\xCF\x11", true}, // wma, wmv
  };
#ifdef CW_HAVE_FFMPEG
  const CwStatus only_ffmpeg = CW_ERR_TRUNCATED;
#else
  const CwStatus only_ffmpeg = CW_ERR_UNSUPPORTED;
#endif
  char head[16] = "";
  if (pread(descriptor, head, sizeof head, 0) < 0) {
    return CW_ERR_READ;
  }
  for (size_t i = 0; i < sizeof signature / sizeof signature[0]; i++) {
    if (memcmp(head + signature[i].offset, signature[i].bytes, strlen(signature[i].bytes)) == 0) {
      return signature[i].only_ffmpeg ? only_ffmpeg : CW_ERR_TRUNCATED;
    }
  }
  return CW_ERR_NOT_AUDIO;
}

bool cw_file_seems_mp3(int descriptor)
{
  unsigned char head[3];
  if (!read_at(descriptor, 0, head, sizeof head)) {
    return false;
  }
  const bool frame = head[0] == 0xFF && (head[1] & 0xE0) == 0xE0;
  return frame || memcmp(head, "ID3", 3) == 0;
}

/// Four bytes as a number.
static uint32_t number(const unsigned char *b, bool big_endian)
{
  return big_endian ? (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 | b[3]
                    : (uint32_t)b[3] << 24 | (uint32_t)b[2] << 16 | (uint32_t)b[1] << 8 | b[0];
}

double cw_file_promise(int descriptor)
{
  // programs that write to a pipe cannot know the length and put a number from here up
  enum { NOT_KNOWN = 0x7FFFF000 };
  struct stat facts;
  unsigned char head[12];
  if (fstat(descriptor, &facts) != 0 || !read_at(descriptor, 0, head, sizeof head)) {
    return 1;
  }
  const bool aiff = memcmp(head, "FORM", 4) == 0;
  if (!aiff && memcmp(head, "RIFF", 4) != 0) {
    return 1;
  }
  const uint64_t size = (uint64_t)facts.st_size;
  uint64_t at = 12;
  for (int chunks = 0; chunks < 1000 && read_at(descriptor, at, head, 8); chunks++) {
    const uint64_t promised = number(head + 4, aiff);
    const uint64_t there = size - (at + 8);
    if (memcmp(head, aiff ? "SSND" : "data", 4) == 0) {
      const bool whole = promised <= there || promised >= NOT_KNOWN;
      return whole ? 1 : there == 0 ? INFINITY : (double)promised / (double)there;
    }
    at += 8 + promised + promised % 2;
  }
  return 1;
}
