/* Do the numbers of a question stay sensible whatever is drawn? Each given and number is worked out for all the
 * variants under trial as soon as the walk of sense-numbers.c has found it sound, while its formula is still
 * compiled. The first fault ends the trial: what follows from a senseless number is senseless too. */
#include <math.h>
#include <string.h>

#include "bank/sense-inner.h"

enum { SHOWN_DIGITS_LIMIT = 8 };
static const double smallest = 1e-12, largest = 1e15;

/* The digits of the number without its power of ten: what a student would have to read or to write. */
static size_t digits_shown(const char *text)
{
    size_t length = strcspn(text, "\xc3"), zeros = 0, digits = 0;   /* this byte begins the sign × */
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9' || (digits == 0 && text[i] == '0'))
            continue;
        digits++;
        zeros = text[i] == '0' ? zeros + 1 : 0;
    }
    /* 10000000000 is long to write but shows one figure; behind a point zeros are figures. */
    return memchr(text, '.', length) ? digits : digits - zeros;
}

/* Surely no more figures than the limit: the number of units of its last place is below 10^8. */
static bool is_short(double value, int places)
{
    return places >= 0 && fabs(value) * pow(10, places) < 99999998;
}

static bool choices_are_short(const struct given *given)
{
    for (size_t i = 0; i < given->choice_count; i++)
        if (strlen(given->choices[i]) > SHOWN_DIGITS_LIMIT)
            return false;
    return true;
}

/* NULL when the number is sensible. shown NULL: not too long in any case. */
static const char *what_is_wrong(const struct check *check, const char *shown, double value)
{
    if (value == 0)
        return check->question->varied ? "nothing to work with" : NULL;
    if (fabs(value) < smallest || fabs(value) > largest)
        return "beyond what is sensible (10⁻¹² to 10¹⁵)";
    return shown && digits_shown(shown) > SHOWN_DIGITS_LIMIT ? "more than 8 figures" : NULL;
}

static void refuse(struct check *check, const struct batch *batch, size_t drawing, const char *name, const char *shown,
                   const char *why)
{
    const char *givens = batch_givens_text(batch, drawing);
    sense_fault(check, "%s comes out as %s%s%s, which is %s: change the numbers that it is worked out from, or how it "
                "is rounded", name, shown, *givens ? " with " : "", givens, why);
    check->trying = false;
}

static void look_at_given(struct check *check, size_t index, size_t drawing, bool is_known_short)
{
    struct batch *batch = &check->batch;
    const struct given *given = batch->columns[index].given;
    double value = batch_value(batch, index, drawing);
    /* A zero that the author wrote is meant; one that was worked out makes a part trivial. */
    if (value == 0 && given->form != GIVEN_COMPUTED)
        return;
    const char *shown = is_known_short || is_short(value, batch->columns[index].places)
        ? NULL : batch_text(batch, index, drawing);
    const char *why = what_is_wrong(check, shown, value);
    if (why)
        refuse(check, batch, drawing, arena_print(batch->arena, "the given '%s'", given->symbol),
               batch_text(batch, index, drawing), why);
}

void sense_try_given(struct check *check, const struct given *given)
{
    if (!check->trying)
        return;
    struct batch *batch = &check->batch;
    const char *fault = batch_given(batch, given);
    if (fault) {
        sense_fault(check, "%s", fault);
        check->trying = false;
    }
    if (given->form == GIVEN_FIXED)
        return;
    bool short_choices = given->form == GIVEN_CHOICE && choices_are_short(given);
    for (size_t k = 0; k < batch->count && check->trying; k++)
        look_at_given(check, batch->bound - 1, k, short_choices);
}

static bool is_outside(const struct number_key *key, double value)
{
    return key->has_interval
        && (value < key->from || value > key->to || (value == key->to && key->to_excluded));
}

static void look_at_number(struct check *check, const struct number_key *key, size_t drawing)
{
    double value = check->batch.worked[drawing];
    struct buffer shown = BUFFER_EMPTY;
    const char *why = NULL;
    if (key->places >= 0 && !is_short(value, key->places))  /* figures are few: that was checked before */
        values_show_answer(&shown, key, value);
    if (key->formula)
        why = what_is_wrong(check, shown.length ? buffer_text(&shown) : NULL, value);
    if (!why && is_outside(key, value))
        why = "outside its own interval";
    if (why) {
        buffer_clear(&shown);
        values_show_answer(&shown, key, value);
        const char *name = key->symbol ? arena_print(check->sense->scratch, "the number '%s'", key->symbol) : "a number";
        refuse(check, &check->batch, drawing, name, buffer_text(&shown), why);
    }
    buffer_free(&shown);
}

void sense_try_number(struct check *check, const struct number_key *key)
{
    if (!check->trying || (!key->value && !key->formula))
        return;
    const char *fault = batch_number(&check->batch, key);
    if (fault) {
        sense_fault(check, "%s", fault);
        check->trying = false;
    }
    for (size_t k = 0; k < check->batch.count && check->trying; k++)
        look_at_number(check, key, k);
}
