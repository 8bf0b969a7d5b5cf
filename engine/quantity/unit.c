#include "quantity/unit.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <string.h>
#include "base/text.h"
#include "quantity/characters.h"
#include "quantity/unit-parts.h"

enum { ANGLE_DIMENSION = 7, COUNT_DIMENSION = 9 };

struct unit_text {
    struct reading_set set;
    bool unsettled;
};

static void publish(const struct unit_text *text, struct unit_readings *readings)
{
    *readings = (struct unit_readings){.count = text->set.count};
    bool not_si = text->set.count > 0;
    for (size_t i = 0; i < text->set.count; i++) {
        readings->items[i] = text->set.items[i].unit;
        not_si &= text->set.items[i].not_si;
    }
    readings->not_si = not_si;
    readings->wrong_case = text->set.count > 0 && text->set.items[0].wrong_case;
    readings->by_the_rules = text->set.count == 1 && !text->unsettled && !readings->wrong_case;
}

/* The whole text as one unit; an empty set if it is not. */
static struct unit_text read_whole(const char *text)
{
    struct unit_text result = {.unsettled = false};
    struct unit_spelling spelling;
    spelling_read(skip_blanks(text), &spelling);
    while (spelling.length > 0 && isspace((unsigned char)spelling.text[spelling.length - 1]))
        spelling.text[--spelling.length] = '\0';
    if (!spelling.whole)
        return result;
    if (spelling.length == 0) {
        struct reading none = reading_none();
        reading_set_add(&result.set, &none);
    } else if (grammar_read(spelling.text, false, &result.set, &result.unsettled) != spelling.length) {
        result = (struct unit_text){.unsettled = false};
    }
    return result;
}

struct unit_readings unit_read(const char *text)
{
    struct unit_text read = read_whole(text);
    struct unit_readings readings;
    publish(&read, &readings);
    return readings;
}

size_t unit_read_prefix(const char *text, struct unit_readings *readings)
{
    struct unit_text read = {.unsettled = false};
    struct unit_spelling spelling;
    spelling_read(text, &spelling);
    size_t length = grammar_read(spelling.text, true, &read.set, &read.unsettled);
    if (length == 0)
        read.set.count = 0;
    publish(&read, readings);
    return length > 0 ? spelling.end[length - 1] : 0;
}

static bool same_dimension(const struct unit *a, const struct unit *b, bool angle_and_count)
{
    for (int i = 0; i < DIMENSIONS; i++)
        if (a->power[i] != b->power[i] && (angle_and_count || (i != ANGLE_DIMENSION && i != COUNT_DIMENSION)))
            return false;
    return true;
}

/* UNIT_SAME, UNIT_OTHER_KIND, UNIT_OTHER_SCALE or UNIT_DIFFERENT. */
static enum unit_verdict compare_units(const struct unit *given, const struct unit *wanted)
{
    if (!same_dimension(given, wanted, true))   /* rad/s for s⁻¹ is another quantity */
        return same_dimension(given, wanted, false) ? UNIT_OTHER_KIND : UNIT_DIFFERENT;
    if (given->kind != KIND_NONE && wanted->kind != KIND_NONE && given->kind != wanted->kind)
        return UNIT_OTHER_KIND;
    bool same = fabs(given->scale - wanted->scale) <= 1e-10 * fabs(wanted->scale) && given->offset == wanted->offset;
    return same ? UNIT_SAME : UNIT_OTHER_SCALE;
}

/* How well a reading explains what was written, best first. */
enum closeness { CLOSE_SAME, CLOSE_WRONG_CASE, CLOSE_MEANT, CLOSE_OTHER_KIND, CLOSE_OTHER_SCALE, CLOSE_NOT };

static enum closeness closeness_of(const struct reading *reading, const struct unit *wanted)
{
    switch (compare_units(&reading->unit, wanted)) {
    case UNIT_SAME: return reading->wrong_case ? CLOSE_WRONG_CASE : reading->strict ? CLOSE_SAME : CLOSE_MEANT;
    case UNIT_OTHER_KIND: return CLOSE_OTHER_KIND;
    case UNIT_OTHER_SCALE: return CLOSE_OTHER_SCALE;
    default: return CLOSE_NOT;
    }
}

