#include "paper/gather.h"

#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/hash.h"
#include "base/memory.h"
#include "base/random.h"
#include "base/text.h"
#include "paper/courses.h"

enum {
    WEIGHT_OF_BALANCE = 10,   /* a mark by which objective, skill or topic lies beside its share */
    WEIGHT_OF_MIX = 3,        /* a mark by which the demands differ from the banks' own mix */
    COSTS = 10,                /* a question's cost is drawn from 0 … 99 for each of its marks */
    OVER_PACE = 20              /* one twentieth more time than the pace gives */
};

/* Each seed of its own: FNV from the wish's seed over a letter for the purpose and the question's full name. */
static uint64_t draw(const struct gathered *gathered, size_t item, char purpose)
{
    struct buffer name = BUFFER_EMPTY;
    buffer_print(&name, "%c%s/%s", purpose, bank_id(gathered->banks[gathered->places[item].bank]),
                 gather_summary(gathered, item)->id);
    struct random_source mixed = {gathered->wishes->seed};
    struct random_source source = {hash_bytes(random_next(&mixed), buffer_text(&name), name.length)};
    buffer_free(&name);
    return random_next(&source);
}

const struct question_summary *gather_summary(const struct gathered *gathered, size_t item)
{
    const struct gathered_item *place = &gathered->places[item];
    return bank_summary(gathered->banks[place->bank], place->index);
}

uint64_t gather_variant(const struct gathered *gathered, size_t item)
{
    return gather_summary(gathered, item)->varied ? draw(gathered, item, 'v') : 0;
}

int gather_topic(const struct gathered *gathered, size_t item)
{
    const struct course *own = bank_course(gathered->banks[gathered->places[item].bank]);
    return course_topic(gathered->course, own->topics[gather_summary(gathered, item)->topic].id);
}

/* ---- Which questions ---------------------------------------------------------------------------------------- */

struct gathering {
    struct gathered *gathered;
    struct arena *arena;
    struct messages *messages;
    bool *topics;               /* of the course: wanted */
    struct aim *aims;
    struct item *items;
    struct gathered_item *places;
    int **item_of;              /* [bank][question]: its item, or -1 */
};

static void unknown_topic(const struct gathering *gathering, const char *id)
{
    const struct course *course = gathering->gathered->course;
    const char **ids = memory_get_zeroed(course->topic_count + 1, sizeof *ids);
    for (size_t i = 0; i < course->topic_count; i++)
        ids[i] = course->topics[i].id;
    const char *nearest = text_nearest(id, ids, course->topic_count);
    struct buffer hint = BUFFER_EMPTY;
    if (nearest) {
        buffer_print(&hint, "; did you mean '%s'?", nearest);
    } else {
        buffer_add(&hint, "; it has: ");
        for (size_t i = 0; i < course->topic_count; i++)
            buffer_print(&hint, "%s%s", i ? ", " : "", ids[i]);
    }
    messages_error(gathering->messages, "no topic '%s' in this course%s", id, buffer_text(&hint));
    buffer_free(&hint);
    free(ids);
}

static bool want_topics(struct gathering *gathering)
{
    const struct course *course = gathering->gathered->course;
    const struct paper_wishes *wishes = gathering->gathered->wishes;
    gathering->topics = arena_get_array(gathering->arena, course->topic_count, sizeof(bool));
    for (size_t i = 0; i < course->topic_count; i++)
        gathering->topics[i] = !wishes->topic_count;
    for (size_t i = 0; i < wishes->topic_count; i++) {
        int topic = course_topic(course, wishes->topics[i]);
        if (topic < 0) {
            unknown_topic(gathering, wishes->topics[i]);
            return false;
        }
        for (size_t j = 0; j < course->topic_count; j++)
            if ((int)j == topic || course->topics[j].parent == topic)
                gathering->topics[j] = true;
    }
    return true;
}

static bool is_wanted(const struct gathering *gathering, int topic, enum demand demand)
{
    const struct paper_wishes *wishes = gathering->gathered->wishes;
    const bool *only = wishes->only_demands;
    bool all = !only[0] && !only[1] && !only[2];
    return gathering->topics[topic] && (all || only[demand]) &&
           (!wishes->has_demand_shares || wishes->demand_shares[demand] > 0);
}

