#include "quantity/variant.h"

#include <assert.h>
#include <inttypes.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include "quantity/number.h"

enum { MOST_DIGITS = 18 };   /* what an int64_t holds whatever the digits are */

/* A range counted in units of its finest decimal place. */
struct scaled {
    int64_t low, high, step;
    int places;
};

static bool fail(const char **cause, const char *text)
{
    *cause = text;
    return false;
}

static bool read_decimal(const char *text, struct number *number)
{
    return number_read(text, number, NULL) && (number->form == NUMBER_PLAIN || number->form == NUMBER_STANDARD_FORM)
        && !number->has_uncertainty && !number->currency_before;
}

/* Decimal places without which the value would change: 2 for 0.50 × 10⁻¹, 0 for 1200. */
static int places_needed(const struct decimal *value)
{
    int length = (int)strlen(value->digits);
    while (length > 1 && value->digits[length - 1] == '0')
        length--;
    int places = length - value->point;
    return value->digits[0] == '0' || places < 0 ? 0 : places;
}

/* The value × 10^places, which is whole. */
static bool scale(const struct decimal *value, int places, int64_t *result)
{
    *result = 0;
    if (value->digits[0] == '0')
        return true;
    int wanted = value->point + places;
    if (wanted > MOST_DIGITS)
        return false;
    assert(wanted >= 1);
    int length = (int)strlen(value->digits);
    for (int i = 0; i < wanted; i++)
        *result = *result * 10 + (i < length ? value->digits[i] - '0' : 0);
    *result = value->negative ? -*result : *result;
    return true;
}

static int larger(int a, int b)
{
    return a > b ? a : b;
}

static bool scale_range(const struct variant_range *range, struct scaled *scaled, const char **cause)
{
    struct number low, high, step;
    if (!read_decimal(range->low, &low))
        return fail(cause, "the lowest value is no decimal number");
    if (!read_decimal(range->high, &high))
        return fail(cause, "the highest value is no decimal number");
    if (!read_decimal(range->step, &step))
        return fail(cause, "the step is no decimal number");
    int written = step.form == NUMBER_PLAIN ? step.places : 0;   /* 1e-3 needs its three anyway */
    scaled->places = larger(larger(written, places_needed(&step.value)), places_needed(&low.value));
    /* high may be finer than any value reached: only what lies below it counts. */
    int finest = larger(scaled->places, places_needed(&high.value));
    if (finest > MOST_DIGITS || !scale(&low.value, finest, &scaled->low) || !scale(&high.value, finest, &scaled->high)
        || !scale(&step.value, finest, &scaled->step))
        return fail(cause, "the values have more than 18 digits");
    for (; finest > scaled->places; finest--) {
        scaled->low /= 10;
        scaled->step /= 10;
        scaled->high = scaled->high / 10 - (scaled->high % 10 < 0);   /* down, not towards zero */
    }
    return true;
}

static bool count_range(const struct variant_range *range, struct scaled *scaled, size_t *count, const char **cause)
{
    if (!scale_range(range, scaled, cause))
        return false;
    if (scaled->step <= 0)
        return fail(cause, "the step is not greater than 0");
    if (scaled->high < scaled->low)
        return fail(cause, "the highest value lies below the lowest");
    uint64_t steps = ((uint64_t)scaled->high - (uint64_t)scaled->low) / (uint64_t)scaled->step;
    if (steps > VARIANT_MOST_STEPS)
        return fail(cause, "the range has more than 10,000 steps");
    *count = (size_t)steps + 1;
    return true;
}

static void add_value(const struct scaled *scaled, size_t index, struct buffer *out)
{
    int64_t value = scaled->low + (int64_t)index * scaled->step;
    char digits[MOST_DIGITS + 4];
    int length = snprintf(digits, sizeof digits, "%0*" PRId64, scaled->places + 1, value < 0 ? -value : value);
    assert(length > scaled->places && length < (int)sizeof digits);
    buffer_add(out, value < 0 ? "-" : "");
    buffer_add_bytes(out, digits, (size_t)(length - scaled->places));
    if (scaled->places > 0)
        buffer_print(out, ".%s", digits + length - scaled->places);
}

size_t variant_range_count(const struct variant_range *range, const char **cause)
{
    struct scaled scaled;
    size_t count;
    return count_range(range, &scaled, &count, cause) ? count : 0;
}

bool variant_range_value(const struct variant_range *range, size_t index, struct buffer *out, const char **cause)
{
    struct scaled scaled;
    size_t count;
    if (!count_range(range, &scaled, &count, cause))
        return false;
    if (index >= count)
        return fail(cause, "the range has fewer values");
    add_value(&scaled, index, out);
    return true;
}

bool variant_range_read(const struct variant_range *range, struct variant_steps *steps, const char **cause)
{
    struct scaled scaled;
    *steps = (struct variant_steps){.count = 0};
    if (!count_range(range, &scaled, &steps->count, cause))
        return false;
    *steps = (struct variant_steps){scaled.low, scaled.step, scaled.places, steps->count};
    return true;
}

double variant_steps_value(const struct variant_steps *steps, size_t index)
{
    assert(index < steps->count);
    return decimal_scaled_value(steps->low + (int64_t)index * steps->step, steps->places);
}

bool variant_draw_range(struct random_source *source, const struct variant_range *range, struct buffer *out,
                        const char **cause)
{
    struct scaled scaled;
    size_t count;
    if (!count_range(range, &scaled, &count, cause))
        return false;
    add_value(&scaled, (size_t)random_below(source, count), out);
    return true;
}

bool variant_draw_list(struct random_source *source, const char *const *texts, size_t count, struct buffer *out,
                       const char **cause)
{
    struct number number;
    if (count == 0)
        return fail(cause, "the list of values is empty");
    for (size_t i = 0; i < count; i++)
        if (!read_decimal(texts[i], &number))
            return fail(cause, "a value of the list is no decimal number");
    buffer_add(out, texts[random_below(source, count)]);
    return true;
}
