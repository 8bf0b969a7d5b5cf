/* A thin, strict door to muParser: a scan lets through only numbers, known names, + - * / ^ brackets and
 * commas inside a function's brackets, so that nothing of muParser's assignments, strings, conditionals or
 * lists is reachable. What it finds in the arithmetic itself is said again in our words. */
#include "quantity/formula.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <muParserDLL.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "quantity/characters.h"

enum { LONGEST = FORMULA_LONGEST, DEEPEST = 32, MOST_NAMES = 64, LONGEST_NAME = FORMULA_NAME_LONGEST, KEPT = 16 };

struct used_name { char text[LONGEST_NAME + 1]; size_t at; };

struct names { struct used_name items[MOST_NAMES]; size_t count; };

/* One compiled formula with the parser it belongs to. */
struct compiled {
    muParserHandle_t parser;        /* NULL: never used */
    bool sound;
    unsigned long used;             /* the larger, the later */
    char formula[LONGEST + 1];
    struct names names;
    double values[MOST_NAMES];      /* muParser reads the variables here */
};

/* The formulae used last stay compiled: a question's variants evaluate few formulae with many values, and one
 * formula stands in many questions. The program has one thread. */
static struct compiled kept[KEPT];
static unsigned long clock_of_use;

static double smallest(const double *values, int count)
{
    double result = values[0];
    for (int i = 1; i < count; i++)
        result = isnan(values[i]) || values[i] < result ? values[i] : result;
    return result;
}

static double largest(const double *values, int count)
{
    double result = values[0];
    for (int i = 1; i < count; i++)
        result = isnan(values[i]) || values[i] > result ? values[i] : result;
    return result;
}

static const struct { const char *name; double (*value)(double); } functions[] = {
    {"sqrt", sqrt}, {"abs", fabs}, {"exp", exp}, {"ln", log}, {"log10", log10}, {"sin", sin}, {"cos", cos}, {"tan", tan},
    {"asin", asin}, {"acos", acos}, {"atan", atan},
};

static bool is_function(const char *name)
{
    for (size_t i = 0; i < sizeof functions / sizeof *functions; i++)
        if (strcmp(functions[i].name, name) == 0)
            return true;
    return strcmp(name, "min") == 0 || strcmp(name, "max") == 0;
}

static bool is_taken(const char *name)
{
    return is_function(name) || strcmp(name, "pi") == 0;
}

/* muParser's own functions and constants go: only those of the header are known. */
static muParserHandle_t new_parser(void)
{
    muParserHandle_t parser = mupCreate(muBASETYPE_FLOAT);
    assert(parser);
    mupClearFun(parser);
    mupClearConst(parser);
    mupDefineConst(parser, "pi", 3.14159265358979323846);
    for (size_t i = 0; i < sizeof functions / sizeof *functions; i++)
        mupDefineFun1(parser, functions[i].name, functions[i].value, 1);
    mupDefineMultFun(parser, "min", smallest, 1);
    mupDefineMultFun(parser, "max", largest, 1);
    /* No error handler is set: muParser then only raises a flag, which mupError reads and clears. */
    assert(!mupError(parser));
    return parser;
}

static bool fail(struct formula_result *result, size_t at, const char *format, ...) __attribute__((format(printf, 3, 4)));

static bool fail(struct formula_result *result, size_t at, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(result->fault, sizeof result->fault, format, arguments);
    va_end(arguments);
    result->understood = false;
    result->value = 0;
    result->fault_at = at;
    return false;
}

static size_t name_length(const char *at)
{
    size_t length = 0;
    if (isalpha((unsigned char)*at))
        while (isalnum((unsigned char)at[length]) || at[length] == '_')
            length++;
    return length;
}

bool formula_name_is_valid(const char *name)
{
    size_t length = name_length(name);
    return length > 0 && length <= LONGEST_NAME && name[length] == '\0' && !is_taken(name);
}

struct scan {
    const char *formula;
    size_t at;
    size_t depth;
    bool takes_comma[DEEPEST];      /* the bracket belongs to a function */
    bool behind_function;
    struct names *names;
    struct formula_result *result;
};

static bool note_name(struct scan *scan, const char *name)
{
    struct names *names = scan->names;
    for (size_t i = 0; i < names->count; i++)
        if (strcmp(names->items[i].text, name) == 0)
            return true;
    if (names->count == MOST_NAMES)
        return fail(scan->result, scan->at, "more than %d names: split the formula", MOST_NAMES);
    struct used_name *item = &names->items[names->count++];
    memcpy(item->text, name, strlen(name) + 1);
    item->at = scan->at;
    return true;
}

