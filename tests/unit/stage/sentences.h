// SPDX-License-Identifier: GPL-3.0-or-later
/// The sentences of sentences.txt and sentences_fresh.txt with their truth.
#ifndef CW_TEST_SENTENCES_H
#define CW_TEST_SENTENCES_H

#include <stdbool.h>
#include <stddef.h>

/// Bytes of a sentence that mirroring changes or leaves in doubt.
typedef struct {
  size_t begin;
  size_t end;
  bool doubt;
  char other[24]; ///< what they become
} TruthEdit;

enum { TRUTH_EDITS = 8, TRUTH_READINGS = 6, TRUTH_ROOM = 160 };

/// A sentence.
typedef struct {
  char text[TRUTH_ROOM];
  char mirrored[TRUTH_ROOM];
  TruthEdit edit[TRUTH_EDITS];
  size_t n_edits;
  char reading[TRUTH_READINGS][TRUTH_ROOM];
  size_t n_readings;
} Sentence;

/// Read a file of sentences beside this one. Release with free(). @return How many.
size_t read_sentences(const char *file, Sentence **sentences);

#endif
