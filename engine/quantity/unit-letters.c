/* Reads a run of letters: a symbol with its prefix (kPa), a name (kilopascals), several symbols run together
 * (kWh), and, if all that fails, the same with letter case overlooked (KJ). */
#include "quantity/unit-parts.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

enum { SPLIT_ATOMS = 4, SPLITS = 32, LONGEST_ATOM = 6, LONGEST_RUN = 12, LONGEST_FOLDED_RUN = 6 };

struct reading reading_none(void)
{
    return (struct reading){.unit = {.scale = 1}, .strict = true};
}

static bool same_unit(const struct unit *a, const struct unit *b)
{
    return memcmp(a->power, b->power, sizeof a->power) == 0 && fabs(a->scale - b->scale) <= 1e-12 * fabs(b->scale)
        && a->offset == b->offset && a->kind == b->kind;
}

void reading_set_add(struct reading_set *set, const struct reading *reading)
{
    for (size_t i = 0; i < set->count; i++) {
        if (same_unit(&set->items[i].unit, &reading->unit)) {
            set->items[i].strict |= reading->strict;
            set->items[i].not_si &= reading->not_si;
            set->items[i].wrong_case &= reading->wrong_case;
            return;
        }
    }
    if (set->count < UNIT_READINGS)
        set->items[set->count++] = *reading;
}

static bool is_dimensionless_one(const struct unit *unit)
{
    static const signed char none[DIMENSIONS];
    return memcmp(unit->power, none, sizeof none) == 0 && unit->scale == 1 && unit->kind == KIND_NONE && unit->offset == 0;
}

static bool is_money(unsigned kind)
{
    return kind == KIND_STERLING || kind == KIND_DOLLAR || kind == KIND_EURO;
}

/* A product claims no kind, but for newton metre, and a currency stays what it is (£ per kg). */
static unsigned product_kind(unsigned a, unsigned b)
{
    if ((a == KIND_FORCE && b == KIND_LENGTH) || (a == KIND_LENGTH && b == KIND_FORCE))
        return KIND_TORQUE;
    return is_money(a) ? a : is_money(b) ? b : KIND_NONE;
}

static struct reading product(const struct reading *a, const struct reading *b)
{
    struct reading result = is_dimensionless_one(&a->unit) ? *b : *a;
    result.strict = a->strict && b->strict;
    result.not_si = a->not_si || b->not_si;
    result.wrong_case = a->wrong_case || b->wrong_case;
    if (is_dimensionless_one(&a->unit) || is_dimensionless_one(&b->unit))
        return result;
    for (int i = 0; i < DIMENSIONS; i++)
        result.unit.power[i] = (signed char)(a->unit.power[i] + b->unit.power[i]);   /* both within ±60 */
    result.unit.scale = a->unit.scale * b->unit.scale;
    result.unit.offset = 0;
    result.unit.kind = product_kind(a->unit.kind, b->unit.kind);
    return result;
}

struct reading_set reading_set_product(const struct reading_set *a, const struct reading_set *b)
{
    struct reading_set result = {.count = 0};
    for (size_t i = 0; i < a->count; i++) {
        for (size_t k = 0; k < b->count; k++) {
            struct reading reading = product(&a->items[i], &b->items[k]);
            bool fits = true;
            for (int d = 0; d < DIMENSIONS; d++)
                fits &= reading.unit.power[d] >= -60 && reading.unit.power[d] <= 60;
            if (fits)
                reading_set_add(&result, &reading);
        }
    }
    return result;
}

static double whole_power(double base, int exponent)
{
    double result = 1;
    for (int i = 0; i < (exponent < 0 ? -exponent : exponent); i++)
        result *= base;
    return exponent < 0 ? 1 / result : result;
}

static bool raise_unit(struct unit *unit, int exponent)
{
    if (exponent == 1)
        return true;
    for (int i = 0; i < DIMENSIONS; i++) {
        int power = unit->power[i] * exponent;
        if (power < -60 || power > 60)
            return false;
        unit->power[i] = (signed char)power;
    }
    unit->scale = whole_power(unit->scale, exponent);
    unit->offset = 0;
    unit->kind = is_money(unit->kind) ? unit->kind : KIND_NONE;
    return true;
}

bool reading_set_raise(struct reading_set *set, int exponent)
{
    bool fits = true;
    for (size_t i = 0; i < set->count; i++)
        fits &= raise_unit(&set->items[i].unit, exponent);
    return fits;
}

struct reading reading_of_entry(const struct unit_entry *entry, const struct unit_prefix *prefix)
{
    struct reading reading = reading_none();
    memcpy(reading.unit.power, entry->power, sizeof entry->power);
    reading.unit.scale = prefix ? prefix->scale * entry->scale : entry->scale;
    reading.unit.offset = entry->offset;
    reading.unit.kind = entry->kind;
    reading.not_si = (entry->flags & UNIT_NOT_SI) != 0;
    return reading;
}

