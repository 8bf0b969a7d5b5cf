#include "practice/choose.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"
#include "learner/next.h"

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

bool wish_allows(const struct bank *bank, const struct wish *wish, int question)
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

const struct question_history *choose_history(const struct question_history *history, size_t count, const char *question)
{
    return count ? bsearch(question, history, count, sizeof *history, compare_history) : NULL;
}

static const struct question_history *history_of(const struct choosing *choosing, const char *id)
{
    return choose_history(choosing->history, choosing->history_count, id);
}

/* ---- Choosing ------------------------------------------------------------------------------------- */

struct search {
    const struct choosing *choosing;
    struct learner_next *next;
    bool *passed_over;          /* [learner topics] already among the best */
};

static bool is_open(const struct search *search, size_t index, bool short_enough)
{
    const struct choosing *choosing = search->choosing;
    size_t topic = choosing->standing->leaf_of_topic[bank_summary(choosing->bank, index)->topic];
    return !choosing->asked[index] && !search->passed_over[topic] &&
           wish_allows(choosing->bank, &choosing->wish, (int)index) &&
           !(short_enough && bank_summary(choosing->bank, index)->minutes > choosing->minutes_left + 1.0);
}

static void offer_open(const struct search *search, bool short_enough)
{
    const struct choosing *choosing = search->choosing;
    learner_next_forget(search->next);
    for (size_t i = 0; i < bank_question_count(choosing->bank); i++) {
        if (!is_open(search, i, short_enough))
            continue;
        const struct question_summary *summary = bank_summary(choosing->bank, i);
        const struct question_history *history = history_of(choosing, summary->id);
        learner_next_offer(search->next, &(struct learner_open){
            i, choosing->standing->leaf_of_topic[summary->topic], history ? history->last : NO_MOMENT,
            history ? history->attempted : (double)NAN});
    }
}

/* Questions too long for the time that is left, and topics not taught yet, are looked at only when nothing else is to be
 * had: the learner refuses a topic before its date, a student who asks for it may still practise it. */
static int search_once(const struct search *search, struct learner_choice *choice)
{
    const struct choosing *choosing = search->choosing;
    const struct learner_setting setting = {
        choosing->now, choosing->exam,
        choosing->previous_topic >= 0 ? choosing->standing->leaf_of_topic[choosing->previous_topic] : LEARNER_NONE,
        bank_course(choosing->bank)->minutes_per_mark};
    for (int short_enough = 1; short_enough >= 0; short_enough--) {
        offer_open(search, short_enough);
        *choice = learner_next_choose(search->next, &setting);
        if (choice->found)
            return (int)choice->id;
    }
    size_t untaught = learner_next_any(search->next);
    return untaught == LEARNER_NONE ? CHOOSE_NOTHING : (int)untaught;
}

static struct chosen describe(const struct choosing *choosing, size_t index, const struct learner_choice *choice)
{
    const struct learner *learner = choosing->standing->learner;
    size_t leaf = choosing->standing->leaf_of_topic[bank_summary(choosing->bank, index)->topic];
    return (struct chosen){
        (int)index, choice->score, choice->gain, learner_topic(learner, leaf, choosing->now).share,
        learner->evidence[learner_topic_effect(&learner->course, leaf)],
        isnan(learner->last[leaf]) ? 0 : day_of(choosing->now) - day_of((moment)llround(learner->last[leaf] * 86400.0)),
    };
}

size_t choose_questions(const struct choosing *choosing, struct chosen *best, size_t limit)
{
    struct search search = {.choosing = choosing};
    size_t count = 0;
    search.passed_over = memory_get_zeroed(choosing->standing->learner->course.topics, sizeof *search.passed_over);
    search.next = learner_next_begin(choosing->standing->learner);
    while (count < limit && count < CHOOSE_BEST) {
        struct learner_choice choice;
        int index = search_once(&search, &choice);
        if (index == CHOOSE_NOTHING)
            break;
        search.passed_over[choosing->standing->leaf_of_topic[bank_summary(choosing->bank, (size_t)index)->topic]] = true;
        best[count++] = describe(choosing, (size_t)index, &choice);
    }
    learner_next_free(search.next);
    free(search.passed_over);
    return count;
}

