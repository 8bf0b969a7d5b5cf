#include "answer/words.h"

#include <assert.h>
#include <string.h>
#include <libstemmer.h>
#include <unictype.h>
#include <unistr.h>

#include "answer/lexicon.h"
#include "base/memory.h"
#include "base/text.h"

enum { LONGEST_STEMMED = 60 };      /* bytes; a longer run of letters is its own stem */

/* ---- Characters ---------------------------------------------------------------------------------- */

static bool is_letter(ucs4_t character)
{
    return uc_is_general_category_withtable(character, UC_CATEGORY_MASK_L | UC_CATEGORY_MASK_M);
}

static bool is_digit(ucs4_t character)
{
    return uc_is_general_category_withtable(character, UC_CATEGORY_MASK_N);
}

static bool is_apostrophe(ucs4_t character)
{
    return character == '\'' || character == 0x2019;
}

struct reader {
    const char *text;
    size_t length, at;
    size_t clause, sentence;
    bool clause_open, sentence_open;    /* a word stands in it */
};

static ucs4_t character_at(const struct reader *reader, size_t at, size_t *taken)
{
    if (at >= reader->length) {
        *taken = 0;
        return 0;
    }
    ucs4_t character;
    *taken = (size_t)u8_mbtouc(&character, (const uint8_t *)reader->text + at, reader->length - at);
    return character;
}

/* Does a mark inside a word or number belong to it? 3.5 and 1,030 are one number, don't is one word. */
static bool joins(const struct reader *reader, ucs4_t character, size_t next, bool after_digit)
{
    size_t taken;
    ucs4_t following = character_at(reader, next, &taken);
    if (is_apostrophe(character))
        return is_letter(following);
    return after_digit && (character == '.' || character == ',') && is_digit(following);
}

static void end_clause(struct reader *reader)
{
    if (reader->clause_open)
        reader->clause++;
    reader->clause_open = false;
}

static void end_sentence(struct reader *reader)
{
    end_clause(reader);
    if (reader->sentence_open)
        reader->sentence++;
    reader->sentence_open = false;
}

/* A full stop ends a sentence only before a space or the end: not in "e.g." or 3.5. */
static void read_mark(struct reader *reader, ucs4_t character, size_t next)
{
    bool spaced = next >= reader->length || strchr(" \t\r\n\"')", reader->text[next]);
    if (character == '\n' || character == ';' || (strchr(".!?", (int)(character < 128 ? character : ' ')) && spaced))
        end_sentence(reader);
    else if ((character < 128 && strchr(",:()[]", (int)character)) || character == 0x2013 || character == 0x2014)
        end_clause(reader);
}

/* ---- Stems --------------------------------------------------------------------------------------- */

/* One spelling for -ise and -ize: only the two sides of a comparison have to agree. */
static void spell_with_z(char *word)
{
    static const char *const endings[] = {"ise", "ised", "ises", "iser", "ising", "isation", "isations"};
    size_t length = strlen(word);
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        size_t ending = strlen(endings[i]);
        if (length >= ending + 4 && strcmp(word + length - ending, endings[i]) == 0)
            word[length - ending + 1] = 'z';
    }
}

static const char *stem_of(struct sb_stemmer *stemmer, const char *folded, struct arena *arena)
{
    bool final;
    const char *base = lexicon_irregular(folded, &final);
    if (final || strlen(folded) > LONGEST_STEMMED)
        return base ? base : folded;
    char *spelt = arena_copy_text(arena, base ? base : folded);
    spell_with_z(spelt);
    const sb_symbol *stem = sb_stemmer_stem(stemmer, (const sb_symbol *)spelt, (int)strlen(spelt));
    if (!stem)
        memory_exhausted();
    return arena_copy_bytes(arena, (const char *)stem, (size_t)sb_stemmer_length(stemmer));
}

