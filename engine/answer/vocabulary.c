#include "answer/words.h"

#include <assert.h>
#include <string.h>

#include "answer/lexicon.h"
#include "answer/sound.h"
#include "base/hash.h"
#include "base/text.h"

/* What a word sounds like, and its stem. */
struct heard {
    struct sound whole, stem;
};

struct slot {
    struct word word;           /* stem NULL: free */
    struct heard heard;
};

/* Open addressing; slots is a power of two and at most half full, so that a search ends. */
struct vocabulary {
    struct arena *arena;
    struct slot *slots;
    size_t slot_count, count;
};

enum {
    FIRST_SLOTS = 256,
    SLIPS_ONE_FROM = 5, SLIPS_TWO_FROM = 9,             /* characters */
    HEARD_FROM = 4, CONSONANTS_HEARD = 2,               /* shorter words sound like too many others */
    LETTERS_APART = 3, VOWELS_APART = 2                 /* one letter more from SLIPS_TWO_FROM; no vowel at HEARD_FROM */
};

struct vocabulary *vocabulary_new(struct arena *arena)
{
    struct vocabulary *vocabulary = arena_get(arena, sizeof *vocabulary);
    *vocabulary = (struct vocabulary){arena, arena_get_array(arena, FIRST_SLOTS, sizeof(struct slot)), FIRST_SLOTS, 0};
    return vocabulary;
}

static struct slot *slot_of(const struct vocabulary *vocabulary, const char *stem)
{
    size_t mask = vocabulary->slot_count - 1;
    size_t at = (size_t)hash_bytes(0, stem, strlen(stem)) & mask;
    while (vocabulary->slots[at].word.stem && strcmp(vocabulary->slots[at].word.stem, stem) != 0)
        at = (at + 1) & mask;
    return &vocabulary->slots[at];
}

static void grow(struct vocabulary *vocabulary)
{
    struct slot *old = vocabulary->slots;
    size_t old_count = vocabulary->slot_count;
    vocabulary->slot_count *= 2;
    vocabulary->slots = arena_get_array(vocabulary->arena, vocabulary->slot_count, sizeof *old);
    for (size_t i = 0; i < old_count; i++)
        if (old[i].word.stem)
            *slot_of(vocabulary, old[i].word.stem) = old[i];
}

static struct heard heard(const struct word *word)
{
    return (struct heard){sound_of(word->folded), sound_of(word->stem)};
}

void vocabulary_add_text(struct vocabulary *vocabulary, const char *text)
{
    struct words words = words_of(text, vocabulary->arena);
    for (size_t i = 0; i < words.count; i++) {
        struct slot *slot = slot_of(vocabulary, words.items[i].stem);
        if (slot->word.stem)
            continue;
        *slot = (struct slot){words.items[i], heard(&words.items[i])};
        if (++vocabulary->count * 2 >= vocabulary->slot_count)
            grow(vocabulary);
    }
}

bool vocabulary_holds(const struct vocabulary *vocabulary, const struct word *word)
{
    return slot_of(vocabulary, word->stem)->word.stem != NULL;
}

size_t vocabulary_count(const struct vocabulary *vocabulary)
{
    return vocabulary->count;
}

/* ---- What a course and a question say ------------------------------------------------------------ */

static void add_line(struct buffer *out, const char *text)
{
    if (text)
        buffer_print(out, "%s\n", text);
}

static void add_lines(struct buffer *out, const char *const *texts, size_t count)
{
    for (size_t i = 0; i < count; i++)
        add_line(out, texts[i]);
}

static void add_gathered(struct vocabulary *vocabulary, struct buffer *text)
{
    vocabulary_add_text(vocabulary, buffer_text(text));
    buffer_free(text);
}

