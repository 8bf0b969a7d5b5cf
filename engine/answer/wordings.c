/* Whole wordings of the scheme: those it accepts, those that kill the point, those that change nothing. */
#include "answer/judgement.h"

#include <string.h>

/* ---- Accepted ------------------------------------------------------------------------------------ */

static const struct hit *best_hit(const struct hits *hits)
{
    const struct hit *best = NULL;
    for (size_t i = 0; i < hits->count; i++) {
        const struct hit *hit = &hits->items[i];
        if (!hit->opposite && (!best || hit->assertion < best->assertion))
            best = hit;
    }
    return best;
}

/* Where a wording has a direction, who does what to whom hangs on the order of its words. */
static enum word_order order_of(const struct words *wording)
{
    for (size_t i = 0; i < wording->count; i++)
        if (strcmp(wording->items[i].folded, "up") == 0 || strcmp(wording->items[i].folded, "down") == 0)
            return OWN_ORDER;
    struct directions ways = wording->count ? directions_in(wording, 0, wording->count - 1) : (struct directions){0, 0};
    return ways.up + ways.down ? OWN_ORDER : ANY_ORDER;
}

bool settle_accepted(struct judgement *judgement)
{
    const struct wording *accepts = &judgement->point->accepts;
    const struct hit *doubtful = NULL;
    for (size_t i = 0; i < accepts->count; i++) {
        struct words wording = reading_words(judgement->reading, accepts->items[i]);
        struct hits hits = match_wording(judgement->reading, &wording, order_of(&wording));
        const struct hit *hit = best_hit(&hits);
        if (hit && hit->assertion == SAID && !is_left_open(judgement, hit)) {
            add_hit(judgement, hit);
            settle(judgement, LOOKS_EARNED, GROUND_ACCEPT, with_quotes(judgement, "you wrote ", ""));
            return true;
        }
        doubtful = hit ? hit : doubtful;
    }
    if (!doubtful || judgement->point->key_count)
        return false;
    add_hit(judgement, doubtful);
    settle(judgement, doubtful->assertion == NEGATED && !judgement->negative ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_NEGATED,
           with_quotes(judgement, "you seem to say that it is not so: ", ""));
    return true;
}

/* ---- Not wanted ---------------------------------------------------------------------------------- */

/* "energy on its own": kills only what has nothing else with it. */
static bool is_alone(const char *wording)
{
    return strstr(wording, "on its own") || strstr(wording, "on their own") || strstr(wording, "alone")
        || strstr(wording, "unqualified");
}

/* "mussels rise because fewer are eaten" does not say "fewer mussels": what is not wanted has to stand in one clause,
 * unless it is worded in several itself. */
static const struct hit *said(const struct reading *reading, const char *text)
{
    struct words wording = reading_words(reading, text);
    struct hits hits = match_wording(reading, &wording, OWN_ORDER);
    bool one_clause = wording.count && wording.items[wording.count - 1].clause == 0;
    for (size_t i = 0; i < hits.count; i++) {
        const struct hit *hit = &hits.items[i];
        bool within = reading->words.items[hit->first].clause == reading->words.items[hit->last].clause;
        if (!hit->opposite && hit->assertion == SAID && (within || !one_clause))
            return hit;
    }
    return NULL;
}

/* Part of what earned the point, and not more than it: "energy" inside "energy for each second". */
static bool is_inside_earned(const struct judgement *judgement, const struct hit *hit)
{
    const struct words *words = &judgement->reading->words;
    struct quote span = words_span(words, hit->first, hit->last);
    for (size_t i = 0; judgement->evidence->verdict == LOOKS_EARNED && i < judgement->quote_count; i++) {
        struct quote quote = judgement->quotes[i];
        if (quote.start <= span.start && span.start + span.length <= quote.start + quote.length)
            return true;
    }
    return false;
}

void settle_rejected(struct judgement *judgement)
{
    const struct wording *rejects = &judgement->point->rejects;
    for (size_t i = 0; i < rejects->count; i++) {
        const struct hit *hit = said(judgement->reading, rejects->items[i]);
        bool alone = is_alone(rejects->items[i]);
        if (!hit || is_inside_earned(judgement, hit) || (alone && judgement->complete))
            continue;
        judgement->quote_count = 0;
        add_hit(judgement, hit);
        settle(judgement, LOOKS_NOT_EARNED, GROUND_REJECTED, with_quotes(judgement, "", " is not accepted for this point"));
        judgement->evidence->rejected = !alone;
        judgement->evidence->rejected_words = quoted(judgement->reading, judgement->quotes[0]);
        return;
    }
}

bool settle_ignored(struct judgement *judgement)
{
    const struct wording *ignores = &judgement->point->ignores;
    for (size_t i = 0; i < ignores->count; i++) {
        const struct hit *hit = said(judgement->reading, ignores->items[i]);
        if (!hit)
            continue;
        judgement->quote_count = 0;
        add_hit(judgement, hit);
        settle(judgement, CANT_TELL, GROUND_IGNORED, with_quotes(judgement, "", " alone does not earn it"));
        return true;
    }
    return false;
}

/* ---- Items of a list ----------------------------------------------------------------------------- */

struct item_evidence evidence_item(const struct evidence_ask *ask, const struct node *list, const char *item,
                                   struct arena *arena)
{
    const struct evidence *evidence = evidence_of(ask, item, arena);
    struct reading reading = reading_begin(ask, item, arena);
    struct item_evidence found = {CANT_TELL, 0};
    size_t right = 0, wrong = 0;
    for (size_t i = 0; i < list->child_count; i++) {
        const struct point_evidence *point = evidence_point(evidence, list->children[i].id);
        if (!point || point->verdict != LOOKS_EARNED)
            continue;
        found.answer = i;
        right++;
    }
    for (size_t i = 0; i < list->rejects.count; i++)
        wrong += said(&reading, list->rejects.items[i]) != NULL;
    if (right == 1 && !wrong)
        found.verdict = LOOKS_EARNED;
    else if (wrong && !right)
        found.verdict = LOOKS_NOT_EARNED;
    return found;
}