static bool scan_name(struct scan *scan)
{
    const char *start = scan->formula + scan->at;
    size_t length = name_length(start);
    char name[LONGEST_NAME + 1];
    if (length > LONGEST_NAME)
        return fail(scan->result, scan->at, "a name longer than %d letters: shorten it", LONGEST_NAME);
    memcpy(name, start, length);
    name[length] = '\0';
    bool touches = start[length] == '(', bracket = *skip_spaces(start + length) == '(';
    if (is_function(name) && !touches)   /* muParser takes no space between */
        return fail(scan->result, scan->at, "the function '%s' without brackets right behind it: write %s(...)", name, name);
    if (!is_function(name) && bracket)
        return fail(scan->result, scan->at, "'%s' is no function; for a product write %s*(...)", name, name);
    if (!is_taken(name) && !note_name(scan, name))
        return false;
    scan->behind_function = bracket;
    scan->at += length;
    return true;
}

static size_t exponent_length(const char *at)
{
    size_t sign = *at != 'e' && *at != 'E' ? 0 : at[1] == '+' || at[1] == '-' ? 2 : 1;
    size_t digits = sign > 0 ? strspn(at + sign, "0123456789") : 0;
    return digits > 0 ? sign + digits : 0;
}

static bool scan_number(struct scan *scan)
{
    const char *start = scan->formula + scan->at;
    size_t length = strspn(start, "0123456789"), behind = 0;
    if (start[length] == '.') {
        behind = strspn(start + length + 1, "0123456789");
        if (length + behind == 0)
            return fail(scan->result, scan->at, "a point without digits");
        length += 1 + behind;
    }
    length += exponent_length(start + length);
    char next = start[length];
    if (isalpha((unsigned char)next) || next == '_' || next == '.')
        return fail(scan->result, scan->at, "'%.*s' is neither a number nor a name; for a product write *",
                    (int)(length + 1 > 40 ? 40 : length + 1), start);
    char digits[LONGEST + 1];
    memcpy(digits, start, length);
    digits[length] = '\0';
    if (!isfinite(strtod(digits, NULL)))
        return fail(scan->result, scan->at, "a number too large: at most 1.8e308");
    scan->at += length;
    return true;
}

static bool scan_bracket(struct scan *scan, bool of_function)
{
    char sign = scan->formula[scan->at];
    if (sign == '(') {
        if (scan->depth == DEEPEST)
            return fail(scan->result, scan->at, "brackets nested deeper than %d", DEEPEST);
        scan->takes_comma[scan->depth++] = of_function;
    } else if (scan->depth == 0) {
        return fail(scan->result, scan->at, sign == ')' ? "')' without '(' before it" : "',' outside a function's brackets; write a decimal point as '.'");
    } else if (sign == ')') {
        scan->depth--;
    } else if (!scan->takes_comma[scan->depth - 1]) {
        return fail(scan->result, scan->at, "',' outside a function's brackets; write a decimal point as '.'");
    }
    scan->at++;
    return true;
}

static bool fail_at_character(struct scan *scan)
{
    static const struct { uint32_t code; const char *instead; } known[] = {
        {0xD7, "*"}, {0xB7, "*"}, {0x22C5, "*"}, {0xF7, "/"}, {0x2212, "-"}, {0x2013, "-"}, {0xB2, "^2"}, {0xB3, "^3"}, {0x221A, "sqrt(...)"},
        {0x3C0, "pi"}, {0xA0, "a plain space"},
    };
    const char *at = scan->formula + scan->at;
    size_t length;
    uint32_t code = character_at(at, &length);
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (known[i].code == code)
            return fail(scan->result, scan->at, "'%.*s' has no meaning in a formula: write %s", (int)length, at, known[i].instead);
    return fail(scan->result, scan->at, "'%.*s' has no meaning in a formula, which is made of numbers, names, + - * / ^ and ( )", (int)length, at);
}

static bool scan_one(struct scan *scan)
{
    char sign = scan->formula[scan->at];
    bool of_function = scan->behind_function;
    if (sign == ' ' || sign == '\t' || sign == '\n' || sign == '\r') {
        scan->at++;
        return true;
    }
    scan->behind_function = false;
    if (isalpha((unsigned char)sign))
        return scan_name(scan);
    if (isdigit((unsigned char)sign) || sign == '.')
        return scan_number(scan);
    if (sign == '(' || sign == ')' || sign == ',')
        return scan_bracket(scan, of_function);
    if (!strchr("+-*/^", sign))
        return fail_at_character(scan);
    scan->at++;
    return true;
}

/* Collects the names; false at the first thing that has no place in a formula. */
static bool scan_formula(const char *formula, struct names *names, struct formula_result *result)
{
    struct scan scan = {.formula = formula, .names = names, .result = result};
    names->count = 0;
    if (strnlen(formula, LONGEST + 1) > LONGEST)
        return fail(result, LONGEST, "longer than %d bytes: split the formula", LONGEST);
    if (*skip_blanks(formula) == '\0')
        return fail(result, 0, "the formula is empty");
    while (formula[scan.at] != '\0')
        if (!scan_one(&scan))
            return false;
    return scan.depth == 0 || fail(result, scan.at, "a bracket is not closed: ')' is missing");
}

