/* The model against tests/data/learner_checks.tsv: 41 cases computed by an independent plain Python 3
 * implementation of the same specification (its math module only), 12 significant digits.
 *
 * A line: id, course "units;shares;words[;taught seconds or -]", events "A,second,question,points" or
 * "M,attempt,point,marks" joined by "|", queries joined by "|", expected numbers. A point:
 * "topic:objective:word:difficulty:got:maximum", joined by ";". The exam's mix is .4 .4 .2. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "fixture.h"
#include "learner/plan.h"

#define CASES 41
#define MOST_TOPICS 32
#define MOST_ATTEMPTS 200
#define MOST_RESULTS 200

struct checks_case {
    char *id;
    struct learner *learner;
    struct logged_long { moment when; size_t question, count; struct learner_mark marks[48]; } log[MOST_ATTEMPTS];
    size_t attempts;
    double question_last[1000];
    double results[MOST_RESULTS];
    size_t result_count;
};

static void result(struct checks_case *c, double value)
{
    cr_assert_lt(c->result_count, (size_t)MOST_RESULTS);
    c->results[c->result_count++] = value;
}

static size_t numbers(char *text, const char *separator, double *values, size_t most)
{
    size_t count = 0;
    char *rest = NULL;
    for (char *item = strtok_r(text, separator, &rest); item; item = strtok_r(NULL, separator, &rest)) {
        cr_assert_lt(count, most);
        values[count++] = strcmp(item, "-") == 0 ? NAN : strtod(item, NULL);
    }
    return count;
}

static struct learner *course_from(char *text)
{
    static const double mix[] = {0.4, 0.4, 0.2};
    static const enum learner_objective_kind kind[] = {LEARNER_KNOW, LEARNER_APPLY, LEARNER_ANALYSE};
    char *rest = NULL, *units = strtok_r(text, ";", &rest), *shares = strtok_r(NULL, ";", &rest);
    char *words = strtok_r(NULL, ";", &rest), *dates = strtok_r(NULL, ";", &rest);
    double number[MOST_TOPICS], share[MOST_TOPICS], date[MOST_TOPICS];
    size_t unit[MOST_TOPICS], most = 0, topics = numbers(units, ",", number, MOST_TOPICS);
    moment taught[MOST_TOPICS];
    cr_assert_eq(numbers(shares, ",", share, MOST_TOPICS), topics);
    if (dates)
        cr_assert_eq(numbers(dates, ",", date, MOST_TOPICS), topics);
    for (size_t k = 0; k < topics; k++) {
        unit[k] = (size_t)number[k];
        most = unit[k] > most ? unit[k] : most;
        taught[k] = dates && !isnan(date[k]) ? (moment)date[k] : LEARNER_UNKNOWN;
    }
    struct learner_course course = {.units = most + 1, .topics = topics, .objectives = 3,
                                    .words = (size_t)atoi(words), .unit = unit, .share = share, .mix = mix,
                                    .kind = kind, .taught = taught};
    struct learner *learner = learner_new(&course, NULL);
    cr_assert_not_null(learner);
    return learner;
}

static void read_attempt(struct checks_case *c, char **rest)
{
    cr_assert_lt(c->attempts, (size_t)MOST_ATTEMPTS);
    struct logged_long *attempt = &c->log[c->attempts++];
    attempt->when = (moment)strtoll(strtok_r(NULL, ",", rest), NULL, 10);
    attempt->question = (size_t)atoi(strtok_r(NULL, ",", rest));
    char *more = NULL, *points = strtok_r(NULL, ",", rest);
    for (char *point = strtok_r(points, ";", &more); point; point = strtok_r(NULL, ";", &more)) {
        double v[6];
        cr_assert_eq(numbers(point, ":", v, 6), (size_t)6);
        attempt->marks[attempt->count++] = (struct learner_mark){(size_t)v[0], (size_t)v[1], (size_t)v[2],
                                                                 v[3], v[4], v[5], NAN};
    }
}

static void replay(struct checks_case *c)
{
    learner_reset(c->learner);
    for (size_t q = 0; q < 1000; q++)
        c->question_last[q] = NAN;
    for (size_t n = 0; n < c->attempts; n++)
        for (size_t j = 0; j < c->log[n].count; j++) {
            const struct learner_mark *mark = &c->log[n].marks[j];
            if (!isnan(mark->moderated))
                cr_assert(learner_moderated_pair(c->learner, mark->got, mark->moderated, mark->maximum));
        }
    for (size_t n = 0; n < c->attempts; n++)
        cr_assert(learner_attempt(c->learner, c->log[n].when, &c->question_last[c->log[n].question],
                                  c->log[n].marks, c->log[n].count));
}

/* A moderation replays, as it changes the bias for the whole log; attempts between are incremental. */
static void events_from(struct checks_case *c, char *text)
{
    char *rest = NULL;
    replay(c);
    for (char *event = strtok_r(text, "|", &rest); event; event = strtok_r(NULL, "|", &rest)) {
        char *fields = NULL, *kind = strtok_r(event, ",", &fields);
        if (*kind == 'A') {
            read_attempt(c, &fields);
            const struct logged_long *a = &c->log[c->attempts - 1];
            cr_assert(learner_attempt(c->learner, a->when, &c->question_last[a->question], a->marks, a->count));
        } else {
            double v[3];
            for (int i = 0; i < 3; i++)
                v[i] = strtod(strtok_r(NULL, ",", &fields), NULL);
            c->log[(size_t)v[0]].marks[(size_t)v[1]].moderated = v[2];
            replay(c);
        }
    }
}

