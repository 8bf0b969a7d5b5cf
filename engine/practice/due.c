#include "practice/due.h"

static bool has(const struct due *due, int question)
{
    for (size_t i = 0; i < due->count; i++)
        if (due->questions[i] == question)
            return true;
    return false;
}

static void take(struct due *due, const struct bank *bank, const struct missed_point *point, day_number today)
{
    int question = bank_find(bank, point->question);
    if (question < 0 || point->state == MISSED_SECURE)
        return;
    day_number when = missed_due(&point->cycle, today);
    if (when > today && (due->next == NO_DAY || when < due->next))
        due->next = when;
    if (when <= today && !has(due, question))
        due->questions[due->count++] = question;
}

bool due_read(struct record *record, const struct bank *bank, day_number today, struct arena *arena, struct due *due,
              struct messages *messages)
{
    struct missed_point *points;
    size_t count;
    *due = (struct due){.next = NO_DAY};
    if (!record_missed(record, bank_id(bank), arena, &points, &count, messages))
        return false;
    due->questions = arena_get_array(arena, count, sizeof *due->questions);
    for (size_t i = 0; i < count; i++)
        take(due, bank, &points[i], today);
    return true;
}
