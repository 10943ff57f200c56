// SPDX-License-Identifier: GPL-3.0-or-later
#include "unit/cw_test.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "countwright/mirror.h"
#include "countwright/stage.h"
#include "unit/random.h"
#include "unit/stage/sentences.h"

/// The one reading of a text.
static CwStageReading read_one(const char *text, CwStageReadings *readings)
{
  assert_int_equal(cw_stage_read(text, NULL, readings), CW_OK);
  if (readings->n != 1) {
    print_error("'%s' has %zu readings\n", text, readings->n);
    fail();
  }
  return readings->reading[0];
}

static CwPlace place_named(const char *name)
{
  CwStageReadings readings;
  char text[80];
  snprintf(text, sizeof text, "at %s", name);
  const CwStageReading reading = read_one(text, &readings);
  assert_int_equal(reading.n_places, 1);
  const CwPlace place = reading.place[0];
  cw_stage_readings_free(&readings);
  return place;
}

/// All that is read, in the written form, a line each. Release with free().
static char *all_written(const char *text)
{
  CwStageReadings readings;
  char *all = calloc(1, 4096);
  assert_non_null(all);
  assert_int_equal(cw_stage_read(text, NULL, &readings), CW_OK);
  for (size_t i = 0; i < readings.n; i++) {
    char *words;
    assert_int_equal(cw_stage_write(&readings.reading[i], &words), CW_OK);
    assert_true(strlen(all) + strlen(words) + 2 < 4096);
    strcat(strcat(all, words), "\n");
    free(words);
  }
  cw_stage_readings_free(&readings);
  return all;
}

/// The nine general areas, three rows from the audience up, left and right the performer's who faces the audience, as in
/// the writeup "stage direction" of everything2.com and the glossary entry "Stage Directions" of
/// audiovisualforevents.com; house left and right are as the audience sees it (the same entry).
static void the_nine_areas_are_where_the_published_definition_has_them(void **state)
{
  (void)state;
  static const char *const published[3][3] = {{"upstage right", "upstage center", "upstage left"},
                                              {"stage right", "center stage", "stage left"},
                                              {"downstage right", "downstage center", "downstage left"}};
  for (int row = 0; row < 3; row++) {
    for (int column = 0; column < 3; column++) {
      const CwPlace place = place_named(published[row][column]);
      assert_near(place.x, (column - 1) * 2.0 / 3, 1e-9); // left of who faces the audience is positive
      assert_near(place.y, (5 - 2 * row) / 6.0, 1e-9);    // 0 is the audience
    }
  }
  assert_near(place_named("house left").x, place_named("stage right").x, 0);
  assert_near(place_named("house right").x, place_named("stage left").x, 0);
}

/// Côté cour is stage left, côté jardin stage right; lointain is the back, face the front: the usage of French theatres
/// (from memory: "côté cour et côté jardin", Wikipédia).
static void french_sides_are_where_french_theatres_have_them(void **state)
{
  (void)state;
  assert_near(place_named("côté cour").x, 2.0 / 3, 1e-9);
  assert_near(place_named("côté jardin").x, -2.0 / 3, 1e-9);
  assert_true(place_named("lointain cour").y > 0.5);
  CwStageReadings readings;
  const CwStageReading front = read_one("à la face", &readings);
  assert_true(front.place[0].y < 0.5);
  cw_stage_readings_free(&readings);
}

/// Common practice, no source: a quarter mark is halfway from the centre line to the side, an eighth halfway to the
/// quarter; wings are numbered from the audience.
static void marks_and_wings_are_where_practice_has_them(void **state)
{
  (void)state;
  assert_near(place_named("SL quarter").x, 0.5, 0);
  assert_near(place_named("SR eighth").x, -0.25, 0);
  assert_true(place_named("wing 1 SL").x > 1);
  assert_true(place_named("wing 1 SL").y < place_named("wing 2 SL").y);
  assert_true(place_named("wing 4 SR").y < 1);
}

static void what_is_not_said_is_not_made_up(void **state)
{
  (void)state;
  assert_false(place_named("upstage").x_said);
  assert_false(place_named("SL").y_said);
  assert_true(place_named("C").y_said);
  CwStageReadings readings;
  const CwStageReading wing = read_one("from wing 3", &readings);
  assert_false(wing.place[0].x_said);
  assert_int_equal(wing.place[0].wing, 3);
  assert_true(wing.open_end);
  cw_stage_readings_free(&readings);
}

