// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/find.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "glossary/language.h"

enum { MOST_WORDS = 7, SHORT_LETTERS = 3, FEWEST_LETTERS = 2 };

// fitted by eye on tests/unit/glossary/build.tsv
#define SOUND_LIMIT 0.20F  // distance over weight
#define LETTER_LIMIT 0.24F // distance over letters
#define SHORT_LIMIT 0.25F  // of both: for terms of a few letters, and for single words in another language
#define PLAIN_LIMIT 0.68F  // where all words are ordinary ones
#define MIXED_LIMIT 0.78F  // where some are
#define FURTHEST 1.5F      // where one of both is far, how far counts no more
#define DOUBT 0.7F         // what a term as far off as is allowed is worth less

/// What was found out about a spelling.
typedef struct CwKnown {
  uint64_t hash; ///< 0: none here
  uint32_t form; ///< CW_NO_FORM: no term
  float distance;
  bool proper;
} CwKnown;

#define CW_NO_FORM UINT32_MAX

/// The best way to take the words up to one.
typedef struct CwPlace {
  float worth;
  uint32_t n; ///< words of the term that ends here; 0: the word is none
  CwKnown found;
  bool plain; ///< the word is to be left alone
} CwPlace;

/// Some words as they are compared.
typedef struct {
  CwLetters spelt;
  CwLetters joined;
  CwSounds sounds;
  float weight;
} Spelling;

/// Equal, or one word of it is the plural where the other is not.
static bool is_spelt_so(const CwLetters *written, const CwLetters *form)
{
  size_t i = 0;
  size_t k = 0;
  while (i < written->n || k < form->n) {
    const unsigned char a = i < written->n ? written->letter[i] : ' ';
    const unsigned char b = k < form->n ? form->letter[k] : ' ';
    if (a == b) {
      i++;
      k++;
    } else if (a == 's' && b == ' ' && i + 1 >= written->n) {
      i++;
    } else {
      return false;
    }
  }
  return true;
}

static float compare(const CwSoundCosts *costs, const Spelling *written, const CwForm *form, float best)
{
  const float weight = fmaxf(written->weight, form->weight);
  const float letters = (float)(written->joined.n > form->joined.n ? written->joined.n : form->joined.n);
  const float sound_room = SOUND_LIMIT * weight;
  const float letter_room = LETTER_LIMIT * letters;
  if (fabsf(written->weight - form->weight) > 2 * sound_room) {
    return INFINITY;
  }
  const float by_sound =
      cw_sounds_distance(costs, &written->sounds, &form->sounds, 2 * sound_room * best) / fmaxf(sound_room, 1e-6F);
  if (by_sound > 2 * best) {
    return INFINITY;
  }
  const float by_letter = cw_letters_distance(&written->joined, &form->joined, 2 * letter_room) / letter_room;
  const float nearer = fminf(by_sound, by_letter);
  const float further = fmaxf(by_sound, by_letter);
  return 0.75F * nearer + 0.25F * fminf(further, FURTHEST);
}

/// The form that the words are most likely meant for.
static CwKnown best_form(const CwGlossary *g, const Spelling *written)
{
  CwKnown best = {.form = CW_NO_FORM, .distance = 1.0F};
  for (size_t i = 0; i < g->n_forms; i++) {
    const CwForm *form = &g->form[i];
    if (form->own && is_spelt_so(&written->spelt, &form->spelt)) {
      return (CwKnown){.form = (uint32_t)i, .proper = true};
    }
    const float distance = compare(&g->costs, written, form, best.distance);
    if (distance < best.distance) {
      best = (CwKnown){.form = (uint32_t)i, .distance = distance};
    }
  }
  return best;
}

static uint64_t hash_of(const CwLetters *letters)
{
  uint64_t hash = 14695981039346656037U; // FNV-1a
  for (size_t i = 0; i < letters->n; i++) {
    hash = (hash ^ letters->letter[i]) * 1099511628211U;
  }
  return hash ? hash : 1;
}