static bool is_avoided(const struct gathered *gathered, size_t item)
{
    const char *bank = bank_id(gathered->banks[gathered->places[item].bank]), *id = gather_summary(gathered, item)->id;
    for (size_t i = 0; i < gathered->wishes->avoid_count; i++) {
        const struct paper *paper = &gathered->wishes->avoid[i];
        for (size_t j = 0; j < paper->question_count; j++)
            if (strcmp(paper->questions[j].id, id) == 0 && strcmp(paper->banks[paper->questions[j].bank].id, bank) == 0)
                return true;
    }
    return false;
}

static void add_item(struct gathering *gathering, size_t bank, size_t index)
{
    struct gathered *gathered = gathering->gathered;
    size_t item = gathered->blueprint.item_count;
    gathering->places[item] = (struct gathered_item){bank, index};
    if (!is_wanted(gathering, gather_topic(gathered, item), gather_summary(gathered, item)->demand))
        return;
    gathering->item_of[bank][index] = (int)item;
    gathered->blueprint.item_count++;
}

static void add_items(struct gathering *gathering)
{
    struct gathered *gathered = gathering->gathered;
    size_t count = 0;
    for (size_t bank = 0; bank < gathered->bank_count; bank++)
        count += bank_question_count(gathered->banks[bank]);
    gathering->places = arena_get_array(gathering->arena, count + 1, sizeof *gathering->places);
    gathering->items = arena_get_array(gathering->arena, count + 1, sizeof *gathering->items);
    gathering->item_of = arena_get_array(gathering->arena, gathered->bank_count, sizeof *gathering->item_of);
    gathered->places = gathering->places;
    gathered->blueprint.items = gathering->items;
    for (size_t bank = 0; bank < gathered->bank_count; bank++) {
        size_t questions = bank_question_count(gathered->banks[bank]);
        gathering->item_of[bank] = arena_get_array(gathering->arena, questions + 1, sizeof(int));
        for (size_t index = 0; index < questions; index++) {
            gathering->item_of[bank][index] = -1;
            add_item(gathering, bank, index);
        }
    }
}

/* ---- What is aimed at --------------------------------------------------------------------------------------- */

static struct aim *open_aim(struct gathering *gathering, enum aim_kind kind, size_t index, int weight)
{
    struct aim *aim = &gathering->aims[gathering->gathered->blueprint.aim_count++];
    aim->kind = kind;
    aim->index = (int)index;
    aim->weight = weight;
    return aim;
}

/* Shares of topics count among the topics that are wanted. */
static double wanted_share(const struct gathering *gathering, size_t topic)
{
    const struct course *course = gathering->gathered->course;
    double all = 0, own = 0;
    for (size_t i = 0; i < course->topic_count; i++) {
        if (!course->topics[i].is_leaf || !gathering->topics[i])
            continue;
        all += course->topics[i].share;
        if (i == topic || course->topics[i].parent == (int)topic)
            own += course->topics[i].share;
    }
    return all > 0 ? own * 100 / all : -1;
}

static void aim_at_topics(struct gathering *gathering)
{
    const struct course *course = gathering->gathered->course;
    int marks = gathering->gathered->blueprint.marks;
    for (size_t i = 0; i < course->topic_count; i++) {
        double share = wanted_share(gathering, i);
        bool within = course->topics[i].parent >= 0;
        if (share < 0 || (share == 0 && !gathering->topics[i]))
            continue;
        struct aim *aim = open_aim(gathering, AIM_TOPIC, i, WEIGHT_OF_BALANCE);
        if (within)
            aim_set_loose_share(aim, share, marks);     /* whole questions: a sub-topic has room for one or two */
        else
            aim_set_topic_share(aim, share, marks);
    }
}

/* In per cent; of the questions that are wanted. */
static void find_mix(const struct gathered *gathered, double mix[3])
{
    double marks = 0;
    for (size_t i = 0; i < gathered->blueprint.item_count; i++) {
        const struct question_summary *summary = gather_summary(gathered, i);
        mix[summary->demand] += summary->marks;
        marks += summary->marks;
    }
    for (int i = 0; i < 3; i++)
        mix[i] = marks > 0 ? mix[i] * 100 / marks : 0;
}

