/* What was found, put into words: the quotes it rests on, and the verdict with its reason. */
#include "answer/judgement.h"

void add_quote(struct judgement *judgement, struct quote quote)
{
    size_t at = judgement->quote_count;
    for (size_t i = 0; i < at; i++)
        if (judgement->quotes[i].start == quote.start)
            return;
    while (at > 0 && judgement->quotes[at - 1].start > quote.start) {
        judgement->quotes[at] = judgement->quotes[at - 1];
        at--;
    }
    judgement->quotes[at] = quote;
    judgement->quote_count++;
}

void add_hit(struct judgement *judgement, const struct hit *hit)
{
    add_quote(judgement, words_span(&judgement->reading->words, hit->first, hit->last));
}

void settle(struct judgement *judgement, enum evidence_verdict verdict, enum evidence_ground ground,
                   const char *reason)
{
    struct point_evidence *evidence = judgement->evidence;
    evidence->verdict = verdict;
    evidence->ground = ground;
    evidence->reason = reason;
    evidence->quotes = judgement->quotes;
    evidence->quote_count = judgement->quote_count;
}

/* "… \"first quote\" and \"second quote\"", at most three. */
const char *with_quotes(const struct judgement *judgement, const char *before, const char *behind)
{
    struct buffer text = BUFFER_EMPTY;
    buffer_add(&text, before);
    for (size_t i = 0; i < judgement->quote_count && i < 3; i++)
        buffer_print(&text, "%s\"%s\"", i == 0 ? "" : i + 1 == judgement->quote_count || i == 2 ? " and " : ", ",
                     quoted(judgement->reading, judgement->quotes[i]));
    buffer_add(&text, behind);
    const char *copy = arena_copy_text(judgement->reading->arena, buffer_text(&text));
    buffer_free(&text);
    return copy;
}
