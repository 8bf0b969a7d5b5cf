#include "trial.h"

#include "bank/scheme.h"

struct trial *trial_new(struct node root, int marks)
{
    struct arena *arena = arena_new();
    struct trial *trial = arena_get(arena, sizeof *trial);
    trial->arena = arena;
    trial->part = (struct part){.id = "a", .marks = marks, .scheme = {.root = root, .unit_penalty = true}};
    trial->input.points = trial->points;
    trial->input.point_count = scheme_point_count(&root);
    cr_assert_leq(trial->input.point_count, TRIAL_POINTS);
    return trial;
}

void trial_end(struct trial *trial)
{
    arena_free(trial->arena);
}

void trial_tick(struct trial *trial, const char *ticks)
{
    memset(trial->points, 0, sizeof trial->points);
    for (size_t i = 0; ticks[i]; i++)
        trial->points[i].tick = ticks[i] == 'y' ? TICK_YES : ticks[i] == 'n' ? TICK_NO
                              : ticks[i] == 'u' ? TICK_UNSURE : TICK_UNDECIDED;
}

void check_sums(const struct award *award)
{
    int marks = 0, maximum = 0;
    for (size_t i = 0; i < award->line_count; i++) {
        const struct award_line *line = &award->lines[i];
        cr_expect(line->marks >= 0 && line->marks <= line->maximum);
        cr_expect(line->node && line->text && line->text[0]);
        marks += line->marks;
        maximum += line->maximum;
    }
    cr_expect_eq(marks, award->marks, "lines give %d, award %d", marks, award->marks);
    cr_expect_eq(maximum, award->maximum, "lines' maxima give %d, maximum %d", maximum, award->maximum);
    cr_expect(award->marks >= 0 && award->marks <= award->maximum);
}

const struct award *trial_award_on(struct trial *trial)
{
    const struct award *award = marking_award(&trial->part, &trial->input, &trial->state, trial->arena);
    check_sums(award);
    return award;
}

const struct award *trial_award(struct trial *trial)
{
    trial->state = (struct marking_state){0};
    return trial_award_on(trial);
}

const struct award_line *trial_line(const struct award *award, const char *id)
{
    for (size_t i = 0; i < award->line_count; i++)
        if (award->lines[i].node->id && strcmp(award->lines[i].node->id, id) == 0)
            return &award->lines[i];
    cr_assert_fail("no line about %s", id);
    return NULL;
}
