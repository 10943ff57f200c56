// SPDX-License-Identifier: GPL-3.0-or-later
/// Sound files of every form, read back by our reader, by libsndfile and by FFmpeg's own demuxers.
#include "unit/cw_test.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <sndfile.h>
#ifdef CW_HAVE_FFMPEG
#include <libavformat/avformat.h>
#endif

#include "audio_files.h"
#include "base/memory.h"
#include "countwright/audio_write.h"

enum { RATE = 44100, FRAMES = 5 * RATE };

static const double pulse_s[] = {0.5, 2.5, 4.7};
enum { PULSES = sizeof pulse_s / sizeof pulse_s[0] };

static const CwSoundChapter chapters[] = {{0, "Harbour"}, {1.25, "Valse lente – été"}, {3.5, "Coda"}};

/// Two channels of faint noise with pulses in both.
static float *music(void)
{
  float *mono = calloc(FRAMES, sizeof *mono);
  float *frame = malloc(2 * (size_t)FRAMES * sizeof *frame);
  assert_non_null(mono);
  assert_non_null(frame);
  for (size_t i = 0; i < PULSES; i++) {
    add_pulse(mono, FRAMES, RATE, pulse_s[i]);
  }
  uint32_t seed = 3;
  for (size_t i = 0; i < 2 * (size_t)FRAMES; i++) {
    frame[i] = mono[i / 2] + 0.01F * next_random(&seed);
  }
  free(mono);
  return frame;
}

static CwSoundOptions options_for(const char *path)
{
  CwSoundOptions options = {.rate_hz = RATE,
                            .channels = 2,
                            .title = "The Ferrymen, 80 %",
                            .album = "The Paper Harbour",
                            .comment = "made to practise with",
                            .chapter = chapters,
                            .n_chapters = 3,
                            .duration_s = 5};
  assert_true(cw_sound_form(path, &options.form));
  return options;
}

static CwStatus write_in_blocks(CwSoundWriter *writer, const float *frame, size_t block)
{
  CwStatus status = CW_OK;
  for (size_t at = 0; at < FRAMES && status == CW_OK; at += block) {
    status = cw_sound_writer_write(writer, frame + 2 * at, FRAMES - at < block ? FRAMES - at : block);
  }
  return status;
}

static CwStatus write_all(const char *path, bool overwrite, const CwSoundOptions *options, const float *frame)
{
  CwSoundWriter *writer = NULL;
  CwStatus status = cw_sound_writer_open(path, overwrite, options, &writer);
  if (status != CW_OK) {
    assert_null(writer);
    return status;
  }
  status = write_in_blocks(writer, frame, 10000);
  if (status != CW_OK) {
    cw_sound_writer_cancel(writer);
    return status;
  }
  return cw_sound_writer_end(writer);
}

/// "test_audio_write.tmp" and an ending.
static const char *made(const char *ending)
{
  static char path[64];
  snprintf(path, sizeof path, "%s%s", MADE_FILE, ending);
  return path;
}

static bool can_write(const char *ending)
{
#ifdef CW_HAVE_FFMPEG
  (void)ending;
  return true;
#else
  return strcmp(ending, ".m4a") != 0 && strcmp(ending, ".mp4") != 0 && strcmp(ending, ".opus") != 0;
#endif
}

static void every_form_has_each_sound_where_it_was(void **state)
{
  (void)state;
  float *frame = music();
  for (const char *const *ending = cw_sound_endings(); *ending; ending++) {
    if (!can_write(*ending)) {
      continue;
    }
    const CwSoundOptions options = options_for(made(*ending));
    assert_int_equal(write_all(made(*ending), false, &options, frame), CW_OK);
    Recording recording = read_recording(made(*ending), RATE, 4096);
    assert_int_equal(recording.status, CW_OK);
    assert_near((double)recording.n / RATE, 5.0, 0.05);
    for (size_t i = 0; i < PULSES; i++) {
      assert_near(pulse_time(recording.samples, recording.n, RATE, pulse_s[i], 0.02), pulse_s[i], 0.001);
    }
    free(recording.samples);
    unlink(made(*ending));
  }
  free(frame);
}

