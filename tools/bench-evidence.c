/* How well what an answer shows agrees with a person: bench-evidence [--all] LABELLED BANK...
 *
 * Prints, for answers labelled by hand, how often "looks earned" and "looks not earned" are right (among those said:
 * precision; among all that should be: recall), how often nothing is said, and each verdict that was wrong. What a person
 * could not tell either is not among what should be said, and a verdict given on it is a wrong one. --all lists each
 * answer with its verdict. */
#include <stdio.h>
#include <string.h>

#include "answer/labelled.h"
#include "base/buffer.h"
#include "base/text.h"

struct group {
    const char *name;
    struct labelled_count count;
};

enum { ALL_GROUP, HALVES = 1, GROUPS = 12 };

static struct group groups[GROUPS] = {
    {.name = "all"}, {.name = "first"}, {.name = "second"}, {.name = "held-out"}, {.name = "right"}, {.name = "partly"},
    {.name = "wrong"}, {.name = "wrong-sense"}, {.name = "negated"}, {.name = "misspelt"}, {.name = "terse"},
    {.name = "padded"},
};

/* ---- Single answers ---- */

static void add_quotes(struct buffer *out, const struct point_evidence *point, const char *answer)
{
    for (size_t i = 0; i < point->quote_count; i++) {
        buffer_add(out, i ? ", \"" : "; rests on \"");
        text_add_safe_bytes(out, answer + point->quotes[i].start, point->quotes[i].length);
        buffer_add(out, "\"");
    }
}

static void add_row(struct buffer *out, const struct labelled *row, const struct point_evidence *point)
{
    buffer_print(out, "  line %lu, %s %s, %s: said %s, labelled %s, by %s\n", row->line, row->question, row->point,
                 row->kind, evidence_verdict_name(point->verdict), label_name(row->label),
                 evidence_ground_name(point->ground));
    buffer_add(out, "    ");
    text_add_safe(out, row->answer);
    buffer_add(out, "\n    ");
    text_add_safe(out, point->reason);
    add_quotes(out, point, row->answer);
    buffer_add(out, "\n");
}

/* ---- The figures ---- */

static void print_share_of(size_t part, size_t whole)
{
    char of[24];
    snprintf(of, sizeof of, "%zu/%zu", part, whole);
    if (whole)
        printf(" %6.3f %-9s", (double)part / (double)whole, of);
    else
        printf(" %6s %-9s", "-", "");
}

static void print_group(const struct group *group)
{
    const struct labelled_count *count = &group->count;
    size_t found = count->earned_found + count->lost_found, said = count->earned_said + count->lost_said;
    if (!count->rows)
        return;
    printf("%-12s %5zu", group->name, count->rows);
    print_share_of(count->earned_found, count->earned_said);
    print_share_of(count->earned_found, count->earned);
    print_share_of(count->lost_found, count->lost_said);
    print_share_of(count->lost_found, count->lost);
    print_share_of(found, said);
    print_share_of(found, count->earned + count->lost);
    print_share_of(count->rows - said, count->rows);
    printf("\n");
}

static void print_figures(void)
{
    printf("%-12s %5s %16s %16s %16s %16s %16s %16s %16s\n", "what answers", "rows", "earned: right of", "found of all    ",
           "not: right of   ", "found of all    ", "both: right of  ", "found of all    ", "can't tell      ");
    for (size_t i = 0; i < GROUPS; i++)
        print_group(&groups[i]);
    const struct labelled_count *count = &groups[ALL_GROUP].count;
    printf("precision (right of all verdicts given) %.3f, recall (right of all that a person could tell) %.3f\n",
           labelled_precision(count), labelled_recall(count));
}

/* ---- All rows ---- */

static void count_row(const struct labelled *row, enum evidence_verdict verdict)
{
    labelled_add(&groups[ALL_GROUP].count, row, verdict);
    for (size_t i = HALVES; i < GROUPS; i++)
        if (strcmp(groups[i].name, row->half) == 0 || strcmp(groups[i].name, row->kind) == 0)
            labelled_add(&groups[i].count, row, verdict);
}

/* False when a row names a point that no bank has. */
static bool judge_all(const struct labelled_judge *judge, const struct labelled_table *table, bool list, struct buffer *out)
{
    struct arena *arena = arena_new();
    bool found = true;
    for (size_t i = 0; found && i < table->count; i++) {
        const struct labelled *row = &table->rows[i];
        arena_reset(arena);
        const struct point_evidence *point = labelled_evidence(judge, row, arena);
        found = point != NULL;
        if (!found) {
            fprintf(stderr, "bench-evidence: line %lu: no bank has a point %s in %s\n", row->line, row->point, row->question);
            continue;
        }
        count_row(row, point->verdict);
        if (list || labelled_is_miss(row, point->verdict))
            add_row(out, row, point);
    }
    arena_free(arena);
    return found;
}

int main(int count, char **arguments)
{
    bool list = count > 1 && strcmp(arguments[1], "--all") == 0;
    char **files = arguments + 1 + list;
    int banks = count - 2 - list;
    if (banks < 1 || banks > LABELLED_BANKS) {
        fprintf(stderr, "usage: bench-evidence [--all] LABELLED BANK... (at most %d)\n", LABELLED_BANKS);
        return 2;
    }
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct labelled_table table;
    struct labelled_judge judge;
    if (!labelled_read(files[0], arena, &table, &messages)
        || !labelled_open(&judge, (const char *const *)files + 1, (size_t)banks, &messages)) {
        messages_print(&messages);
        messages_free(&messages);
        arena_free(arena);
        return 2;
    }
    struct buffer rows = BUFFER_EMPTY;
    bool complete = judge_all(&judge, &table, list, &rows);
    if (complete) {
        print_figures();
        printf("%s:\n%s", list ? "all answers" : "verdicts that were wrong", buffer_text(&rows));
    }
    buffer_free(&rows);
    labelled_close(&judge);
    arena_free(arena);
    messages_free(&messages);
    return complete ? 0 : 1;
}
