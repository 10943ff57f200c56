// SPDX-License-Identifier: GPL-3.0-or-later
#include "countwright/version.h"

const char *cw_version(void)
{
  return CW_VERSION;
}