static void the_name_of_a_place_reads_as_the_place(void **state)
{
  (void)state;
  static const char *const name[] = {"DSL",
                                     "DSC",
                                     "DSR",
                                     "SL",
                                     "C",
                                     "SR",
                                     "USL",
                                     "USC",
                                     "USR",
                                     "CSL",
                                     "CSR",
                                     "DS",
                                     "US",
                                     "midstage",
                                     "centre line",
                                     "SL quarter",
                                     "SR quarter",
                                     "SL eighth",
                                     "SR eighth",
                                     "DS quarter SL",
                                     "US quarter SR",
                                     "DS eighth SR",
                                     "midstage quarter SL",
                                     "quarter mark",
                                     "eighth mark",
                                     "US quarter mark",
                                     "wing 1 SL",
                                     "wing 8 SR",
                                     "wing SL",
                                     "wing 3",
                                     "DS wing SR",
                                     "DLC",
                                     "DRC",
                                     "ULC",
                                     "URC",
                                     "LC",
                                     "RC"};
  for (size_t i = 0; i < sizeof name / sizeof name[0]; i++) {
    char written[CW_PLACE_ROOM];
    const CwPlace place = place_named(name[i]);
    assert_string_equal(cw_place_name(&place, written), name[i]);
  }
}

/// From any point to the nearest place, its name, the place read again, and the same name.
static void any_point_has_a_name_that_reads_as_its_place(void **state)
{
  (void)state;
  uint64_t seed = 3;
  for (int i = 0; i < 2000; i++) {
    char name[CW_PLACE_ROOM];
    char again[CW_PLACE_ROOM];
    const CwPlace nearest = cw_place_nearest(random_between(&seed, -1.3, 1.3), random_between(&seed, -0.2, 1.2));
    const CwPlace place = place_named(cw_place_name(&nearest, name));
    assert_near(place.x, nearest.x, 1e-9);
    assert_near(place.y, nearest.y, 1e-9);
    assert_int_equal(place.spot, nearest.spot);
    const CwPlace same = cw_place_nearest(place.x, place.y);
    assert_string_equal(cw_place_name(&same, again), name);
  }
  char name[CW_PLACE_ROOM];
  const CwPlace middle = cw_place_nearest(0.05, 0.45);
  assert_string_equal(cw_place_name(&middle, name), "C");
  const CwPlace corner = cw_place_nearest(0.75, 0.95);
  assert_string_equal(cw_place_name(&corner, name), "USL");
  const CwPlace off = cw_place_nearest(-1.4, 0.4);
  assert_string_equal(cw_place_name(&off, name), "wing 2 SR");
}

static bool same_place(const CwPlace *a, const CwPlace *b)
{
  return fabs(a->x - b->x) < 1e-9 && fabs(a->y - b->y) < 1e-9 && a->x_said == b->x_said && a->y_said == b->y_said &&
         a->spot == b->spot && a->wing == b->wing;
}

static bool same_reading(const CwStageReading *a, const CwStageReading *b)
{
  bool same = a->kind == b->kind && a->n_places == b->n_places && a->open_start == b->open_start &&
              a->open_end == b->open_end && a->line == b->line && a->bend == b->bend && a->facing == b->facing &&
              !a->person == !b->person && (!a->person || strcmp(a->person, b->person) == 0);
  for (size_t i = 0; same && i < a->n_places; i++) {
    same = same_place(&a->place[i], &b->place[i]);
  }
  return same;
}

/// A reading by chance, of places with names.
static CwStageReading random_reading(uint64_t *seed, CwPlace place[6])
{
  static char *const person[] = {NULL, "Mira", "boys", "Second Ferryman", "渡し守", "le passeur", "Боб"};
  CwStageReading reading = {.kind = (CwStageKind)random_below(seed, 4), .place = place};
  reading.person = person[random_below(seed, 7)];
  for (size_t i = 0; i < 6; i++) {
    place[i] = cw_place_nearest(random_between(seed, -1.3, 1.3), random_between(seed, 0, 1));
  }
  switch (reading.kind) {
  case CW_STAGE_AT:
    reading.n_places = 1;
    break;
  case CW_STAGE_PATH:
    reading.line = (CwPathLine)random_below(seed, 3);
    reading.bend = reading.line == CW_LINE_CURVE ? (CwBend)random_below(seed, 3) : CW_BEND_UNKNOWN;
    reading.n_places = 1 + random_below(seed, 6);
    reading.open_end = reading.n_places == 1 && random_share(seed) < 0.5;
    reading.open_start = !reading.open_end && (reading.n_places == 1 || random_share(seed) < 0.3);
    break;
  case CW_STAGE_CIRCLE:
    reading.bend = (CwBend)random_below(seed, 3);
    reading.n_places = random_below(seed, 2);
    break;
  case CW_STAGE_FACING:
    reading.facing = (unsigned)random_below(seed, 8);
    break;
  }
  return reading;
}

