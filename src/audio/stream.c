// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/audio.h"

enum { BLOCK = 8192 };

static CwStatus read_all(CwReader *reader, unsigned rate_hz, const CwReport *report, CwBlockSink sink, void *user,
                         double *duration_s)
{
  float block[BLOCK];
  const double total_s = cw_reader_info(reader)->duration_s;
  for (;;) {
    const double fraction = *duration_s < total_s ? *duration_s / total_s : 1.0;
    CwStatus status = cw_report_progress(report, "reading", total_s > 0 ? fraction : -1.0);
    size_t n = 0;
    if (status == CW_OK) {
      status = cw_reader_read(reader, block, BLOCK, &n);
    }
    if (status != CW_OK || n == 0) {
      return status;
    }
    status = sink(user, block, n);
    if (status != CW_OK) {
      return status;
    }
    *duration_s += (double)n / rate_hz;
  }
}

CwStatus cw_audio_stream(const char *path, unsigned rate_hz, const CwReport *report, CwBlockSink sink, void *user,
                         double *duration_s)
{
  double read_s = 0;
  CwReader *reader = NULL;
  CwStatus status = cw_reader_open(path, rate_hz, report, &reader);
  if (status == CW_OK) {
    status = read_all(reader, rate_hz, report, sink, user, &read_s);
  }
  cw_reader_free(reader);
  if (duration_s) {
    *duration_s = read_s;
  }
  return status;
}
