#include "answer/reading.h"

#include <math.h>
#include <string.h>

#include "answer/words.h"
#include "bank/commandwords.h"
#include "bank/scheme.h"
#include "base/text.h"
#include "quantity/number.h"
#include "quantity/unit.h"

enum { NUMBERS_READ = 64, UNIT_LONGEST = 80 };

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

struct written {
    struct number number;
    const char *unit;           /* "" when none stands behind it */
    const char *text;           /* number and unit as written */
    bool used;
};

static struct written *read_numbers(const char *typed, size_t *count, struct arena *arena)
{
    struct number *found = arena_get_array(arena, NUMBERS_READ, sizeof *found);
    *count = numbers_find(typed, found, NUMBERS_READ);
    struct written *written = arena_get_array(arena, *count, sizeof *written);
    for (size_t i = 0; i < *count; i++) {
        const char *start = typed + found[i].start, *behind = start + found[i].length;
        while (*behind == ' ')
            behind++;
        struct unit_readings readings;
        size_t length = unit_read_prefix(behind, &readings);
        const char *end = length ? behind + length : start + found[i].length;
        written[i] = (struct written){found[i], arena_copy_bytes(arena, behind, length),
                                      arena_copy_bytes(arena, start, (size_t)(end - start)), false};
    }
    return written;
}

static bool is_close(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

/* How well what is written fits a given; GIVEN_OVERLOOKED: not at all. */
static enum given_verdict fit(const struct written *written, const struct bound_value *value)
{
    bool same_number = is_close(written->number.approximate, value->value);
    const char *wanted = value->unit ? value->unit : "";
    const char *unit = written->unit[0] ? written->unit : written->number.percent ? "%" : written->number.currency;
    if (!wanted[0] || strcmp(unit, wanted) == 0) {
        bool same = same_number || (written->number.percent && is_close(written->number.approximate / 100, value->value));
        return same ? GIVEN_FOUND : GIVEN_OVERLOOKED;
    }
    struct unit chosen;
    struct unit_readings readings = unit_read(wanted);
    switch (unit[0] ? unit_compare(unit, wanted, &chosen) : UNIT_MISSING) {
    case UNIT_SAME: case UNIT_OTHER_SCALE: case UNIT_AMBIGUOUS: case UNIT_WRONG_CASE:
        if (readings.count && is_close(unit_convert(written->number.approximate, &chosen, &readings.items[0]), value->value))
            return GIVEN_FOUND;
        break;
    case UNIT_MISSING: case UNIT_NOT_UNDERSTOOD:
        return same_number ? GIVEN_WITHOUT_UNIT : GIVEN_OVERLOOKED;
    case UNIT_OTHER_KIND: case UNIT_DIFFERENT:
        break;
    }
    return same_number ? GIVEN_WRONG_UNIT : GIVEN_OVERLOOKED;
}

static void match(struct givens_reading *reading, struct written *written, size_t count, enum given_verdict wanted)
{
    for (size_t i = 0; i < reading->count; i++) {
        struct given_reading *item = &reading->items[i];
        for (size_t k = 0; k < count && item->value && item->verdict == GIVEN_OVERLOOKED; k++) {
            if (written[k].used || fit(&written[k], item->value) != wanted)
                continue;
            written[k].used = true;
            item->verdict = wanted;
            item->written = written[k].text;
        }
    }
}

/* A number of the data sheet, or one that stands in the text of the question, is nobody's mistake. */
static bool is_elsewhere(const struct written *written, const struct values *values, const struct written *asked,
                         size_t asked_count)
{
    for (size_t i = 0; i < values->count; i++)
        if (!values->items[i].is_answer && is_close(values->items[i].value, written->number.approximate))
            return true;
    for (size_t i = 0; i < asked_count; i++)
        if (is_close(asked[i].number.approximate, written->number.approximate))
            return true;
    return false;
}

static void gather_extra(struct givens_reading *reading, const struct question *question, const struct part *part,
                         const struct values *values, const struct written *written, size_t count, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &question->stem, values);
    plain_add_blocks(&text, &part->ask, values);
    size_t asked_count;
    const struct written *asked = read_numbers(buffer_text(&text), &asked_count, arena);
    reading->extra = arena_get_array(arena, count, sizeof *reading->extra);
    for (size_t i = 0; i < count; i++)
        if (!written[i].used && !is_elsewhere(&written[i], values, asked, asked_count))
            reading->extra[reading->extra_count++] = written[i].text;
    buffer_free(&text);
}

static void add_givens(struct givens_reading *reading, const struct given *givens, size_t count,
                       const struct values *values)
{
    for (size_t i = 0; i < count; i++)
        reading->items[reading->count++] = (struct given_reading){
            &givens[i], values_find(values, givens[i].symbol), GIVEN_OVERLOOKED, NULL};
}

struct givens_reading reading_givens(const struct question *question, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena)
{
    struct givens_reading reading = {
        .items = arena_get_array(arena, question->given_count + part->given_count, sizeof *reading.items)};
    add_givens(&reading, question->givens, question->given_count, values);
    add_givens(&reading, part->givens, part->given_count, values);
    size_t count;
    struct written *written = read_numbers(typed, &count, arena);
    /* Best fits first, or 1.5 without a unit would take the place of a later 1.5 m. */
    match(&reading, written, count, GIVEN_FOUND);
    match(&reading, written, count, GIVEN_WITHOUT_UNIT);
    match(&reading, written, count, GIVEN_WRONG_UNIT);
    gather_extra(&reading, question, part, values, written, count, arena);
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

static bool is_wanted_unit(const char *text, const char *wanted)
{
    struct unit_readings readings;
    char unit[UNIT_LONGEST];
    size_t length = unit_read_prefix(text, &readings);
    if (!length || length >= sizeof unit)
        return false;
    memcpy(unit, text, length);
    unit[length] = '\0';
    switch (unit_compare(unit, wanted, NULL)) {
    case UNIT_SAME: case UNIT_OTHER_SCALE: case UNIT_AMBIGUOUS: case UNIT_WRONG_CASE: return true;
    default: return false;
    }
}

/* A unit may begin with any word, and with signs that no word has (%, £, °C). */
static bool names_unit(const char *typed, const char *wanted)
{
    bool start = true;
    for (const char *at = typed; *at; at++) {
        if (start && is_wanted_unit(at, wanted))
            return true;
        start = *at == ' ' || *at == '(' || *at == '\n' || (*at >= '0' && *at <= '9');
    }
    return false;
}

static bool unit_is_named(const struct part *part, const char *typed)
{
    const struct node *point = scheme_answer_point(&part->scheme.root);
    const struct number_key *key = point ? point->number : NULL;
    return !key || key->unit_printed || !key->unit || !key->unit[0] || names_unit(typed, key->unit);
}

struct wanted_reading reading_wanted(const struct course *course, const struct part *part,
                                     const struct values *values, const char *typed, struct arena *arena)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &part->ask, values);
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