/* One way to read letters as a single symbol. */
struct atom { const struct unit_entry *entry; const struct unit_prefix *prefix; };
enum { ATOMS = 6 };

static void add_atom(struct atom *atoms, size_t *count, const struct unit_entry *entry, const struct unit_prefix *prefix)
{
    if (*count < ATOMS)
        atoms[(*count)++] = (struct atom){entry, prefix};
}

static size_t exact_atoms(const char *letters, size_t length, struct atom atoms[ATOMS])
{
    size_t count = 0;
    const struct unit_entry *entry = unit_entry_find(unit_symbols, unit_symbol_count, letters, length);
    if (entry)
        add_atom(atoms, &count, entry, NULL);
    for (size_t i = 0; i < unit_prefix_count; i++) {
        const struct unit_prefix *prefix = &unit_prefixes[i];
        size_t used = strlen(prefix->symbol);
        if (used >= length || strncmp(letters, prefix->symbol, used) != 0)
            continue;
        entry = unit_entry_find(unit_symbols, unit_symbol_count, letters + used, length - used);
        if (entry && unit_takes_prefix(entry, prefix))
            add_atom(atoms, &count, entry, prefix);
    }
    return count;
}

static bool equal_folded(const char *letters, size_t length, const char *text)
{
    return strlen(text) == length && strncasecmp(letters, text, length) == 0;
}

/* With letter case overlooked; slow, but only wrong spellings come here. */
static size_t folded_atoms(const char *letters, size_t length, struct atom atoms[ATOMS])
{
    size_t count = 0;
    for (size_t e = 0; e < unit_symbol_count; e++) {
        const struct unit_entry *entry = &unit_symbols[e];
        if (equal_folded(letters, length, entry->text))
            add_atom(atoms, &count, entry, NULL);
        for (size_t i = 0; i < unit_prefix_count; i++) {
            const struct unit_prefix *prefix = &unit_prefixes[i];
            size_t used = strlen(prefix->symbol);
            if (prefix->usual && used < length && unit_takes_prefix(entry, prefix)
                && strncasecmp(letters, prefix->symbol, used) == 0
                && equal_folded(letters + used, length - used, entry->text))
                add_atom(atoms, &count, entry, prefix);
        }
    }
    return count;
}

/* Names, with prefix and plural: millimetres. */
static void add_names(const char *lower, size_t length, const struct unit_prefix *prefix, struct reading_set *set)
{
    for (size_t plural = 0; plural <= 1 && plural < length; plural++) {
        if (plural && lower[length - 1] != 's')
            continue;
        size_t bare = length - plural;
        const struct unit_entry *entry = unit_entry_find(unit_names, unit_name_count, lower, bare);
        const struct unit_entry *end = unit_names + unit_name_count;
        for (; entry && entry < end && strlen(entry->text) == bare && strncmp(entry->text, lower, bare) == 0; entry++) {
            if ((plural && !(entry->flags & UNIT_PLURAL)) || (prefix && !unit_takes_prefix(entry, prefix)))
                continue;
            struct reading reading = reading_of_entry(entry, prefix);
            reading_set_add(set, &reading);
        }
    }
}

static void read_name(const char *letters, size_t length, struct reading_set *set)
{
    char lower[UNIT_TOKEN + 1];
    if (length < 3 || length > UNIT_TOKEN)
        return;
    for (size_t i = 0; i < length; i++)
        lower[i] = (char)tolower((unsigned char)letters[i]);
    add_names(lower, length, NULL, set);
    for (size_t i = 0; set->count == 0 && i < unit_prefix_count; i++) {
        size_t used = strlen(unit_prefixes[i].name);
        if (used < length && strncmp(lower, unit_prefixes[i].name, used) == 0)
            add_names(lower + used, length - used, &unit_prefixes[i], set);
    }
}

struct split { struct reading reading; size_t atoms; };

struct splitter {
    bool folded;
    int exponent;           /* of the last unit */
    const struct unit_entry *used[SPLIT_ATOMS];
    struct split found[SPLITS];
    size_t count;
};

static bool may_stand_in_run(const struct splitter *splitter, const struct atom *atom, size_t depth)
{
    if ((atom->entry->flags & UNIT_ALONE) || (atom->prefix && !atom->prefix->usual))
        return false;
    for (size_t i = 0; i < depth; i++)
        if (splitter->used[i] == atom->entry)   /* mm is never metre metre */
            return false;
    return true;
}

static void split(struct splitter *splitter, const char *letters, size_t length, const struct reading *before, size_t depth)
{
    if (depth == SPLIT_ATOMS)
        return;
    for (size_t taken = 1; taken <= length && taken <= LONGEST_ATOM; taken++) {
        struct atom atoms[ATOMS];
        size_t count = splitter->folded ? folded_atoms(letters, taken, atoms) : exact_atoms(letters, taken, atoms);
        for (size_t i = 0; i < count; i++) {
            if (!may_stand_in_run(splitter, &atoms[i], depth))
                continue;
            struct reading reading = reading_of_entry(atoms[i].entry, atoms[i].prefix);
            bool last = taken == length;
            if (last && !raise_unit(&reading.unit, splitter->exponent))
                continue;
            reading = product(before, &reading);
            splitter->used[depth] = atoms[i].entry;
            if (!last)
                split(splitter, letters + taken, length - taken, &reading, depth + 1);
            else if (depth > 0 && splitter->count < SPLITS)
                splitter->found[splitter->count++] = (struct split){reading, depth + 1};
        }
    }
}

