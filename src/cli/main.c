// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdio.h>

int main(void)
{
  puts("countwright " CW_VERSION);
  return 0;
}
