/* A point with a number: which of the numbers written is its answer, and is it right? */
#include "answer/inside.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"

struct number_judgement {
    const struct reading *reading;
    const struct node *point;
    const struct number_key *key;
    const struct candidates *candidates;
    struct follow follow;
    bool final;                 /* the last number of its route: what the part asks for */
    struct point_evidence *evidence;
    struct number_evidence *number;
};

static const struct values no_values = {NULL, 0};

/* ---- The scheme ---------------------------------------------------------------------------------- */

/* Does the way that the point stands in end with its number? */
static bool is_final(const struct node *node, const struct node *point)
{
    if (node->kind == NODE_POINT)
        return node == point;
    bool each = node->kind == NODE_ROUTES || node->kind == NODE_ANY || node->kind == NODE_LIST;
    for (size_t i = node->child_count; i-- > 0;) {
        if (!scheme_answer_point(&node->children[i]))
            continue;
        if (is_final(&node->children[i], point))
            return true;
        if (!each)
            return false;
    }
    return false;
}

/* ---- One number ---------------------------------------------------------------------------------- */

static bool fits_unit(enum unit_shown shown)
{
    return shown == UNIT_FITS || shown == UNIT_UNCLEAR;
}

/* Compared with the unit behind it, or with as much of that as fits: "3 m s" in "3 m s later" may be metres. */
static struct number_verdict compare(const struct number_judgement *judgement, const struct candidate *candidate,
                                     double expected, const char **unit)
{
    *unit = candidate->unit;
    struct number_verdict verdict = compare_number(&candidate->number, *unit, judgement->key, expected);
    if (verdict.unit != UNIT_DIFFERENT && verdict.unit != UNIT_NOT_UNDERSTOOD)
        return verdict;
    for (size_t end = strlen(candidate->unit); end-- > 1;) {
        if (candidate->unit[end] != ' ')
            continue;
        const char *shorter = arena_copy_bytes(judgement->reading->arena, candidate->unit, end);
        struct number_verdict other = compare_number(&candidate->number, shorter, judgement->key, expected);
        if (other.unit == UNIT_SAME || other.unit == UNIT_OTHER_SCALE) {
            *unit = shorter;
            return other;
        }
    }
    return verdict;
}

/* An = with nothing but spaces or "about" before the number: a result. */
static bool is_result(const char *answer, size_t start)
{
    while (start > 0 && strchr(" ~\t", answer[start - 1]))
        start--;
    return start > 0 && (answer[start - 1] == '=' || (start > 2 && memcmp(answer + start - 3, "\u2248", 3) == 0));
}

/* "P = 23": the number that the key's symbol names; candidates' count when there is none. */
static size_t labelled(const struct number_judgement *judgement)
{
    const char *symbol = judgement->key->symbol, *answer = judgement->reading->answer;
    for (size_t i = judgement->candidates->count; symbol && i-- > 0;) {
        size_t at = judgement->candidates->items[i].at.start, length = strlen(symbol);
        while (at > 0 && strchr(" =", answer[at - 1]))
            at--;
        bool begins = at == length || (at > length && strchr(" \n,;:(.", answer[at - length - 1]));
        if (at >= length && begins && memcmp(answer + at - length, symbol, length) == 0
            && is_result(answer, judgement->candidates->items[i].at.start))
            return i;
    }
    return judgement->candidates->count;
}

/* What the student ends with: the last number with the unit wanted, or the last result, or the last number. */
static size_t final_number(const struct number_judgement *judgement)
{
    const struct candidates *candidates = judgement->candidates;
    size_t with_unit = candidates->count, result = candidates->count, last = candidates->count;
    bool asks_unit = judgement->key->unit && judgement->key->unit[0];
    for (size_t i = 0; i < candidates->count; i++) {
        const struct candidate *candidate = &candidates->items[i];
        if (candidate->given)
            continue;
        const char *unit;
        struct number_verdict verdict = compare(judgement, candidate, judgement->follow.scheme_value, &unit);
        bool written = candidate->unit[0] || candidate->number.percent || candidate->number.currency_before;
        if (asks_unit && written && fits_unit(verdict.unit_shown))
            with_unit = i;
        if (is_result(judgement->reading->answer, candidate->at.start))
            result = i;
        last = i;
    }
    if (result == candidates->count)
        return with_unit < candidates->count ? with_unit : last;
    /* "= 23 kW/m, in t = 60 s" ends with the former, "6 m^2 … = 30" with the latter. */
    bool other_unit = candidates->items[result].unit[0] != '\0';
    return with_unit < candidates->count && (with_unit >= result || other_unit) ? with_unit : result;
}