void vocabulary_add_course(struct vocabulary *vocabulary, const struct course *course)
{
    struct buffer text = BUFFER_EMPTY;
    add_line(&text, course->name);
    for (size_t i = 0; i < course->topic_count; i++) {
        add_line(&text, course->topics[i].name);
        add_line(&text, course->topics[i].explain.ask);
        add_lines(&text, course->topics[i].explain.points, course->topics[i].explain.point_count);
    }
    for (size_t i = 0; i < course->word_count; i++)
        add_line(&text, course->words[i].word);
    for (size_t i = 0; i < course->constant_count; i++)
        add_line(&text, course->constants[i].name);
    add_gathered(vocabulary, &text);
}

static void add_node(struct buffer *text, const struct node *node)
{
    plain_add_rich(text, &node->text, NULL);
    buffer_add(text, "\n");
    add_lines(text, node->accepts.items, node->accepts.count);
    add_lines(text, node->ignores.items, node->ignores.count);
    add_lines(text, node->rejects.items, node->rejects.count);
    for (size_t i = 0; i < node->key_count; i++)
        add_lines(text, node->keys[i].alternatives, node->keys[i].count);
    for (size_t i = 0; i < node->child_count; i++)
        add_node(text, &node->children[i]);
    for (size_t i = 0; i < node->indicative_count; i++)
        add_node(text, &node->indicative[i]);
}

void vocabulary_add_scheme(struct vocabulary *vocabulary, const struct node *root)
{
    struct buffer text = BUFFER_EMPTY;
    add_node(&text, root);
    add_gathered(vocabulary, &text);
}

static void add_givens(struct buffer *text, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        add_line(text, givens[i].name);
}

void vocabulary_add_question(struct vocabulary *vocabulary, const struct question *question)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &question->stem, NULL);
    plain_add_blocks(&text, &question->note, NULL);
    add_givens(&text, question->givens, question->given_count);
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part *part = &question->parts[i];
        plain_add_blocks(&text, &part->ask, NULL);
        plain_add_blocks(&text, &part->model, NULL);
        plain_add_blocks(&text, &part->note, NULL);
        add_givens(&text, part->givens, part->given_count);
        add_node(&text, &part->scheme.root);
    }
    add_gathered(vocabulary, &text);
}

/* ---- Slips of the pen ---------------------------------------------------------------------------- */

bool word_is_known(const char *folded)
{
    return lexicon_known(folded);
}

static size_t characters(const char *text)
{
    size_t count = 0;
    for (; *text; text++)
        count += ((unsigned char)*text & 0xc0) != 0x80;
    return count;
}

/* How far apart two words may stand; 0: not at all. */
static size_t slips_allowed(const char *a, const char *b)
{
    size_t shorter = characters(a), other = characters(b);
    shorter = shorter < other ? shorter : other;
    return shorter >= SLIPS_TWO_FROM ? 2 : shorter >= SLIPS_ONE_FROM ? 1 : 0;
}

/* The distance, by whole words or by stems (for "limpits"), or a large one when it is out of bounds. */
static size_t slip_distance(const struct slot *typed, const struct slot *wanted)
{
    size_t least = SIZE_MAX;
    const char *const pairs[2][2] = {{typed->word.folded, wanted->word.folded}, {typed->word.stem, wanted->word.stem}};
    for (size_t i = 0; i < 2; i++) {
        size_t allowed = slips_allowed(pairs[i][0], pairs[i][1]);
        if (!allowed || pairs[i][0][0] != pairs[i][1][0])
            continue;
        size_t distance = text_distance(pairs[i][0], pairs[i][1], allowed);
        if (distance <= allowed && distance < least)
            least = distance;
    }
    return least;
}

/* ---- Spelt by ear -------------------------------------------------------------------------------- */

