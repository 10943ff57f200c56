// SPDX-License-Identifier: GPL-3.0-or-later
/// What the files that read the stage share.
#ifndef CW_STAGE_READER_H
#define CW_STAGE_READER_H

#include "countwright/stage.h"
#include "stage/tokens.h"

/// How a place is joined to what stands before it.
typedef enum {
  CW_JOIN_NONE,
  CW_JOIN_ARROW,
  CW_JOIN_FROM,
  CW_JOIN_TO,
  CW_JOIN_THROUGH,
  CW_JOIN_AT,
  CW_JOIN_THEN
} CwJoin;

/// The reading of a text under way. `full` is set when memory runs out.
typedef struct {
  const CwTokens *tokens;
  const char *const *names;
  CwStageReadings *readings;
  size_t capacity;
  bool full;

  CwStageReading now;    ///< a place or path that may go on
  bool open;             ///< there is one
  bool started;          ///< it was said where it begins
  bool implied;          ///< only a verb said that it goes to its first place
  CwJoin last_join;      ///< of its last place
  size_t place_capacity; ///< of its places
  size_t first;          ///< its first token
  size_t last;           ///< token after it

  bool person;         ///< someone was named in this part of the sentence
  size_t person_begin; ///< first token that belongs to the name, the "o" before it, too
  size_t person_first; ///< first token of the name
  size_t person_next;
  bool entering; ///< after "enter"
  bool exiting;
} CwReader;

/// Finish what is open.
void cw_reader_flush(CwReader *reader);

/// Add a reading from token `first` to before `next`, with who is meant; its places are then its own.
void cw_reader_add(CwReader *reader, CwStageReading *reading, size_t first, size_t next);

/// Read a circle, a curve, a diagonal or a direction faced at token `i`. @return Tokens read; 0 for none.
size_t cw_read_shape(CwReader *reader, size_t i);

/// Read a direction faced at token `i`. @return Tokens read; 0 for none.
size_t cw_read_facing(CwReader *reader, size_t i);

/// Read a place at token `i` and join it to what is open. @return Tokens read; 0 for none.
size_t cw_read_place(CwReader *reader, size_t i);

#endif
