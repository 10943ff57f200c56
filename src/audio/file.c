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

#include "base/file.h"

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
    return errno == ENXIO ? CW_ERR_NOT_AUDIO : cw_errno_status(errno, CW_ERR_READ); // ENXIO: a socket
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
    const char *bytes;
    unsigned offset;
    bool only_ffmpeg;
  } signature[] = {
      {"WAVE", 8, false},    {"AIFF", 8, false},
      {"OggS", 0, false},    {"ID3", 0, false},
      {"fLaC", 0, false},    {"ftyp", 4, true},             // m4a, mp4, mov, 3gp
      {"moov", 4, true},     {"\x1A\x45\xDF\xA3", 0, true}, // webm, mkv
      {"#!AMR", 0, true},    {"\xFF\xF1", 0, true},         // AAC without a container
      {"\xFF\xF9", 0, true}, {"FLV\x01", 0, true},
      {"AVI ", 8, true},     {"\x30\x26\xB2\x75\x8E\x66\xCF\x11", 0, true}, // wma, wmv
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

/// The chunk of a WAV or AIFF file that holds its samples.
typedef struct {
  uint64_t promised; ///< bytes by its own header
  uint64_t there;    ///< bytes from its start to the end of the file
  bool enclosed;     ///< the header of the whole file reaches as far as into it
} SampleChunk;

/// @return false where there is none.
static bool find_samples(int descriptor, SampleChunk *chunk)
{
  struct stat facts;
  unsigned char head[12];
  if (fstat(descriptor, &facts) != 0 || !read_at(descriptor, 0, head, sizeof head)) {
    return false;
  }
  const bool aiff = memcmp(head, "FORM", 4) == 0;
  if (!aiff && memcmp(head, "RIFF", 4) != 0) {
    return false;
  }
  const uint64_t whole = 8 + (uint64_t)number(head + 4, aiff);
  uint64_t at = 12;
  for (int chunks = 0; chunks < 1000 && read_at(descriptor, at, head, 8); chunks++) {
    chunk->promised = number(head + 4, aiff);
    if (memcmp(head, aiff ? "SSND" : "data", 4) == 0) {
      chunk->there = (uint64_t)facts.st_size - (at + 8);
      chunk->enclosed = whole > at + 8;
      return true;
    }
    at += 8 + chunk->promised + chunk->promised % 2;
  }
  return false;
}

double cw_file_promise(int descriptor)
{
  // programs that write to a pipe cannot know the length and put a number from here up
  enum { NOT_KNOWN = 0x7FFFF000 };
  SampleChunk chunk;
  if (!find_samples(descriptor, &chunk) || chunk.promised <= chunk.there || chunk.promised >= NOT_KNOWN) {
    return 1;
  }
  return chunk.there == 0 ? INFINITY : (double)chunk.promised / (double)chunk.there;
}

bool cw_file_unclosed(int descriptor)
{
  SampleChunk chunk;
  return find_samples(descriptor, &chunk) && chunk.promised == 0 && chunk.there > 0 && !chunk.enclosed;
}
