#include "paper/model.h"

#include <stdlib.h>

#include "base/memory.h"
#include "paper/reduce.h"
#include "paper/weights.h"

/* One row on its way: GLPK counts from 1. */
struct row_parts {
    int *columns;
    double *factors;
    int count, room;
};

static struct row_parts row_new(const struct model *model)
{
    size_t room = model->group_count + 8;
    return (struct row_parts){arena_get_array(model->arena, room, sizeof(int)),
                              arena_get_array(model->arena, room, sizeof(double)), 0, (int)room};
}

static void row_add(struct row_parts *row, int column, double factor)
{
    if (!column || factor == 0)
        return;
    row->count++;
    row->columns[row->count] = column;
    row->factors[row->count] = factor;
}

static int bound_kind(double least, double most)
{
    return least == most ? GLP_FX : GLP_DB;
}

/* Puts the row in and empties it for the next. */
static void row_put(glp_prob *problem, struct row_parts *row, double least, double most)
{
    int number = glp_add_rows(problem, 1);
    glp_set_row_bnds(problem, number, bound_kind(least, most), least, most);
    glp_set_mat_row(problem, number, row->count, row->columns, row->factors);
    row->count = 0;
}

/* A column from 0 to `most` with this cost a unit; none (0) when most is 0. */
static int add_column(glp_prob *problem, double most, double cost)
{
    if (most <= 0)
        return 0;
    int column = glp_add_cols(problem, 1);
    glp_set_col_bnds(problem, column, GLP_DB, 0, most);
    glp_set_obj_coef(problem, column, cost);
    return column;
}

static const struct item *item_at(const struct model *model, size_t i)
{
    return &model->blueprint->items[model->groups[i].items[0]];
}

static void add_items(glp_prob *problem, const struct model *model)
{
    if (model->group_count)
        glp_add_cols(problem, (int)model->group_count);
    for (size_t i = 0; i < model->group_count; i++) {
        glp_set_col_kind(problem, (int)i + 1, GLP_IV);
        glp_set_col_bnds(problem, (int)i + 1, GLP_DB, 0, (double)model->groups[i].count);
        glp_set_obj_coef(problem, (int)i + 1, item_at(model, i)->cost);
    }
}

/* A column beside the total, where it may be missed; and what is known to be missed in any case, which the relaxation
 * would not see. */
static void add_total(glp_prob *problem, const struct model *model, struct row_parts *row)
{
    int marks = model->blueprint->marks, few = 0, many = 0;
    for (size_t i = 0; i < model->group_count; i++)
        row_add(row, (int)i + 1, item_at(model, i)->marks);
    if (model->kind != SOLVE_STRICT) {
        few = add_column(problem, marks, WEIGHT_OF_TOTAL);
        many = add_column(problem, reduce_most_over(model->blueprint), WEIGHT_OF_TOTAL);
    }
    row_add(row, few, 1);
    row_add(row, many, -1);
    row_put(problem, row, marks, marks);
    if (!few || !model->distance)
        return;
    row_add(row, few, 1);
    row_add(row, many, 1);
    row_put(problem, row, model->distance, marks + reduce_most_over(model->blueprint));
}

static void add_aim(glp_prob *problem, const struct model *model, size_t index, struct row_parts *row)
{
    const struct aim *aim = &model->blueprint->aims[index];
    int highest = model->blueprint->marks + reduce_most_over(model->blueprint);
    for (size_t i = 0; i < model->group_count; i++)
        row_add(row, (int)i + 1, item_at(model, i)->gives[index]);
    row_add(row, add_column(problem, aim->low - aim->least, aim->weight), 1);
    row_add(row, add_column(problem, aim->most - aim->high, aim->weight), -1);
    if (model->kind != SOLVE_STRICT) {
        row_add(row, add_column(problem, aim->least, WEIGHT_OF_AIM), 1);
        row_add(row, add_column(problem, highest - aim->most, WEIGHT_OF_AIM), -1);
    }
    row_put(problem, row, aim->low, aim->high);
}

