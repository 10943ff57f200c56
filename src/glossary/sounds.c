// SPDX-License-Identifier: GPL-3.0-or-later
#include "glossary/sounds.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "glossary/words.h"

// The sounds:
//   a e E i o u  vowels; E is the open e    @  as in "le"    A I  nasal: "en", "on"; "in", "un"
//   w y          glides                     S Z  "ch", "j"    b p d t k g f v s z l r m n
//   T D P X      t d p s at a word's end, mostly silent       R  an r that many do not say
//   2            an e at a word's end: silent, or é without its accent
//   3            "ee" at a word's end: of "née" without its accent, or English

/// What must follow a pattern.
typedef enum { ANY, END, CLOSED, VOWEL, SOFT } Follows;

/// Letters and their sounds. Marked letters are capitals: E is é, G is è or ê, C is ç, I is ï; other marks are left out.
typedef struct {
  const char *letters;
  Follows follows; ///< END: nothing, or a last s. CLOSED: a consonant or nothing. SOFT: e, i or y
  const char *sounds;
} Rule;

/// Of the rules that fit, the first is taken.
static const Rule rules[] = {
    // several vowels
    {"eau", ANY, "o"},
    {"aux", END, "oX"},
    {"aun", CLOSED, "A"},
    {"awn", CLOSED, "A"},
    {"au", ANY, "o"},
    {"aw", CLOSED, "o"},
    {"ain", CLOSED, "I"},
    {"aim", CLOSED, "I"},
    {"aill", ANY, "ay"},
    {"air", END, "ER"},
    {"ai", ANY, "E"},
    {"ay", CLOSED, "e"},
    {"ay", VOWEL, "ey"},
    {"ahn", CLOSED, "A"},
    {"ahm", CLOSED, "A"},
    {"ah", CLOSED, "a"},
    {"ae", ANY, "e"},
    {"aa", ANY, "a"},
    {"ouill", ANY, "uy"},
    {"ou", VOWEL, "w"},
    {"oue", END, "u2"},
    {"ou", ANY, "u"},
    {"ooh", ANY, "u"},
    {"oo", VOWEL, "w"},
    {"oo", ANY, "u"},
    {"oin", CLOSED, "wI"},
    {"oi", ANY, "wa"},
    {"oy", VOWEL, "way"},
    {"oy", ANY, "wa"},
    {"oeu", ANY, "@"},
    {"oe", CLOSED, "o"},
    {"ow", VOWEL, "w"},
    {"ow", ANY, "o"},
    {"oh", CLOSED, "o"},
    {"onn", ANY, "on"},
    {"omm", ANY, "om"},
    {"on", CLOSED, "A"},
    {"om", CLOSED, "A"},
    {"ann", ANY, "an"},
    {"amm", ANY, "am"},
    {"an", CLOSED, "A"},
    {"am", CLOSED, "A"},
    {"enn", ANY, "En"},
    {"emm", ANY, "Em"},
    {"en", CLOSED, "A"},
    {"em", CLOSED, "A"},
    {"inn", ANY, "in"},
    {"imm", ANY, "im"},
    {"ien", CLOSED, "yI"},
    {"in", CLOSED, "I"},
    {"im", CLOSED, "I"},
    {"un", CLOSED, "I"},
    {"ein", CLOSED, "I"},
    {"ei", ANY, "E"},
    {"eye", END, "ay"},
    {"ey", CLOSED, "e"},
    {"ey", VOWEL, "ey"},
    {"ee", END, "3"},
    {"ee", VOWEL, "i"},
    {"ee", ANY, "i"},
    {"ea", ANY, "i"},
    {"ew", ANY, "u"},
    {"eux", END, "@X"},
    {"euh", ANY, "@"},
    {"eu", ANY, "@"},
    {"eh", CLOSED, "E"},
    {"er", END, "eR"},
    {"ez", END, "e"},
    {"et", END, "ET"},
    {"uh", ANY, "@"},
    {"ur", CLOSED, "@R"},
    {"ue", END, "u2"},
    {"ue", ANY, "u@"},
    {"ui", ANY, "wi"},
    {"ih", CLOSED, "i"},
    {"ill", VOWEL, "iy"},
    {"yay", END, "ye"},
    {"ye", END, "ay"},
    {"y", VOWEL, "y"},
    {"y", ANY, "i"},
    // single vowels
    {"E", ANY, "e"},
    {"G", ANY, "E"},
    {"I", ANY, "i"},
    {"e", END, "2"},
    {"e", ANY, "@"},
    {"a", ANY, "a"},
    {"i", ANY, "i"},
    {"o", ANY, "o"},
    {"u", ANY, "u"},
    // consonants
    {"tsch", ANY, "S"},
    {"tch", ANY, "S"},
    {"sch", ANY, "S"},
    {"sh", ANY, "S"},
    {"ch", ANY, "S"},
    {"zh", ANY, "Z"},
    {"dj", ANY, "Z"},
    {"dg", SOFT, "Z"},
    {"j", ANY, "Z"},
    {"gn", ANY, "ny"},
    {"gu", SOFT, "g"},
    {"gh", ANY, "g"},
    {"g", SOFT, "Z"},
    {"g", ANY, "g"},
    {"ck", ANY, "k"},
    {"cq", ANY, "k"},
    {"qu", ANY, "k"},
    {"q", ANY, "k"},
    {"k", ANY, "k"},
    {"C", ANY, "s"},
    {"sc", SOFT, "s"},
    {"c", SOFT, "s"},
    {"c", ANY, "k"},
    {"ph", ANY, "f"},
    {"th", ANY, "t"},
    {"ss", ANY, "s"},
    {"mps", END, "mPX"},
    {"ts", END, "TX"},
    {"ds", END, "DX"},
    {"ps", END, "PX"},
    {"tt", ANY, "t"},
    {"t", END, "T"},
    {"d", END, "D"},
    {"p", END, "P"},
    {"x", END, "X"},
    {"z", END, "X"},
    {"s", END, "X"},
    {"s", VOWEL, "s"},
    {"x", ANY, "ks"},
    {"r", CLOSED, "R"},
    {"h", ANY, ""},
};