void choose_reason(const struct choosing *choosing, const struct chosen *chosen, struct buffer *out)
{
    const struct question_summary *summary = bank_summary(choosing->bank, (size_t)chosen->question);
    const struct course *course = bank_course(choosing->bank);
    const struct question_history *history = history_of(choosing, summary->id);
    const char *topic = course->topics[summary->topic].name;
    if (choosing->wish.question != CHOOSE_ANY)
        buffer_add(out, "You asked for this question.");
    else if (choosing->wish.only)
        buffer_print(out, "Chosen because it asks again for a point you missed, in %s.", topic);
    else if (chosen->topic_marks <= 0)
        buffer_print(out, "Chosen because you have not met %s yet, and marks are easiest to win where nothing was done.", topic);
    else if (chosen->topic_marks < LEARNER_TOPIC_MARKS && chosen->rested >= 2)
        buffer_print(out, "Chosen because you left %s alone for %ld days and have met little of it; marks are easiest to win where "
                          "little was done.", topic, chosen->rested);
    else if (chosen->topic_marks < LEARNER_TOPIC_MARKS)
        buffer_print(out, "Chosen because you have met little of %s yet, and marks are easiest to win where little was done.", topic);
    else if (chosen->rested >= 2)
        buffer_print(out, "Chosen because you left %s alone for %ld days, and a few minutes on it (you would earn about %ld of 100 "
                          "marks there today) win many marks on the exam day.", topic, chosen->rested, lround(chosen->share * 100));
    else
        buffer_print(out, "Chosen because a few minutes on %s (you would earn about %ld of 100 marks there today) win most "
                          "marks on the exam day.", topic, lround(chosen->share * 100));
    if (history && choosing->wish.question == CHOOSE_ANY && history->last != NO_MOMENT) {
        buffer_add(out, " You met this question ");
        add_day_relative(out, day_of(history->last), day_of(choosing->now));
        buffer_add(out, ".");
    }
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
    messages_error(messages, "no %s '%s' in this course%s%s%s has: %s", names->what, typed,
                   nearest ? ": did you mean '" : "", nearest ? nearest : "", nearest ? "'? It" : "; it",
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

static void unknown_question(const struct bank *bank, const char *typed, struct messages *messages)
{
    size_t count = bank_question_count(bank);
    const char **ids = memory_get_zeroed(count + 1, sizeof *ids);
    for (size_t i = 0; i < count; i++)
        ids[i] = bank_summary(bank, i)->id;
    const char *nearest = text_nearest(typed, ids, count);
    messages_error(messages, "no question '%s' in %s%s%s%s has %s, from '%s' to '%s'", typed, bank_path(bank),
                   nearest ? ": did you mean '" : "", nearest ? nearest : "", nearest ? "'? It" : "; it",
                   text_count((long)count, "question", "questions"), count ? ids[0] : "", count ? ids[count - 1] : "");
    free(ids);
}

static struct names names_of_topics(const struct course *course)
{
    return (struct names){"topic", course->topic_count, topic_id, topic_name};
}

int topic_read(const struct course *course, const char *typed, struct messages *messages)
{
    const struct names topics = names_of_topics(course);
    int found;
    return find_name(course, &topics, typed, &found, messages) ? found : CHOOSE_NOTHING;
}

int topic_read_leaf(const struct course *course, const char *typed, struct messages *messages)
{
    int topic = topic_read(course, typed, messages);
    struct buffer list = BUFFER_EMPTY;
    if (topic < 0 || course->topics[topic].is_leaf)
        return topic;
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].parent == topic)
            buffer_print(&list, "%s%s", list.length ? ", " : "", course->topics[i].id);
    messages_error(messages, "'%s' is a main topic; take one of its topics: %s", typed, buffer_text(&list));
    buffer_free(&list);
    return CHOOSE_NOTHING;
}

bool wish_read(const struct bank *bank, const struct wish_words *words, struct wish *wish,
               struct messages *messages)
{
    const struct course *course = bank_course(bank);
    *wish = WISH_ANYTHING;
    const struct names topics = names_of_topics(course);
    const struct names objectives = {"objective", course->objective_count, objective_id, objective_name};
    const struct names command_words = {"command word", course->word_count, word_itself, NULL};
    const struct names skills = {"skill", course->skill_count, skill_id, skill_name};
    bool good = find_name(course, &topics, words->topic, &wish->topic, messages);
    good = find_name(course, &objectives, words->objective, &wish->objective, messages) && good;
    good = find_name(course, &command_words, words->word, &wish->word, messages) && good;
    good = find_name(course, &skills, words->skill, &wish->skill, messages) && good;
    if (words->question) {
        wish->question = bank_find(bank, words->question);
        if (wish->question < 0)
            unknown_question(bank, words->question, messages);
        good = good && wish->question >= 0;
    }
    return good;
}
