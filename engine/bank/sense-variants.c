/* Do the numbers of a question stay sensible whatever is drawn? Some variants are drawn and looked at. */
#include <math.h>
#include <string.h>

#include "bank/scheme.h"
#include "bank/sense-inner.h"
#include "bank/values.h"

enum { SHOWN_DIGITS_LIMIT = 8 };
static const double smallest = 1e-12, largest = 1e15;

struct trial {
    struct check *check;
    const struct values *values;
    bool sound;
};

/* The digits of the number without its power of ten: what a student would have to read or to write. */
static size_t digits_shown(const char *text)
{
    size_t length = strcspn(text, "\xc3" "e"), zeros = 0, digits = 0;     /* 0xC3 begins the sign × */
    bool leading = true;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            continue;
        leading = leading && text[i] == '0';
        if (leading)
            continue;
        digits++;
        zeros = text[i] == '0' ? zeros + 1 : 0;
    }
    /* 10000000000 is long to write but shows one figure; behind a point zeros are figures. */
    return memchr(text, '.', length) ? digits : digits - zeros;
}

/* "with H = 1.2 m, T = 6.0 s": what was drawn. */
static const char *drawn_text(const struct trial *trial)
{
    struct buffer text = BUFFER_EMPTY;
    const struct course *course = trial->check->sense->course;
    for (size_t i = course->constant_count; i < trial->values->count; i++) {
        const struct bound_value *value = &trial->values->items[i];
        if (!value->is_answer)
            buffer_print(&text, "%s%s = %s", text.length ? ", " : "with ", value->symbol, value->text);
    }
    const char *copy = arena_copy_text(trial->check->sense->draws, buffer_text(&text));
    buffer_free(&text);
    return copy;
}

static void refuse(struct trial *trial, const char *name, const char *shown, const char *why)
{
    trial->sound = false;
    if (!messages_full(trial->check->messages))
        sense_fault(trial->check, "%s comes out as %s %s, which is %s: change the numbers that it is worked out from, "
                    "or how it is rounded", name, shown, drawn_text(trial), why);
}

static void look_at(struct trial *trial, const char *name, const char *shown, double value)
{
    if (value == 0 && trial->check->question->varied)
        refuse(trial, name, shown, "nothing to work with");
    else if (value != 0 && (fabs(value) < smallest || fabs(value) > largest))
        refuse(trial, name, shown, "beyond what is sensible (10⁻¹² to 10¹⁵)");
    else if (digits_shown(shown) > SHOWN_DIGITS_LIMIT)
        refuse(trial, name, shown, "more than 8 figures");
}

static bool look_at_number(const struct node *point, void *context)
{
    struct trial *trial = context;
    struct arena *arena = trial->check->sense->draws;
    const struct number_key *key = point->number;
    if (!key || !(key->value || key->formula))
        return true;
    double value = values_expected(trial->values, key);
    const char *name = key->symbol ? arena_print(arena, "the number '%s'", key->symbol) : "a number";
    if (!isfinite(value)) {
        refuse(trial, name, "no finite number", "nothing that can be marked");
        return false;
    }
    struct buffer shown = BUFFER_EMPTY;
    values_show_answer(&shown, key, value);
    if (key->formula)
        look_at(trial, name, buffer_text(&shown), value);
    if (trial->sound && key->has_interval
        && (value < key->from || value > key->to || (value == key->to && key->to_excluded)))
        refuse(trial, name, buffer_text(&shown), "outside its own interval");
    buffer_free(&shown);
    return trial->sound;
}

static void look_at_givens(struct trial *trial, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count && trial->sound; i++) {
        const struct bound_value *value = values_find(trial->values, givens[i].symbol);
        if (givens[i].form == GIVEN_FIXED || !value)
            continue;
        const char *name = arena_print(trial->check->sense->draws, "the given '%s'", givens[i].symbol);
        /* A zero that the author wrote is meant; one that was worked out makes a part trivial. */
        if (value->value != 0 || givens[i].form == GIVEN_COMPUTED)
            look_at(trial, name, value->text, value->value);
    }
}

static bool variant_is_sound(struct check *check, uint64_t seed)
{
    const struct question *question = check->question;
    struct arena *arena = check->sense->draws;
    struct messages local = MESSAGES_EMPTY;
    struct values values;
    struct trial trial = {check, &values, true};
    arena_reset(arena);
    if (values_draw(check->sense->course, question, seed, arena, &values, &local)) {
        look_at_givens(&trial, question->givens, question->given_count);
        for (size_t i = 0; i < question->part_count && trial.sound; i++) {
            look_at_givens(&trial, question->parts[i].givens, question->parts[i].given_count);
            if (trial.sound)
                scheme_each_point(&question->parts[i].scheme.root, look_at_number, &trial);
        }
    } else {
        sense_fault(check, "%s", local.items[0].text);
        trial.sound = false;
    }
    messages_free(&local);
    return trial.sound;
}

static bool is_formula(const struct node *point, void *context)
{
    *(bool *)context = point->number && (point->number->formula || point->number->has_interval);
    return !*(bool *)context;
}

static bool any_computed(const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (givens[i].form == GIVEN_COMPUTED)
            return true;
    return false;
}

static bool is_worked_out(const struct question *question)
{
    bool found = any_computed(question->givens, question->given_count);
    for (size_t i = 0; i < question->part_count && !found; i++) {
        found = any_computed(question->parts[i].givens, question->parts[i].given_count);
        if (!found)
            scheme_each_point(&question->parts[i].scheme.root, is_formula, &found);
    }
    return found;
}

void sense_check_variants(struct check *check)
{
    const struct question *question = check->question;
    uint64_t variants = question->varied ? SENSE_VARIANTS : is_worked_out(question);
    for (uint64_t seed = 0; seed < variants; seed++)
        if (!variant_is_sound(check, seed))
            return;     /* the first shows what is wrong; the others would say it again */
}
