/* The weakest questions of banks by heuristics of our own, so that a person looks at them first: weak-questions BANK…
 *
 * Each of these counts one: a point in words without a reject (of its own or its list's), with fewer than one accept, without
 * a key word; an ask longer than 60 words. Each of these counts two: a model answer that is missing or that the evidence does
 * not recognise; a reject that the part's own right wordings run into, so that it would kill a good answer. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/evidence.h"
#include "bank/bank.h"
#include "bank/values.h"

enum { ASK_LONG = 60, SHOWN = 15 };

struct weakness {
    char id[65];
    int no_reject, no_accept, no_key, long_ask, not_recognised, no_model, killing;
};

static int total(const struct weakness *weakness)
{
    return weakness->no_reject + weakness->no_accept + 2 * weakness->no_key + weakness->long_ask +
           2 * (weakness->not_recognised + weakness->no_model + weakness->killing);
}

static int weakest_first(const void *a, const void *b)
{
    int x = total(a), y = total(b);
    return x != y ? (x < y) - (x > y) : strcmp(((const struct weakness *)a)->id, ((const struct weakness *)b)->id);
}

static void look_at_points(const struct node *node, bool list_rejects, struct weakness *weakness)
{
    bool in_words = node->kind == NODE_POINT && !node->number && node->point_kind == POINT_PLAIN;
    if (in_words) {
        weakness->no_reject += !list_rejects && node->rejects.count == 0;
        weakness->no_accept += !list_rejects && node->accepts.count == 0;
        weakness->no_key += node->key_count == 0;
    }
    bool rejects = list_rejects || (node->kind == NODE_LIST && node->rejects.count > 0);
    for (size_t i = 0; i < node->child_count; i++)
        look_at_points(&node->children[i], rejects, weakness);
}

static void add_wordings(const struct node *node, const struct values *values, struct buffer *text)
{
    if (node->kind == NODE_POINT) {
        plain_add_rich(text, &node->text, values);
        for (size_t i = 0; i < node->accepts.count; i++)
            buffer_print(text, ". %s", node->accepts.items[i]);
        buffer_add(text, ". ");
    }
    for (size_t i = 0; i < node->child_count; i++)
        add_wordings(&node->children[i], values, text);
}

/* An answer of all that the scheme itself calls right must not be rejected anywhere. */
static void look_at_rejects(const struct evidence_ask *ask, struct arena *arena, struct weakness *weakness)
{
    struct buffer text = BUFFER_EMPTY;
    add_wordings(&ask->part->scheme.root, ask->values, &text);
    const struct evidence *evidence = evidence_of(ask, buffer_text(&text), arena);
    for (size_t i = 0; i < evidence->point_count; i++)
        weakness->killing += evidence->points[i].ground == GROUND_REJECTED;
    buffer_free(&text);
}

static size_t words_in(const char *text, struct arena *arena)
{
    return words_of(text, arena).count;
}

static void look_at_part(const struct bank *bank, const struct question *question, const struct part *part,
                         const struct values *values, struct arena *arena, struct weakness *weakness)
{
    struct buffer text = BUFFER_EMPTY;
    struct evidence_ask ask = {bank_course(bank), question, part, values, NULL, NULL, 0};
    look_at_points(&part->scheme.root, false, weakness);
    plain_add_blocks(&text, &part->ask, values);
    weakness->long_ask += words_in(buffer_text(&text), arena) > ASK_LONG;
    buffer_clear(&text);
    plain_add_blocks(&text, &part->model, values);
    weakness->no_model += part->model.count == 0;
    const struct evidence *evidence = evidence_of(&ask, buffer_text(&text), arena);
    for (size_t i = 0; part->model.count && i < evidence->point_count; i++)
        weakness->not_recognised += evidence->points[i].verdict == LOOKS_NOT_EARNED &&
                                    evidence->points[i].ground != GROUND_NO_WORDS;
    buffer_free(&text);
    look_at_rejects(&ask, arena, weakness);
}

static void look_at_question(struct bank *bank, size_t index, struct weakness *weakness)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct values values;
    const struct question *question = bank_question(bank, index, arena, &messages);
    if (question && values_draw(bank_course(bank), question, 1, arena, &values, &messages)) {
        snprintf(weakness->id, sizeof weakness->id, "%s", question->id);
        for (size_t i = 0; i < question->part_count; i++)
            look_at_part(bank, question, &question->parts[i], &values, arena, weakness);
    }
    messages_print(&messages);
    messages_free(&messages);
    arena_free(arena);
}

static int look_at_bank(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open(path, false, &messages);
    messages_print(&messages);
    messages_free(&messages);
    if (!bank)
        return 1;
    size_t count = bank_question_count(bank);
    struct weakness *found = calloc(count + 1, sizeof *found);
    for (size_t i = 0; found && i < count; i++)
        look_at_question(bank, i, &found[i]);
    if (found)
        qsort(found, count, sizeof *found, weakest_first);
    printf("%s\n%-14s no reject  no accept  no key  long ask  not recognised  no model answer  killing reject\n", path,
           "question");
    for (size_t i = 0; found && i < count && i < SHOWN && total(&found[i]) > 0; i++)
        printf("%-14s %9d  %9d  %6d  %8d  %14d  %15d  %14d\n", found[i].id, found[i].no_reject, found[i].no_accept,
               found[i].no_key, found[i].long_ask, found[i].not_recognised, found[i].no_model, found[i].killing);
    free(found);
    bank_close(bank);
    return 0;
}

int main(int count, char **paths)
{
    int failed = 0;
    for (int i = 1; i < count; i++)
        failed |= look_at_bank(paths[i]);
    return failed;
}