static void lossless_forms_keep_each_sample(void **state)
{
  (void)state;
  float *frame = music();
  static const char *const ending[] = {".wav", ".flac"};
  for (size_t e = 0; e < 2; e++) {
    const CwSoundOptions options = options_for(made(ending[e]));
    assert_int_equal(write_all(made(ending[e]), false, &options, frame), CW_OK);
    SF_INFO info = {0};
    SNDFILE *file = sf_open(made(ending[e]), SFM_READ, &info);
    assert_non_null(file);
    assert_int_equal(info.frames, FRAMES);
    assert_int_equal(info.channels, 2);
    float *read = malloc(2 * (size_t)FRAMES * sizeof *read);
    assert_int_equal(sf_readf_float(file, read, FRAMES), FRAMES);
    for (size_t i = 0; i < 2 * (size_t)FRAMES; i++) {
      assert_near((double)read[i], fmin(1, (double)frame[i]), 2.0 / 32768);
    }
    free(read);
    sf_close(file);
    unlink(made(ending[e]));
  }
  free(frame);
}

static void a_wav_file_has_its_marks_as_cue_points_and_its_tags(void **state)
{
  (void)state;
  float *frame = music();
  const CwSoundOptions options = options_for(made(".wav"));
  assert_int_equal(write_all(made(".wav"), false, &options, frame), CW_OK);
  SF_INFO info = {0};
  SNDFILE *file = sf_open(made(".wav"), SFM_READ, &info);
  assert_non_null(file);
  SF_CUES marks = {0};
  assert_int_equal(sf_command(file, SFC_GET_CUE, &marks, sizeof marks), SF_TRUE);
  assert_int_equal(marks.cue_count, 3);
  for (size_t i = 0; i < 3; i++) {
    assert_near(marks.cue_points[i].sample_offset / (double)RATE, chapters[i].start_s, 1e-4);
    assert_string_equal(marks.cue_points[i].name, chapters[i].title);
  }
  assert_string_equal(sf_get_string(file, SF_STR_TITLE), options.title);
  assert_string_equal(sf_get_string(file, SF_STR_COMMENT), options.comment);
  sf_close(file);
  unlink(made(".wav"));
  free(frame);
}

#ifdef CW_HAVE_FFMPEG
/// A tag of the file, or of its track, where Ogg has them.
static const char *tag_of(const AVFormatContext *file, const char *key)
{
  const AVDictionaryEntry *entry = av_dict_get(file->metadata, key, NULL, 0);
  entry = entry ? entry : av_dict_get(file->streams[0]->metadata, key, NULL, 0);
  return entry ? entry->value : "";
}

static void check_words(const char *path, const CwSoundOptions *options)
{
  AVFormatContext *file = NULL;
  assert_int_equal(avformat_open_input(&file, path, NULL, NULL), 0);
  assert_true(avformat_find_stream_info(file, NULL) >= 0);
  assert_string_equal(tag_of(file, "title"), options->title);
  assert_string_equal(tag_of(file, "comment"), options->comment);
  assert_string_equal(tag_of(file, "album"), options->album);
  assert_int_equal(file->nb_chapters, 3);
  for (unsigned i = 0; i < 3; i++) {
    const AVChapter *chapter = file->chapters[i];
    assert_near((double)chapter->start * av_q2d(chapter->time_base), chapters[i].start_s, 0.002);
    assert_string_equal(av_dict_get(chapter->metadata, "title", NULL, 0)->value, chapters[i].title);
  }
  avformat_close_input(&file);
}
#endif

