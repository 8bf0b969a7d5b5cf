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

static const char *kept(struct arena *arena, struct buffer *text)
{
    const char *copy = arena_copy_text(arena, buffer_text(text));
    buffer_free(text);
    return copy;
}

static const char *written_as_shown(struct arena *arena, const char *written)
{
    struct buffer text = BUFFER_EMPTY;
    show_written(&text, written);
    return kept(arena, &text);
}

const char *batch_givens_text(const struct batch *batch, size_t drawing)
{
    struct buffer text = BUFFER_EMPTY;
    for (size_t i = batch->constants; i < batch->bound; i++) {
        const struct bound_value *value = &batch->drawings[drawing].items[i];
        if (!value->is_answer)
            buffer_print(&text, "%s%s = %s", text.length ? ", " : "", value->symbol, value->text);
    }
    return kept(batch->arena, &text);
}

/* ---- The batch ---- */

/* Binds in one drawing; all drawings have the same number of values once the given or number is done. */
static void bind(struct batch *batch, size_t drawing, struct bound_value value)
{
    assert(batch->bound < batch->capacity);
    batch->drawings[drawing].items[batch->bound] = value;
    batch->drawings[drawing].bindings[batch->bound] = (struct binding){value.symbol, value.value};
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

static void bind_constants(struct batch *batch, const struct course *course)
{
    for (size_t i = 0; i < course->constant_count; i++) {
        const struct constant *constant = &course->constants[i];
        const char *text = batch->bare ? constant->value : written_as_shown(batch->arena, constant->value);
        double value = strtod(constant->value, NULL);
        for (size_t k = 0; k < batch->count; k++)
            bind(batch, k, (struct bound_value){constant->symbol, text, constant->unit, value, false});
        batch->bound++;
    }
    batch->constants = batch->bound;
}

static void begin(struct batch *batch, const struct course *course, const struct question *question, uint64_t seed)
{
    struct arena *arena = batch->arena;
    batch->capacity = most_values(course, question);
    batch->drawings = arena_get_array(arena, batch->count, sizeof *batch->drawings);
    batch->worked = arena_get_array(arena, batch->count, sizeof *batch->worked);
    for (size_t i = 0; i < batch->count; i++)
        batch->drawings[i] = (struct drawing){
            .source = {seed + i}, .index = i,
            .items = arena_get_array(arena, batch->capacity, sizeof(struct bound_value)),
            .bindings = arena_get_array(arena, batch->capacity, sizeof(struct binding)),
        };
    bind_constants(batch, course);
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
    struct batch batch = {.arena = arena, .count = variants < limit ? variants : limit, .every = variants <= limit,
                          .bare = true};
    begin(&batch, course, question, 0);
    return batch;
}

/* The variants' numbers count through the choices of one given after the other, like the digits of a clock. */
static size_t pick(const struct batch *batch, size_t drawing, size_t choices)
{
    struct drawing *one = &batch->drawings[drawing];
    if (!batch->every)
        return (size_t)random_below(&one->source, choices);
    size_t picked = one->index % choices;
    one->index /= choices;
    return picked;
}

/* ---- Givens ---- */

static const char *bind_choices(struct batch *batch, const struct given *given)
{
    const char **texts = arena_get_array(batch->arena, given->choice_count, sizeof *texts);
    for (size_t i = 0; i < given->choice_count; i++)
        texts[i] = written_as_shown(batch->arena, given->choices[i]);
    for (size_t k = 0; k < batch->count; k++) {
        size_t picked = given->form == GIVEN_CHOICE ? pick(batch, k, given->choice_count) : 0;
        double value = strtod(given->choices[picked], NULL);
        bind(batch, k, (struct bound_value){given->symbol, texts[picked], given->unit, value, false});
    }
    return NULL;
}

static const char *bind_range(struct batch *batch, const struct given *given)
{
    const char *cause = NULL;
    struct variant_range range = range_of(given);
    size_t count = variant_range_count(&range, &cause);
    struct buffer written = BUFFER_EMPTY;
    for (size_t k = 0; k < batch->count && count > 0; k++) {
        buffer_clear(&written);
        if (!variant_range_value(&range, pick(batch, k, count), &written, &cause))
            break;
        const char *text = written_as_shown(batch->arena, buffer_text(&written));
        double value = strtod(buffer_text(&written), NULL);
        bind(batch, k, (struct bound_value){given->symbol, text, given->unit, value, false});
    }
    buffer_free(&written);
    return cause ? arena_print(batch->arena, "nothing can be drawn for '%s' from %s to %s in steps of %s: %s",
                               given->symbol, given->low, given->high, given->step, cause) : NULL;
}

static const char *work_out(const struct batch *batch, size_t drawing, const char *formula, double *value)
{
    struct formula_result result = formula_value(formula, batch->drawings[drawing].bindings, batch->bound);
    *value = result.value;
    if (!result.understood)
        return arena_print(batch->arena, "the formula '%s' cannot be worked out: %s", formula, result.fault);
    if (isfinite(result.value))
        return NULL;
    const char *givens = batch_givens_text(batch, drawing);
    return arena_print(batch->arena, "the formula '%s' gives no finite number%s%s", formula, *givens ? " with " : "",
                       givens);
}

static const char *bind_computed(struct batch *batch, const struct given *given)
{
    for (size_t k = 0; k < batch->count; k++) {
        double value;
        const char *fault = work_out(batch, k, given->formula, &value);
        if (fault)
            return fault;
        struct decimal exact = decimal_of(value);
        struct decimal rounded = decimal_round_places(&exact, given->places);
        struct buffer text = BUFFER_EMPTY;
        decimal_print(&text, &rounded, 0);
        bind(batch, k, (struct bound_value){given->symbol, kept(batch->arena, &text), given->unit,
                                            decimal_to_double(&rounded), false});
    }
    return NULL;
}

const char *batch_given(struct batch *batch, const struct given *given)
{
    const char *fault = given->form == GIVEN_COMPUTED ? bind_computed(batch, given)
                      : given->form == GIVEN_RANGE ? bind_range(batch, given) : bind_choices(batch, given);
    if (!fault)
        batch->bound++;
    return fault;
}

/* ---- Numbers to find ---- */

const char *batch_number(struct batch *batch, const struct number_key *key)
{
    for (size_t k = 0; k < batch->count; k++) {
        batch->worked[k] = key->value ? strtod(key->value, NULL) : NAN;
        const char *fault = key->value || !key->formula ? NULL
            : work_out(batch, k, key->formula, &batch->worked[k]);
        if (fault)
            return fault;
    }
    if (!key->symbol || (!key->value && !key->formula))
        return NULL;
    for (size_t k = 0; k < batch->count; k++) {
        struct buffer text = BUFFER_EMPTY;
        if (!batch->bare)
            values_show_answer(&text, key, batch->worked[k]);
        bind(batch, k, (struct bound_value){key->symbol, kept(batch->arena, &text), key->unit, batch->worked[k], true});
    }
    batch->bound++;
    return NULL;
}
