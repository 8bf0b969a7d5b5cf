#include "practice/standing.h"

#include <assert.h>

#include "base/dates.h"

static void number_topics(const struct course *course, struct arena *arena, struct standing *standing,
                          struct learner_course *model)
{
    size_t *leaf_of_topic = arena_get_array(arena, course->topic_count, sizeof *leaf_of_topic);
    int *topic_of_leaf = arena_get_array(arena, course->topic_count, sizeof *topic_of_leaf);
    int *topic_of_unit = arena_get_array(arena, course->topic_count, sizeof *topic_of_unit);
    size_t *unit = arena_get_array(arena, course->topic_count, sizeof *unit);
    double *share = arena_get_array(arena, course->topic_count, sizeof *share);
    for (size_t i = 0; i < course->topic_count; i++) {
        const struct topic *topic = &course->topics[i];
        leaf_of_topic[i] = LEARNER_NONE;
        if (topic->parent < 0)
            topic_of_unit[model->units++] = (int)i;
        if (!topic->is_leaf)
            continue;
        leaf_of_topic[i] = model->topics;
        topic_of_leaf[model->topics] = (int)i;
        unit[model->topics] = model->units - 1;     /* a main topic stands before its own */
        share[model->topics++] = topic->share / 100.0;
    }
    standing->leaf_of_topic = leaf_of_topic;
    standing->topic_of_leaf = topic_of_leaf;
    standing->topic_of_unit = topic_of_unit;
    model->unit = unit;
    model->share = share;
}

static void number_objectives(const struct course *course, struct arena *arena, struct learner_course *model)
{
    static const enum learner_objective_kind kinds[] = {
        [OBJECTIVE_KNOW] = LEARNER_KNOW, [OBJECTIVE_APPLY] = LEARNER_APPLY, [OBJECTIVE_ANALYSE] = LEARNER_ANALYSE,
    };
    double *mix = arena_get_array(arena, course->objective_count, sizeof *mix);
    enum learner_objective_kind *kind = arena_get_array(arena, course->objective_count, sizeof *kind);
    for (size_t i = 0; i < course->objective_count; i++) {
        mix[i] = course->objectives[i].share / 100.0;
        kind[i] = kinds[course->objectives[i].kind];
    }
    model->objectives = course->objective_count;
    model->words = course->word_count;
    model->mix = mix;
    model->kind = kind;
}

static struct learner *read_learner(struct record *record, const struct bank *bank, struct arena *arena,
                                    const struct standing *standing, const struct learner_course *model,
                                    struct messages *messages)
{
    const struct course *course = bank_course(bank);
    const char **units = arena_get_array(arena, model->units, sizeof *units);
    const char **topics = arena_get_array(arena, model->topics, sizeof *topics);
    const char **objectives = arena_get_array(arena, model->objectives, sizeof *objectives);
    const char **words = arena_get_array(arena, model->words, sizeof *words);
    for (size_t i = 0; i < model->units; i++)
        units[i] = course->topics[standing->topic_of_unit[i]].id;
    for (size_t i = 0; i < model->topics; i++)
        topics[i] = course->topics[standing->topic_of_leaf[i]].id;
    for (size_t i = 0; i < model->objectives; i++)
        objectives[i] = course->objectives[i].id;
    for (size_t i = 0; i < model->words; i++)
        words[i] = course->words[i].word;
    struct learner_course dated = *model;
    moment *taught = arena_get_array(arena, model->topics, sizeof *taught);
    dated.taught = taught;
    if (!record_taught(record, bank_id(bank), topics, model->topics, taught, messages))
        return NULL;
    return record_learner(record, bank_id(bank), &dated, units, topics, objectives, words, messages);
}

bool standing_read(struct record *record, const struct bank *bank, struct arena *arena, struct standing *standing,
                   struct messages *messages)
{
    struct learner_course model = {0};
    number_topics(bank_course(bank), arena, standing, &model);
    number_objectives(bank_course(bank), arena, &model);
    standing->learner = record ? read_learner(record, bank, arena, standing, &model, messages)
                               : learner_new(&model, NULL);
    return standing->learner != NULL;
}

void standing_release(struct standing *standing)
{
    learner_free(standing->learner);
    standing->learner = NULL;
}

moment standing_exam(struct record *record, const char *bank, moment now, bool *known)
{
    enum { EXAM_HOUR = 9, DAYS_ASSUMED = MISSED_ASSUMED_DAYS };
    struct arena *arena = arena_new();
    const char *setting = record ? record_setting(record, bank, SETTING_EXAM_DATE, arena) : NULL;
    day_number day = NO_DAY;
    *known = setting && day_parse(setting, &day) && day >= day_of(now);
    arena_free(arena);
    return day_at(*known ? day : day_of(now) + DAYS_ASSUMED, EXAM_HOUR, 0);
}

double standing_difficulty(enum demand demand)
{
    switch (demand) {
    case DEMAND_LOW: return -0.7;
    case DEMAND_STANDARD: return 0.0;
    case DEMAND_HIGH: return 0.7;
    }
    assert(false && "a demand");
    return 0.0;
}