/* The last number that is `expected`; candidates' count when none is. */
static size_t agreeing(const struct number_judgement *judgement, double expected, bool givens)
{
    for (size_t i = judgement->candidates->count; i-- > 0;) {
        const char *unit;
        const struct candidate *candidate = &judgement->candidates->items[i];
        if (candidate->given == givens && compare(judgement, candidate, expected, &unit).value_right)
            return i;
    }
    return judgement->candidates->count;
}

/* ---- Working ------------------------------------------------------------------------------------- */

/* An operator, or a second =, outside the final value. "-" is left out: it may be a hyphen, as "−" may be a sign unless spaces
 * stand around it; so are powers, which stand in units too. */
static bool has_operator(const char *answer, struct quote value)
{
    static const char *const signs[] = {"+", "*", "/", "\u00d7", "\u00f7", "\u221a", " \u2212 "};
    size_t equals = 0;
    for (size_t at = 0; answer[at]; at++) {
        if (at >= value.start && at < value.start + value.length)
            continue;
        equals += answer[at] == '=';
        for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
            if (text_starts_with(answer + at, signs[i]))
                return true;
    }
    return equals > 1;
}

static enum working_shown working_behind(const struct number_judgement *judgement, struct quote value)
{
    return judgement->candidates->count > 1 || has_operator(judgement->reading->answer, value) ? WORKING_SEEN
                                                                                              : WORKING_NONE;
}

/* ---- Settling ------------------------------------------------------------------------------------ */

/* "35 g of salt in each kilogram" for g/kg: the second half of the unit comes later, in words. */
static bool is_worded_out(const struct number_judgement *judgement, const struct candidate *candidate)
{
    const struct words *words = &judgement->reading->words;
    if (!judgement->key->unit || !strpbrk(judgement->key->unit, "/-"))
        return false;
    for (size_t i = 0; i < words->count; i++)
        if (words->items[i].at.start >= candidate->at.start + candidate->at.length
            && (strcmp(words->items[i].folded, "each") == 0 || strcmp(words->items[i].folded, "every") == 0
                || strcmp(words->items[i].folded, "per") == 0 || strcmp(words->items[i].folded, "a") == 0))
            return true;
    return false;
}

static void take(struct number_judgement *judgement, size_t index, enum value_shown value, double expected)
{
    const struct candidate *candidate = &judgement->candidates->items[index];
    const char *unit;
    struct number_verdict verdict = compare(judgement, candidate, expected, &unit);
    enum unit_shown shown = verdict.unit_shown;
    if (shown == UNIT_LEFT_OUT && unit_is_written(judgement->reading->answer, judgement->key->unit))
        shown = UNIT_UNCLEAR;   /* "in kW: 23" */
    const char *misspelt = shown == UNIT_LEFT_OUT ? misspelt_unit(judgement->reading->answer + candidate->at.start + candidate->at.length,
                                                                  judgement->key->unit, judgement->reading->arena) : NULL;
    if (misspelt) {
        shown = UNIT_UNCLEAR;
        unit = misspelt;
    }
    if (shown == UNIT_WRONG && is_worded_out(judgement, candidate))
        shown = UNIT_UNCLEAR;
    *judgement->number = (struct number_evidence){
        .found = true, .number = candidate->number, .unit = unit, .at = candidate->at, .value = value,
        .figures_wrong = verdict.figures_asked && !verdict.figures_right, .unit_shown = shown,
        .working = working_behind(judgement, candidate->at), .in_key_unit = verdict.in_key_unit, .expected = expected,
    };
    judgement->evidence->quotes = keep_quote(judgement->reading, candidate->at);
    judgement->evidence->quote_count = 1;
}

