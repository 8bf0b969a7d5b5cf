/* Products, powers and quotients of units, in symbols and in words. */
#include "quantity/unit-parts.h"

#include <assert.h>
#include <ctype.h>
#include <string.h>
#include "quantity/characters.h"

enum { GROUPS = 6, DEPTH = 6, LARGEST_EXPONENT = 12 };

struct parser {
    const char *start, *at;
    bool prose;
    bool unsettled;
    int depth;
};

/* What stands between two solidi: W/(m² K) has two groups. */
struct group {
    struct reading_set all, first, rest;
    int factors;
    bool by_word;       /* "per" before it */
};

static bool read_quotient(struct parser *parser, struct reading_set *set);

static bool is_letter(char letter)
{
    return isalpha((unsigned char)letter) || letter == '_';
}

static const char *skip_plain_spaces(const char *at)
{
    while (*at == ' ')
        at++;
    return at;
}

/* "deg C", "nautical miles": names of several words, tried before single ones. */
static const char *read_phrase(const char *at, struct reading_set *set)
{
    static const struct { const char *words[3]; const char *symbol; } phrases[] = {
        {{"nautical", "mile"}, "nmi"}, {{"nautical", "miles"}, "nmi"}, {{"light", "year"}, "ly"}, {{"light", "years"}, "ly"},
        {{"light-year"}, "ly"}, {{"light-years"}, "ly"}, {{"deg", "C"}, "degC"}, {{"degrees", "C"}, "degC"},
        {{"deg", "F"}, "degF"}, {{"degrees", "F"}, "degF"}, {{"degrees", "celsius"}, "degC"}, {{"degree", "celsius"}, "degC"},
        {{"degrees", "centigrade"}, "degC"}, {{"degrees", "fahrenheit"}, "degF"}, {{"degree", "fahrenheit"}, "degF"},
        {{"parts", "per", "thousand"}, "ppt"}, {{"parts", "per", "million"}, "ppm"}, {{"parts", "per", "billion"}, "ppb"},
        {{"per", "cent"}, "percent"}, {{"per", "mille"}, "permille"}, {{"mm", "Hg"}, "mmHg"}, {{"mm", "of", "mercury"}, "mmHg"},
        {{"metric", "ton"}, "t"}, {{"metric", "tons"}, "t"}, {{"metric", "tonnes"}, "t"},
    };
    for (size_t i = 0; i < sizeof phrases / sizeof *phrases; i++) {
        const char *end = at;
        for (size_t w = 0; end && w < 3 && phrases[i].words[w]; w++)
            end = skip_word(w > 0 ? skip_plain_spaces(end) : end, phrases[i].words[w]);
        if (!end)
            continue;
        const char *symbol = phrases[i].symbol;
        const struct unit_entry *entry = unit_entry_find(unit_symbols, unit_symbol_count, symbol, strlen(symbol));
        assert(entry);
        struct reading reading = reading_of_entry(entry, NULL);
        reading_set_add(set, &reading);
        return end;
    }
    return NULL;
}

/* ^-2, ^(-2), ^{2}; -2 and 2 right behind the letters; " -2" too where no prose can follow. Returns behind
 * it, `at` itself with *exponent 1 if there is none, NULL if it is out of range. */
static const char *read_exponent(const struct parser *parser, const char *at, int *exponent)
{
    *exponent = 1;
    const char *from = at;
    bool caret = *from == '^';
    if (caret)
        from = skip_plain_spaces(from + 1);
    else if (!parser->prose && *from == ' ' && *skip_plain_spaces(from) == '-')
        from = skip_plain_spaces(from);
    char close = !caret ? '\0' : *from == '(' ? ')' : *from == '{' ? '}' : '\0';
    from += close != '\0';
    bool minus = *from == '-';
    from += minus || (caret && *from == '+');
    size_t digits = strspn(from, "0123456789");
    if (digits == 0)
        return caret ? NULL : at;
    int value = digits == 1 ? from[0] - '0' : digits == 2 ? (from[0] - '0') * 10 + from[1] - '0' : 0;
    from += digits;
    if (value < 1 || value > LARGEST_EXPONENT || (close && *from != close))
        return NULL;
    *exponent = minus ? -value : value;
    return close ? from + 1 : from;
}

static const char *read_spoken_power(const char *at, int *power)
{
    static const struct { const char *word; int power; } powers[] = {{"squared", 2}, {"cubed", 3}};
    const char *word = skip_plain_spaces(at);
    *power = 1;
    for (size_t i = 0; word > at && i < 2; i++) {
        const char *end = skip_word(word, powers[i].word);
        if (end) {
            *power = powers[i].power;
            return end;
        }
    }
    return at;
}

static const char *read_power_before(const char *at, int *power)
{
    static const struct { const char *word; int power; } powers[] = {{"square", 2}, {"sq", 2}, {"cubic", 3}, {"cu", 3}};
    *power = 1;
    for (size_t i = 0; i < sizeof powers / sizeof *powers; i++) {
        const char *end = skip_word(at, powers[i].word);
        if (end && *end == '.')
            end++;
        if (end && *end == ' ') {
            *power = powers[i].power;
            return skip_plain_spaces(end);
        }
    }
    return at;
}

static bool read_bracket(struct parser *parser, struct reading_set *set)
{
    if (parser->depth == DEPTH)
        return false;
    parser->depth++;
    parser->at = skip_plain_spaces(parser->at + 1);
    bool read = read_quotient(parser, set);
    parser->depth--;
    const char *end = skip_plain_spaces(parser->at);
    int exponent;
    if (!read || *end != ')')
        return false;
    const char *behind = read_exponent(parser, end + 1, &exponent);
    if (!behind || !reading_set_raise(set, exponent))
        return false;
    parser->at = behind;
    return true;
}