static CwStatus make_room(CwFinder *finder)
{
  if (2 * finder->n_known < finder->known_room) {
    return CW_OK;
  }
  const size_t room = finder->known_room ? 4 * finder->known_room : 1024;
  CwKnown *known = cw_new(room, sizeof *known);
  if (!known) {
    return CW_ERR_NO_MEM;
  }
  for (size_t i = 0; i < finder->known_room; i++) {
    size_t at = (size_t)finder->known[i].hash & (room - 1);
    while (finder->known[i].hash && known[at].hash) {
      at = (at + 1) & (room - 1);
    }
    if (finder->known[i].hash) {
      known[at] = finder->known[i];
    }
  }
  free(finder->known);
  finder->known = known;
  finder->known_room = room;
  return CW_OK;
}

/// What the words from `first` are, going by themselves.
static CwStatus look_up(CwFinder *finder, size_t first, size_t n, CwKnown *found)
{
  Spelling written = {.weight = 0};
  *found = (CwKnown){.form = CW_NO_FORM};
  if (!cw_spell_words(finder->words.word + first, n, &written.spelt, &written.joined, &written.sounds) ||
      written.joined.n < FEWEST_LETTERS) {
    return CW_OK;
  }
  if (make_room(finder) != CW_OK) {
    return CW_ERR_NO_MEM;
  }
  const uint64_t hash = hash_of(&written.spelt);
  size_t at = (size_t)hash & (finder->known_room - 1);
  while (finder->known[at].hash && finder->known[at].hash != hash) {
    at = (at + 1) & (finder->known_room - 1);
  }
  if (!finder->known[at].hash) {
    written.weight = cw_sounds_weight(&finder->glossary->costs, &written.sounds);
    finder->known[at] = best_form(finder->glossary, &written);
    finder->known[at].hash = hash;
    finder->n_known++;
  }
  *found = finder->known[at];
  return CW_OK;
}

/// Whether a word is one of the words of a spelling.
static bool is_part(const CwWord *word, const CwLetters *spelt)
{
  for (size_t i = 0; i + word->n <= spelt->n; i++) {
    const bool begins = i == 0 || spelt->letter[i - 1] == ' ' || spelt->letter[i - 1] == '-';
    const bool ends = i + word->n == spelt->n || spelt->letter[i + word->n] == ' ' || spelt->letter[i + word->n] == '-';
    if (begins && ends && memcmp(spelt->letter + i, word->letter, word->n) == 0) {
      return true;
    }
  }
  return false;
}

/// How far off words may be that are taken for a term, seeing what they are and what stands before.
static float limit_of(const CwFinder *finder, size_t first, size_t n, const CwForm *form, bool after_term)
{
  size_t plain = 0;
  size_t strange = 0; // ordinary words that the term does not have
  for (size_t i = first; i < first + n; i++) {
    const bool ordinary = finder->place[i + 1].plain;
    plain += ordinary;
    strange += ordinary && !is_part(&finder->words.word[i], &form->spelt);
  }
  const bool is_short = form->joined.n <= SHORT_LETTERS;
  if (plain == n) {
    return n == 1 || is_short ? 0.0F : after_term ? 1.0F : PLAIN_LIMIT;
  }
  if (is_short || (finder->foreign && n == 1)) {
    return SHORT_LIMIT;
  }
  return strange > 0 ? MIXED_LIMIT : 1.0F;
}

/// Whether all words are ordinary ones, and one of them alone is nearer to a term: "a diagonal" is no "en diagonale".
static CwStatus is_nearer_alone(CwFinder *finder, size_t first, size_t n, const CwKnown *found, bool *nearer)
{
  CwStatus status = CW_OK;
  bool plain = true;
  *nearer = false;
  for (size_t i = first; i < first + n && status == CW_OK; i++) {
    CwKnown alone;
    status = look_up(finder, i, 1, &alone);
    plain = plain && finder->place[i + 1].plain;
    *nearer = *nearer || (alone.form != CW_NO_FORM && !alone.proper && alone.distance < found->distance);
  }
  *nearer = *nearer && plain;
  return status;
}

/// Whether the words may be taken for what they sound like.
static CwStatus is_likely(CwFinder *finder, size_t first, size_t n, const CwKnown *found, bool after_term, bool *likely)
{
  bool nearer = false;
  if (found->form == CW_NO_FORM || found->proper) {
    *likely = found->proper;
    return CW_OK;
  }
  *likely = found->distance < limit_of(finder, first, n, &finder->glossary->form[found->form], after_term);
  const CwStatus status = *likely ? is_nearer_alone(finder, first, n, found, &nearer) : CW_OK;
  *likely = *likely && !nearer;
  return status;
}