/* Letters run together. The reading of fewest units is what stands there; the others may have been meant. */
static void read_run(const char *letters, size_t length, int exponent, bool folded, struct reading_set *set)
{
    struct splitter splitter = {.folded = folded, .exponent = exponent};
    struct reading none = reading_none();
    size_t fewest = SPLIT_ATOMS + 1;
    if (length < 2 || length > (folded ? LONGEST_FOLDED_RUN : LONGEST_RUN))
        return;
    bool has_single = set->count > 0;
    split(&splitter, letters, length, &none, 0);
    for (size_t i = 0; i < splitter.count; i++)
        fewest = splitter.found[i].atoms < fewest ? splitter.found[i].atoms : fewest;
    for (size_t i = 0; i < splitter.count; i++) {
        splitter.found[i].reading.strict = !has_single && splitter.found[i].atoms == fewest;
        splitter.found[i].reading.wrong_case = folded;
        reading_set_add(set, &splitter.found[i].reading);
    }
}

static void add_atoms(const struct atom *atoms, size_t count, bool wrong_case, int exponent, struct reading_set *set)
{
    for (size_t i = 0; i < count; i++) {
        struct reading reading = reading_of_entry(atoms[i].entry, atoms[i].prefix);
        reading.wrong_case = wrong_case;
        if (raise_unit(&reading.unit, exponent))
            reading_set_add(set, &reading);
    }
}

static void merge_as_wrong_case(struct reading_set *set, const struct reading_set *more)
{
    for (size_t i = 0; i < more->count; i++) {
        struct reading reading = more->items[i];
        reading.wrong_case = true;
        reading_set_add(set, &reading);
    }
}

/* KJ, Kgm-3: a capital K for kilo is the commonest slip of all, so it is tried before kelvin joule. */
static void read_kilo_slip(const char *letters, size_t length, int exponent, struct reading_set *set)
{
    if (length < 2 || *letters != 'K')
        return;
    char mended[UNIT_TOKEN + 1] = "k";
    memcpy(mended + 1, letters + 1, length - 1);
    struct reading_set found = {.count = 0};
    struct atom atoms[ATOMS];
    add_atoms(atoms, exact_atoms(mended, length, atoms), true, exponent, &found);
    if (found.count == 0)
        read_run(mended, length, exponent, false, &found);
    merge_as_wrong_case(set, &found);
}

/* "5 am", "as", "at": words that happen to be symbols. */
static bool is_everyday_word(const char *letters, size_t length)
{
    static const char *const words[] = {"am", "as", "at", "in", "pas", "per"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (equal_folded(letters, length, words[i]))
            return true;
    return false;
}

static bool all_capitals(const char *letters, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (!isupper((unsigned char)letters[i]))
            return false;
    return true;
}

/* What no symbol and no name explains: symbols run together, or case slips (KWH is all capitals and hardly
 * kelvin watt henry). */
static void read_unusual(const char *letters, size_t length, int exponent, bool prose, struct reading_set *set)
{
    struct atom atoms[ATOMS];
    bool shouted = !prose && length > 2 && all_capitals(letters, length);
    if (!shouted) {
        struct reading_set runs = {.count = 0};
        read_kilo_slip(letters, length, exponent, set);
        read_run(letters, length, exponent, false, &runs);
        for (size_t i = 0; i < runs.count; i++)
            reading_set_add(set, &runs.items[i]);
    }
    if (set->count > 0 || length < 2)
        return;
    add_atoms(atoms, folded_atoms(letters, length, atoms), true, exponent, set);
    if (set->count == 0 && !prose && length > 2)
        read_run(letters, length, exponent, true, set);
}

struct reading_set letters_read(const char *letters, size_t length, int exponent, bool prose)
{
    struct reading_set set = {.count = 0};
    struct atom atoms[ATOMS];
    if (length == 0 || length > UNIT_TOKEN || (prose && is_everyday_word(letters, length)))
        return set;
    add_atoms(atoms, exact_atoms(letters, length, atoms), false, exponent, &set);
    if (set.count > 0) {
        if (exponent < 0)   /* ms-1: per millisecond by the rules, metre per second as often meant */
            read_run(letters, length, exponent, false, &set);
        return set;
    }
    read_name(letters, length, &set);
    if (set.count > 0) {
        if (!reading_set_raise(&set, exponent))
            set.count = 0;
        return set;
    }
    read_unusual(letters, length, exponent, prose, &set);
    return set;
}