/* muParser's finding in our words. Codes as in its EErrorCodes. */
static bool fail_as_parser(muParserHandle_t parser, const char *formula, struct formula_result *result)
{
    static const struct { int code; const char *what; } faults[] = {
        {0, "an operator with no value before it"}, {2, "the formula ends where a value was expected"},
        {3, "a comma where a value was expected"}, {4, "a value where an operator was expected"},
        {5, "a number where an operator was expected: write * for a product"},
        {6, "a name where an operator was expected: write * for a product"}, {7, "a bracket where none can stand"},
        {12, "a function where an operator was expected: write * for a product"}, {14, "too many values in a function's brackets"},
        {15, "too few values in a function's brackets"},
    };
    int code = mupGetErrorCode(parser), position = mupGetErrorPos(parser);
    size_t length = strlen(formula), at = position < 0 || (size_t)position > length ? length : (size_t)position;
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
        if (faults[i].code == code)
            return fail(result, at, "%s", faults[i].what);
    return fail(result, at, "no formula: it breaks off here");
}

/* Where the formula is kept, or the place to give up for it: one never used, else the one used longest ago. */
static struct compiled *place_of(const char *formula)
{
    struct compiled *oldest = &kept[0];
    for (size_t i = 0; i < KEPT; i++) {
        if (kept[i].sound && strcmp(kept[i].formula, formula) == 0)
            return &kept[i];
        if (kept[i].used < oldest->used)
            oldest = &kept[i];
    }
    oldest->sound = false;
    return oldest;
}

static bool parse(struct compiled *place, struct formula_result *result)
{
    muParserHandle_t parser = place->parser;
    mupClearVar(parser);
    for (size_t i = 0; i < place->names.count; i++) {
        place->values[i] = 1;
        mupDefineVar(parser, place->names.items[i].text, &place->values[i]);
        assert(!mupError(parser));   /* the scan lets no name through that muParser refuses */
    }
    mupSetExpr(parser, place->formula);
    bool refused = mupError(parser);
    if (!refused) {
        mupEval(parser);             /* parsing happens here */
        refused = mupError(parser);
    }
    return !refused || fail_as_parser(parser, place->formula, result);
}

/* The formula ready to be evaluated with whatever its values hold; NULL with a fault. */
static struct compiled *compile(const char *formula, struct formula_result *result)
{
    struct compiled *place = place_of(formula);
    place->used = ++clock_of_use;
    if (place->sound)
        return place;
    if (!place->parser)
        place->parser = new_parser();
    if (!scan_formula(formula, &place->names, result))
        return NULL;
    memcpy(place->formula, formula, strlen(formula) + 1);
    place->sound = parse(place, result);
    return place->sound ? place : NULL;
}

static bool evaluate(const struct compiled *place, double *value, struct formula_result *result)
{
    *value = mupEval(place->parser);
    return !mupError(place->parser) || fail_as_parser(place->parser, place->formula, result);
}

static bool bind(struct compiled *place, const struct binding *bindings, size_t count, struct formula_result *result)
{
    for (size_t i = 0; i < place->names.count; i++) {
        const struct used_name *name = &place->names.items[i];
        size_t at = 0;
        while (at < count && strcmp(bindings[at].name, name->text) != 0)
            at++;
        if (at == count)
            return fail(result, name->at, "unknown name '%s'", name->text);
        place->values[i] = bindings[at].value;
    }
    return true;
}

struct formula_result formula_value(const char *formula, const struct binding *bindings, size_t count)
{
    struct formula_result result = {.understood = false};
    struct compiled *place = compile(formula, &result);
    if (place && bind(place, bindings, count, &result))
        result.understood = evaluate(place, &result.value, &result);
    return result;
}

/* The column of each name of the formula, in its order. */
static bool bind_columns(const struct compiled *place, const struct formula_column *columns, size_t count,
                         const struct formula_column *bound[MOST_NAMES], struct formula_result *result)
{
    for (size_t i = 0; i < place->names.count; i++) {
        const struct used_name *name = &place->names.items[i];
        size_t at = 0;
        while (at < count && strcmp(columns[at].name, name->text) != 0)
            at++;
        if (at == count)
            return fail(result, name->at, "unknown name '%s'", name->text);
        bound[i] = &columns[at];
    }
    return true;
}

struct formula_result formula_fill(const char *formula, const struct formula_column *columns, size_t count,
                                   size_t row_count, double *results)
{
    struct formula_result result = {.understood = false};
    const struct formula_column *bound[MOST_NAMES];
    struct compiled *place = compile(formula, &result);
    result.understood = place && bind_columns(place, columns, count, bound, &result);
    for (size_t row = 0; row < row_count && result.understood; row++) {
        for (size_t i = 0; i < place->names.count; i++)
            place->values[i] = bound[i]->values[bound[i]->same ? 0 : row];
        result.understood = evaluate(place, &results[row], &result);
    }
    return result;
}

bool formula_names(const char *formula, void (*visit)(const char *name, void *context), void *context,
                   struct formula_result *result)
{
    *result = (struct formula_result){.understood = false};
    const struct compiled *place = compile(formula, result);
    if (!place)
        return false;
    result->understood = true;
    struct names names = place->names;   /* visit may use other formulae */
    for (size_t i = 0; i < names.count; i++)
        visit(names.items[i].text, context);
    return true;
}