static void aim_at_demands(struct gathering *gathering)
{
    const struct paper_wishes *wishes = gathering->gathered->wishes;
    int marks = gathering->gathered->blueprint.marks;
    double mix[3] = {0};
    find_mix(gathering->gathered, mix);
    for (size_t i = 0; i < 3; i++) {
        struct aim *aim = open_aim(gathering, AIM_DEMAND, i, wishes->has_demand_shares ? WEIGHT_OF_BALANCE : WEIGHT_OF_MIX);
        if (wishes->has_demand_shares)
            aim_set_share(aim, wishes->demand_shares[i], marks);
        else
            aim_set_loose_share(aim, mix[i], marks);
    }
}

static void set_aims(struct gathering *gathering)
{
    struct gathered *gathered = gathering->gathered;
    const struct course *course = gathered->course;
    int marks = gathered->blueprint.marks;
    gathering->aims = arena_get_array(gathering->arena, course->objective_count + course->skill_count + course->topic_count + 3,
                                      sizeof *gathering->aims);
    gathered->blueprint.aims = gathering->aims;
    for (size_t i = 0; i < course->objective_count; i++)
        aim_set_share(open_aim(gathering, AIM_OBJECTIVE, i, WEIGHT_OF_BALANCE), course->objectives[i].share, marks);
    for (size_t i = 0; i < course->skill_count; i++) {
        struct aim *aim = open_aim(gathering, AIM_SKILL, i, WEIGHT_OF_BALANCE);
        aim_set_least_share(aim, course->skills[i].share, marks);
        if (gathered->wishes->topic_count)
            aim->least = 0;     /* skills belong to some topics more than to others: aimed at, not asked for */
    }
    aim_at_topics(gathering);
    aim_at_demands(gathering);
}

/* ---- What a question gives ---------------------------------------------------------------------------------- */

static bool has_skill(const struct gathered *gathered, const struct course *own, const struct part_summary *part, int skill)
{
    for (size_t i = 0; i < own->skill_count; i++)
        if (part->skills >> i & 1 && strcmp(own->skills[i].id, gathered->course->skills[skill].id) == 0)
            return true;
    return false;
}

static int gives(const struct gathered *gathered, size_t item, const struct aim *aim)
{
    const struct course *own = bank_course(gathered->banks[gathered->places[item].bank]);
    const struct question_summary *summary = gather_summary(gathered, item);
    int topic = gather_topic(gathered, item), marks = 0;
    if (aim->kind == AIM_TOPIC)
        return aim->index == topic || aim->index == gathered->course->topics[topic].parent ? summary->marks : 0;
    if (aim->kind == AIM_DEMAND)
        return aim->index == (int)summary->demand ? summary->marks : 0;
    for (size_t i = 0; i < summary->part_count; i++) {
        const struct part_summary *part = &summary->parts[i];
        const char *objective = own->objectives[part->objective].id;
        bool counts = aim->kind == AIM_SKILL ? has_skill(gathered, own, part, aim->index)
                                             : course_objective(gathered->course, objective) == aim->index;
        marks += counts ? part->marks : 0;
    }
    return marks;
}

static void fill_item(struct gathering *gathering, size_t i)
{
    struct gathered *gathered = gathering->gathered;
    const struct question_summary *summary = gather_summary(gathered, i);
    int *given = arena_get_array(gathering->arena, gathered->blueprint.aim_count, sizeof *given);
    for (size_t aim = 0; aim < gathered->blueprint.aim_count; aim++)
        given[aim] = gives(gathered, i, &gathering->aims[aim]);
    struct random_source source = {draw(gathered, i, 'c')};
    gathering->items[i] = (struct item){
        .marks = summary->marks, .seconds = (int)lround(fmin(summary->minutes, PAPER_MINUTES_LIMIT) * 60), .gives = given,
        .kept_out = is_avoided(gathered, i),
    };
    gathering->items[i].cost = (int)random_below(&source, COSTS) * summary->marks;     /* in this order, on every machine */
    gathering->items[i].tie = (int)random_below(&source, INT_MAX);
}

