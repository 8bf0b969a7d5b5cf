#include "bank/values.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/memory.h"
#include "base/random.h"
#include "quantity/formula.h"
#include "quantity/number.h"

enum {
    SHOWN_FIGURES = 3,          /* of a computed answer when the ask demands nothing */
    SAFE_FIGURES = 15,          /* decimal digits that a double holds whatever they are */
    COUNTED_DIGITS = 18         /* decimal digits that an int64_t holds whatever they are */
};

struct drawing {
    const struct question *question;
    struct random_source source;
    struct arena *arena;
    struct messages *messages;
    struct bound_value *items;
    struct binding *bindings;   /* the same values, as formulae take them */
    size_t count, capacity;
};

static void bind(struct drawing *drawing, const char *symbol, const char *text, const char *unit, double value,
                 bool is_answer)
{
    assert(drawing->count < drawing->capacity);
    drawing->items[drawing->count] = (struct bound_value){symbol, text, unit, value, is_answer};
    drawing->bindings[drawing->count++] = (struct binding){symbol, value};
}

/* ---- Texts ---- */

static void show_decimal_text(struct buffer *out, const char *text)
{
    struct number number;
    if (text[strspn(text, "0123456789.")] == '\0' || !number_read(text, &number, NULL))
        buffer_add(out, text);      /* plain digits stand as they were written */
    else
        decimal_print(out, &number.value, 0);
}

static const char *kept(struct arena *arena, struct buffer *text)
{
    const char *copy = arena_copy_text(arena, buffer_text(text));
    buffer_free(text);
    return copy;
}

static void bind_written(struct drawing *drawing, const char *symbol, const char *written, const char *unit)
{
    struct buffer text = BUFFER_EMPTY;
    show_decimal_text(&text, written);
    bind(drawing, symbol, kept(drawing->arena, &text), unit, strtod(written, NULL), false);
}

/* 12 × 6.05 is 72.60000000000001 in binary. Cut back to the digits a double is sure of, it is 72.6 again, and
 * a half is rounded as it would be on paper. */
static struct decimal decimal_of(double value)
{
    struct decimal exact;
    bool finite = decimal_from_double(value, &exact);
    assert(finite);
    (void)finite;
    return decimal_round_figures(&exact, SAFE_FIGURES);
}

void values_show_answer(struct buffer *out, const struct number_key *key, double value)
{
    assert(isfinite(value));
    struct decimal exact = decimal_of(value), rounded;
    if (key->places >= 0) {
        rounded = decimal_round_places(&exact, key->places);
        decimal_print(out, &rounded, 0);
    } else if (key->figures == 0 && key->value) {
        show_decimal_text(out, key->value);
    } else {
        int figures = key->figures > 0 ? key->figures : SHOWN_FIGURES;
        rounded = decimal_round_figures(&exact, figures);
        decimal_print(out, &rounded, figures);
    }
}

/* ---- Ranges: counted in whole steps of the last decimal place, so that no binary fraction comes in ---- */

static int places_of(const struct decimal *value)
{
    int places = (int)strlen(value->digits) - value->point;
    return places > 0 ? places : 0;
}

/* value × 10^places as a whole number; false if it has too many digits. */
static bool count_at(const struct decimal *value, int places, int64_t *counted)
{
    int64_t sum = 0;
    int length = (int)strlen(value->digits), zeros = value->point - length + places;
    if (strcmp(value->digits, "0") == 0) {
        *counted = 0;
        return true;
    }
    if (zeros < 0 || length > COUNTED_DIGITS || zeros > COUNTED_DIGITS - length)
        return false;
    for (int i = 0; i < length; i++)
        sum = sum * 10 + (value->digits[i] - '0');
    for (int i = 0; i < zeros; i++)
        sum *= 10;
    *counted = value->negative ? -sum : sum;
    return true;
}

static const char *print_counted(struct arena *arena, int64_t counted, int places)
{
    uint64_t magnitude = counted < 0 ? (uint64_t)-counted : (uint64_t)counted;
    const char *digits = arena_print(arena, "%0*" PRIu64, places + 1, magnitude);
    size_t whole = strlen(digits) - (size_t)places;
    return arena_print(arena, "%s%.*s%s%s", counted < 0 ? "-" : "", (int)whole, digits, places ? "." : "",
                       digits + whole);
}

static const char *draw_from_range(struct drawing *drawing, const struct given *given)
{
    struct number low, high, step;
    if (!number_read(given->low, &low, NULL) || !number_read(given->high, &high, NULL)
        || !number_read(given->step, &step, NULL))
        return NULL;
    int places = places_of(&low.value);
    places = places_of(&high.value) > places ? places_of(&high.value) : places;
    places = places_of(&step.value) > places ? places_of(&step.value) : places;
    int64_t from, to, by;
    if (places > COUNTED_DIGITS || !count_at(&low.value, places, &from) || !count_at(&high.value, places, &to)
        || !count_at(&step.value, places, &by) || by <= 0 || to < from)
        return NULL;
    uint64_t steps = ((uint64_t)to - (uint64_t)from) / (uint64_t)by;
    int64_t drawn = from + (int64_t)random_below(&drawing->source, steps + 1) * by;
    return print_counted(drawing->arena, drawn, places);
}

/* ---- Givens and answers ---- */