static void say(struct number_judgement *judgement, enum evidence_verdict verdict, enum evidence_ground ground,
                const char *format)
{
    struct point_evidence *evidence = judgement->evidence;
    evidence->verdict = verdict;
    evidence->ground = ground;
    struct buffer text = BUFFER_EMPTY;
    const char *number = judgement->number->found ? quoted(judgement->reading, judgement->number->at) : "";
    for (const char *at = format; *at; at++) {
        if (*at == '@')
            buffer_print(&text, "\"%s\"", number);
        else
            buffer_add_character(&text, *at);
    }
    bool right = ground == GROUND_NUMBER_RIGHT || ground == GROUND_NUMBER_FOLLOWS;
    if (right && judgement->number->unit_shown == UNIT_LEFT_OUT)
        buffer_add(&text, ", but its unit is left out");
    if (right && judgement->number->unit_shown == UNIT_WRONG)
        buffer_add(&text, ", but its unit is another one");
    if (right && judgement->number->figures_wrong)
        buffer_add(&text, ", but not to the figures asked for");
    evidence->reason = arena_copy_text(judgement->reading->arena, buffer_text(&text));
    buffer_free(&text);
}

/* A right number that is not what the student ends with. */
static void say_unclear(struct number_judgement *judgement, size_t right, size_t end)
{
    const struct candidates *candidates = judgement->candidates;
    struct quote *quotes = arena_get_array(judgement->reading->arena, 2, sizeof *quotes);
    quotes[0] = candidates->items[right].at;
    quotes[1] = candidates->items[end].at;
    say(judgement, CANT_TELL, GROUND_NUMBER_UNCLEAR, "the right number is there, but your answer ends with another one");
    judgement->evidence->quotes = quotes;
    judgement->evidence->quote_count = 2;
}

/* Without the unit or the figures that are asked the mark may be lost for a right number: the rules of the award
 * decide, and a tick either way is no mistake. */
static enum evidence_verdict verdict_on_right(const struct number_judgement *judgement)
{
    const struct scheme *scheme = &judgement->reading->ask->part->scheme;
    const struct number_evidence *number = judgement->number;
    bool unit = number->unit_shown == UNIT_LEFT_OUT || number->unit_shown == UNIT_WRONG;
    bool penalised = unit && scheme->unit_penalty && !scheme->working_required;
    bool unsupported = scheme->working_required && number->working == WORKING_NONE;
    return penalised || unsupported || number->figures_wrong ? CANT_TELL : LOOKS_EARNED;
}

static bool settle_agreeing(struct number_judgement *judgement, double expected, enum value_shown value)
{
    size_t count = judgement->candidates->count, right = agreeing(judgement, expected, false);
    if (right == count)
        return false;
    size_t end = judgement->final ? final_number(judgement) : right;
    if (end < count && end > right) {
        say_unclear(judgement, right, end);
        return true;
    }
    take(judgement, right, value, expected);
    enum evidence_verdict verdict = verdict_on_right(judgement);
    if (value == VALUE_RIGHT)
        say(judgement, verdict, GROUND_NUMBER_RIGHT, "@ is right");
    else
        say(judgement, verdict, GROUND_NUMBER_FOLLOWS, "@ is right for your own earlier value");
    return true;
}

/* "thirty five grams": a number that is not read. */
static bool has_number_word(const struct words *words)
{
    static const char *const names[] = {"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
                                        "eleven", "twelve", "fifteen", "twenty", "thirty", "forty", "fifty", "sixty",
                                        "seventy", "eighty", "ninety", "hundred", "thousand", "million", "half", "quarter"};
    for (size_t i = 0; i < words->count; i++)
        for (size_t k = 0; k < sizeof names / sizeof *names; k++)
            if (strcmp(words->items[i].folded, names[k]) == 0)
                return true;
    return false;
}