/// The best way to take the words up to and with word `i`.
static CwStatus settle(CwFinder *finder, size_t segment, size_t i)
{
  CwPlace *place = &finder->place[i + 1];
  place->worth = finder->place[i].worth;
  place->n = 0;
  for (size_t n = 1; n <= MOST_WORDS && i + 1 >= segment + n; n++) {
    const size_t first = i + 1 - n;
    const CwPlace *before = &finder->place[first];
    CwKnown found;
    bool likely = false;
    CwStatus status = look_up(finder, first, n, &found);
    if (status == CW_OK) {
      status = is_likely(finder, first, n, &found, first > segment && before->n > 0, &likely);
    }
    if (status != CW_OK) {
      return status;
    }
    if (!likely) {
      continue;
    }
    const float letters = (float)finder->glossary->form[found.form].joined.n;
    const float worth = before->worth + letters * (1.0F - DOUBT * found.distance) - 0.1F;
    if (worth > place->worth) {
      place->worth = worth;
      place->n = (uint32_t)n;
      place->found = found;
    }
  }
  return CW_OK;
}

/// Whether a word is to be left alone.
static bool is_plain(const CwFinder *finder, const CwWord *word, const char *language)
{
  size_t n = 0;
  const CwPlainWord *plain = cw_plain_words(finder->glossary, word->letter, word->n, &n);
  bool any = false;
  for (size_t i = 0; i < n && word->n > 0; i++) {
    any = any || plain[i].language[0] == '\0' || strncmp(plain[i].language, language, 2) == 0;
  }
  return any;
}

static CwStatus collect(CwFinder *finder)
{
  size_t n = 0;
  for (size_t i = finder->words.n; i > 0; i -= finder->place[i].n ? finder->place[i].n : 1) {
    n += finder->place[i].n > 0;
  }
  while (finder->match_room < n) {
    if (!cw_grow(&finder->match, &finder->match_room, finder->match_room, sizeof *finder->match)) {
      return CW_ERR_NO_MEM;
    }
  }
  finder->n_matches = n;
  for (size_t i = finder->words.n; i > 0;) {
    const CwPlace *place = &finder->place[i];
    if (place->n > 0) {
      finder->match[--n] =
          (CwMatch){i - place->n, place->n, place->found.form, place->found.proper, place->found.distance};
    }
    i -= place->n ? place->n : 1;
  }
  return CW_OK;
}

CwStatus cw_finder_run(CwFinder *finder, const char *text, size_t size, const char *language)
{
  finder->n_matches = 0;
  CwStatus status = cw_words_read(text, size, &finder->words);
  while (status == CW_OK && finder->place_room <= finder->words.n) {
    if (!cw_grow(&finder->place, &finder->place_room, finder->place_room, sizeof *finder->place)) {
      status = CW_ERR_NO_MEM;
    }
  }
  if (status != CW_OK || finder->words.n == 0) {
    return status;
  }
  char of[3] = "";
  for (size_t i = 0; language && i < 2 && language[i] != '\0'; i++) {
    of[i] = (char)(language[i] >= 'A' && language[i] <= 'Z' ? language[i] - 'A' + 'a' : language[i]);
  }
  if (!language) {
    CwTelling telling = {0};
    cw_tell_language(finder->glossary, &finder->words, &telling);
    memcpy(of, cw_told_language(&telling), sizeof of);
  }
  finder->foreign = of[0] != '\0' && strcmp(of, "en") != 0;
  finder->place[0] = (CwPlace){.worth = 0};
  for (size_t i = 0; i < finder->words.n; i++) {
    const CwWord *word = &finder->words.word[i];
    finder->place[i + 1].plain = is_plain(finder, word, of);
  }
  size_t segment = 0;
  for (size_t i = 0; i < finder->words.n && status == CW_OK; i++) {
    segment = finder->words.word[i].joint == CW_APART ? i : segment;
    status = settle(finder, segment, i);
  }
  return status == CW_OK ? collect(finder) : status;
}

void cw_finder_free(CwFinder *finder)
{
  cw_words_free(&finder->words);
  free(finder->match);
  free(finder->place);
  free(finder->known);
  *finder = (CwFinder){.glossary = finder->glossary};
}