static void query_questions(struct checks_case *c, const double *a, char **rest)
{
    struct learner_chooser *chooser = learner_choose_begin(c->learner, (moment)a[0], (moment)a[1],
                                                           a[2] < 0 ? LEARNER_NONE : (size_t)a[2]);
    for (char *item = strtok_r(NULL, ",", rest); item; item = strtok_r(NULL, ",", rest)) {
        char *more = NULL;
        size_t id = (size_t)atoi(strtok_r(item, ":", &more)), topics[16];
        double minutes = strtod(strtok_r(NULL, ":", &more), NULL), v[16];
        size_t count = numbers(strtok_r(NULL, ":", &more), ".", v, 16);
        for (size_t i = 0; i < count; i++)
            topics[i] = (size_t)v[i];
        cr_assert(learner_choose_offer(chooser, &(struct learner_candidate){id, minutes, topics, count,
                                                                            c->question_last[id]}));
    }
    struct learner_choice choice = learner_choose_result(chooser);
    cr_assert(choice.found);
    result(c, (double)choice.id);
    result(c, choice.score);
    learner_choose_free(chooser);
}

static void query_timetable(struct checks_case *c, const double *a)
{
    size_t count = (size_t)a[1], slots[64];
    moment days[64];
    for (size_t i = 0; i < count; i++) {
        days[i] = (moment)a[0] + DAY * (moment)a[2] * (moment)i;
        slots[i] = (size_t)a[3];
    }
    struct learner_block blocks[256];
    size_t placed = learner_timetable(c->learner, days, slots, count, (moment)a[4], LEARNER_BLOCK_MARKS, blocks);
    for (size_t i = 0; i < placed; i++) {
        result(c, (double)blocks[i].day);
        result(c, (double)blocks[i].topic);
    }
}

static void query_state(struct checks_case *c, size_t k)
{
    const struct learner *l = c->learner;
    size_t effect = learner_topic_effect(&l->course, k);
    const double values[] = {l->mean[effect], l->variance[effect], l->strength[k], l->freshness[k],
                             isnan(l->last[k]) ? -1.0 : l->last[k]};
    for (size_t i = 0; i < 5; i++)
        result(c, values[i]);
}

static void query_standing(struct checks_case *c, char kind, const double *a, size_t count)
{
    if (kind == 'T') {
        struct learner_estimate e = learner_topic(c->learner, (size_t)a[0], (moment)a[1]);
        const double values[] = {e.share, e.low80, e.high80, e.logit, e.sd};
        for (size_t i = 0; i < 5; i++)
            result(c, values[i]);
    } else if (kind == 'X') {
        struct learner_total total = learner_exam(c->learner, (moment)a[0]);
        result(c, total.share);
        result(c, total.sd);
    } else if (kind == 'P') {
        struct learner_mark mark = {.topic = (size_t)a[0], .objective = (size_t)a[1], .word = (size_t)a[2],
                                    .difficulty = a[3]};
        double last = count > 5 ? a[4] / 86400.0 - a[5] : NAN;
        result(c, learner_point(c->learner, &mark, (moment)a[4], last));
    } else {
        double over, under;
        cr_assert_eq(kind, 'B');
        learner_marking_bias(c->learner, &over, &under);
        result(c, over);
        result(c, under);
    }
}

static void queries_from(struct checks_case *c, char *text)
{
    char *rest = NULL;
    for (char *query = strtok_r(text, "|", &rest); query; query = strtok_r(NULL, "|", &rest)) {
        char *fields = NULL, kind = *strtok_r(query, ",", &fields);
        double a[8];
        size_t count = 0;
        for (; fields && *fields && count < (kind == 'N' ? 3u : 8u); count++)
            a[count] = strtod(strtok_r(NULL, ",", &fields), NULL);
        if (kind == 'N')
            query_questions(c, a, &fields);
        else if (kind == 'L')
            query_timetable(c, a);
        else if (kind == 'S')
            query_state(c, (size_t)a[0]);
        else if (kind == 'G')
            result(c, learner_gain(c->learner, (size_t)a[0], (moment)a[1], (moment)a[2], a[3]));
        else
            query_standing(c, kind, a, count);
    }
}

static void compare(const struct checks_case *c, char *expected)
{
    double want[MOST_RESULTS];
    size_t count = numbers(expected, " \n", want, MOST_RESULTS);
    cr_expect_eq(c->result_count, count, "%s: %zu results, expected %zu", c->id, c->result_count, count);
    for (size_t i = 0; i < count && i < c->result_count; i++)
        cr_expect(fabs(c->results[i] - want[i]) <= 1e-9 * fmax(1.0, fabs(want[i])), "%s: result %zu is %.12g, not %.12g",
                  c->id, i, c->results[i], want[i]);
}

static void run_case(char *line)
{
    struct checks_case *c = calloc(1, sizeof *c);
    cr_assert_not_null(c);
    char *columns[5];
    for (int i = 0; i < 5; i++) {
        columns[i] = strsep(&line, "\t");
        cr_assert_not_null(columns[i]);
    }
    c->id = columns[0];
    c->learner = course_from(columns[1]);
    events_from(c, columns[2]);
    queries_from(c, columns[3]);
    compare(c, columns[4]);
    learner_free(c->learner);
    free(c);
}

Test(learner, agrees_with_the_reference_implementation)
{
    FILE *file = fopen("tests/data/learner_checks.tsv", "r");
    cr_assert_not_null(file);
    char *line = NULL;
    size_t capacity = 0;
    int cases = 0;
    while (getline(&line, &capacity, file) > 0)
        if (*line != '#' && *line != '\n') {
            run_case(line);
            cases++;
        }
    cr_expect_eq(cases, CASES);
    free(line);
    fclose(file);
}
