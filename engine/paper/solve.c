/* Running GLPK: quietly, within a time, with somebody to ask whether to go on, and without ever letting it end the
 * program: what it cannot do comes back through glp_error_hook, whose manual allows to leave by longjmp. After that only
 * glp_free_env is allowed, which frees all it ever took. */
#include <assert.h>
#include <math.h>
#include <setjmp.h>
#include <stdlib.h>

#include "base/dates.h"
#include "paper/model.h"
#include "paper/reduce.h"
#include "paper/weights.h"

#define ASK_EACH 0.1            /* seconds between two questions whether to go on */
#define FINEST 1e-9             /* costs are whole; GLPK's own 1e-7 of 10,000,000 would be as much as one */
enum { LONGEST_MILLISECONDS = 2000000000 };

struct run {
    const struct solve_options *options;
    struct model model;
    struct choice *choice;
    double started, asked;
    double bound;               /* of the tree */
    bool stopped;
    jmp_buf failed;
};

/* ---- What GLPK calls ---------------------------------------------------------------------------------------- */

static void leave(void *run)
{
    longjmp(((struct run *)run)->failed, 1);
}

/* Its last words before an error are said even with the terminal off. */
static int keep_quiet(void *nothing, const char *words)
{
    (void)nothing, (void)words;
    return 1;
}

static void look_at_tree(glp_tree *tree, void *context)
{
    struct run *run = context;
    int best = glp_ios_best_node(tree);
    if (best)
        run->bound = glp_ios_node_bound(tree, best);
    double now = clock_elapsed();
    if (!run->options->go_on || now - run->asked < ASK_EACH)
        return;
    run->asked = now;
    bool found = glp_mip_status(glp_ios_get_prob(tree)) == GLP_FEAS;
    const struct solve_progress progress = {found, found ? fmin(glp_ios_mip_gap(tree), 1) : 1, now - run->started};
    if (!run->options->go_on(run->options->context, &progress)) {
        run->stopped = true;
        glp_ios_terminate(tree);
    }
}

/* ---- The result --------------------------------------------------------------------------------------------- */

static void take_columns(struct run *run, glp_prob *problem)
{
    struct choice *choice = run->choice;
    for (size_t i = 0; i < run->model.group_count; i++) {
        long taken = lround(glp_mip_col_val(problem, (int)i + 1));
        for (size_t j = 0; j < run->model.groups[i].count && (long)j < taken; j++)
            choice->chosen[run->model.groups[i].items[j]] = true;
    }
}

/* GLPK works in floating point; what counts is the judgement in whole numbers. */
static bool is_allowed(const struct choice *choice, enum solve_kind kind)
{
    const struct verdict *verdict = &choice->verdict;
    if (kind == SOLVE_STRICT)
        return verdict->meets_all;
    return kind == SOLVE_NEAREST_WITH_ALL || (!verdict->uses_kept_out &&
           (kind == SOLVE_NEAREST_WITH_ENEMIES || !verdict->enemies_meet));
}

static void take_result(struct run *run, glp_prob *problem, int ended)
{
    struct choice *choice = run->choice;
    int status = glp_mip_status(problem);
    if (ended == GLP_ENOPFS || (ended == 0 && status == GLP_NOFEAS)) {
        choice->outcome = SOLVE_NONE;
    } else if (status == GLP_OPT || status == GLP_FEAS) {
        take_columns(run, problem);
        blueprint_judge(run->model.blueprint, choice->chosen, run->model.arena, &choice->verdict);
        choice->outcome = !is_allowed(choice, run->model.kind) ? SOLVE_FAILED
                        : status == GLP_OPT && ended == 0 ? SOLVE_BEST : SOLVE_FOUND;
        choice->bound = choice->outcome == SOLVE_BEST ? (double)(choice->verdict.cost + choice->verdict.missed)
                                                      : fmax(run->bound, 0);
    } else {
        choice->outcome = ended == GLP_ETMLIM || run->stopped ? SOLVE_STOPPED : SOLVE_FAILED;
    }
}