static bool complain(struct drawing *drawing, const char *text)
{
    struct buffer subject = BUFFER_EMPTY;
    buffer_print(&subject, "question %s", drawing->question->id);
    messages_add(drawing->messages, SEVERITY_ERROR, (struct place){NULL, 0, 0}, buffer_text(&subject), "%s", text);
    buffer_free(&subject);
    return false;
}

static bool compute(struct drawing *drawing, const char *formula, double *value)
{
    struct formula_result result = formula_value(formula, drawing->bindings, drawing->count);
    if (!result.understood)
        return complain(drawing, arena_print(drawing->arena, "the formula '%s' cannot be worked out: %s", formula,
                                             result.fault));
    if (!isfinite(result.value))
        return complain(drawing, arena_print(drawing->arena, "the formula '%s' gives no finite number", formula));
    *value = result.value;
    return true;
}

static bool bind_computed(struct drawing *drawing, const struct given *given)
{
    double value;
    if (!compute(drawing, given->formula, &value))
        return false;
    struct decimal exact = decimal_of(value);
    struct decimal rounded = decimal_round_places(&exact, given->places);
    struct buffer text = BUFFER_EMPTY;
    decimal_print(&text, &rounded, 0);
    bind(drawing, given->symbol, kept(drawing->arena, &text), given->unit, decimal_to_double(&rounded), false);
    return true;
}

static bool bind_given(struct drawing *drawing, const struct given *given)
{
    const char *written = NULL;
    switch (given->form) {
    case GIVEN_COMPUTED:
        return bind_computed(drawing, given);
    case GIVEN_FIXED:
        written = given->choices[0];
        break;
    case GIVEN_CHOICE:
        written = given->choices[random_below(&drawing->source, given->choice_count)];
        break;
    case GIVEN_RANGE:
        written = draw_from_range(drawing, given);
        break;
    }
    if (!written)
        return complain(drawing, arena_print(drawing->arena, "nothing can be drawn for '%s' from %s to %s in steps "
                                             "of %s: the numbers have more than %d digits", given->symbol,
                                             given->low, given->high, given->step, COUNTED_DIGITS));
    bind_written(drawing, given->symbol, written, given->unit);
    return true;
}

static bool bind_givens(struct drawing *drawing, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!bind_given(drawing, &givens[i]))
            return false;
    return true;
}

static bool bind_answers(struct drawing *drawing, const struct node *node)
{
    const struct number_key *key = node->number;
    if (node->kind == NODE_POINT && key && key->symbol && (key->value || key->formula)) {
        double value;
        if (key->value)
            value = strtod(key->value, NULL);
        else if (!compute(drawing, key->formula, &value))
            return false;
        struct buffer text = BUFFER_EMPTY;
        values_show_answer(&text, key, value);
        bind(drawing, key->symbol, kept(drawing->arena, &text), key->unit, value, true);
    }
    for (size_t i = 0; i < node->child_count; i++)
        if (!bind_answers(drawing, &node->children[i]))
            return false;
    return true;
}

static size_t most_values(const struct course *course, const struct question *question)
{
    size_t count = course->constant_count + question->given_count;
    for (size_t i = 0; i < question->part_count; i++)
        count += question->parts[i].given_count + scheme_point_count(&question->parts[i].scheme.root);
    return count;
}

static bool draw_all(struct drawing *drawing, const struct course *course)
{
    const struct question *question = drawing->question;
    for (size_t i = 0; i < course->constant_count; i++) {
        const struct constant *constant = &course->constants[i];
        bind_written(drawing, constant->symbol, constant->value, constant->unit);
    }
    if (!bind_givens(drawing, question->givens, question->given_count))
        return false;
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part *part = &question->parts[i];
        if (!bind_givens(drawing, part->givens, part->given_count) || !bind_answers(drawing, &part->scheme.root))
            return false;
    }
    return true;
}

bool values_draw(const struct course *course, const struct question *question, uint64_t seed,
                 struct arena *arena, struct values *values, struct messages *messages)
{
    size_t capacity = most_values(course, question);
    struct drawing drawing = {
        .question = question, .source = {seed}, .arena = arena, .messages = messages, .capacity = capacity,
        .items = arena_get_array(arena, capacity, sizeof *drawing.items),
        .bindings = arena_get_array(arena, capacity, sizeof *drawing.bindings),
    };
    bool drawn = draw_all(&drawing, course);
    *values = (struct values){drawing.items, drawn ? drawing.count : 0};
    return drawn;
}

/* ---- Reading values ---- */

const struct bound_value *values_find(const struct values *values, const char *symbol)
{
    for (size_t i = 0; i < values->count; i++)
        if (strcmp(values->items[i].symbol, symbol) == 0)
            return &values->items[i];
    return NULL;
}

double values_expected(const struct values *values, const struct number_key *key)
{
    if (key->value)
        return strtod(key->value, NULL);
    if (!key->formula)
        return NAN;
    const struct bound_value *bound = key->symbol ? values_find(values, key->symbol) : NULL;
    if (bound)
        return bound->value;
    struct binding *bindings = memory_get_zeroed(values->count, sizeof *bindings);
    for (size_t i = 0; i < values->count; i++)
        bindings[i] = (struct binding){values->items[i].symbol, values->items[i].value};
    struct formula_result result = formula_value(key->formula, bindings, values->count);
    free(bindings);
    return result.understood ? result.value : NAN;
}