static void what_is_written_reads_as_it_was(void **state)
{
  (void)state;
  uint64_t seed = 11;
  for (int i = 0; i < 5000; i++) {
    CwPlace place[6];
    const CwStageReading reading = random_reading(&seed, place);
    CwStageReadings again;
    char *words;
    assert_int_equal(cw_stage_write(&reading, &words), CW_OK);
    const CwStageReading same = read_one(words, &again);
    if (!same_reading(&reading, &same)) {
      print_error("'%s' reads otherwise\n", words);
      fail();
    }
    assert_int_equal(same.begin, 0);
    assert_int_equal(same.end, strlen(words));
    cw_stage_readings_free(&again);
    free(words);
  }
}

/// Reading a mirrored sentence is the same as mirroring what was read: the two know nothing of each other.
static void mirrored_words_read_as_the_mirrored_reading(void **state)
{
  (void)state;
  static const char *const file[] = {"sentences.txt", "sentences_fresh.txt", "sentences_third.txt"};
  size_t compared = 0;
  for (size_t f = 0; f < 3; f++) {
    Sentence *sentences;
    const size_t n = read_sentences(file[f], &sentences);
    for (size_t i = 0; i < n; i++) {
      CwStageReadings here;
      CwStageReadings there;
      CwMirrored mirrored;
      assert_int_equal(cw_mirror_text(sentences[i].text, &mirrored), CW_OK);
      assert_int_equal(cw_stage_read(sentences[i].text, NULL, &here), CW_OK);
      assert_int_equal(cw_stage_read(mirrored.text, NULL, &there), CW_OK);
      bool same = here.n == there.n;
      for (size_t k = 0; same && k < here.n; k++) {
        cw_stage_mirror(&here.reading[k]);
        same = same_reading(&here.reading[k], &there.reading[k]);
        compared++;
      }
      if (!same) {
        print_error("'%s' and '%s' read otherwise\n", sentences[i].text, mirrored.text);
        fail();
      }
      cw_mirrored_free(&mirrored);
      cw_stage_readings_free(&here);
      cw_stage_readings_free(&there);
    }
    free(sentences);
  }
  assert_true(compared > 150);
}

static void bytes_of_what_was_read_are_told(void **state)
{
  (void)state;
  const char *text = "dégagé, run from DSL through C, Mira at USR";
  CwStageReadings readings;
  assert_int_equal(cw_stage_read(text, NULL, &readings), CW_OK);
  assert_int_equal(readings.n, 2);
  const CwStageReading *path = &readings.reading[0];
  assert_memory_equal(text + path->begin, "from DSL through C", path->end - path->begin);
  assert_memory_equal(text + path->place[0].begin, "DSL", path->place[0].end - path->place[0].begin);
  assert_memory_equal(text + path->place[1].begin, "C", 1);
  const CwStageReading *other = &readings.reading[1];
  assert_string_equal(other->person, "Mira");
  assert_memory_equal(text + other->begin, "Mira at USR", other->end - other->begin);
  cw_stage_readings_free(&readings);
}

/// A place in a text can be replaced by another; all else that is read stays as it was.
static void a_place_can_be_edited_in_the_text(void **state)
{
  (void)state;
  const char *text = "run from DSL through C to USR, Mira at SL";
  CwStageReadings readings;
  char edited[200];
  char name[CW_PLACE_ROOM];
  assert_int_equal(cw_stage_read(text, NULL, &readings), CW_OK);
  const CwPlace *old = &readings.reading[0].place[1];
  const CwPlace moved = cw_place_nearest(-0.5, 0.16);
  snprintf(edited, sizeof edited, "%.*s%s%s", (int)old->begin, text, cw_place_name(&moved, name), text + old->end);
  cw_stage_readings_free(&readings);
  assert_string_equal(edited, "run from DSL through DS quarter SR to USR, Mira at SL");
  char *all = all_written(edited);
  assert_string_equal(all, "DSL > DS quarter SR > USR\no Mira SL\n");
  free(all);
}