/* ---- Enemies ------------------------------------------------------------------------------------------------ */

static void add_enemies(struct gathering *gathering)
{
    struct gathered *gathered = gathering->gathered;
    size_t count = 0;
    for (size_t i = 0; i < gathered->blueprint.item_count; i++)
        count += gather_summary(gathered, i)->enemy_count;
    struct enemies *enemies = arena_get_array(gathering->arena, count + 1, sizeof *enemies);
    for (size_t i = 0; i < gathered->blueprint.item_count; i++) {
        const struct question_summary *summary = gather_summary(gathered, i);
        size_t bank = gathered->places[i].bank;
        for (size_t j = 0; j < summary->enemy_count; j++) {
            int found = bank_find(gathered->banks[bank], summary->enemies[j]);
            int item = found >= 0 ? gathering->item_of[bank][found] : -1;
            if (item >= 0 && (size_t)item != i)
                enemies[gathered->blueprint.enemy_count++] = (struct enemies){i, (size_t)item};
        }
    }
    gathered->blueprint.enemies = enemies;
}

/* ---- All of it ---------------------------------------------------------------------------------------------- */

static void set_time(struct gathered *gathered)
{
    const struct paper_wishes *wishes = gathered->wishes;
    double pace = gathered->course->minutes_per_mark * wishes->marks;
    gathered->minutes = wishes->minutes ? wishes->minutes : (int)fmin(fmax(ceil(pace - 1e-9), 1), PAPER_MINUTES_LIMIT);
    /* Half a minute for rounding each question to seconds. */
    gathered->blueprint.seconds = gathered->minutes * 60 + (wishes->minutes ? 30 : gathered->minutes * 60 / OVER_PACE);
}

bool gather(struct bank *const *banks, size_t bank_count, const struct paper_wishes *wishes, struct arena *arena,
            struct gathered *gathered, struct messages *messages)
{
    assert(bank_count >= 1 && wishes->marks >= 1);
    *gathered = (struct gathered){.banks = banks, .bank_count = bank_count, .course = bank_course(banks[0]),
                                  .wishes = wishes, .blueprint.marks = wishes->marks};
    struct gathering gathering = {.gathered = gathered, .arena = arena, .messages = messages};
    if (!courses_go_together(banks, bank_count, messages) || !want_topics(&gathering))
        return false;
    set_time(gathered);
    add_items(&gathering);
    if (!gathered->blueprint.item_count) {
        messages_error(messages, "no question of the bank has the topic and demand that were asked for; ask for more");
        return false;
    }
    set_aims(&gathering);
    for (size_t i = 0; i < gathered->blueprint.item_count; i++)
        fill_item(&gathering, i);
    add_enemies(&gathering);
    return true;
}

/* ---- The order of the paper --------------------------------------------------------------------------------- */

struct standing_item { int demand, marks, topic; size_t item; };

static int compare(const void *left, const void *right)
{
    const struct standing_item *a = left, *b = right;
    if (a->demand != b->demand)
        return a->demand - b->demand;
    if (a->marks != b->marks)
        return a->marks - b->marks;
    return a->topic != b->topic ? a->topic - b->topic : (a->item > b->item) - (a->item < b->item);
}

size_t gather_order(const struct gathered *gathered, const bool *chosen, struct arena *arena, size_t **order)
{
    size_t count = 0;
    struct standing_item *items = memory_get_zeroed(gathered->blueprint.item_count + 1, sizeof *items);
    for (size_t i = 0; i < gathered->blueprint.item_count; i++) {
        const struct question_summary *summary = gather_summary(gathered, i);
        if (chosen[i])
            items[count++] = (struct standing_item){(int)summary->demand, summary->marks, gather_topic(gathered, i), i};
    }
    qsort(items, count, sizeof *items, compare);
    *order = arena_get_array(arena, count + 1, sizeof **order);
    for (size_t i = 0; i < count; i++)
        (*order)[i] = items[i].item;
    free(items);
    return count;
}