static enum unit_verdict verdict_of(enum closeness closeness)
{
    static const enum unit_verdict verdicts[] = {
        [CLOSE_SAME] = UNIT_SAME, [CLOSE_WRONG_CASE] = UNIT_WRONG_CASE, [CLOSE_MEANT] = UNIT_AMBIGUOUS,
        [CLOSE_OTHER_KIND] = UNIT_OTHER_KIND, [CLOSE_OTHER_SCALE] = UNIT_OTHER_SCALE, [CLOSE_NOT] = UNIT_DIFFERENT,
    };
    assert(closeness <= CLOSE_NOT);
    return verdicts[closeness];
}

/* A bank's unit has one reading; of several the strict one counts. */
static const struct unit *wanted_unit(const struct reading_set *set)
{
    for (size_t i = 0; i < set->count; i++)
        if (set->items[i].strict)
            return &set->items[i].unit;
    return &set->items[0].unit;
}

enum unit_verdict unit_compare(const char *given, const char *wanted, struct unit *chosen)
{
    struct unit_text have = read_whole(given), want = read_whole(wanted);
    if (*skip_blanks(given) == '\0' && *skip_blanks(wanted) != '\0')
        return UNIT_MISSING;
    if (have.set.count == 0 || want.set.count == 0)
        return UNIT_NOT_UNDERSTOOD;
    const struct unit *target = wanted_unit(&want.set);
    enum closeness nearest = CLOSE_NOT;
    for (size_t i = 0; i < have.set.count; i++) {
        enum closeness closeness = closeness_of(&have.set.items[i], target);
        if (closeness < nearest && chosen)
            *chosen = have.set.items[i].unit;
        nearest = closeness < nearest ? closeness : nearest;
    }
    return verdict_of(nearest);
}

double unit_convert(double value, const struct unit *from, const struct unit *to)
{
    if (!same_dimension(from, to, true))
        return NAN;
    if (from->offset == to->offset)
        return value * (from->scale / to->scale);
    return (value * from->scale + from->offset - to->offset) / to->scale;
}

bool unit_is_known(const char *text)
{
    return unit_read(text).by_the_rules;
}

/* Over an exponent that starts here (^-1, -1, 2, −1), adding it raised; NULL if none does. */
static const char *print_exponent(struct buffer *out, const char *at)
{
    size_t length;
    if (*at == '^')
        at++;
    bool bracket = *at == '(';
    at += bracket;
    bool minus = character_is_minus(character_at(at, &length));
    if (minus)
        at += length;
    size_t digits = strspn(at, "0123456789");
    if (digits == 0 || digits > 2 || (bracket && at[digits] != ')'))
        return NULL;
    int value = digits == 1 ? at[0] - '0' : (at[0] - '0') * 10 + at[1] - '0';
    add_superscript(out, minus ? -value : value);
    return at + digits + bracket;
}

void unit_print(struct buffer *out, const char *unit)
{
    bool behind_letter = false;
    size_t length;
    for (const char *at = skip_blanks(unit); *at != '\0'; at += length) {
        uint32_t code = character_at(at, &length);
        const char *end = behind_letter ? print_exponent(out, at) : NULL;
        if (end) {
            length = (size_t)(end - at);
            behind_letter = false;
            continue;
        }
        behind_letter = character_is_letter(code) || code == ')' || code == 0xB0 || code == '%';
        const char *next = skip_blanks(at);
        if (next == at) {
            buffer_add_bytes(out, at, length);
            continue;
        }
        buffer_add(out, *next != '\0' ? "\u00a0" : "");
        length = (size_t)(next - at);
    }
}

/* Written against the number: per cent, per mille, pence. */
static bool stands_close(const char *unit)
{
    return strcmp(unit, "%") == 0 || strcmp(unit, "\u2030") == 0 || strcmp(unit, "p") == 0;
}

static void print_money(struct buffer *out, const char *number, const char *unit, size_t sign_length)
{
    size_t minus = number[0] == '-' ? 1 : text_starts_with(number, "\u2212") ? strlen("\u2212") : 0;
    const char *behind = skip_blanks(unit + sign_length);
    buffer_add(out, minus ? "\u2212" : "");
    buffer_add_bytes(out, unit, sign_length);
    buffer_add(out, number + minus);
    buffer_add(out, *behind == '\0' || *behind == '/' ? "" : "\u00a0");
    unit_print(out, behind);
}

void quantity_print(struct buffer *out, const char *number, const char *unit)
{
    const char *wanted = skip_blanks(unit ? unit : "");
    size_t sign_length = currency_length(wanted);
    if (sign_length) {
        print_money(out, number, wanted, sign_length);
        return;
    }
    buffer_add(out, number);
    buffer_add(out, *wanted == '\0' || stands_close(wanted) ? "" : "\u00a0");
    unit_print(out, wanted);
}
