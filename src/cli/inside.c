// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/format.h"
#include "cli/talk.h"
#include "cli/write.h"
#include "countwright/audio.h"
#include "countwright/audio_write.h"
#include "countwright/web_sheet.h"

enum { RATE_HZ = 48000 };

/// How small a recording is made: one channel, good enough to dance to.
typedef struct {
  const char *name;
  CwSoundForm form;
  unsigned kbit_s;
  const char *type;
} Small;

static const Small small[] = {{"aac", CW_SOUND_M4A, 64, "audio/mp4"}, {"opus", CW_SOUND_OPUS, 40, "audio/ogg"}};

static const Small *asked_for(const CliArgs *args)
{
  const char *name = args->value[CLI_SOUND].text;
  for (size_t i = 0; name && i < sizeof small / sizeof small[0]; i++) {
    if (strcmp(name, small[i].name) == 0) {
      return &small[i];
    }
  }
  return NULL;
}

const char *cli_inside_problem(const CliArgs *args, const char *const *output, size_t n_outputs)
{
  bool web = false;
  for (size_t i = 0; i < n_outputs; i++) {
    web = web || cli_ends_with(output[i], ".html");
  }
  return asked_for(args) && !web ? "'--sound' puts the recording inside a web sheet, which '-o FILE.html' asks for"
                                 : NULL;
}

const char *cli_inside_told(const CliArgs *args, double duration_s, char out[64])
{
  char megabytes[32];
  const double bytes = duration_s * asked_for(args)->kbit_s * 1000 / 8;
  cw_format_fixed(megabytes, sizeof megabytes, (double)cw_web_sound_size((size_t)bytes) / 1e6, 1);
  snprintf(out, 64, "about %s MB", megabytes);
  return out;
}

static CwStatus write_block(void *user, const float *samples, size_t n)
{
  return cw_sound_writer_write(user, samples, n);
}

int cli_take_inside(const CliArgs *args, const char *recording, CliInside *inside)
{
  const Small *how = asked_for(args);
  *inside = (CliInside){0};
  if (!how) {
    return CLI_GOOD;
  }
  const CwSoundOptions options = {.form = how->form, .rate_hz = RATE_HZ, .channels = 1, .kbit_s = how->kbit_s};
  CwSoundWriter *writer = NULL;
  CwStatus status = cw_sound_writer_open_memory(&options, &writer);
  if (status == CW_OK) {
    status = cw_audio_stream(recording, RATE_HZ, cli_report(recording), write_block, writer, NULL);
  }
  if (status == CW_OK) {
    status = cw_sound_writer_take(writer, &inside->bytes, &inside->size);
    writer = NULL;
  }
  cw_sound_writer_cancel(writer);
  inside->type = how->type;
  return status == CW_OK ? CLI_GOOD : cli_say_status(recording, status);
}

void cli_inside_free(CliInside *inside)
{
  free(inside->bytes);
  *inside = (CliInside){0};
}
