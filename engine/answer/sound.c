#include "answer/sound.h"

#include <string.h>

/* ---- Letters ------------------------------------------------------------------------------------- */

static bool is_vowel_letter(char letter)
{
    return letter && strchr("aeiou", letter);
}

static bool starts(const char *at, const char *with)
{
    return strncmp(at, with, strlen(with)) == 0;
}

static bool ends_here(const char *at, const char *with)
{
    return strcmp(at, with) == 0;
}

static bool is_soft(char next)
{
    return next == 'e' || next == 'i' || next == 'y';
}

/* A y is a vowel unless a vowel follows at the word's beginning or behind another one ("year", "beyond"). */
static bool is_vowel_at(const char *word, const char *at)
{
    return is_vowel_letter(*at)
        || (*at == 'y' && (!is_vowel_letter(at[1]) || (at > word && !is_vowel_letter(at[-1]))));
}

/* ---- Consonants ---------------------------------------------------------------------------------- */

struct spelling {
    const char *letters, *sound;
    size_t taken;               /* of the letters; the rest only has to follow */
};

/* The first that fits counts. */
static const struct spelling spellings[] = {
    {"tch", "2", 3}, {"ssion", "1n", 5}, {"tion", "1n", 4}, {"sion", "1n", 4}, {"cian", "1n", 4}, {"shun", "1n", 4},
    {"shon", "1n", 4}, {"tia", "1", 1}, {"cia", "1", 1}, {"cio", "1", 1}, {"ssure", "1", 2}, {"sure", "1", 1},
    {"sch", "sk", 3}, {"sh", "1", 2}, {"chl", "k", 2}, {"chr", "k", 2}, {"chem", "k", 2}, {"ch", "2", 2}, {"ph", "f", 2},
    {"th", "3", 2}, {"wh", "w", 2}, {"ck", "k", 2}, {"qu", "kw", 2}, {"q", "k", 1}, {"x", "ks", 1}, {"bt", "t", 2},
    {"sce", "s", 2}, {"sci", "s", 2}, {"scy", "s", 2}, {"dge", "j", 2}, {"z", "s", 1},
};

static const char *const silent_gh[] = {"through", "though", "although", "plough", "dough", "thorough", "borough"};

static bool gh_is_f(const char *word, const char *at)
{
    for (size_t i = 0; i < sizeof silent_gh / sizeof *silent_gh; i++)
        if (strcmp(word, silent_gh[i]) == 0)
            return false;
    return at - word >= 3 && at[2] == '\0' && at[-1] == 'u' && (at[-2] == 'o' || at[-2] == 'a');
}

struct sounding {
    const char *word;
    struct sound sound;
    size_t count;
};

static void emit(struct sounding *sounding, char sound)
{
    bool doubled = sounding->count && sounding->sound.text[sounding->count - 1] == sound;
    if (!doubled && sounding->count + 1 < SOUND_BYTES)
        sounding->sound.text[sounding->count++] = sound;
}

static char single_consonant(const char *at)
{
    if (*at == 'c')
        return is_soft(at[1]) ? 's' : 'k';
    if (*at == 'g')
        return is_soft(at[1]) ? 'j' : 'g';
    return *at;
}

/* At the word's ends: kn, wr and mb lose a letter, -ed is d or t. How many letters were taken; 0: nothing special. */
static size_t take_end(struct sounding *sounding, const char *at)
{
    if (at == sounding->word && (starts(at, "kn") || starts(at, "wr"))) {
        emit(sounding, at[1]);
        return 2;
    }
    if (ends_here(at, "mb")) {
        emit(sounding, 'm');
        return 2;
    }
    if (starts(at, "gh")) {
        if (at == sounding->word || gh_is_f(sounding->word, at))
            emit(sounding, at == sounding->word ? 'g' : 'f');
        return 2;
    }
    return 0;
}

static size_t take_consonant(struct sounding *sounding, const char *at)
{
    size_t taken = take_end(sounding, at);
    if (taken)
        return taken;
    for (size_t i = 0; i < sizeof spellings / sizeof *spellings; i++) {
        if (!starts(at, spellings[i].letters))
            continue;
        for (const char *sound = spellings[i].sound; *sound; sound++)
            emit(sounding, *sound);
        return spellings[i].taken;
    }
    if (*at != '\'')
        emit(sounding, single_consonant(at));
    return 1;
}

