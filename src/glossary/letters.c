// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/letters.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "glossary/words.h"

#define MARK_COST 0.05F   // an accent left out
#define DOUBLE_COST 0.35F // "bb" for "b"
#define VOWEL_COST 0.7F   // one vowel for another
#define SWAP_COST 0.8F

void cw_letters_add(const unsigned char *letter, size_t n, CwLetters *letters)
{
  for (size_t i = 0; i < n && letters->n < CW_LONGEST_SPELLING; i++) {
    letters->letter[letters->n++] = letter[i];
  }
}

static float change_cost(unsigned char left, unsigned char right)
{
  if (left == right) {
    return 0;
  }
  const unsigned char a = cw_bare_letter(left);
  const unsigned char b = cw_bare_letter(right);
  if (a == b) {
    return MARK_COST;
  }
  return strchr("aeiouy", a) && strchr("aeiouy", b) ? VOWEL_COST : 1.0F;
}

/// Of a letter that the other spelling lacks.
static float lone_cost(const CwLetters *letters, size_t i)
{
  return i > 0 && letters->letter[i] == letters->letter[i - 1] ? DOUBLE_COST : 1.0F;
}

static float swap_cost(const CwLetters *left, size_t i, const CwLetters *right, size_t j)
{
  if (i < 2 || j < 2 || left->letter[i - 1] == left->letter[i - 2]) {
    return INFINITY;
  }
  const bool swapped = cw_bare_letter(left->letter[i - 1]) == cw_bare_letter(right->letter[j - 2]) &&
                       cw_bare_letter(left->letter[i - 2]) == cw_bare_letter(right->letter[j - 1]);
  return swapped ? SWAP_COST : INFINITY;
}

float cw_letters_distance(const CwLetters *left, const CwLetters *right, float limit)
{
  float row[3][CW_LONGEST_SPELLING + 1]; // of the last three letters of `left`
  row[0][0] = 0;
  for (size_t j = 1; j <= right->n; j++) {
    row[0][j] = row[0][j - 1] + lone_cost(right, j - 1);
  }
  for (size_t i = 1; i <= left->n; i++) {
    float *now = row[i % 3];
    const float *before = row[(i + 2) % 3];
    const float out = lone_cost(left, i - 1);
    now[0] = before[0] + out;
    float least = now[0];
    for (size_t j = 1; j <= right->n; j++) {
      const float changed = before[j - 1] + change_cost(left->letter[i - 1], right->letter[j - 1]);
      const float lone = fminf(before[j] + out, now[j - 1] + lone_cost(right, j - 1));
      const float swap = swap_cost(left, i, right, j);
      now[j] = fminf(changed, lone);
      now[j] = isinf(swap) ? now[j] : fminf(now[j], row[(i + 1) % 3][j - 2] + swap);
      least = fminf(least, now[j]);
    }
    if (least > limit + SWAP_COST) {
      return least;
    }
  }
  return row[left->n % 3][right->n];
}
