#include "answer/inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "quantity/unit.h"

enum { NUMBERS_READ = 64, UNIT_LONGEST = 80 };

/* Words that are units by the table and hardly ever by intention. */
static bool is_no_unit(const char *text, size_t length)
{
    static const char *const words[] = {"a", "as", "at", "in", "am", "pm", "h a", "m a"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strlen(words[i]) == length && memcmp(words[i], text, length) == 0)
            return true;
    return false;
}

static struct candidate with_unit(const char *text, const struct number *number, struct arena *arena)
{
    const char *behind = text + number->start + number->length;
    while (*behind == ' ' || text_starts_with(behind, "\u00a0"))
        behind += *behind == ' ' ? 1 : strlen("\u00a0");
    struct unit_readings readings;
    size_t length = unit_read_prefix(behind, &readings);
    if (is_no_unit(behind, length))
        length = 0;
    size_t end = length ? (size_t)(behind - text) + length : number->start + number->length;
    return (struct candidate){*number, arena_copy_bytes(arena, behind, length),
                              {number->start, end - number->start}, false};
}

/* The 1 of a ratio "2.16 : 1" is no answer of its own. */
static bool ends_ratio(const char *text, const struct candidate *before, const struct candidate *one)
{
    size_t at = before->at.start + before->at.length;
    at += strspn(text + at, " ");
    if (text[at] != ':' || one->unit[0] || one->at.length != 1 || text[one->at.start] != '1')
        return false;
    at++;
    return at + strspn(text + at, " ") == one->at.start;
}

struct candidates numbers_written(const char *text, struct arena *arena)
{
    struct number *found = arena_get_array(arena, NUMBERS_READ, sizeof *found);
    size_t count = numbers_find(text, found, NUMBERS_READ);
    struct candidates written = {.items = arena_get_array(arena, count, sizeof *written.items)};
    for (size_t i = 0; i < count; i++) {
        struct candidate *candidate = &written.items[written.count];
        *candidate = with_unit(text, &found[i], arena);
        written.count += !(written.count && ends_ratio(text, candidate - 1, candidate));
    }
    return written;
}

static bool is_close(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

static enum given_verdict fit_pure(const struct number *number, double value)
{
    bool same = is_close(number->approximate, value) || (number->percent && is_close(number->approximate / 100, value));
    return same ? GIVEN_FOUND : GIVEN_OVERLOOKED;
}

enum given_verdict given_fit(const struct number *number, const char *unit, const struct bound_value *value)
{
    const char *wanted = value->unit ? value->unit : "";
    const char *written = unit[0] ? unit : number->percent ? "%" : number->currency;
    if (!wanted[0] || strcmp(written, wanted) == 0)
        return fit_pure(number, value->value);
    bool same = is_close(number->approximate, value->value);
    struct unit chosen;
    struct unit_readings readings = unit_read(wanted);
    switch (written[0] ? unit_compare(written, wanted, &chosen) : UNIT_MISSING) {
    case UNIT_SAME: case UNIT_OTHER_SCALE: case UNIT_AMBIGUOUS: case UNIT_WRONG_CASE:
        if (readings.count && is_close(unit_convert(number->approximate, &chosen, &readings.items[0]), value->value))
            return GIVEN_FOUND;
        break;
    case UNIT_MISSING: case UNIT_NOT_UNDERSTOOD:
        return same ? GIVEN_WITHOUT_UNIT : GIVEN_OVERLOOKED;
    case UNIT_OTHER_KIND: case UNIT_DIFFERENT:
        break;
    }
    return same ? GIVEN_WRONG_UNIT : GIVEN_OVERLOOKED;
}

struct candidates candidates_of(const struct evidence_ask *ask, const char *answer, struct arena *arena)
{
    struct candidates written = numbers_written(answer, arena);
    for (size_t i = 0; i < written.count; i++)
        for (size_t k = 0; ask->values && k < ask->values->count; k++) {
            const struct bound_value *value = &ask->values->items[k];
            enum given_verdict fit = value->is_answer || is_outcome(ask->part, value->symbol) ? GIVEN_OVERLOOKED
                                   : given_fit(&written.items[i].number, written.items[i].unit, value);
            written.items[i].given = written.items[i].given || fit == GIVEN_FOUND || fit == GIVEN_WITHOUT_UNIT;
        }
    return written;
}

/* ---- Units anywhere ------------------------------------------------------------------------------ */

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
bool unit_is_written(const char *text, const char *wanted)
{
    bool start = true;
    for (const char *at = text; *at; at++) {
        if (start && is_wanted_unit(at, wanted))
            return true;
        start = strchr(" (/[\n", *at) || (*at >= '0' && *at <= '9');
    }
    return false;
}

/* ---- Units misspelt ------------------------------------------------------------------------------ */

enum { SPELT_SHORTEST = 4 };        /* one letter of a shorter one changed makes it another word */

static bool fits_wanted(const char *unit, const char *wanted)
{
    return unit_compare(unit, wanted, NULL) == UNIT_SAME;
}

/* The word with one letter left out, put in, changed, or two neighbours swapped. */
static bool one_slip_fits(const char *word, size_t length, const char *wanted)
{
    char tried[UNIT_LONGEST];
    for (size_t at = 0; at <= length; at++) {
        for (char letter = 'a'; letter <= 'z'; letter++) {
            snprintf(tried, sizeof tried, "%.*s%c%s", (int)at, word, letter, word + at);
            if (fits_wanted(tried, wanted))
                return true;
            snprintf(tried, sizeof tried, "%.*s%c%s", (int)at, word, letter, word + at + (at < length));
            if (at < length && fits_wanted(tried, wanted))
                return true;
        }
        snprintf(tried, sizeof tried, "%.*s%s", (int)at, word, word + at + (at < length));
        if (at < length && length > SPELT_SHORTEST && fits_wanted(tried, wanted))
            return true;
        if (at + 1 < length) {
            snprintf(tried, sizeof tried, "%s", word);
            tried[at] = word[at + 1];
            tried[at + 1] = word[at];
            if (fits_wanted(tried, wanted))
                return true;
        }
    }
    return false;
}

const char *misspelt_unit(const char *text, const char *wanted, struct arena *arena)
{
    text += strspn(text, " ");
    size_t length = 0;
    while ((text[length] >= 'a' && text[length] <= 'z') || (text[length] >= 'A' && text[length] <= 'Z'))
        length++;
    if (length == 0 || length + 2 >= UNIT_LONGEST)
        return NULL;
    const char *word = arena_copy_bytes(arena, text, length);
    if (text_equal_ignoring_case(word, wanted))
        return word;
    return length >= SPELT_SHORTEST && !word_is_known(word) && one_slip_fits(word, length, wanted) ? word : NULL;
}
