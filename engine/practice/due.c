#include "practice/due.h"

#include "base/text.h"

struct search {
    const struct bank *bank;
    const struct wish *wish;
    const struct question_history *history;     /* sorted by question id */
    size_t history_count;
};

static bool has_idea(const struct bank *bank, int question, const char *idea)
{
    const struct question_summary *summary = bank_summary(bank, (size_t)question);
    for (size_t i = 0; i < summary->idea_count; i++)
        if (text_equal(summary->ideas[i], idea))
            return true;
    return false;
}

static moment last_of(const struct search *search, int question)
{
    const struct question_history *history =
        choose_history(search->history, search->history_count, bank_summary(search->bank, (size_t)question)->id);
    return history ? history->last : NO_MOMENT;
}

/* Another question with the idea, the one left longest; CHOOSE_NOTHING when there is none. */
static int other_question(const struct search *search, const char *idea, int own)
{
    int best = CHOOSE_NOTHING;
    for (int i = 0; idea && i < (int)bank_question_count(search->bank); i++)
        if (i != own && has_idea(search->bank, i, idea) && wish_allows(search->bank, search->wish, i) &&
            (best == CHOOSE_NOTHING || last_of(search, i) < last_of(search, best)))
            best = i;
    return best;
}

/* ---- Collecting ----------------------------------------------------------------------------------- */

/* A due point, and the two ways to ask for it; CHOOSE_NOTHING: not that way. */
struct due_point { const char *idea; int own, other; };

static bool asks_for(const struct due *due, const struct search *search, const struct due_point *point)
{
    for (size_t i = 0; i < due->count; i++)
        if (due->questions[i] == point->own || (point->idea && has_idea(search->bank, due->questions[i], point->idea)))
            return true;
    return false;
}

static void add_question(struct due *due, const struct search *search, const struct due_point *point, int question)
{
    if (question != CHOOSE_NOTHING && !asks_for(due, search, point))
        due->questions[due->count++] = question;
}

/* Points with one way only come first: their questions may ask for others too. */
static void take_points(struct due *due, const struct search *search, const struct due_point *points, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (points[i].other == CHOOSE_NOTHING)
            add_question(due, search, &points[i], points[i].own);
    for (size_t i = 0; i < count; i++)
        if (points[i].other != CHOOSE_NOTHING)
            add_question(due, search, &points[i], points[i].other);
}

/* A question that left the bank can still be asked for through another one. */
static struct due_point ways_to_ask(const struct search *search, const struct missed_point *point)
{
    int own = bank_find(search->bank, point->question);
    struct due_point ways = {point->idea, own, other_question(search, point->idea, own)};
    if (own < 0 || !wish_allows(search->bank, search->wish, own))
        ways.own = CHOOSE_NOTHING;
    return ways;
}

bool due_read(struct record *record, const struct bank *bank, const struct wish *wish, day_number today, struct arena *arena,
              struct due *due, struct messages *messages)
{
    struct missed_point *missed;
    struct question_history *history;
    struct search search = {.bank = bank, .wish = wish};
    size_t missed_count, count = 0;
    *due = (struct due){.next = NO_DAY};
    if (!record_missed(record, bank_id(bank), arena, &missed, &missed_count, messages) ||
        !record_question_history(record, bank_id(bank), arena, &history, &search.history_count, messages))
        return false;
    search.history = history;
    struct due_point *points = arena_get_array(arena, missed_count, sizeof *points);
    due->questions = arena_get_array(arena, missed_count, sizeof *due->questions);
    for (size_t i = 0; i < missed_count; i++) {
        day_number when = missed[i].state == MISSED_SECURE ? NO_DAY : missed_due(&missed[i].cycle, today);
        struct due_point point = when == NO_DAY ? (struct due_point){NULL, CHOOSE_NOTHING, CHOOSE_NOTHING}
                                                : ways_to_ask(&search, &missed[i]);
        if (point.own == CHOOSE_NOTHING && point.other == CHOOSE_NOTHING)
            continue;
        if (when <= today)
            points[count++] = point;
        else if (due->next == NO_DAY || when < due->next)
            due->next = when;
    }
    take_points(due, &search, points, count);
    return true;
}