static void names_that_are_given_are_known_in_any_case(void **state)
{
  (void)state;
  static const char *const names[] = {"the old pilot", "pia", NULL};
  CwStageReadings readings;
  assert_int_equal(cw_stage_read("The Old Pilot at C, PIA USR", names, &readings), CW_OK);
  assert_int_equal(readings.n, 2);
  assert_string_equal(readings.reading[0].person, "The Old Pilot");
  assert_string_equal(readings.reading[1].person, "PIA");
  cw_stage_readings_free(&readings);
}

/// Schools number the corners and walls differently, so numbers stay words.
static void numbered_corners_stay_words(void **state)
{
  (void)state;
  CwStageReadings readings;
  assert_int_equal(cw_stage_read("facing corner 2, to wall 5, point 8", NULL, &readings), CW_OK);
  assert_int_equal(readings.n, 0);
  cw_stage_readings_free(&readings);
}

static void any_bytes_can_be_read(void **state)
{
  (void)state;
  static const char *const piece[] = {
      "DSL",  ">",      "to",       "from",         "o",        "Mira", "circle",  "left", ",",   "wing", "2",  "C",
      "\xE9", "facing", "diagonal", "\xF0\x9F\x98", "-",        "the",  "quarter", "half", "and", "then", "L2", "1/4",
      "mark", "côté",   "cour",     "back to",      "audience", ":",    "."};
  uint64_t seed = 5;
  char text[400];
  for (int round = 0; round < 20000; round++) {
    text[0] = '\0';
    for (size_t k = 1 + random_below(&seed, 16); k > 0; k--) {
      strcat(text, piece[random_below(&seed, sizeof piece / sizeof piece[0])]);
      strcat(text, random_share(&seed) < 0.85 ? " " : "");
    }
    CwStageReadings readings;
    assert_int_equal(cw_stage_read(text, NULL, &readings), CW_OK);
    for (size_t i = 0; i < readings.n; i++) {
      const CwStageReading *reading = &readings.reading[i];
      assert_true(reading->begin < reading->end && reading->end <= strlen(text));
      for (size_t k = 0; k < reading->n_places; k++) {
        assert_true(reading->place[k].begin >= reading->begin && reading->place[k].end <= reading->end);
      }
      assert_true(reading->kind != CW_STAGE_AT || reading->n_places == 1);
    }
    cw_stage_readings_free(&readings);
  }
}

static void memory_may_run_out_at_any_point(void **state)
{
  (void)state;
  const char *text = "o Mira DSL > C > USR, boys at SL, circle left round C, facing DSL, curve from SL to SR";
  CwStatus status = CW_ERR_NO_MEM;
  long n = 0;
  for (; status != CW_OK; n++) {
    CwStageReadings readings;
    char *words = NULL;
    cw_fail_after(n);
    status = cw_stage_read(text, NULL, &readings);
    assert_true(status == CW_OK || (readings.n == 0 && !readings.reading));
    if (status == CW_OK) {
      assert_int_equal(readings.n, 5);
      status = cw_stage_write(&readings.reading[0], &words);
      assert_true((status == CW_OK) == (words != NULL));
    }
    cw_fail_after(-1);
    free(words);
    cw_stage_readings_free(&readings);
  }
  assert_true(n > 12);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_nine_areas_are_where_the_published_definition_has_them),
      cmocka_unit_test(french_sides_are_where_french_theatres_have_them),
      cmocka_unit_test(marks_and_wings_are_where_practice_has_them),
      cmocka_unit_test(what_is_not_said_is_not_made_up),
      cmocka_unit_test(the_name_of_a_place_reads_as_the_place),
      cmocka_unit_test(any_point_has_a_name_that_reads_as_its_place),
      cmocka_unit_test(what_is_written_reads_as_it_was),
      cmocka_unit_test(mirrored_words_read_as_the_mirrored_reading),
      cmocka_unit_test(bytes_of_what_was_read_are_told),
      cmocka_unit_test(a_place_can_be_edited_in_the_text),
      cmocka_unit_test(names_that_are_given_are_known_in_any_case),
      cmocka_unit_test(numbered_corners_stay_words),
      cmocka_unit_test(any_bytes_can_be_read),
      cmocka_unit_test(memory_may_run_out_at_any_point),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
