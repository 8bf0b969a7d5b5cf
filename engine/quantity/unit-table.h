/* The table of units and prefixes behind unit.h. For this room only. */
#ifndef OWNMARK_QUANTITY_UNIT_TABLE_H
#define OWNMARK_QUANTITY_UNIT_TABLE_H

#include <stdbool.h>
#include <stddef.h>
#include "quantity/unit.h"

/* What a unit claims to measure, where the dimension alone does not say it. */
enum unit_kind {
    KIND_NONE, KIND_ENERGY, KIND_TORQUE, KIND_FORCE, KIND_LENGTH, KIND_FREQUENCY, KIND_ACTIVITY, KIND_ABSORBED_DOSE,
    KIND_DOSE_EQUIVALENT, KIND_LEVEL, KIND_SALINITY, KIND_STERLING, KIND_DOLLAR, KIND_EURO,
};

enum unit_flags {
    UNIT_PREFIXED = 1,          /* takes every prefix */
    UNIT_PREFIXED_LARGE = 2,    /* takes kilo and up (kt, Myr) */
    UNIT_PREFIXED_SMALL = 4,    /* takes milli and down (mM) */
    UNIT_NOT_SI = 8,
    UNIT_ALONE = 16,            /* never part of letters run together: moldm-3 has no day in it */
    UNIT_PLURAL = 32,           /* a name that takes an s */
};

struct unit_entry {
    const char *text;
    signed char power[DIMENSIONS];
    double scale;
    double offset;
    unsigned short kind;
    unsigned short flags;
};

struct unit_prefix {
    const char *symbol;
    const char *name;
    double scale;
    bool usual;                 /* may occur in letters run together */
};

extern const struct unit_prefix unit_prefixes[];
extern const size_t unit_prefix_count;

/* Sorted by strcmp; symbols are case sensitive, names are in lower case. Equal texts stand side by side. */
extern const struct unit_entry unit_symbols[], unit_names[];
extern const size_t unit_symbol_count, unit_name_count;

/* The first entry of the table whose text is the `length` bytes at `text`, or NULL. */
const struct unit_entry *unit_entry_find(const struct unit_entry *table, size_t count, const char *text, size_t length);

bool unit_takes_prefix(const struct unit_entry *entry, const struct unit_prefix *prefix);

#endif
