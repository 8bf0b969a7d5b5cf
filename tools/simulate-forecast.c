/* How often the truth lies inside the interval that is foretold. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/memory.h"
#include "simulate.h"

enum { STAGES = 3, AHEADS = 2, PAPER_MARKS = 60 };

static const double stage_marks[STAGES] = {50.0, 200.0, 1000.0};
static const double ahead_days[AHEADS] = {0.0, 30.0};
static const struct calendar calendar = {"forecast", 140, 20.0, 0.0};

struct tally {
    double count;
    double expected_inside, paper_inside;
    double miss;                    /* forecast less truth, summed, marks of 100 */
    double width;                   /* of a paper's interval, summed, marks of 100 */
};

/* The morning after the practice, and so many days later. A paper counts as the student reads the interval: in whole marks. */
static void measure(const struct run *run, double ahead, uint64_t seed, struct tally *tally)
{
    double day = (double)run->today + 9.0 / 24.0 + ahead;
    struct learner_total total = learner_exam(run->learner, run_moment(day));
    struct learner_total one = learner_paper(run->learner, run_moment(day), PAPER_MARKS);
    double truth = memory_exam(&run->memory, day);
    int paper = memory_paper(&run->memory, PAPER_MARKS, day, seed);
    tally->count += 1.0;
    tally->expected_inside += truth >= total.low80 && truth <= total.high80 ? 1.0 : 0.0;
    tally->paper_inside += paper >= lround(one.low80 * PAPER_MARKS) && paper <= lround(one.high80 * PAPER_MARKS) ? 1.0 : 0.0;
    tally->miss += 100.0 * (total.share - truth);
    tally->width += 100.0 * (one.high80 - one.low80);
}

static void follow_student(const struct student *student, const struct theory *theory, struct tally tallies[STAGES][AHEADS])
{
    struct run run;
    size_t stage = 0;
    run_begin(&run, &student->world, &student->person, theory, &calendar, &policy_mixed);
    while (stage < STAGES && run_day(&run)) {
        if (run.marks < stage_marks[stage])
            continue;
        for (size_t i = 0; i < AHEADS; i++)
            measure(&run, ahead_days[i], student->person.seed + stage * AHEADS + i, &tallies[stage][i]);
        stage++;
    }
    run_end(&run);
}

static void print_line(const char *name, size_t ahead, struct tally tallies[STAGES][AHEADS])
{
    printf("%-4s %-13s", name, ahead_days[ahead] > 0.0 ? "30 days ahead" : "today");
    for (size_t s = 0; s < STAGES; s++) {
        const struct tally *tally = &tallies[s][ahead];
        printf("  %4.0f %4.0f %+6.1f %5.1f", 100.0 * tally->paper_inside / tally->count,
               100.0 * tally->expected_inside / tally->count, tally->miss / tally->count, 0.5 * tally->width / tally->count);
    }
    printf("\n");
}

static void add_to(struct tally *sum, const struct tally *tally)
{
    sum->count += tally->count;
    sum->expected_inside += tally->expected_inside;
    sum->paper_inside += tally->paper_inside;
    sum->miss += tally->miss;
    sum->width += tally->width;
}

static void print_heading(size_t students)
{
    printf("\nForecast of the whole paper, %zu students under each theory. Of 100: papers of %d marks inside their 80 %% interval\n"
           "(paper), expected marks inside theirs (exp.); then forecast less truth (off) and half the width of a paper's interval\n"
           "(±), in marks of 100.\n"
           "%-18s", students, PAPER_MARKS, "");
    for (size_t s = 0; s < STAGES; s++)
        printf("        after %4.0f marks", stage_marks[s]);
    printf("\n%-18s", "");
    for (size_t s = 0; s < STAGES; s++)
        printf(" paper exp.    off     ±");
    printf("\n");
}

void check_forecast(size_t students, uint64_t seed)
{
    struct tally all[STAGES][AHEADS] = {0};
    struct student *student = memory_get(sizeof *student);
    print_heading(students);
    for (size_t t = 0; t < THEORIES; t++) {
        struct tally tallies[STAGES][AHEADS] = {0};
        for (size_t i = 0; i < students; i++) {
            student_make(student, seed, i);
            follow_student(student, theories[t], tallies);
        }
        for (size_t i = 0; i < AHEADS; i++)
            print_line(theories[t]->name, i, tallies);
        for (size_t s = 0; s < STAGES; s++)
            for (size_t i = 0; i < AHEADS; i++)
                add_to(&all[s][i], &tallies[s][i]);
    }
    for (size_t i = 0; i < AHEADS; i++)
        print_line("all", i, all);
    free(student);
}
