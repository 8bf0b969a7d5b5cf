#include "answer/reading.h"

#include <string.h>

#include "answer/inside.h"
#include "bank/commandwords.h"
#include "bank/scheme.h"
#include "base/text.h"
#include "quantity/formula.h"

/* ---- The command word ---------------------------------------------------------------------------- */

/* A slip of the pen is one character in a short word and two in a long one; it must lead to one word only, or a
 * student who meant another would be told what was not typed. */
static int nearest_word(const struct course *course, const char *typed)
{
    size_t length = strlen(typed), least = length >= 8 ? 2 : length >= 4 ? 1 : 0;
    int best = -1;
    for (size_t i = 0; i < course->word_count; i++) {
        size_t distance = text_distance(typed, course->words[i].word, least);
        if (distance > least)
            continue;
        best = distance == least && best >= 0 ? -2 : (int)i;
        least = distance;
    }
    return best < 0 ? -1 : best;
}

static int exact_word(const struct course *course, const char *typed)
{
    for (size_t i = 0; i < course->word_count; i++)
        if (text_equal_ignoring_case(course->words[i].word, typed))
            return (int)i;
    return -1;
}

struct word_reading reading_command_word(const struct course *course, const struct part *part, const char *typed)
{
    if (text_is_blank(typed))
        return (struct word_reading){WORD_BLANK, -1};
    struct arena *arena = arena_new();
    const char *folded = command_word_folded(arena, typed);
    int word = exact_word(course, folded);
    if (word < 0)
        word = nearest_word(course, folded);
    arena_free(arena);
    return (struct word_reading){word < 0 ? WORD_UNKNOWN : word == part->word ? WORD_RIGHT : WORD_OTHER, word};
}

/* ---- The givens ---------------------------------------------------------------------------------- */

/* The numbers written, and which of them were taken for a given. */
struct taken {
    const char *typed;
    struct candidates numbers;
    bool *used;
};

static const char *as_written(const struct taken *taken, size_t index, struct arena *arena)
{
    struct quote at = taken->numbers.items[index].at;
    return arena_copy_bytes(arena, taken->typed + at.start, at.length);
}

static void match(struct givens_reading *reading, struct taken *taken, enum given_verdict wanted, struct arena *arena)
{
    for (size_t i = 0; i < reading->count; i++) {
        struct given_reading *item = &reading->items[i];
        for (size_t k = 0; k < taken->numbers.count && item->value && item->verdict == GIVEN_OVERLOOKED; k++) {
            const struct candidate *number = &taken->numbers.items[k];
            if (taken->used[k] || given_fit(&number->number, number->unit, item->value) != wanted)
                continue;
            taken->used[k] = true;
            item->verdict = wanted;
            item->written = as_written(taken, k, arena);
        }
    }
}

/* A number of the data sheet, or one that stands in the text of the question, is nobody's mistake. */
static bool is_elsewhere(const struct number *number, const struct values *values, const struct candidates *asked)
{
    for (size_t i = 0; i < values->count; i++)
        if (!values->items[i].is_answer && given_fit(number, "", &values->items[i]) != GIVEN_OVERLOOKED)
            return true;
    for (size_t i = 0; i < asked->count; i++)
        if (decimal_compare(&asked->items[i].number.value, &number->value) == 0)
            return true;
    return false;
}

static void gather_extra(struct givens_reading *reading, const struct values *values, const struct candidates *asked,
                         const struct taken *taken, struct arena *arena)
{
    reading->extra = arena_get_array(arena, taken->numbers.count, sizeof *reading->extra);
    for (size_t i = 0; i < taken->numbers.count; i++)
        if (!taken->used[i] && !is_elsewhere(&taken->numbers.items[i].number, values, asked))
            reading->extra[reading->extra_count++] = as_written(taken, i, arena);
}

/* The numbers that the stem and the asks up to this part show. */
static struct candidates numbers_asked(const struct question *question, const struct part *part,
                                       const struct values *values, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &question->stem, values);
    for (size_t i = 0; i < question->part_count && &question->parts[i] != part; i++)
        plain_add_blocks(&text, &question->parts[i].ask, values);
    plain_add_blocks(&text, &part->ask, values);
    struct candidates asked = numbers_written(buffer_text(&text), arena);
    buffer_free(&text);
    return asked;
}

/* A drawn number that only serves to work out others is not shown, and naming it would give an answer away. */
static bool is_shown(const struct bound_value *value, const struct candidates *asked)
{
    for (size_t i = 0; value && i < asked->count; i++) {
        enum given_verdict fit = given_fit(&asked->items[i].number, asked->items[i].unit, value);
        if (fit == GIVEN_FOUND || fit == GIVEN_WITHOUT_UNIT)
            return true;
    }
    return false;
}

struct use {
    const char *symbol;
    bool found;
};

static void note_use(const char *name, void *context)
{
    struct use *use = context;
    use->found = use->found || strcmp(name, use->symbol) == 0;
}

static bool look_for_use(const struct node *point, void *context)
{
    struct formula_result unheeded;
    if (point->number && point->number->formula)
        formula_names(point->number->formula, note_use, context, &unheeded);
    return true;
}