static void add_time(glp_prob *problem, const struct model *model, struct row_parts *row)
{
    double all = 0;
    for (size_t i = 0; i < model->group_count; i++) {
        all += (double)item_at(model, i)->seconds * (double)model->groups[i].count;
        row_add(row, (int)i + 1, item_at(model, i)->seconds);
    }
    if (all <= model->blueprint->seconds) {
        row->count = 0;
        return;
    }
    if (model->kind != SOLVE_STRICT)
        row_add(row, add_column(problem, all, WEIGHT_OF_SECOND), -1);
    row_put(problem, row, 0, model->blueprint->seconds);
}

static void add_enemies(glp_prob *problem, const struct model *model, struct row_parts *row)
{
    int *columns = memory_get_zeroed(model->blueprint->item_count + 1, sizeof *columns);
    for (size_t i = 0; i < model->group_count; i++)
        columns[model->groups[i].items[0]] = (int)i + 1;     /* who has enemies is alone in its group */
    for (size_t i = 0; i < model->blueprint->enemy_count; i++) {
        int one = columns[model->blueprint->enemies[i].one], other = columns[model->blueprint->enemies[i].other];
        if (!one || !other)
            continue;
        row_add(row, one, 1);
        row_add(row, other, 1);
        row_put(problem, row, 0, 1);
    }
    free(columns);
}

/* ---- Kinds -------------------------------------------------------------------------------------------------- */

/* Groups that differ in topic or demand only. Where there are many of a kind, whether marks and objectives can come out
 * at all is a question of how many of each kind are taken, and a solver that may branch on just that answers it in
 * milliseconds; without, it tries the topics of each for ever. Where kinds are many they only cost time. */
enum { FEWEST_OF_A_KIND = 4 };      /* groups, on average */

static bool is_same_kind(const struct blueprint *blueprint, const struct item *a, const struct item *b)
{
    bool same = a->marks == b->marks && a->seconds == b->seconds;
    for (size_t i = 0; same && i < blueprint->aim_count; i++) {
        enum aim_kind kind = blueprint->aims[i].kind;
        same = (kind != AIM_OBJECTIVE && kind != AIM_SKILL) || a->gives[i] == b->gives[i];
    }
    return same;
}

/* The kind of each group, from 0; NULL when there are too many kinds. The caller frees. */
static size_t *find_kinds(const struct model *model, size_t *count)
{
    size_t *kinds = memory_get_zeroed(model->group_count + 1, sizeof *kinds);
    size_t *first = memory_get_zeroed(model->group_count / FEWEST_OF_A_KIND + 1, sizeof *first);
    bool few = true;
    *count = 0;
    for (size_t i = 0; few && i < model->group_count; i++) {
        size_t kind = 0;
        while (kind < *count && !is_same_kind(model->blueprint, item_at(model, first[kind]), item_at(model, i)))
            kind++;
        few = kind < *count || *count < model->group_count / FEWEST_OF_A_KIND;
        if (few && kind == *count)
            first[(*count)++] = i;
        kinds[i] = kind;
    }
    free(first);
    if (few)
        return kinds;
    free(kinds);
    return NULL;
}

static void add_kinds(glp_prob *problem, const struct model *model, struct row_parts *row)
{
    size_t count, *kinds = find_kinds(model, &count);
    for (size_t kind = 0; kinds && kind < count; kind++) {
        double most = 0;
        for (size_t i = 0; i < model->group_count; i++) {
            if (kinds[i] != kind)
                continue;
            most += (double)model->groups[i].count;
            row_add(row, (int)i + 1, 1);
        }
        int column = add_column(problem, most, 0);
        glp_set_col_kind(problem, column, GLP_IV);
        row_add(row, column, -1);
        row_put(problem, row, 0, 0);
    }
    free(kinds);
}

glp_prob *model_build(const struct model *model)
{
    glp_prob *problem = glp_create_prob();
    glp_set_prob_name(problem, "paper");
    glp_set_obj_dir(problem, GLP_MIN);
    struct row_parts row = row_new(model);
    add_items(problem, model);
    add_total(problem, model, &row);
    for (size_t i = 0; i < model->blueprint->aim_count; i++)
        add_aim(problem, model, i, &row);
    add_time(problem, model, &row);
    if (model->kind == SOLVE_STRICT || model->kind == SOLVE_NEAREST)
        add_enemies(problem, model, &row);
    add_kinds(problem, model, &row);
    return problem;
}