static const char *folded_word(const char *text, struct quote at, struct arena *arena)
{
    struct buffer straight = BUFFER_EMPTY, folded = BUFFER_EMPTY;
    for (size_t i = 0; i < at.length; i++) {
        if (at.length - i >= 3 && memcmp(text + at.start + i, "\u2019", 3) == 0) {
            buffer_add_character(&straight, '\'');
            i += 2;
        } else
            buffer_add_character(&straight, text[at.start + i]);
    }
    text_add_case_folded(&folded, buffer_text(&straight));
    const char *copy = arena_copy_text(arena, buffer_text(&folded));
    buffer_free(&straight);
    buffer_free(&folded);
    return copy;
}

/* ---- Reading ------------------------------------------------------------------------------------- */

/* The word that begins at the reader's place, which is a letter or digit; moves the reader behind it. */
static struct quote read_word(struct reader *reader, bool *number)
{
    struct quote at = {reader->at, 0};
    bool after_digit = false;
    *number = true;
    for (;;) {
        size_t taken;
        ucs4_t character = character_at(reader, reader->at, &taken);
        bool inside = taken && (is_letter(character) || is_digit(character));
        if (!taken || (!inside && !joins(reader, character, reader->at + taken, after_digit)))
            break;
        after_digit = is_digit(character);
        *number = *number && !is_letter(character);
        reader->at += taken;
    }
    at.length = reader->at - at.start;
    return at;
}

static struct word make_word(struct reader *reader, struct sb_stemmer *stemmer, struct arena *arena)
{
    struct word word = {.number = false};
    word.at = read_word(reader, &word.number);
    word.folded = folded_word(reader->text, word.at, arena);
    word.stem = word.number ? word.folded : stem_of(stemmer, word.folded, arena);
    word.small = lexicon_small(word.folded);
    if (lexicon_opens_clause(word.folded))
        end_clause(reader);
    word.clause = reader->clause;
    word.sentence = reader->sentence;
    reader->clause_open = reader->sentence_open = true;
    return word;
}

static void add_word(struct word **items, size_t *count, size_t *capacity, struct word word, struct arena *arena)
{
    if (*count == *capacity) {
        *capacity = *capacity ? 2 * *capacity : 32;
        struct word *more = arena_get_array(arena, *capacity, sizeof *more);
        if (*count)
            memcpy(more, *items, *count * sizeof *more);
        *items = more;
    }
    (*items)[(*count)++] = word;
}

struct words words_of(const char *text, struct arena *arena)
{
    struct reader reader = {.text = text, .length = strlen(text)};
    struct sb_stemmer *stemmer = sb_stemmer_new("english", NULL);
    if (!stemmer)
        memory_exhausted();
    struct word *items = NULL;
    size_t count = 0, capacity = 0;
    while (reader.at < reader.length) {
        size_t taken;
        ucs4_t character = character_at(&reader, reader.at, &taken);
        assert(taken > 0);
        if (is_letter(character) || is_digit(character))
            add_word(&items, &count, &capacity, make_word(&reader, stemmer, arena), arena);
        else {
            read_mark(&reader, character, reader.at + taken);
            reader.at += taken;
        }
    }
    sb_stemmer_delete(stemmer);
    return (struct words){items, count, count ? items[count - 1].sentence + 1 : 0};
}

struct quote words_span(const struct words *words, size_t first, size_t last)
{
    assert(first <= last && last < words->count);
    size_t start = words->items[first].at.start;
    return (struct quote){start, words->items[last].at.start + words->items[last].at.length - start};
}

/* ---- Words that turn a meaning ------------------------------------------------------------------- */

enum direction word_direction(const struct word *word)
{
    return lexicon_up(word->stem) ? DIRECTION_UP : lexicon_down(word->stem) ? DIRECTION_DOWN : DIRECTION_NONE;
}

bool word_negates(const struct word *word)
{
    return lexicon_negates(word->folded);
}

bool word_links(const struct word *word)
{
    return lexicon_links(word->folded);
}

bool word_compares(const struct word *word)
{
    return lexicon_compares(word->folded) || word_direction(word) != DIRECTION_NONE;
}