static bool works_with(const struct part *part, const char *symbol)
{
    struct use use = {symbol, false};
    scheme_each_point(&part->scheme.root, look_for_use, &use);
    return use.found;
}

/* An earlier part worked with it, and this one does not. */
static bool is_spent(const struct question *question, const struct part *part, const struct given *given)
{
    bool before = false;
    for (size_t i = 0; i < question->part_count && &question->parts[i] != part; i++)
        before = before || works_with(&question->parts[i], given->symbol);
    return before && !works_with(part, given->symbol);
}

bool is_outcome(const struct part *part, const char *symbol)
{
    for (size_t i = 0; part->scheme.working_required && i < part->given_count; i++)
        if (part->givens[i].formula && strcmp(part->givens[i].symbol, symbol) == 0)
            return true;
    return false;
}

static void add_givens(struct givens_reading *reading, const struct question *question, const struct part *part, bool own,
                       const struct values *values, const struct candidates *asked)
{
    const struct given *givens = own ? part->givens : question->givens;
    size_t count = own ? part->given_count : question->given_count;
    for (size_t i = 0; i < count; i++) {
        const struct bound_value *value = values_find(values, givens[i].symbol);
        if (is_shown(value, asked) && !is_outcome(part, givens[i].symbol) && !is_spent(question, part, &givens[i]))
            reading->items[reading->count++] = (struct given_reading){&givens[i], value, GIVEN_OVERLOOKED, NULL};
    }
}

struct givens_reading reading_givens(const struct question *question, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena)
{
    struct givens_reading reading = {
        .items = arena_get_array(arena, question->given_count + part->given_count, sizeof *reading.items)};
    struct candidates asked = numbers_asked(question, part, values, arena);
    add_givens(&reading, question, part, false, values, &asked);
    add_givens(&reading, question, part, true, values, &asked);
    struct taken taken = {typed, numbers_written(typed, arena), NULL};
    taken.used = arena_get_array(arena, taken.numbers.count, sizeof *taken.used);
    /* Best fits first, or 1.5 without a unit would take the place of a later 1.5 m. */
    match(&reading, &taken, GIVEN_FOUND, arena);
    match(&reading, &taken, GIVEN_WITHOUT_UNIT, arena);
    match(&reading, &taken, GIVEN_WRONG_UNIT, arena);
    gather_extra(&reading, values, &asked, &taken, arena);
    return reading;
}

/* ---- What is wanted ------------------------------------------------------------------------------ */

static bool is_command_word(const char *command, const struct word *word, struct arena *arena)
{
    struct words words = words_of(command, arena);
    for (size_t i = 0; i < words.count; i++)
        if (strcmp(words.items[i].stem, word->stem) == 0)
            return true;
    return false;
}

static bool takes_up(const struct words *typed, const struct word *wanted, const struct vocabulary *vocabulary)
{
    for (size_t i = 0; i < typed->count; i++)
        if (word_compare(&typed->items[i], wanted, vocabulary) != WORD_MATCH_NONE)
            return true;
    return false;
}

static bool stood_before(const struct words *ask, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (strcmp(ask->items[i].stem, ask->items[at].stem) == 0)
            return true;
    return false;
}

/* What is wanted stands in sentences; a table, a figure or a source in an ask is what to work with. */
static void add_sentences(struct buffer *out, const struct blocks *ask, const struct values *values)
{
    for (size_t i = 0; i < ask->count; i++)
        if (ask->items[i].kind == BLOCK_PARAGRAPH || ask->items[i].kind == BLOCK_LIST)
            plain_add_blocks(out, &(struct blocks){&ask->items[i], 1}, values);
}

static bool unit_is_named(const struct part *part, const char *typed)
{
    const struct node *root = &part->scheme.root;
    return !scheme_wants_unit(root) || unit_is_written(typed, scheme_answer_point(root)->number->unit);
}

struct wanted_reading reading_wanted(const struct course *course, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    add_sentences(&text, &part->ask, values);
    struct words ask = words_of(buffer_text(&text), arena), own = words_of(typed, arena);
    struct vocabulary *vocabulary = vocabulary_new(arena);
    vocabulary_add_course(vocabulary, course);
    vocabulary_add_text(vocabulary, buffer_text(&text));
    struct wanted_reading reading = {
        .touched = arena_get_array(arena, ask.count, sizeof *reading.touched),
        .overlooked = arena_get_array(arena, ask.count, sizeof *reading.overlooked),
        .unit_named = unit_is_named(part, typed),
    };
    for (size_t i = 0; i < ask.count; i++) {
        const struct word *word = &ask.items[i];
        if (word->small || word->number || is_command_word(course->words[part->word].word, word, arena)
            || stood_before(&ask, i))
            continue;
        const char *written = arena_copy_bytes(arena, buffer_text(&text) + word->at.start, word->at.length);
        if (takes_up(&own, word, vocabulary))
            reading.touched[reading.touched_count++] = written;
        else
            reading.overlooked[reading.overlooked_count++] = written;
    }
    buffer_free(&text);
    return reading;
}
