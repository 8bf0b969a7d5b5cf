/* Symbols, givens, numbers to find, and the values that texts show: the walk follows the order in which they
 * become known, so that whatever a formula names stands before it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "bank/sense-inner.h"
#include "quantity/formula.h"
#include "quantity/number.h"

enum { PLACES_LIMIT = 12, FIGURES_LIMIT = 8, DECIMAL_LENGTH_LIMIT = NUMBER_DIGITS };

/* The letters allowed leave strtod none of its other spellings (hexadecimal, inf, nan), and the program keeps the
 * decimal point of the C locale. */
bool sense_is_decimal(const char *text)
{
    if (!text || !*text || strlen(text) > DECIMAL_LENGTH_LIMIT || text[strspn(text, "0123456789+-.eE")] != '\0')
        return false;
    char *end;
    double value = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(value);
}

bool sense_symbol_name(const struct check *check, const char *symbol, const char *what)
{
    if (formula_name_is_valid(symbol))
        return true;
    sense_fault(check, "the %s '%s' cannot be named in a formula: write letters, digits and _ only, a letter first, and "
                "no name that formulae know already, such as pi or sqrt", what, symbol);
    return false;
}

static void define(struct check *check, const char *symbol, const char *what)
{
    if (!sense_symbol_name(check, symbol, what))
        return;
    if (names_find(&check->sense->constants, symbol))
        sense_fault(check, "the %s '%s' has the symbol of a constant of the data sheet: give it another symbol", what,
                    symbol);
    else if (!names_add(&check->sense->symbols, symbol, 0))
        sense_fault(check, "the %s '%s' has the symbol of an earlier given or number: give it another symbol", what,
                    symbol);
}

static bool is_known(const struct check *check, const char *symbol)
{
    return names_find(&check->sense->symbols, symbol) || names_find(&check->sense->constants, symbol);
}

/* ---- Formulae ---- */

struct use {
    const struct check *check;
    const char *formula;
};

static void check_use(const char *name, void *context)
{
    const struct use *use = context;
    if (is_known(use->check, name))
        return;
    const struct sense *sense = use->check->sense;
    const char *nearest = sense_suggestion(sense, name, &sense->symbols, &sense->constants, use->check->messages);
    sense_fault(use->check, "the formula '%s' uses '%s', which is no constant and no earlier given or number%s",
                use->formula, name, *nearest ? nearest : ": define it before, or mend the name");
}

static void check_formula(const struct check *check, const char *formula)
{
    struct formula_result result = {.understood = false};
    struct use use = {check, formula};
    if (!formula_names(formula, check_use, &use, &result))
        sense_fault(check, "the formula '%s' cannot be read at character %zu: %s", formula, result.fault_at + 1,
                    result.fault);
}

/* ---- Givens ---- */

static bool check_decimal(const struct check *check, const struct given *given, const char *text)
{
    if (sense_is_decimal(text))
        return true;
    sense_fault(check, "the given '%s' has the value '%s', which is no decimal number: write it as 1.20 or 3.0e8",
                given->symbol, text);
    return false;
}

static void check_range(const struct check *check, const struct given *given)
{
    if (!check_decimal(check, given, given->low) || !check_decimal(check, given, given->high)
        || !check_decimal(check, given, given->step))
        return;
    double low = strtod(given->low, NULL), high = strtod(given->high, NULL), step = strtod(given->step, NULL);
    if (!(low < high))
        sense_fault(check, "the given '%s' goes from %s to %s: the first must be the smaller", given->symbol,
                    given->low, given->high);
    else if (!(step > 0))
        sense_fault(check, "the given '%s' has the step %s: it must be above 0", given->symbol, given->step);
    else if (step > high - low + step / 1024)   /* room for binary rounding of the decimals */
        sense_fault(check, "the given '%s' has the step %s, larger than its range from %s to %s: nothing could be "
                    "drawn but %s", given->symbol, given->step, given->low, given->high, given->low);
}

/* No trial with what is faulty, nor with what rests on it. */
static void try_on(struct check *check, size_t errors_before)
{
    check->trying = check->trying && check->messages->errors == errors_before;
}

static void check_given(struct check *check, const struct given *given)
{
    size_t errors = check->messages->errors;
    switch (given->form) {
    case GIVEN_FIXED:
    case GIVEN_CHOICE:
        if (given->choice_count == 0)
            sense_fault(check, "the given '%s' has no value: write value, choices, from/to/step or formula",
                        given->symbol);
        for (size_t i = 0; i < given->choice_count; i++)
            check_decimal(check, given, given->choices[i]);
        break;
    case GIVEN_RANGE:
        check_range(check, given);
        break;
    case GIVEN_COMPUTED:
        check_formula(check, given->formula);
        if (given->places < 0 || given->places > PLACES_LIMIT)
            sense_fault(check, "the given '%s' is computed to %d decimal places: 0 to %d can be shown", given->symbol,
                        given->places, PLACES_LIMIT);
        break;
    }
    sense_unit(check, given->unit, "the given", given->symbol);
    define(check, given->symbol, "given");
    try_on(check, errors);
    sense_try_given(check, given);
}

static void check_givens(struct check *check, const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        check_given(check, &givens[i]);
}

/* ---- Numbers to find ---- */