static void compressed_forms_have_tags_and_chapters(void **state)
{
  (void)state;
#ifndef CW_HAVE_FFMPEG
  skip();
#else
  static const char *const ending[] = {".flac", ".ogg", ".opus", ".mp3", ".m4a"};
  float *frame = music();
  for (size_t e = 0; e < sizeof ending / sizeof ending[0]; e++) {
    const CwSoundOptions options = options_for(made(ending[e]));
    assert_int_equal(write_all(made(ending[e]), false, &options, frame), CW_OK);
    check_words(made(ending[e]), &options);
    unlink(made(ending[e]));
  }
  free(frame);
#endif
}

static void a_higher_bit_rate_makes_a_larger_file(void **state)
{
  (void)state;
  float *frame = music();
  static const char *const ending[] = {".ogg", ".opus", ".mp3", ".m4a"};
  for (size_t e = 0; e < sizeof ending / sizeof ending[0]; e++) {
    if (!can_write(ending[e])) {
      continue;
    }
    size_t size[2] = {0};
    for (size_t i = 0; i < 2; i++) {
      CwSoundOptions options = options_for(made(ending[e]));
      options.kbit_s = i ? 160 : 64;
      assert_int_equal(write_all(made(ending[e]), true, &options, frame), CW_OK);
      free(read_bytes(made(ending[e]), &size[i]));
    }
    assert_true(size[1] > size[0] + size[0] / 4);
    unlink(made(ending[e]));
  }
  free(frame);
}

static void in_memory_are_the_same_bytes_as_in_a_file(void **state)
{
  (void)state;
  float *frame = music();
  for (const char *const *ending = cw_sound_endings(); *ending; ending++) {
    if (!can_write(*ending)) {
      continue;
    }
    const CwSoundOptions options = options_for(made(*ending));
    assert_int_equal(write_all(made(*ending), false, &options, frame), CW_OK);
    CwSoundWriter *writer = NULL;
    void *bytes = NULL;
    size_t size = 0;
    size_t wanted = 0;
    assert_int_equal(cw_sound_writer_open_memory(&options, &writer), CW_OK);
    assert_int_equal(write_in_blocks(writer, frame, 777), CW_OK);
    assert_int_equal(cw_sound_writer_take(writer, &bytes, &size), CW_OK);
    unsigned char *file = read_bytes(made(*ending), &wanted);
    assert_int_equal(size, wanted);
    if (strcmp(*ending, ".wav") != 0) { // libsndfile puts the time of writing into its header
      assert_memory_equal(bytes, file, size);
    }
    free(file);
    free(bytes);
    unlink(made(*ending));
  }
  free(frame);
}

static void what_is_not_finite_or_too_loud_does_no_harm(void **state)
{
  (void)state;
  const float frame[] = {NAN, INFINITY, -INFINITY, 5, -5, 0.5F};
  const CwSoundOptions options = {.form = CW_SOUND_WAV, .rate_hz = 8000, .channels = 1};
  CwSoundWriter *writer = NULL;
  assert_int_equal(cw_sound_writer_open(made(".wav"), false, &options, &writer), CW_OK);
  assert_int_equal(cw_sound_writer_write(writer, frame, 6), CW_OK);
  assert_int_equal(cw_sound_writer_end(writer), CW_OK);
  Recording recording = read_recording(made(".wav"), 8000, 100);
  const double wanted[] = {0, 0, 0, 1, -1, 0.5};
  assert_int_equal(recording.n, 6);
  for (size_t i = 0; i < 6; i++) {
    assert_near((double)recording.samples[i], wanted[i], 1e-4);
  }
  free(recording.samples);
  unlink(made(".wav"));
}