static bool read_letters(struct parser *parser, struct reading_set *set)
{
    int before, exponent, spoken;
    const char *at = read_power_before(parser->at, &before), *end = read_phrase(at, set);
    bool phrase = end != NULL;
    if (!phrase)
        for (end = at; is_letter(*end);)
            end++;
    const char *letters_end = end;
    end = read_exponent(parser, end, &exponent);
    if (!end || letters_end == at)
        return false;
    if (!phrase)
        *set = letters_read(at, (size_t)(letters_end - at), exponent, parser->prose);
    end = read_spoken_power(end, &spoken);
    if (set->count == 0 || !reading_set_raise(set, before * spoken * (phrase ? exponent : 1)))
        return false;
    parser->at = end;
    return true;
}

/* Leaves the parser where it was if no factor stands there. */
static bool read_factor(struct parser *parser, struct reading_set *set)
{
    const char *before = parser->at;
    *set = (struct reading_set){.count = 0};
    bool per = skip_word(before, "per") && !skip_word(before, "per cent") && !skip_word(before, "per mille");
    if (!per && (*before == '(' ? read_bracket(parser, set) : read_letters(parser, set)))
        return true;
    parser->at = before;
    return false;
}

/* Over what joins two factors: spaces, *, a point or a hyphen with letters on both sides, or nothing. */
static const char *skip_join(const struct parser *parser, const char *at)
{
    const char *next = skip_plain_spaces(at);
    if (*next == '*')
        return skip_plain_spaces(next + 1);
    if (next == at && (*at == '.' || (*at == '-' && !parser->prose)) && is_letter(at[1]))
        return at + 1;
    return next;
}

static void read_group(struct parser *parser, struct group *group)
{
    struct reading none = reading_none();
    *group = (struct group){.factors = 0};
    reading_set_add(&group->all, &none);
    reading_set_add(&group->rest, &none);
    for (;;) {
        const char *before = parser->at;
        struct reading_set factor;
        if (group->factors > 0)
            parser->at = skip_join(parser, parser->at);
        if (!read_factor(parser, &factor)) {
            parser->at = before;
            return;
        }
        if (group->factors++ == 0)
            group->first = factor;
        else
            group->rest = reading_set_product(&group->rest, &factor);
        group->all = reading_set_product(&group->all, &factor);
    }
}

/* Over "/" or "per"; NULL if neither stands here. */
static const char *skip_solidus(const char *at, bool *by_word)
{
    const char *next = skip_plain_spaces(at);
    *by_word = *next != '/';
    const char *end = *next == '/' ? next + 1 : skip_word(next, "per");
    return end ? skip_plain_spaces(end) : NULL;
}

/* Everything under its own solidus (J/kg K as J kg⁻¹ K⁻¹), or only what touches it (J kg⁻¹ K). */
static struct reading_set divide(const struct group *groups, int count, bool only_first)
{
    struct reading_set result = groups[0].all;
    for (int i = 1; i < count; i++) {
        bool split = only_first && !groups[i].by_word;
        struct reading_set under = split ? groups[i].first : groups[i].all;
        reading_set_raise(&under, -1);
        result = reading_set_product(&result, &under);
        if (split)
            result = reading_set_product(&result, &groups[i].rest);
    }
    return result;
}

/* a/(b/c): the other way to read a/b/c. */
static struct reading_set divide_from_right(const struct group *groups, int count)
{
    struct reading_set result = groups[0].all;
    for (int i = 1; i < count; i++) {
        struct reading_set part = groups[i].all;
        reading_set_raise(&part, i % 2 == 1 ? -1 : 1);
        result = reading_set_product(&result, &part);
    }
    return result;
}

static void merge(struct reading_set *set, const struct reading_set *more)
{
    for (size_t i = 0; i < more->count; i++)
        reading_set_add(set, &more->items[i]);
}

static void combine(struct parser *parser, const struct group *groups, int count, struct reading_set *set)
{
    int solidi = 0;
    bool crowded = false;
    for (int i = 1; i < count; i++) {
        solidi += !groups[i].by_word;
        crowded |= !groups[i].by_word && groups[i].factors > 1;
    }
    *set = divide(groups, count, false);
    if (crowded) {
        struct reading_set other = divide(groups, count, true);
        merge(set, &other);
    }
    if (solidi > 1) {
        struct reading_set other = divide_from_right(groups, count);
        merge(set, &other);
    }
    if (crowded || solidi > 1) {
        parser->unsettled = true;
        for (size_t i = 0; i < set->count; i++)
            set->items[i].strict = false;
    }
}

static bool read_quotient(struct parser *parser, struct reading_set *set)
{
    struct group groups[GROUPS];
    int count = 1;
    bool by_word;
    if (*parser->at == '1' && skip_solidus(parser->at + 1, &by_word))   /* 1/s */
        parser->at++;
    read_group(parser, &groups[0]);
    for (const char *behind; count < GROUPS && (behind = skip_solidus(parser->at, &by_word)) != NULL; count++) {
        const char *before = parser->at;
        parser->at = behind;
        read_group(parser, &groups[count]);
        groups[count].by_word = by_word;
        if (groups[count].factors == 0) {
            parser->at = before;
            break;
        }
    }
    if (groups[0].factors == 0 && count == 1)
        return false;
    combine(parser, groups, count, set);
    return set->count > 0;
}

size_t grammar_read(const char *text, bool prose, struct reading_set *set, bool *unsettled)
{
    struct parser parser = {.start = text, .at = text, .prose = prose};
    *set = (struct reading_set){.count = 0};
    bool read = read_quotient(&parser, set);
    *unsettled = parser.unsettled;
    return read ? (size_t)(parser.at - parser.start) : 0;
}
