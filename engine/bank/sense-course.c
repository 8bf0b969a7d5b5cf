/* The checks of a course, and its names taken into the look-ups. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include "bank/sense-inner.h"

/* Shares are typed as per cent with few decimals: thirds and sevenths need some room. */
static const double share_slack = 0.5;

static void check_limit(struct check *check, size_t count, size_t limit, const char *what)
{
    if (count > limit)
        sense_fault(check, "the course has %zu %s, and %zu is the most that can be used", count, what, limit);
}

static void add_name(struct check *check, struct names *names, const char *name, size_t index, const char *what)
{
    if (!names_add(names, name, (int)index))
        sense_fault(check, "the %s '%s' is declared twice: keep one, or give the other another name", what, name);
}

static void check_share(struct check *check, double share, const char *what, const char *id)
{
    if (!(share >= 0 && share <= 100))
        sense_fault(check, "the share of %s '%s' is %g, but a share is from 0 to 100 per cent", what, id, share);
}

static void check_sum(struct check *check, double sum, const char *what, const char *unit)
{
    if (!(fabs(sum - 100) <= share_slack))
        sense_fault(check, "the shares of the %s add up to %g and not to 100: change them until every mark of the "
                    "examination belongs to one %s", what, sum, unit);
}

static void check_objectives(struct check *check, const struct course *course)
{
    double sum = 0;
    check_limit(check, course->objective_count, SENSE_OBJECTIVE_LIMIT, "objectives");
    for (size_t i = 0; i < course->objective_count; i++) {
        const struct objective *objective = &course->objectives[i];
        add_name(check, &check->sense->objectives, objective->id, i, "objective");
        check_share(check, objective->share, "objective", objective->id);
        sum += objective->share;
    }
    check_sum(check, sum, "objectives", "objective");
}

static void check_skills(struct check *check, const struct course *course)
{
    check_limit(check, course->skill_count, SENSE_SKILL_LIMIT, "skills");
    for (size_t i = 0; i < course->skill_count; i++) {
        add_name(check, &check->sense->skills, course->skills[i].id, i, "skill");
        check_share(check, course->skills[i].share, "skill", course->skills[i].id);
    }
}

static void check_topics(struct check *check, const struct course *course)
{
    double sum = 0;
    check_limit(check, course->topic_count, SENSE_TOPIC_LIMIT, "topics");
    for (size_t i = 0; i < course->topic_count; i++) {
        const struct topic *topic = &course->topics[i];
        assert(topic->parent < (int)i);
        add_name(check, &check->sense->topics, topic->id, i, "topic");
        check_share(check, topic->share, "topic", topic->id);
        if (topic->is_leaf)
            sum += topic->share;
    }
    check_sum(check, sum, "topics", "topic");
}

static void check_words(struct check *check, const struct course *course)
{
    check_limit(check, course->word_count, SENSE_WORD_LIMIT, "command words");
    for (size_t i = 0; i < course->word_count; i++)
        /* A word that stands twice was refused where the two were put together. */
        names_add(&check->sense->words, course->words[i].word, (int)i);
}

static void check_constants(struct check *check, const struct course *course)
{
    for (size_t i = 0; i < course->constant_count; i++) {
        const struct constant *constant = &course->constants[i];
        sense_symbol_name(check, constant->symbol, "constant");
        add_name(check, &check->sense->constants, constant->symbol, i, "constant");
        if (!sense_is_decimal(constant->value))
            sense_fault(check, "the value '%s' of the constant '%s' is no decimal number: write it as 9.81 or 6.67e-11",
                        constant->value, constant->symbol);
        sense_unit(check, constant->unit, "the constant", constant->symbol);
    }
}

static void check_paper(struct check *check, const struct course *course)
{
    if (course->paper_marks < 1)
        sense_fault(check, "paper-marks is %d: say how many marks the whole examination carries",
                    course->paper_marks);
    if (!isfinite(course->paper_minutes) || course->paper_minutes <= 0)
        sense_fault(check, "paper-minutes is not above 0: say how long the whole examination lasts");
}

bool sense_course(struct sense *sense, const struct course *course, unsigned long line, unsigned long column,
                  struct messages *messages)
{
    assert(!sense->course);
    size_t errors = messages->errors;
    struct check check = {
        .sense = sense, .messages = messages, .subject = "course", .line = line, .column = column,
    };
    sense->course = course;
    check_paper(&check, course);
    check_objectives(&check, course);
    check_skills(&check, course);
    check_topics(&check, course);
    check_words(&check, course);
    check_constants(&check, course);
    sense->course_is_sound = messages->errors == errors;
    return sense->course_is_sound;
}
