// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/kept.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/format.h"
#include "cli/talk.h"
#include "countwright/cache.h"

/// Where the cache is. @return false when the environment does not say.
static bool find_folder(char *folder, size_t size)
{
  const char *caches = getenv("XDG_CACHE_HOME");
  const char *home = getenv("HOME");
  int n = -1;
  if (caches && caches[0] == '/') { // others are to be passed over, as the XDG base directories have it
    n = snprintf(folder, size, "%s/countwright", caches);
  } else if (home && home[0] == '/') {
    n = snprintf(folder, size, "%s/.cache/countwright", home);
  }
  return n > 0 && (size_t)n < size;
}

CwCache *cli_cache_open(const CliArgs *args)
{
  char folder[4096];
  CwCache *cache = NULL;
  if (args->value[CLI_NO_CACHE].given || !find_folder(folder, sizeof folder) ||
      cw_cache_open(folder, CW_CACHE_LIMIT_BYTES, &cache) != CW_OK) {
    return NULL;
  }
  return cache;
}

int cli_cache_clear(void)
{
  char folder[4096];
  char megabytes[32];
  size_t n = 0;
  uint64_t bytes = 0;
  if (!find_folder(folder, sizeof folder)) {
    cli_say(NULL, "neither XDG_CACHE_HOME nor HOME says where the cache is");
    return CLI_FAILED;
  }
  const CwStatus status = cw_cache_clear(folder, &n, &bytes);
  if (status != CW_OK) {
    return cli_say_status(folder, status);
  }
  cw_format_fixed(megabytes, sizeof megabytes, (double)bytes / 1e6, 1);
  cli_say(folder, "%zu file%s removed, %s MB", n, n == 1 ? "" : "s", megabytes);
  return CLI_GOOD;
}
