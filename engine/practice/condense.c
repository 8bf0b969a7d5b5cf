#include "practice/condense.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "answer/words.h"
#include "base/text.h"

static const struct stage {
    const char *name, *typed;
    int days_before;            /* the exam */
    int words;                  /* for a topic of the usual share */
    int step;                   /* limits are multiples of it; 0: the same for all topics */
} stages[] = {
    [CONDENSE_FULL] = {"full notes", "full", 182, 300, 10},
    [CONDENSE_SUMMARY] = {"summary", "summary", 61, 120, 5},
    [CONDENSE_OUTLINE] = {"outline", "outline", 14, 45, 5},
    [CONDENSE_LINE] = {"one line", "line", 2, 20, 0},
};

static bool is_stage(enum condense_stage stage)
{
    return (int)stage >= CONDENSE_FULL && (int)stage <= CONDENSE_LINE;
}

const char *condense_name(enum condense_stage stage)
{
    return is_stage(stage) ? stages[stage].name : "";
}

enum condense_stage condense_stage_read(const char *typed)
{
    for (int i = CONDENSE_FULL; i <= CONDENSE_LINE && *typed; i++) {
        const char number[] = {(char)('0' + i), '\0'};
        if (strcmp(typed, number) == 0 || text_starts_with(stages[i].typed, typed) || text_starts_with(stages[i].name, typed))
            return (enum condense_stage)i;
    }
    return CONDENSE_NONE;
}

int condense_limit(enum condense_stage stage, double share, size_t topics)
{
    assert(is_stage(stage));
    const struct stage *row = &stages[stage];
    if (!row->step)
        return row->words;
    double weight = share * (double)topics / 100.0;
    double words = row->words * (weight < 0.5 ? 0.5 : weight > 2 ? 2 : weight);
    return (int)lround(words / row->step) * row->step;
}

static bool parted(const char *text, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++)
        if (strchr(" \t\n\r\v\f", text[i]))
            return true;
    return false;
}

size_t condense_word_count(const char *text)
{
    struct arena *arena = arena_new();
    struct words words = words_of(text, arena);
    size_t count = words.count > 0;
    for (size_t i = 1; i < words.count; i++) {
        const struct quote *before = &words.items[i - 1].at;
        count += parted(text, before->start + before->length, words.items[i].at.start);
    }
    arena_free(arena);
    return count;
}

enum condense_stage condense_latest(const day_number kept[CONDENSE_ROOM])
{
    for (int i = CONDENSE_LINE; i >= CONDENSE_FULL; i--)
        if (kept[i] != NO_DAY)
            return (enum condense_stage)i;
    return CONDENSE_NONE;
}

enum condense_stage condense_next(const day_number kept[CONDENSE_ROOM])
{
    enum condense_stage latest = condense_latest(kept);
    return latest == CONDENSE_LINE ? CONDENSE_NONE : (enum condense_stage)(latest + 1);
}

/* An even share of the days from the latest stage to two days before the exam, at least one. */
static day_number day_by_even_shares(day_number latest, enum condense_stage next, day_number exam)
{
    int left = CONDENSE_LINE - (int)next + 1;
    day_number last = exam - stages[CONDENSE_LINE].days_before;
    day_number gap = last > latest ? (last - latest) / left : 0;
    return latest + (gap > 1 ? gap : 1);
}

day_number condense_due(const day_number kept[CONDENSE_ROOM], day_number exam)
{
    enum condense_stage next = condense_next(kept), latest = condense_latest(kept);
    if (next == CONDENSE_NONE || exam == NO_DAY)
        return NO_DAY;
    day_number due = exam - stages[next].days_before;
    if (latest != CONDENSE_NONE) {
        day_number shared = day_by_even_shares(kept[latest], next, exam);
        due = shared > due ? shared : due;
    }
    return due > exam ? exam : due;
}
