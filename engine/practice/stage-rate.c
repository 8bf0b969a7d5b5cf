/* The end of a sitting: how sure the student is of each topic it touched. Asked before the marks are summed up, so that
 * the one does not colour the other. */
#include <math.h>
#include <string.h>

#include "bank/course.h"
#include "base/text.h"
#include "practice/machine.h"
#include "practice/standing.h"

#define RATING_STAGE "rating"

static const struct topic *topic_by_id(const struct practice *practice, const char *id)
{
    const struct course *course = bank_course(practice->bank);
    int topic = course_topic(course, id);
    return topic < 0 ? NULL : &course->topics[topic];
}

/* The first topic practised that was neither rated nor passed over; NULL when there is none left. */
static struct total_row *next_to_rate(struct practice *practice)
{
    for (size_t i = 0; i < practice->totals.topic_count; i++)
        if (!practice->totals.topics[i].settled && topic_by_id(practice, practice->totals.topics[i].name))
            return &practice->totals.topics[i];
    return NULL;
}

static void settle(struct practice *practice, const char *topic, enum topic_rating rating)
{
    for (size_t i = 0; i < practice->totals.topic_count; i++)
        if (text_equal(practice->totals.topics[i].name, topic)) {
            practice->totals.topics[i].settled = true;
            practice->totals.topics[i].rating = rating;
        }
}

bool rating_replay(struct practice *practice, const struct event *event)
{
    bool of_stage = text_equal(event->detail, RATING_STAGE);
    if (event->kind == EVENT_TOPIC_RATED)
        settle(practice, event->item, (enum topic_rating)event->number);
    else if (event->kind == EVENT_STAGE_SKIPPED && of_stage)
        settle(practice, event->item, TOPIC_NOT_RATED);
    else if (event->kind == EVENT_STAGE_ENTERED && of_stage)
        practice->rating_begun = true;
    else
        return false;
    return true;
}

/* A stage belongs to a part; that of the ratings to the part marked last. */
static bool note_stage(struct practice *practice, enum event_kind kind, const char *topic, struct messages *messages)
{
    struct event event = event_blank(kind);
    event.script = practice->last_script;
    event.part = practice->last_part;
    event.item = topic;
    event.detail = RATING_STAGE;
    return note(practice, event, messages);
}

static bool note_rating(struct practice *practice, const char *topic, enum topic_rating rating, struct messages *messages)
{
    struct event event = event_blank(EVENT_TOPIC_RATED);
    event.item = topic;
    event.number = rating;
    return note(practice, event, messages);
}

static bool take_rating(struct practice *practice, const char *topic, enum topic_rating rating, struct messages *messages)
{
    bool noted = rating == TOPIC_NOT_RATED ? note_stage(practice, EVENT_STAGE_SKIPPED, topic, messages)
                                           : note_rating(practice, topic, rating, messages);
    if (noted)
        settle(practice, topic, rating);
    return noted;
}

bool rating_is_due(struct practice *practice)
{
    return next_to_rate(practice) != NULL;
}

bool rating_begin(struct practice *practice, struct messages *messages)
{
    if (!practice->rating_begun && !note_stage(practice, EVENT_STAGE_ENTERED, NULL, messages))
        return false;
    practice->rating_begun = true;
    practice->position = AT_RATING;
    page_heading(practice->page, 3, "How sure are you now?");
    page_paragraph(practice->page, "1 lost, 2 following, 3 unaided, 4 could teach it. Enter passes a topic over.");
    return true;
}

void rating_present(struct practice *practice)
{
    buffer_clear(&practice->prompt);
    buffer_print(&practice->prompt, "%s, 1 to 4", topic_by_id(practice, next_to_rate(practice)->name)->name);
    practice->ask = (struct practice_ask){.prompt = buffer_text(&practice->prompt)};
}

void rating_help(struct practice *practice)
{
    page_paragraph(practice->page, "How sure you feel, apart from any marks. Later it is set beside what your marks say; where "
                                   "the two differ there is something to find out.");
    topic_rating_show_steps(practice->page);
    page_fact(practice->page, "Enter", "passes this topic over");
    page_fact(practice->page, ".skip", "passes all of them over");
}

enum practice_result rating_enter(struct practice *practice, const char *line, bool pasted, struct messages *messages)
{
    bool all = !pasted && strcmp(line, ".skip") == 0, over = all || text_is_blank(line);
    enum topic_rating rating = over ? TOPIC_NOT_RATED : topic_rating_read(line);
    if (!over && rating == TOPIC_NOT_RATED) {
        page_paragraph(practice->page, "Type 1 for lost, 2 for following, 3 for unaided, 4 for could teach it. Enter passes it over.");
        return PRACTICE_ON;
    }
    do {
        if (!take_rating(practice, next_to_rate(practice)->name, rating, messages))
            return PRACTICE_FAILED;
    } while (all && rating_is_due(practice));
    if (rating_is_due(practice))
        return PRACTICE_ON;
    return end_sitting(practice, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- In the summary -------------------------------------------------------------------------------- */

static void show_rated(struct page *page, const struct topic_rated *topics, size_t count)
{
    page_table(page, "How sure you are, and what your marks say", "lll", true);
    page_cell(page, "Topic");
    page_cell(page, "you say");
    page_cell(page, "likely marks of 100");
    for (size_t i = 0; i < count; i++) {
        page_cell(page, "%s", topics[i].name);
        page_cell(page, "%s", topic_rating_name(topics[i].rating));
        if (topic_rating_compare(topics[i].rating, &topics[i].estimate, topics[i].marks) == RATING_UNTOLD)
            page_cell(page, "too little evidence");
        else
            page_cell(page, "%ld to %ld", lround(topics[i].estimate.low80 * 100.0), lround(topics[i].estimate.high80 * 100.0));
    }
    topic_rating_remarks(page, topics, count);
}

static size_t gather_rated(struct practice *practice, const struct standing *standing, struct topic_rated *topics)
{
    const struct learner *learner = standing->learner;
    const struct course *course = bank_course(practice->bank);
    size_t count = 0;
    for (size_t i = 0; i < practice->totals.topic_count; i++) {
        const struct total_row *row = &practice->totals.topics[i];
        const struct topic *topic = topic_by_id(practice, row->name);
        size_t leaf = topic ? standing->leaf_of_topic[topic - course->topics] : LEARNER_NONE;
        if (row->rating == TOPIC_NOT_RATED || leaf == LEARNER_NONE)
            continue;
        topics[count++] = (struct topic_rated){
            topic->id, topic->name, row->rating, learner_topic(learner, leaf, moment_now()),
            learner->evidence[learner_topic_effect(&learner->course, leaf)],
        };
    }
    return count;
}

void rating_show(struct practice *practice)
{
    struct messages unheeded = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct standing standing = {0};
    struct topic_rated *topics = arena_get_array(arena, practice->totals.topic_count, sizeof *topics);
    if (standing_read(practice->record, practice->bank, arena, &standing, &unheeded)) {
        size_t count = gather_rated(practice, &standing, topics);
        if (count)
            show_rated(practice->page, topics, count);
        standing_release(&standing);
    }
    messages_free(&unheeded);
    arena_free(arena);
}