static void check_source(const struct check *check, const struct number_key *key)
{
    if (key->value && key->formula)
        sense_fault(check, "a number has both a value and a formula: keep one");
    else if (!key->value && !key->formula && !key->has_interval)
        sense_fault(check, "a number has no value, no formula and no interval: write value=\"…\", formula=\"…\" or "
                    "from=\"…\" to=\"…\"");
    else if (!key->value && !key->formula && key->symbol)
        sense_fault(check, "the number '%s' has only an interval, so no formula can use it: add its value or formula, "
                    "or take the symbol away", key->symbol);
    if (key->value && !sense_is_decimal(key->value))
        sense_fault(check, "the value '%s' of a number is no decimal number: write it as 1.20 or 3.0e8", key->value);
    if (key->formula)
        check_formula(check, key->formula);
}

static void check_closeness(const struct check *check, const struct number_key *key)
{
    if (!isfinite(key->tolerance) || key->tolerance < 0 || (key->tolerance_relative && key->tolerance >= 1))
        sense_fault(check, "a tolerance of %g%s cannot be used: write an amount of 0 or more, or a percentage below 100",
                    key->tolerance_relative ? key->tolerance * 100 : key->tolerance,
                    key->tolerance_relative ? "%" : "");
    if (key->has_interval && !(key->from < key->to))
        sense_fault(check, "a number may lie from %g to %g: the first must be the smaller", key->from, key->to);
    if (key->has_interval && key->tolerance > 0)
        sense_fault(check, "a number has both an interval and a tolerance: keep the one that decides");
    if (key->figures > 0 && key->places >= 0)
        sense_fault(check, "a number asks for figures and for decimal places: keep the one that the ask demands");
    if (key->figures < 0 || key->figures > FIGURES_LIMIT || key->places > PLACES_LIMIT)
        sense_fault(check, "a number asks for more than can be written sensibly: at most %d figures or %d decimal "
                    "places", FIGURES_LIMIT, PLACES_LIMIT);
}

static bool check_number(const struct node *point, void *context)
{
    struct check *check = context;
    const struct number_key *key = point->number;
    if (!key)
        return true;
    if (point->line) {
        check->line = point->line;
        check->column = point->column;
    }
    size_t errors = check->messages->errors;
    check_closeness(check, key);
    sense_unit(check, key->unit, key->symbol ? "the number" : "a number", key->symbol);
    check_source(check, key);
    if (key->symbol)
        define(check, key->symbol, "number");
    try_on(check, errors);
    sense_try_number(check, key);
    return true;
}

/* ---- Values in texts ---- */

static void check_rich(const struct check *check, const struct rich *rich)
{
    for (size_t i = 0; i < rich->count; i++) {
        const struct run *run = &rich->runs[i];
        if (run->style != RUN_VALUE || is_known(check, run->text))
            continue;
        const struct sense *sense = check->sense;
        const char *nearest = sense_suggestion(sense, run->text, &sense->symbols, &sense->constants,
                                               check->messages);
        sense_fault(check, "a text shows the value of '%s', which is no constant, no given and no number known "
                    "there%s", run->text, *nearest ? nearest : ": define it before, or mend the name");
    }
}

static void check_blocks(const struct check *check, const struct block *blocks, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct block *block = &blocks[i];
        check_rich(check, &block->text);
        for (size_t row = 0; row < block->row_count; row++)
            for (size_t cell = 0; cell < block->rows[row].count; cell++)
                check_rich(check, &block->rows[row].cells[cell]);
        for (size_t item = 0; item < block->item_count; item++)
            check_rich(check, &block->items[item]);
        check_blocks(check, block->blocks, block->block_count);
    }
}

static void check_point_texts(const struct check *check, const struct node *node)
{
    check_rich(check, &node->text);
    for (size_t i = 0; i < node->child_count; i++)
        check_point_texts(check, &node->children[i]);
    for (size_t i = 0; i < node->indicative_count; i++)
        check_point_texts(check, &node->indicative[i]);
}

/* The ask is read before anything of the part is worked out; its scheme, model answer and note after. */
static void check_part_numbers(struct check *check, const struct part *part)
{
    check->part = part;
    check->line = part->line;
    check->column = part->column;
    check_givens(check, part->givens, part->given_count);
    check_blocks(check, part->ask.items, part->ask.count);
    scheme_each_point(&part->scheme.root, check_number, check);
    check->line = part->line;
    check->column = part->column;
    check_point_texts(check, &part->scheme.root);
    check_blocks(check, part->model.items, part->model.count);
    check_blocks(check, part->note.items, part->note.count);
    check->part = NULL;
}

static bool is_tried(const struct node *point, void *context)
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

/* Nothing to try where no number is worked out from others. */
static bool any_trial(const struct question *question)
{
    bool found = question->varied || any_computed(question->givens, question->given_count);
    for (size_t i = 0; i < question->part_count && !found; i++) {
        found = any_computed(question->parts[i].givens, question->parts[i].given_count);
        if (!found)
            scheme_each_point(&question->parts[i].scheme.root, is_tried, &found);
    }
    return found;
}

void sense_check_numbers(struct check *check)
{
    const struct question *question = check->question;
    struct sense *sense = check->sense;
    check->trying = sense->course_is_sound && any_trial(question);
    if (check->trying)
        check->batch = batch_of_many(sense->course, question, SENSE_VARIANTS, sense->scratch);
    check_givens(check, question->givens, question->given_count);
    check_blocks(check, question->stem.items, question->stem.count);
    for (size_t i = 0; i < question->part_count; i++)
        check_part_numbers(check, &question->parts[i]);
    check->line = question->line;
    check->column = question->column;
    check_blocks(check, question->note.items, question->note.count);
}