static void settle_wrong(struct number_judgement *judgement)
{
    size_t count = judgement->candidates->count, named = labelled(judgement);
    size_t wrong = named < count ? named : judgement->final ? final_number(judgement) : count;
    bool repeats = agreeing(judgement, judgement->follow.scheme_value, true) < count;
    if (wrong < count && !repeats) {
        take(judgement, wrong, VALUE_WRONG, judgement->follow.expected);
        say(judgement, LOOKS_NOT_EARNED, GROUND_NUMBER_WRONG, "@ is not the number wanted");
    } else if (repeats)
        say(judgement, CANT_TELL, GROUND_NUMBER_UNCLEAR, "the number wanted is also one of those given");
    else if (judgement->final && !has_number_word(&judgement->reading->words))
        say(judgement, LOOKS_NOT_EARNED, GROUND_NUMBER_NONE, "no number of your own is in your answer");
    else
        say(judgement, CANT_TELL, GROUND_NUMBER_NONE, "this number is not in your answer");
}

/* The student's own value, for what is worked out from it later. A right one replaces a wrong one. */
static void keep_own(const struct number_judgement *judgement, struct own_values *own)
{
    const struct number_evidence *number = judgement->number;
    const char *symbol = judgement->key->symbol;
    if (!symbol || !number->found || number->unit_shown == UNIT_WRONG || !isfinite(number->in_key_unit))
        return;
    struct own_value value = {symbol, number->in_key_unit};
    for (size_t i = 0; i < own->count; i++)
        if (strcmp(own->items[i].symbol, symbol) == 0) {
            if (number->value == VALUE_RIGHT)
                own->items[i] = value;
            return;
        }
    own->items[own->count++] = value;
}

static bool is_bracketed(const char *answer, struct quote at)
{
    return at.start > 0 && answer[at.start - 1] == '(' && answer[at.start + at.length] == ')';
}

/* In accounts a number in brackets is negative; elsewhere brackets say nothing. */
static const struct candidates *as_in_accounts(const struct reading *reading, const struct candidates *candidates)
{
    struct candidates *turned = arena_get(reading->arena, sizeof *turned);
    *turned = (struct candidates){arena_get_array(reading->arena, candidates->count, sizeof *turned->items), candidates->count};
    for (size_t i = 0; i < candidates->count; i++) {
        struct candidate *candidate = &turned->items[i];
        *candidate = candidates->items[i];
        if (candidate->number.form != NUMBER_PLAIN || !is_bracketed(reading->answer, candidate->at))
            continue;
        candidate->number.value.negative = candidate->number.upper.negative = true;
        candidate->number.approximate = -fabs(candidate->number.approximate);
    }
    return turned;
}

void judge_number(const struct reading *reading, const struct candidates *candidates, struct own_values *own,
                  struct point_evidence *evidence)
{
    const struct node *point = evidence->point;
    assert(point->number);
    const struct values *values = reading->ask->values ? reading->ask->values : &no_values;
    struct number_judgement judgement = {
        .reading = reading, .point = point, .key = point->number, .candidates = candidates, .evidence = evidence,
        .follow = marking_follow(values, point, own->items, own->count, reading->arena),
        .final = is_final(&reading->ask->part->scheme.root, point),
        .number = arena_get(reading->arena, sizeof(struct number_evidence)),
    };
    if (judgement.follow.scheme_value < 0)
        judgement.candidates = as_in_accounts(reading, candidates);
    *judgement.number = (struct number_evidence){.unit = "", .in_key_unit = NAN, .expected = judgement.follow.expected};
    evidence->number = judgement.number;
    if (!settle_agreeing(&judgement, judgement.follow.scheme_value, VALUE_RIGHT)
        && (judgement.follow.reason != FOLLOW_APPLIES
            || !settle_agreeing(&judgement, judgement.follow.expected, VALUE_FOLLOWS)))
        settle_wrong(&judgement);
    keep_own(&judgement, own);
}
