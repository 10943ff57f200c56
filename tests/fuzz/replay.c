// SPDX-License-Identifier: GPL-3.0-or-later
/// Runs a fuzz target over files, with any compiler: each file whole, and cut at every 7th byte.
#include "fuzz/fuzz.h"

#include <stdio.h>
#include <stdlib.h>

static int replay(const char *path)
{
  FILE *in = fopen(path, "rb");
  if (!in) {
    perror(path);
    return 1;
  }
  uint8_t *data = malloc(1 << 20);
  const size_t size = data ? fread(data, 1, 1 << 20, in) : 0;
  fclose(in);
  if (size == 0) {
    fprintf(stderr, "%s: nothing was read\n", path);
    free(data);
    return 1;
  }
  for (size_t n = 0; n < size; n += 7) {
    LLVMFuzzerTestOneInput(data, n);
  }
  LLVMFuzzerTestOneInput(data, size);
  free(data);
  return 0;
}

int main(int n_args, char **arg)
{
  int failed = n_args < 2; // no seeds is no test
  for (int i = 1; i < n_args; i++) {
    failed += replay(arg[i]);
  }
  return failed > 0;
}
