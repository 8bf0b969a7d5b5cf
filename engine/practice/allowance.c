#include "practice/allowance.h"

#include <stdlib.h>

double allowance_of(struct record *record, const char *bank, struct arena *arena)
{
    const char *extra = record ? record_setting(record, bank, "extra-time", arena) : NULL;
    double per_cent = extra ? strtod(extra, NULL) : 0.0;
    return per_cent >= 0 && per_cent <= 200 ? 1.0 + per_cent / 100.0 : 1.0;
}