/* How far apart two texts are that sound alike: the letters that differ, and twice the vowels; SIZE_MAX when they do not. */
static size_t heard_distance(const char *typed, const struct sound *typed_sound, const char *wanted,
                             const struct sound *wanted_sound)
{
    size_t vowels;
    if (!sound_same_frame(typed_sound, wanted_sound, &vowels) || sound_consonants(typed_sound) < CONSONANTS_HEARD)
        return SIZE_MAX;
    size_t shorter = characters(typed), other = characters(wanted);
    shorter = shorter < other ? shorter : other;
    if (shorter < HEARD_FROM || vowels > (shorter > HEARD_FROM ? VOWELS_APART : 0))
        return SIZE_MAX;
    size_t allowed = shorter >= SLIPS_TWO_FROM ? LETTERS_APART + 1 : LETTERS_APART;
    size_t letters = text_distance(typed, wanted, allowed);
    return letters <= allowed ? letters + 2 * vowels : SIZE_MAX;
}

static size_t sound_distance(const struct slot *typed, const struct slot *wanted)
{
    size_t whole = heard_distance(typed->word.folded, &typed->heard.whole, wanted->word.folded, &wanted->heard.whole);
    size_t stems = heard_distance(typed->word.stem, &typed->heard.stem, wanted->word.stem, &wanted->heard.stem);
    return whole < stems ? whole : stems;
}

/* ---- As which word it is read -------------------------------------------------------------------- */

typedef size_t (*word_distance)(const struct slot *typed, const struct slot *wanted);

/* A slip of the pen before a spelling by ear. */
static const word_distance distances[] = {slip_distance, sound_distance};

static bool has_rival(const struct slot *typed, const struct slot *wanted, size_t distance, word_distance distance_of,
                      const struct vocabulary *vocabulary)
{
    for (size_t i = 0; i < vocabulary->slot_count; i++) {
        const struct slot *term = &vocabulary->slots[i];
        if (term->word.stem && !term->word.number && strcmp(term->word.stem, wanted->word.stem) != 0
            && distance_of(typed, term) <= distance)
            return true;
    }
    return false;
}

static bool is_strange(const struct word *typed, const struct vocabulary *vocabulary)
{
    return !typed->number && !word_is_known(typed->folded) && !vocabulary_holds(vocabulary, typed);
}

static bool is_misspelt(const struct slot *typed, const struct slot *wanted, const struct vocabulary *vocabulary)
{
    for (size_t i = 0; i < sizeof distances / sizeof *distances; i++) {
        size_t distance = distances[i](typed, wanted);
        if (distance != SIZE_MAX && !has_rival(typed, wanted, distance, distances[i], vocabulary))
            return true;
    }
    return false;
}

static bool has_sense_of(const struct word *typed, const struct word *wanted)
{
    return lexicon_says(typed->stem, wanted->stem) || lexicon_same_quality(typed->folded, wanted->folded);
}

enum word_match word_compare(const struct word *typed, const struct word *wanted, const struct vocabulary *vocabulary)
{
    if (typed->number || wanted->number)
        return text_equal(typed->folded, wanted->folded) ? WORD_MATCH_STEM : WORD_MATCH_NONE;
    if (strcmp(typed->stem, wanted->stem) == 0)
        return WORD_MATCH_STEM;
    if (!vocabulary)
        return WORD_MATCH_NONE;
    if (has_sense_of(typed, wanted))
        return WORD_MATCH_SENSE;
    if (!is_strange(typed, vocabulary))
        return WORD_MATCH_NONE;
    const struct slot one = {*typed, heard(typed)}, other = {*wanted, heard(wanted)};
    return is_misspelt(&one, &other, vocabulary) ? WORD_MATCH_SLIP : WORD_MATCH_NONE;
}

const struct word *word_meant(const struct word *typed, const struct vocabulary *vocabulary)
{
    const struct slot *same = slot_of(vocabulary, typed->stem);
    if (same->word.stem)
        return &same->word;
    bool strange = is_strange(typed, vocabulary);
    const struct slot one = {*typed, heard(typed)};
    for (size_t i = 0; i < vocabulary->slot_count; i++) {
        const struct slot *term = &vocabulary->slots[i];
        if (term->word.stem && !term->word.number
            && (has_sense_of(typed, &term->word) || (strange && is_misspelt(&one, term, vocabulary))))
            return &term->word;
    }
    return NULL;
}