/* ---- Vowels -------------------------------------------------------------------------------------- */

struct vowels {
    const char *letters;
    char sound;
};

static const struct vowels long_vowels[] = {
    {"ai", 'A'}, {"ay", 'A'}, {"ei", 'A'}, {"ey", 'A'}, {"ee", 'E'}, {"ea", 'E'}, {"ie", 'E'}, {"ae", 'E'}, {"igh", 'I'},
    {"oa", 'O'}, {"oo", 'U'}, {"ew", 'U'}, {"ue", 'U'}, {"ui", 'U'}, {"ou", 'W'}, {"ow", 'W'}, {"aw", 'R'}, {"au", 'R'},
    {"or", 'R'}, {"oar", 'R'}, {"our", 'R'}, {"oor", 'R'}, {"er", 'X'}, {"ir", 'X'}, {"ur", 'X'}, {"ear", 'X'}, {"re", 'X'},
    {"ar", 'Y'}, {"ore", 'R'}, {"ure", 'X'}, {"are", 'A'}, {"ere", 'E'}, {"ire", 'I'},
};

/* The letters of one vowel: with a w, h or r behind it that no spoken vowel follows. */
static size_t vowel_length(const char *word, const char *at)
{
    size_t length = 0;
    while (is_vowel_at(word, at + length))
        length++;
    if (ends_here(at + length, "re"))
        return length + 2;
    while (at[length] && strchr("wrh", at[length]) && !is_vowel_at(word, at + length + 1) && at[length + 1] != at[length])
        length++;
    return length;
}

static bool makes_long(const char *behind)
{
    return *behind && !is_vowel_letter(*behind) && ends_here(behind + 1, "e");
}

static char vowel_sound(const char *at, size_t length)
{
    if (starts(at, "igh"))
        return 'I';
    for (size_t i = 0; i < sizeof long_vowels / sizeof *long_vowels; i++)
        if (strlen(long_vowels[i].letters) == length && starts(at, long_vowels[i].letters))
            return long_vowels[i].sound;
    char letter = *at == 'y' ? 'i' : *at;
    return length == 1 && makes_long(at + 1) ? (char)(letter - 'a' + 'A') : letter;
}

/* ---- The whole word ------------------------------------------------------------------------------ */

static bool is_unvoiced(char sound)
{
    return sound && strchr("sfkpt12", sound);
}

/* Endings that are not spoken as they are written: a silent e, -le, and -ed behind a consonant. */
static size_t take_ending(struct sounding *sounding, const char *at)
{
    if (at == sounding->word || is_vowel_at(sounding->word, at - 1) || !sounding->count)
        return 0;
    char last = sounding->sound.text[sounding->count - 1];
    if (ends_here(at, "e"))
        return 1;
    if (ends_here(at, "le")) {
        emit(sounding, 'u');
        emit(sounding, 'l');
        return 2;
    }
    if (!ends_here(at, "ed") || last == 't' || last == 'd' || sounding->count < 3)
        return 0;
    emit(sounding, is_unvoiced(last) ? 't' : 'd');
    return 2;
}

struct sound sound_of(const char *folded)
{
    struct sounding sounding = {.word = folded};
    for (const char *at = folded; *at;) {
        size_t taken = take_ending(&sounding, at);
        if (!taken && is_vowel_at(folded, at)) {
            taken = vowel_length(folded, at);
            emit(&sounding, vowel_sound(at, taken));
        } else if (!taken)
            taken = take_consonant(&sounding, at);
        at += taken;
    }
    return sounding.sound;
}

static bool is_vowel_sound(char sound)
{
    return sound && strchr("aeiouAEIOUWRXY", sound);
}

bool sound_same_frame(const struct sound *one, const struct sound *other, size_t *vowels)
{
    *vowels = 0;
    size_t i = 0;
    for (; one->text[i] && other->text[i]; i++) {
        if (one->text[i] == other->text[i])
            continue;
        if (!is_vowel_sound(one->text[i]) || !is_vowel_sound(other->text[i]))
            return false;
        *vowels += one->text[i] != 'W' && other->text[i] != 'W';    /* "ou" may be anything: enough, cough, soup */
    }
    return one->text[i] == other->text[i];
}

size_t sound_consonants(const struct sound *sound)
{
    size_t count = 0;
    for (const char *at = sound->text; *at; at++)
        count += !is_vowel_sound(*at);
    return count;
}
