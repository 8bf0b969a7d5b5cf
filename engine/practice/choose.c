#include "practice/choose.h"

#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"

static bool topic_allowed(const struct course *course, int wanted, int topic)
{
    return wanted == CHOOSE_ANY || topic == wanted || course->topics[topic].parent == wanted;
}

static bool parts_allow(const struct question_summary *summary, const struct wish *wish)
{
    for (size_t i = 0; i < summary->part_count; i++) {
        const struct part_summary *part = &summary->parts[i];
        bool objective = wish->objective == CHOOSE_ANY || part->objective == wish->objective;
        bool word = wish->word == CHOOSE_ANY || part->word == wish->word;
        bool skill = wish->skill == CHOOSE_ANY || (part->skills >> wish->skill & 1);
        if (objective && word && skill)
            return true;
    }
    return false;
}

static bool listed(const struct wish *wish, int question)
{
    if (!wish->only)
        return true;
    for (size_t i = 0; i < wish->only_count; i++)
        if (wish->only[i] == question)
            return true;
    return false;
}

static bool wish_allows(const struct bank *bank, const struct wish *wish, int question)
{
    const struct question_summary *summary = bank_summary(bank, (size_t)question);
    if (wish->question != CHOOSE_ANY)
        return wish->question == question;
    return topic_allowed(bank_course(bank), wish->topic, summary->topic) && parts_allow(summary, wish) &&
           listed(wish, question);
}

size_t choose_count(const struct bank *bank, const struct wish *wish)
{
    size_t count = 0;
    for (size_t i = 0; i < bank_question_count(bank); i++)
        count += wish_allows(bank, wish, (int)i);
    return count;
}

static int compare_history(const void *key, const void *item)
{
    return strcmp(key, ((const struct question_history *)item)->question);
}

static const struct question_history *history_of(const struct choosing *choosing, const char *id)
{
    if (!choosing->history_count)
        return NULL;
    return bsearch(id, choosing->history, choosing->history_count, sizeof *choosing->history, compare_history);
}

/* What decides, in order; smaller comes first. */
struct rank {
    bool repeats_topic, too_long;
    double share;
    bool seen;
    moment last;
};

static struct rank rank_of(const struct choosing *choosing, const struct question_summary *summary)
{
    const struct question_history *history = history_of(choosing, summary->id);
    return (struct rank){
        .repeats_topic = summary->topic == choosing->previous_topic,
        .too_long = summary->minutes > choosing->minutes_left + 1.0,
        .share = choosing->topic_share[summary->topic],
        .seen = history != NULL,
        .last = history ? history->last : NO_MOMENT,
    };
}

static bool comes_before(const struct rank *a, const struct rank *b)
{
    if (a->too_long != b->too_long)
        return b->too_long;
    if (a->repeats_topic != b->repeats_topic)
        return b->repeats_topic;
    if (a->share < b->share || b->share < a->share)
        return a->share < b->share;
    if (a->seen != b->seen)
        return b->seen;
    return a->last < b->last;
}

int choose_question(const struct choosing *choosing)
{
    int best = CHOOSE_NOTHING;
    struct rank best_rank = {0};
    for (size_t i = 0; i < bank_question_count(choosing->bank); i++) {
        if (choosing->asked[i] || !wish_allows(choosing->bank, &choosing->wish, (int)i))
            continue;
        struct rank rank = rank_of(choosing, bank_summary(choosing->bank, i));
        if (best == CHOOSE_NOTHING || comes_before(&rank, &best_rank)) {
            best = (int)i;
            best_rank = rank;
        }
    }
    return best;
}

