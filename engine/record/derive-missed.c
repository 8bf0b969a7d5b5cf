/* The state of every point that was ever lost. */
#include <math.h>

#include "base/text.h"
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

/* ---- Points that share an idea ------------------------------------------------------------------------ */

static bool is_point(const struct row *listed, const char *question, const char *part, const char *item)
{
    return text_equal(listed->text[IDEA_QUESTION], question) && text_equal(listed->text[IDEA_PART], part) &&
           text_equal(listed->text[IDEA_ITEM], item);
}

static bool list_under_idea(struct derive *derive, const struct missed_slot *slot, const struct mark_row *mark)
{
    char key[24];
    struct row *listed;
    int64_t place = 1;
    while ((listed = derive_find(derive, IDEAS, SHELF_KEY(slot->bank, mark->idea, shelf_number_key(key, place))))) {
        if (is_point(listed, slot->question, mark->part, mark->item))
            return true;
        place++;
    }
    listed = store_faulted(derive->record)
                 ? NULL : derive_get(derive, IDEAS, SHELF_KEY(slot->bank, mark->idea, shelf_number_key(key, place)));
    if (!listed)
        return false;
    derive_set_text(derive, IDEAS, listed, IDEA_QUESTION, slot->question);
    derive_set_text(derive, IDEAS, listed, IDEA_PART, mark->part);
    derive_set_text(derive, IDEAS, listed, IDEA_ITEM, mark->item);
    return true;
}

static bool earn(struct derive *derive, const struct missed_slot *slot, struct row *row)
{
    struct missed_cycle cycle;
    if (!read_cycle(derive, row, &cycle))
        return false;
    cycle = missed_earned(cycle, slot->day, slot->exam);
    store_cycle(row->number, &cycle);
    row->changed = true;
    return true;
}

/* A point whose bank has given it another idea since stays in the list, but is passed over. */
bool missed_earn_idea(struct derive *derive, const struct missed_slot *slot, const char *idea)
{
    char key[24];
    struct row *listed;
    for (int64_t place = 1;
         (listed = derive_find(derive, IDEAS, SHELF_KEY(slot->bank, idea, shelf_number_key(key, place)))); place++) {
        struct row *row = derive_find(derive, MISSED, SHELF_KEY(slot->bank, listed->text[IDEA_QUESTION],
                                                                listed->text[IDEA_PART], listed->text[IDEA_ITEM]));
        if (row && text_equal(row->text[MISSED_IDEA], idea) && !earn(derive, slot, row))
            return false;
    }
    return !store_faulted(derive->record);
}

/* ---- One slot ------------------------------------------------------------------------------------------ */

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
    return !mark->idea || list_under_idea(derive, slot, mark);
}

bool missed_take(struct derive *derive, const struct missed_slot *slot, const struct mark_row *mark, double got,
                 bool confident)
{
    if (got < mark->maximum)
        return lose(derive, slot, mark, got, confident);
    struct row *row = derive_find(derive, MISSED, SHELF_KEY(slot->bank, slot->question, mark->part, mark->item));
    return row ? earn(derive, slot, row) : !store_faulted(derive->record);
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