static int milliseconds(double seconds)
{
    return seconds * 1000 >= LONGEST_MILLISECONDS ? LONGEST_MILLISECONDS : seconds < 0.001 ? 1 : (int)(seconds * 1000);
}

static void run_glpk(struct run *run)
{
    glp_iocp control;
    glp_prob *problem = model_build(&run->model);
    glp_init_iocp(&control);
    control.msg_lev = GLP_MSG_OFF;
    control.presolve = GLP_ON;
    control.cb_func = look_at_tree;
    control.cb_info = run;
    control.tol_obj = FINEST;
    control.br_tech = GLP_BR_PCH;       /* by far the fastest of the ways to branch on the shipped banks, and with these */
    control.mir_cuts = GLP_ON;          /* cuts some twice as fast again */

    control.tm_lim = milliseconds(run->options->seconds);
    int ended = glp_intopt(problem, &control);
    take_result(run, problem, ended);
    glp_delete_prob(problem);
}

static void solve_guarded(struct run *run)
{
    glp_free_env();             /* nothing of an earlier run is left, whatever happened to it */
    glp_term_out(GLP_OFF);
    glp_term_hook(keep_quiet, NULL);
    if (setjmp(run->failed) == 0) {
        glp_error_hook(leave, run);
        run_glpk(run);
        glp_error_hook(NULL, NULL);
    } else {
        run->choice->outcome = SOLVE_FAILED;
    }
    glp_free_env();
}

/* ---- Solving ------------------------------------------------------------------------------------------------ */

static void choose_nothing(const struct blueprint *blueprint, struct choice *choice)
{
    for (size_t i = 0; i < blueprint->item_count; i++)
        choice->chosen[i] = false;
}

void blueprint_solve(const struct blueprint *blueprint, enum solve_kind kind, const struct solve_options *options,
                     struct arena *arena, struct choice *choice)
{
    assert(blueprint->marks >= 1 && options->seconds > 0);
    struct group *groups;
    int most = blueprint->marks + (kind == SOLVE_STRICT ? 0 : reduce_most_over(blueprint));
    *choice = (struct choice){.outcome = SOLVE_NONE};
    choice->chosen = arena_get_array(arena, blueprint->item_count + 1, sizeof *choice->chosen);
    size_t count = reduce_items(blueprint, most, kind == SOLVE_NEAREST_WITH_ALL, arena, &groups);
    int distance = reduce_distance(blueprint, groups, count);
    if (kind != SOLVE_STRICT || !distance) {
        double now = clock_elapsed();
        struct run *run = arena_get(arena, sizeof *run);    /* not on the stack that longjmp comes back to */
        *run = (struct run){.options = options, .choice = choice, .started = now, .asked = now,
                            .model = {blueprint, kind, groups, count, distance, arena}};
        solve_guarded(run);
    }
    if (choice->outcome != SOLVE_BEST && choice->outcome != SOLVE_FOUND)
        choose_nothing(blueprint, choice);
    blueprint_judge(blueprint, choice->chosen, arena, &choice->verdict);
}

bool blueprint_write_model(const struct blueprint *blueprint, const char *path)
{
    struct arena *arena = arena_new();
    size_t *items = arena_get_array(arena, blueprint->item_count + 1, sizeof *items), count = 0;
    struct group *groups = arena_get_array(arena, blueprint->item_count + 1, sizeof *groups);
    for (size_t i = 0; i < blueprint->item_count; i++) {
        items[i] = i;
        if (!blueprint->items[i].kept_out)
            groups[count++] = (struct group){items + i, 1};
    }
    const struct model model = {blueprint, SOLVE_STRICT, groups, count, 0, arena};
    glp_term_out(GLP_OFF);
    glp_prob *problem = model_build(&model);
    bool written = glp_write_lp(problem, NULL, path) == 0;
    glp_delete_prob(problem);
    glp_free_env();
    arena_free(arena);
    return written;
}