void choose_reason(const struct choosing *choosing, int question, struct buffer *out)
{
    const struct question_summary *summary = bank_summary(choosing->bank, (size_t)question);
    const struct course *course = bank_course(choosing->bank);
    const struct question_history *history = history_of(choosing, summary->id);
    if (choosing->wish.question != CHOOSE_ANY) {
        buffer_add(out, "You asked for this question.");
        return;
    }
    const char *topic = course->topics[summary->topic].name;
    if (choosing->topic_marks[summary->topic] <= 0)
        buffer_print(out, "Chosen because you have not met %s yet.", topic);
    else
        buffer_print(out, "Chosen because %s is among your weakest topics today%s", topic,
                     history ? "" : "; you have not met this question yet.");
    if (!history || choosing->topic_marks[summary->topic] <= 0)
        return;
    buffer_add(out, "; of its questions you have left this one longest (last met ");
    add_day_relative(out, day_of(history->last), day_of(moment_now()));
    buffer_add(out, ").");
}

/* ---- Reading a wish ------------------------------------------------------------------------------ */

/* Names to look among: name_at gives the id, other_at a second name or NULL. */
struct names {
    const char *what;
    size_t count;
    const char *(*name_at)(const struct course *course, size_t index);
    const char *(*other_at)(const struct course *course, size_t index);
};

static const char *topic_id(const struct course *c, size_t i) { return c->topics[i].id; }
static const char *topic_name(const struct course *c, size_t i) { return c->topics[i].name; }
static const char *objective_id(const struct course *c, size_t i) { return c->objectives[i].id; }
static const char *objective_name(const struct course *c, size_t i) { return c->objectives[i].name; }
static const char *word_itself(const struct course *c, size_t i) { return c->words[i].word; }
static const char *skill_id(const struct course *c, size_t i) { return c->skills[i].id; }
static const char *skill_name(const struct course *c, size_t i) { return c->skills[i].name; }

static void unknown_name(const struct course *course, const struct names *names, const char *typed,
                         struct messages *messages)
{
    const char **candidates = memory_get_zeroed(names->count * 2 + 1, sizeof *candidates);
    struct buffer list = BUFFER_EMPTY;
    size_t count = 0;
    for (size_t i = 0; i < names->count; i++) {
        candidates[count++] = names->name_at(course, i);
        if (names->other_at)
            candidates[count++] = names->other_at(course, i);
        if (i < 40)
            buffer_print(&list, "%s%s", i ? ", " : "", names->name_at(course, i));
    }
    const char *nearest = text_nearest(typed, candidates, count);
    messages_error(messages, "no %s '%s' in this course%s%s%s; it has: %s", names->what, typed,
                   nearest ? ": did you mean '" : "", nearest ? nearest : "", nearest ? "'?" : "",
                   buffer_text(&list));
    buffer_free(&list);
    free(candidates);
}

static bool find_name(const struct course *course, const struct names *names, const char *typed, int *found,
                      struct messages *messages)
{
    *found = CHOOSE_ANY;
    if (!typed)
        return true;
    for (size_t i = 0; i < names->count; i++) {
        bool same = text_equal_ignoring_case(typed, names->name_at(course, i)) ||
                    (names->other_at && text_equal_ignoring_case(typed, names->other_at(course, i)));
        if (same) {
            *found = (int)i;
            return true;
        }
    }
    unknown_name(course, names, typed, messages);
    return false;
}

bool wish_read(const struct bank *bank, const struct wish_words *words, struct wish *wish,
               struct messages *messages)
{
    const struct course *course = bank_course(bank);
    *wish = WISH_ANYTHING;
    const struct names topics = {"topic", course->topic_count, topic_id, topic_name};
    const struct names objectives = {"objective", course->objective_count, objective_id, objective_name};
    const struct names command_words = {"command word", course->word_count, word_itself, NULL};
    const struct names skills = {"skill", course->skill_count, skill_id, skill_name};
    bool good = find_name(course, &topics, words->topic, &wish->topic, messages);
    good = find_name(course, &objectives, words->objective, &wish->objective, messages) && good;
    good = find_name(course, &command_words, words->word, &wish->word, messages) && good;
    good = find_name(course, &skills, words->skill, &wish->skill, messages) && good;
    if (words->question) {
        wish->question = bank_find(bank, words->question);
        if (wish->question < 0) {
            messages_error(messages, "no question '%s' in %s; 'ownmark bank show %s' lists the questions it has",
                           words->question, bank_path(bank), bank_path(bank));
            good = false;
        }
    }
    return good;
}