static char rule_letter(unsigned char letter)
{
  switch (letter) {
  case CW_E_ACUTE:
    return 'E';
  case CW_E_GRAVE:
  case CW_E_CIRCUMFLEX:
  case CW_E_DIAERESIS:
    return 'G';
  case CW_I_DIAERESIS:
    return 'I';
  case CW_C_CEDILLA:
    return 'C';
  default:
    return (char)cw_bare_letter(letter);
  }
}

static bool is_vowel(char c)
{
  return c != '\0' && strchr("aeiouyEGI", c) != NULL;
}

static bool follows(const char *rest, Follows wanted)
{
  switch (wanted) {
  case END:
    return rest[0] == '\0' || (rest[0] == 's' && rest[1] == '\0');
  case CLOSED:
    return !is_vowel(rest[0]);
  case VOWEL:
    return is_vowel(rest[0]);
  case SOFT:
    return rest[0] != '\0' && strchr("eiyEG", rest[0]) != NULL;
  case ANY:
    break;
  }
  return true;
}

static const Rule *find_rule(const char *word)
{
  for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
    const size_t n = strlen(rules[i].letters);
    if (strncmp(word, rules[i].letters, n) == 0 && follows(word + n, rules[i].follows)) {
      return &rules[i];
    }
  }
  return NULL;
}

static void put(CwSounds *sounds, char sound)
{
  if (sounds->n < CW_MOST_SOUNDS) {
    sounds->sound[sounds->n++] = sound;
  }
}

/// An e within a word: open before several consonants, as in "ser-ré" and "bask", else as in "le".
static char inner_e(const char *rest)
{
  const bool open = rest[0] != '\0' && !is_vowel(rest[0]) && rest[1] != '\0' && !is_vowel(rest[1]) &&
                    !(rest[1] == 'h' || rest[1] == 'r' || rest[1] == 'l');
  return open || (rest[0] != '\0' && rest[0] == rest[1]) ? 'E' : '@';
}

void cw_sounds_add(const unsigned char *letter, size_t n, CwSounds *sounds)
{
  char word[CW_MOST_LETTERS + 1];
  for (size_t i = 0; i < n; i++) {
    word[i] = rule_letter(letter[i]);
  }
  word[n] = '\0';
  for (size_t i = 0; i < n;) {
    const Rule *rule = find_rule(word + i);
    const char *sound = rule ? rule->sounds : (char[]){word[i], '\0'};
    const size_t length = rule ? strlen(rule->letters) : 1;
    const bool between = i > 0 && is_vowel(word[i - 1]);
    const bool doubled = length == 1 && i > 0 && word[i] == word[i - 1] && !is_vowel(word[i]);
    if (length == 1 && word[i] == 'e' && sound[0] == '@') {
      put(sounds, inner_e(word + i + 1));
    } else if (rule && rule->follows == VOWEL && word[i] == 's' && between) {
      put(sounds, 'z');
    } else if (!doubled) {
      for (size_t k = 0; sound[k] != '\0'; k++) {
        put(sounds, sound[k]);
      }
    }
    i += length;
  }
}

