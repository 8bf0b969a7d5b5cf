#include "practice/keywords.h"

#include <string.h>

#include "bank/scheme.h"

/* ---- Gathering ------------------------------------------------------------------------------------------ */

/* Words that banks need as key words to tell answers apart, and that say nothing about what a note is about. From memory. */
static const char everyday[] =
    "over up down back off away through round near along across against behind ahead under above below beneath between around "
    "aside together apart further forward backwards inside outside out here there into onto take give go goes come make made let use "
    "get put keep hold carry bring show begin start stop stay leave return place part way thing whole full complete end side "
    "point long little few large small big great good bad several some many another only even ever also then when where usually "
    "sometimes always again early late soon one ones two three four five six ten look call form lie stand turn move pass such "
    "set live each every any all own very quite nearly about just without add";

struct gathering {
    struct arena *arena;
    struct vocabulary *met;     /* stems already among the items, and everyday ones */
    struct word *items;
    size_t count, capacity;
};

static bool is_key_word(const struct word *word)
{
    return !word->small && !word->number && word->at.length > 1 && !word_negates(word) && !word_links(word) &&
           !word_compares(word) && word_direction(word) == DIRECTION_NONE;
}

static void append(struct gathering *gathering, const struct word *word)
{
    if (gathering->count == gathering->capacity) {
        struct word *old = gathering->items;
        gathering->capacity = gathering->capacity ? gathering->capacity * 2 : 32;
        gathering->items = arena_get_array(gathering->arena, gathering->capacity, sizeof *old);
        if (gathering->count)
            memcpy(gathering->items, old, gathering->count * sizeof *old);
    }
    gathering->items[gathering->count++] = *word;
}

static void gather(struct gathering *gathering, const char *text)
{
    struct words words = words_of(text, gathering->arena);
    for (size_t i = 0; i < words.count; i++) {
        const struct word *word = &words.items[i];
        if (!is_key_word(word) || vocabulary_holds(gathering->met, word))
            continue;
        append(gathering, word);
        vocabulary_add_text(gathering->met, word->folded);
    }
}

static bool gather_point(const struct node *point, void *context)
{
    for (size_t i = 0; i < point->key_count; i++)
        for (size_t j = 0; j < point->keys[i].count; j++)
            gather(context, point->keys[i].alternatives[j]);
    return true;
}

static bool gather_question(struct gathering *gathering, struct vocabulary *vocabulary, struct bank *bank, size_t index,
                            struct messages *messages)
{
    struct arena *arena = arena_new();
    const struct question *question = bank_question(bank, index, arena, messages);
    if (question)
        vocabulary_add_question(vocabulary, question);
    for (size_t i = 0; question && i < question->part_count; i++)
        scheme_each_point(&question->parts[i].scheme.root, gather_point, gathering);
    arena_free(arena);
    return question != NULL;
}

static struct gathering gathering_new(struct arena *arena)
{
    struct gathering gathering = {.arena = arena, .met = vocabulary_new(arena)};
    vocabulary_add_text(gathering.met, everyday);
    return gathering;
}

bool key_words_of_topic(struct bank *bank, int topic, struct arena *arena, struct key_words *words,
                        struct messages *messages)
{
    const struct course *course = bank_course(bank);
    const struct explain_prompt *explain = &course->topics[topic].explain;
    struct gathering gathering = gathering_new(arena);
    struct vocabulary *vocabulary = vocabulary_new(arena);
    bool good = true;
    vocabulary_add_course(vocabulary, course);
    for (size_t i = 0; i < explain->point_count; i++)
        gather(&gathering, explain->points[i]);
    for (size_t i = 0; good && i < bank_question_count(bank); i++)
        if (bank_summary(bank, i)->topic == topic)
            good = gather_question(&gathering, vocabulary, bank, i, messages);
    *words = (struct key_words){vocabulary, gathering.items, gathering.count};
    return good;
}

struct key_words key_words_of_text(const char *text, const struct vocabulary *vocabulary, struct arena *arena)
{
    struct gathering gathering = gathering_new(arena);
    gather(&gathering, text);
    return (struct key_words){vocabulary, gathering.items, gathering.count};
}

/* ---- Comparing ------------------------------------------------------------------------------------------ */

static const struct word *find(const struct key_words *words, size_t index, const struct words *written)
{
    for (size_t i = 0; i < written->count; i++)
        if (word_compare(&written->items[i], &words->items[index], words->vocabulary) != WORD_MATCH_NONE)
            return &written->items[i];
    return NULL;
}

size_t key_words_in(const struct key_words *words, const char *text)
{
    struct arena *arena = arena_new();
    struct words written = words_of(text, arena);
    size_t count = 0;
    for (size_t i = 0; i < words->count; i++)
        count += find(words, i, &written) != NULL;
    arena_free(arena);
    return count;
}

static void list(struct key_word_list *list, const char *text, const struct word *word, struct arena *arena)
{
    list->items[list->count++] = arena_copy_bytes(arena, text + word->at.start, word->at.length);
}

struct key_word_changes key_words_compare(const struct key_words *words, const char *before, const char *now,
                                          struct arena *arena)
{
    struct key_word_changes changes = {{NULL, 0}, {NULL, 0}, {NULL, 0}};
    struct key_word_list *lists[] = {&changes.kept, &changes.lost, &changes.added};
    struct words earlier = words_of(before, arena), later = words_of(now, arena);
    for (size_t i = 0; i < 3; i++)
        lists[i]->items = arena_get_array(arena, words->count, sizeof *lists[i]->items);
    for (size_t i = 0; i < words->count; i++) {
        const struct word *was = find(words, i, &earlier), *is = find(words, i, &later);
        if (was)
            list(is ? &changes.kept : &changes.lost, before, was, arena);
        else if (is)
            list(&changes.added, now, is, arena);
    }
    return changes;
}
