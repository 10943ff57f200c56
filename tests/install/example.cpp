// SPDX-License-Identifier: GPL-3.0-or-later
// The ones of a recording, by the installed library, from C++.
#include <countwright/phrases.h>

#include <cstdio>

int main(int argc, char **argv)
{
  CwFeatures features{};
  CwBeats beats{};
  CwCountLine line{};
  CwStatus status = argc == 2 ? cw_features_read(argv[1], nullptr, &features) : CW_ERR_BAD_ARG;
  if (status == CW_OK) status = cw_beats_find(&features, nullptr, nullptr, &beats);
  if (status == CW_OK) status = cw_phrases_find(&features, &beats, nullptr, &line);
  for (size_t p = 0; p < line.n_phrases; p++) std::printf("%.3f\n", cw_count_line_start(&line, p));
  if (status != CW_OK) std::fprintf(stderr, "%s\n", cw_strerror(status));
  cw_count_line_free(&line);
  cw_beats_free(&beats);
  cw_features_free(&features);
  return status != CW_OK;
}
