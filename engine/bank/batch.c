#include "bank/batch.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "quantity/number.h"
#include "quantity/variant.h"

enum {
    SHOWN_FIGURES = 3,          /* of a computed answer when the ask demands nothing */
    SAFE_FIGURES = 15           /* decimal digits that a double holds whatever they are */
};

/* ---- Texts ---- */

static void show_written(struct buffer *out, const char *text)
{
    struct number number;
    if (text[strspn(text, "0123456789.")] == '\0' || !number_read(text, &number, NULL))
        buffer_add(out, text);      /* plain digits stand as they were written */
    else
        decimal_print(out, &number.value, 0);
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
    if (key->places < 0 && key->figures == 0 && key->value) {
        show_written(out, key->value);
        return;
    }
    struct decimal exact = decimal_of(value), rounded;
    int figures = key->figures > 0 ? key->figures : SHOWN_FIGURES;
    if (key->places >= 0) {
        rounded = decimal_round_places(&exact, key->places);
        figures = 0;
    } else {
        rounded = decimal_round_figures(&exact, figures);
    }
    decimal_print(out, &rounded, figures);
}

/* A computed given as it is shown. */
static struct decimal shown_decimal(double exact, int places)
{
    struct decimal safe = decimal_of(exact);
    return decimal_round_places(&safe, places);
}

static void show_range(struct buffer *out, const struct given *given, size_t picked)
{
    struct variant_range range = {given->low, given->high, given->step};
    struct buffer written = BUFFER_EMPTY;
    const char *cause;
    bool counted = variant_range_value(&range, picked, &written, &cause);
    assert(counted && "it was counted when it was drawn");
    (void)counted;
    show_written(out, buffer_text(&written));
    buffer_free(&written);
}

static void show_given(struct buffer *out, const struct column *column, size_t drawing)
{
    const struct given *given = column->given;
    if (given->form == GIVEN_COMPUTED) {
        struct decimal shown = shown_decimal(column->exact[drawing], given->places);
        decimal_print(out, &shown, 0);
    } else if (given->form == GIVEN_RANGE) {
        show_range(out, given, column->picked[drawing]);
    } else {
        show_written(out, given->choices[column->picked ? column->picked[drawing] : 0]);
    }
}

const char *batch_text(const struct batch *batch, size_t index, size_t drawing)
{
    assert(index < batch->bound && drawing < batch->count);
    const struct column *column = &batch->columns[index];
    struct buffer text = BUFFER_EMPTY;
    if (column->constant)
        show_written(&text, column->constant->value);
    else if (column->given)
        show_given(&text, column, drawing);
    else
        values_show_answer(&text, column->key, batch_value(batch, index, drawing));
    const char *kept = arena_copy_text(batch->arena, buffer_text(&text));
    buffer_free(&text);
    return kept;
}

const char *batch_givens_text(const struct batch *batch, size_t drawing)
{
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = batch->constants; i < batch->bound; i++)
        if (batch->columns[i].given)
            buffer_print(&text, "%s%s = %s", text.length ? ", " : "", batch->columns[i].symbol,
                         batch_text(batch, i, drawing));
    const char *kept = arena_copy_text(batch->arena, buffer_text(&text));
    buffer_free(&text);
    return kept;
}

/* ---- The batch ---- */

double batch_value(const struct batch *batch, size_t index, size_t drawing)
{
    const struct column *column = &batch->columns[index];
    return column->values[column->same ? 0 : drawing];
}

/* The next column, with room for its values; it counts once it is bound. */
static struct column *next_column(struct batch *batch, const char *symbol, const char *unit, bool same)
{
    assert(batch->bound < batch->capacity);
    struct column *column = &batch->columns[batch->bound];
    *column = (struct column){
        .symbol = symbol, .unit = unit, .same = same, .places = -1,
        .values = arena_get_array(batch->arena, same ? 1 : batch->count, sizeof(double)),
    };
    return column;
}

static void bind(struct batch *batch)
{
    const struct column *column = &batch->columns[batch->bound];
    batch->named[batch->bound++] = (struct formula_column){column->symbol, column->values, column->same};
}

static size_t most_values(const struct course *course, const struct question *question)
{
    size_t count = course->constant_count + question->given_count;
    for (size_t i = 0; i < question->part_count; i++)
        count += question->parts[i].given_count + scheme_point_count(&question->parts[i].scheme.root);
    return count;
}

static struct variant_range range_of(const struct given *given)
{
    return (struct variant_range){given->low, given->high, given->step};
}

/* How many values may be drawn; 1 where nothing is drawn or nothing can be. */
static size_t choices_of(const struct given *given)
{
    const char *cause;
    struct variant_range range = range_of(given);
    size_t count = given->form == GIVEN_CHOICE ? given->choice_count
                 : given->form == GIVEN_RANGE ? variant_range_count(&range, &cause) : 1;
    return count ? count : 1;
}

static size_t times(size_t variants, const struct given *givens, size_t count, size_t limit)
{
    for (size_t i = 0; i < count && variants <= limit; i++)
        variants *= choices_of(&givens[i]);     /* at most limit × 10,001, far from the largest size */
    return variants;
}

/* More than limit: there are more. */
static size_t count_variants(const struct question *question, size_t limit)
{
    size_t variants = times(1, question->givens, question->given_count, limit);
    for (size_t i = 0; i < question->part_count; i++)
        variants = times(variants, question->parts[i].givens, question->parts[i].given_count, limit);
    return variants;
}