/// How hard a sound is to miss: what it costs to leave it out.
static float weight_of(char sound)
{
  static const struct {
    const char *sounds;
    float weight;
  } table[] = {{"TDPX2", 0.1F}, {"@R", 0.25F}, {"wy", 0.35F}, {"aeEiou3rn", 0.6F}, {"AIlm", 0.7F}};
  for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
    if (sound != '\0' && strchr(table[i].sounds, sound)) {
      return table[i].weight;
    }
  }
  return 1.0F;
}

/// Sounds that are taken for one another.
static const struct {
  char pair[3];
  float cost;
} alike[] = {
    {"SZ", 0.25F}, {"Zz", 0.5F},  {"sz", 0.15F}, {"Ss", 0.5F},  {"Zs", 0.6F},  {"kg", 0.5F},  {"pb", 0.5F},
    {"td", 0.5F},  {"fv", 0.5F},  {"mn", 0.35F}, {"lr", 0.7F},  {"vw", 0.5F},  {"rR", 0.05F}, {"tT", 0.1F},
    {"dD", 0.1F},  {"pP", 0.1F},  {"sX", 0.1F},  {"zX", 0.1F},  {"TD", 0.05F}, {"TP", 0.08F}, {"TX", 0.08F},
    {"DX", 0.08F}, {"PX", 0.08F}, {"DP", 0.08F}, {"yi", 0.1F},  {"y3", 0.15F}, {"wu", 0.15F}, {"wo", 0.3F},
    {"aA", 0.3F},  {"oA", 0.2F},  {"ao", 0.35F}, {"a@", 0.25F}, {"aE", 0.35F}, {"eE", 0.12F}, {"e3", 0.1F},
    {"i3", 0.05F}, {"e2", 0.2F},  {"32", 0.2F},  {"E2", 0.2F},  {"@2", 0.1F},  {"e@", 0.25F}, {"E@", 0.1F},
    {"@u", 0.3F},  {"@o", 0.35F}, {"@i", 0.4F},  {"@A", 0.4F},  {"ei", 0.3F},  {"Ei", 0.35F}, {"ou", 0.35F},
    {"ui", 0.4F},  {"ea", 0.45F}, {"IA", 0.3F},  {"Ia", 0.4F},  {"IE", 0.3F},  {"Ie", 0.35F}, {"a2", 0.3F},
    {"Ii", 0.35F}, {"uA", 0.5F},  {"AE", 0.4F},
};

static bool is_vowel_sound(char sound)
{
  return sound != '\0' && strchr("aeEiou@AI23", sound);
}

void cw_sound_costs_make(CwSoundCosts *costs)
{
  for (int i = 0; i < CW_N_SOUNDS; i++) {
    costs->out[i] = weight_of((char)i);
  }
  for (int i = 0; i < CW_N_SOUNDS; i++) {
    for (int k = 0; k < CW_N_SOUNDS; k++) {
      const bool vowels = is_vowel_sound((char)i) && is_vowel_sound((char)k);
      costs->change[i][k] = i == k ? 0.0F : vowels ? 0.5F : fminf(costs->out[i] + costs->out[k], 1.0F);
    }
  }
  for (size_t i = 0; i < sizeof alike / sizeof alike[0]; i++) {
    const int left = alike[i].pair[0];
    const int right = alike[i].pair[1];
    costs->change[left][right] = alike[i].cost;
    costs->change[right][left] = alike[i].cost;
  }
}

float cw_sounds_weight(const CwSoundCosts *costs, const CwSounds *sounds)
{
  float weight = 0;
  for (size_t i = 0; i < sounds->n; i++) {
    weight += costs->out[(int)sounds->sound[i]];
  }
  return weight;
}

float cw_sounds_distance(const CwSoundCosts *costs, const CwSounds *left, const CwSounds *right, float limit)
{
  float row[2][CW_MOST_SOUNDS + 1];
  row[0][0] = 0;
  for (size_t j = 1; j <= right->n; j++) {
    row[0][j] = row[0][j - 1] + costs->out[(int)right->sound[j - 1]];
  }
  for (size_t i = 1; i <= left->n; i++) {
    const float *before = row[(i + 1) % 2];
    float *now = row[i % 2];
    const int sound = left->sound[i - 1];
    now[0] = before[0] + costs->out[sound];
    float least = now[0];
    for (size_t j = 1; j <= right->n; j++) {
      const int other = right->sound[j - 1];
      const float changed = before[j - 1] + costs->change[sound][other];
      const float lone = fminf(before[j] + costs->out[sound], now[j - 1] + costs->out[other]);
      now[j] = changed < lone ? changed : lone;
      least = now[j] < least ? now[j] : least;
    }
    if (least > limit) {
      return least;
    }
  }
  return row[left->n % 2][right->n];
}
