/* The state of every point that was ever lost. */
#include <math.h>

#include "record/derive-inner.h"

static day_number day_from(double number)
{
    return isnan(number) ? NO_DAY : (day_number)number;
}

static double day_to(day_number day)
{
    return day == NO_DAY ? (double)NAN : (double)day;
}

struct missed_cycle missed_cycle_from(const double *number)
{
    return (struct missed_cycle){
        .state = (enum missed_state)number[MISSED_STATE],
        .since = day_from(number[MISSED_SINCE]),
        .due = day_from(number[MISSED_DUE]),
        .step = day_from(number[MISSED_STEP]),
        .look = day_from(number[MISSED_LOOK]),
        .success = day_from(number[MISSED_SUCCESS]),
        .later = (int)number[MISSED_LATER],
        .gap = (int)number[MISSED_GAP],
        .losses = (int)number[MISSED_LOSSES],
    };
}

/* The cycle asserts what it relies on; a file may hold anything. */
static bool read_cycle(struct derive *derive, const struct row *row, struct missed_cycle *cycle)
{
    const double *number = row->number;
    bool possible = number[MISSED_STATE] >= MISSED_OPEN && number[MISSED_STATE] <= MISSED_SECURE &&
                    number[MISSED_LATER] >= 0 && number[MISSED_LATER] <= MISSED_LATER_DAYS &&
                    number[MISSED_LOSSES] >= 1 && number[MISSED_LOSSES] < 1e9 && number[MISSED_GAP] >= 0 &&
                    number[MISSED_GAP] < 1e6;
    if (!possible)
        return store_refuse(derive->record, "the state of a missed point is damaged; run 'ownmark record rebuild'");
    *cycle = missed_cycle_from(number);
    return true;
}

static void store_cycle(double *number, const struct missed_cycle *cycle)
{
    number[MISSED_STATE] = cycle->state;
    number[MISSED_SINCE] = day_to(cycle->since);
    number[MISSED_DUE] = day_to(cycle->due);
    number[MISSED_STEP] = day_to(cycle->step);
    number[MISSED_LOOK] = day_to(cycle->look);
    number[MISSED_SUCCESS] = day_to(cycle->success);
    number[MISSED_LATER] = cycle->later;
    number[MISSED_GAP] = cycle->gap;
    number[MISSED_LOSSES] = cycle->losses;
}

day_number missed_exam_day(struct derive *derive, const char *bank)
{
    const char *text = derive_setting(derive, bank, SETTING_EXAM_DATE);
    day_number day;
    return text && day_parse(text, &day) ? day : NO_DAY;
}

static bool lose(struct derive *derive, const struct missed_slot *slot, const struct mark_row *mark, double got,
                 bool confident)
{
    struct row *row = derive_get(derive, MISSED, SHELF_KEY(slot->bank, slot->question, mark->part, mark->item));
    if (!row)
        return false;
    struct missed_cycle cycle;
    if (row->fresh)
        cycle = missed_begin(slot->day, confident, slot->exam);
    else if (read_cycle(derive, row, &cycle))
        cycle = missed_lost(cycle, slot->day, confident, slot->exam);
    else
        return false;
    store_cycle(row->number, &cycle);
    row->number[MISSED_LOST] = mark->maximum - got;
    derive_set_text(derive, MISSED, row, MISSED_TOPIC, mark->topic);
    derive_set_text(derive, MISSED, row, MISSED_WORD, mark->word);
    derive_set_text(derive, MISSED, row, MISSED_IDEA, mark->idea);
    derive_set_text(derive, MISSED, row, MISSED_CAUSE, slot->cause);
    derive_set_text(derive, MISSED, row, MISSED_CONTENT, slot->content);
    return true;
}

bool missed_take(struct derive *derive, const struct missed_slot *slot, const struct mark_row *mark, double got,
                 bool confident)
{
    if (got < mark->maximum)
        return lose(derive, slot, mark, got, confident);
    struct row *row = derive_find(derive, MISSED, SHELF_KEY(slot->bank, slot->question, mark->part, mark->item));
    if (!row)
        return !store_faulted(derive->record);
    struct missed_cycle cycle;
    if (!read_cycle(derive, row, &cycle))
        return false;
    cycle = missed_earned(cycle, slot->day, slot->exam);
    store_cycle(row->number, &cycle);
    row->changed = true;
    return true;
}

bool missed_set_cause(struct derive *derive, const struct missed_slot *slot, const char *part, const char *item)
{
    struct row *row = derive_find(derive, MISSED, SHELF_KEY(slot->bank, slot->question, part, item));
    if (!row)
        return !store_faulted(derive->record);
    derive_set_text(derive, MISSED, row, MISSED_CAUSE, slot->cause);
    row->changed = true;
    return true;
}
