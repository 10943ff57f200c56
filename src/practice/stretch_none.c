// SPDX-License-Identifier: GPL-3.0-or-later
/// No change of tempo, in a build without Rubber Band.
#include "practice/stretch.h"

CwStatus cw_stretch_new(unsigned rate_hz, const CwPaceCurve *pace, double from_s, CwSourceRead read, void *user,
                        CwStretch **stretch)
{
  (void)rate_hz;
  (void)pace;
  (void)from_s;
  (void)read;
  (void)user;
  *stretch = NULL;
  return CW_ERR_UNSUPPORTED;
}

CwStatus cw_stretch_read(CwStretch *stretch, float *out, size_t n)
{
  (void)stretch;
  (void)out;
  (void)n;
  return CW_ERR_UNSUPPORTED;
}

void cw_stretch_free(CwStretch *stretch)
{
  (void)stretch;
}