static void a_file_is_whole_or_not_there(void **state)
{
  (void)state;
  float *frame = music();
  const CwSoundOptions options = options_for("x.flac");
  CwSoundWriter *writer = NULL;
  assert_int_equal(cw_sound_writer_open(made(".flac"), false, &options, &writer), CW_OK);
  assert_int_equal(write_in_blocks(writer, frame, 5000), CW_OK);
  assert_int_equal(access(made(".flac"), F_OK), -1);
  cw_sound_writer_cancel(writer);
  assert_int_equal(access(made(".flac"), F_OK), -1);
  assert_int_equal(write_all(made(".flac"), false, &options, frame), CW_OK);
  assert_int_equal(write_all(made(".flac"), false, &options, frame), CW_ERR_EXISTS);
  assert_int_equal(write_all(made(".flac"), true, &options, frame), CW_OK);
  assert_int_equal(write_all(".", false, &options, frame), CW_ERR_IS_DIRECTORY);
  assert_int_equal(write_all("no such folder/x.flac", false, &options, frame), CW_ERR_NOT_FOUND);
  unlink(made(".flac"));
  free(frame);
}

static void a_full_disk_is_told_in_every_form(void **state)
{
  (void)state;
  float *frame = music();
  for (const char *const *ending = cw_sound_endings(); *ending; ending++) {
    if (!can_write(*ending)) {
      continue;
    }
    unlink(made(*ending));
    assert_int_equal(symlink("/dev/full", made(*ending)), 0);
    const CwSoundOptions options = options_for(made(*ending));
    assert_int_equal(write_all(made(*ending), true, &options, frame), CW_ERR_WRITE);
    unlink(made(*ending));
  }
  free(frame);
}

static void bad_arguments_are_refused(void **state)
{
  (void)state;
  CwSoundForm form;
  assert_false(cw_sound_form("music.doc", &form));
  assert_false(cw_sound_form(".wav", &form));
  assert_true(cw_sound_form("A.Opus", &form));
  assert_int_equal(form, CW_SOUND_OPUS);
  static const CwSoundOptions bad[] = {{CW_SOUND_WAV, .rate_hz = 4000, .channels = 1},
                                       {CW_SOUND_WAV, .rate_hz = 200000, .channels = 1},
                                       {CW_SOUND_WAV, .rate_hz = 44100, .channels = 0},
                                       {CW_SOUND_WAV, .rate_hz = 44100, .channels = 3},
                                       {(CwSoundForm)99, .rate_hz = 44100, .channels = 1}};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    CwSoundWriter *writer = NULL;
    assert_int_equal(cw_sound_writer_open_memory(&bad[i], &writer), CW_ERR_BAD_ARG);
    assert_null(writer);
  }
  cw_sound_writer_cancel(NULL);
}

static void every_failing_allocation_is_reported(void **state)
{
  (void)state;
  float *frame = music();
  for (const char *const *ending = cw_sound_endings(); *ending; ending++) {
    CwStatus status = CW_ERR_NO_MEM;
    const CwSoundOptions options = options_for(made(*ending));
    for (long n = 0; status == CW_ERR_NO_MEM && can_write(*ending); n++) {
      cw_fail_after(n);
      status = write_all(made(*ending), true, &options, frame);
      cw_fail_after(-1);
      assert_true(status == CW_OK || status == CW_ERR_NO_MEM);
    }
    unlink(made(*ending));
  }
  free(frame);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_form_has_each_sound_where_it_was),
      cmocka_unit_test(lossless_forms_keep_each_sample),
      cmocka_unit_test(a_wav_file_has_its_marks_as_cue_points_and_its_tags),
      cmocka_unit_test(compressed_forms_have_tags_and_chapters),
      cmocka_unit_test(a_higher_bit_rate_makes_a_larger_file),
      cmocka_unit_test(in_memory_are_the_same_bytes_as_in_a_file),
      cmocka_unit_test(what_is_not_finite_or_too_loud_does_no_harm),
      cmocka_unit_test(a_file_is_whole_or_not_there),
      cmocka_unit_test(a_full_disk_is_told_in_every_form),
      cmocka_unit_test(bad_arguments_are_refused),
      cmocka_unit_test(every_failing_allocation_is_reported),
  };
  for (const char *const *ending = cw_sound_endings(); *ending; ending++) {
    unlink(made(*ending)); // left by a run that failed
  }
  return cmocka_run_group_tests(tests, NULL, NULL);
}