static void begin(struct batch *batch, const struct course *course, const struct question *question, uint64_t seed)
{
    struct arena *arena = batch->arena;
    batch->capacity = most_values(course, question);
    batch->columns = arena_get_array(arena, batch->capacity, sizeof *batch->columns);
    batch->named = arena_get_array(arena, batch->capacity, sizeof *batch->named);
    batch->worked = arena_get_array(arena, batch->count, sizeof *batch->worked);
    batch->sources = arena_get_array(arena, batch->count, sizeof *batch->sources);
    batch->left = arena_get_array(arena, batch->count, sizeof *batch->left);
    for (size_t i = 0; i < batch->count; i++) {
        batch->sources[i] = (struct random_source){seed + i};
        batch->left[i] = i;
    }
    for (size_t i = 0; i < course->constant_count; i++) {
        const struct constant *constant = &course->constants[i];
        struct column *column = next_column(batch, constant->symbol, constant->unit, true);
        column->constant = constant;
        column->values[0] = strtod(constant->value, NULL);
        bind(batch);
    }
    batch->constants = batch->bound;
}

struct batch batch_of_seed(const struct course *course, const struct question *question, uint64_t seed,
                           struct arena *arena)
{
    struct batch batch = {.arena = arena, .count = 1};
    begin(&batch, course, question, seed);
    return batch;
}

struct batch batch_of_many(const struct course *course, const struct question *question, size_t limit,
                           struct arena *arena)
{
    size_t variants = count_variants(question, limit);
    struct batch batch = {.arena = arena, .count = variants < limit ? variants : limit, .every = variants <= limit};
    begin(&batch, course, question, 0);
    return batch;
}

/* The variants' numbers count through the choices of one given after the other, like the digits of a clock. */
static size_t pick(const struct batch *batch, size_t drawing, size_t choices)
{
    if (!batch->every)
        return (size_t)random_below(&batch->sources[drawing], choices);
    size_t picked = batch->left[drawing] % choices;
    batch->left[drawing] /= choices;
    return picked;
}

/* ---- Givens ---- */

static void pick_all(struct batch *batch, struct column *column, size_t choices)
{
    column->picked = arena_get_array(batch->arena, batch->count, sizeof *column->picked);
    for (size_t k = 0; k < batch->count; k++)
        column->picked[k] = pick(batch, k, choices);
}

static const char *take_choices(struct batch *batch, struct column *column)
{
    const struct given *given = column->given;
    if (given->form == GIVEN_FIXED) {
        column->values[0] = strtod(given->choices[0], NULL);
        return NULL;
    }
    double *values = arena_get_array(batch->arena, given->choice_count, sizeof *values);
    for (size_t i = 0; i < given->choice_count; i++)
        values[i] = strtod(given->choices[i], NULL);
    pick_all(batch, column, given->choice_count);
    for (size_t k = 0; k < batch->count; k++)
        column->values[k] = values[column->picked[k]];
    return NULL;
}

static const char *take_range(struct batch *batch, struct column *column)
{
    const struct given *given = column->given;
    const char *cause;
    struct variant_range range = range_of(given);
    struct variant_steps steps;
    if (!variant_range_read(&range, &steps, &cause))
        return arena_print(batch->arena, "nothing can be drawn for '%s' from %s to %s in steps of %s: %s",
                           given->symbol, given->low, given->high, given->step, cause);
    pick_all(batch, column, steps.count);
    column->places = steps.places;
    for (size_t k = 0; k < batch->count; k++)
        column->values[k] = variant_steps_value(&steps, column->picked[k]);
    return NULL;
}

/* The formula's value in every drawing. */
static const char *work_out(const struct batch *batch, const char *formula, double *values)
{
    struct formula_result result = formula_fill(formula, batch->named, batch->bound, batch->count, values);
    if (!result.understood)
        return arena_print(batch->arena, "the formula '%s' cannot be worked out: %s", formula, result.fault);
    for (size_t k = 0; k < batch->count; k++) {
        if (isfinite(values[k]))
            continue;
        const char *givens = batch_givens_text(batch, k);
        return arena_print(batch->arena, "the formula '%s' gives no finite number%s%s", formula,
                           *givens ? " with " : "", givens);
    }
    return NULL;
}

static const char *take_computed(struct batch *batch, struct column *column)
{
    const struct given *given = column->given;
    column->places = given->places;
    column->exact = arena_get_array(batch->arena, batch->count, sizeof *column->exact);
    const char *fault = work_out(batch, given->formula, column->exact);
    for (size_t k = 0; k < batch->count && !fault; k++) {
        if (decimal_round_quickly(column->exact[k], given->places, &column->values[k]))
            continue;
        struct decimal shown = shown_decimal(column->exact[k], given->places);
        column->values[k] = decimal_to_double(&shown);
    }
    return fault;
}

const char *batch_given(struct batch *batch, const struct given *given)
{
    struct column *column = next_column(batch, given->symbol, given->unit, given->form == GIVEN_FIXED);
    column->given = given;
    const char *fault = given->form == GIVEN_COMPUTED ? take_computed(batch, column)
                      : given->form == GIVEN_RANGE ? take_range(batch, column) : take_choices(batch, column);
    if (!fault)
        bind(batch);
    return fault;
}

/* ---- Numbers to find ---- */

const char *batch_number(struct batch *batch, const struct number_key *key)
{
    double written = key->value ? strtod(key->value, NULL) : (double)NAN;
    for (size_t k = 0; k < batch->count; k++)
        batch->worked[k] = written;
    const char *fault = key->value || !key->formula ? NULL : work_out(batch, key->formula, batch->worked);
    if (fault || !key->symbol || (!key->value && !key->formula))
        return fault;
    struct column *column = next_column(batch, key->symbol, key->unit, false);
    column->key = key;
    memcpy(column->values, batch->worked, batch->count * sizeof *batch->worked);
    bind(batch);
    return NULL;
}
