/* A point in words. The order of the questions is that of their weight: a wording that kills the point, a wording
 * that is accepted, the key words, and last, for a point without either, its own text. */
#include "answer/judgement.h"

#include <assert.h>
#include <string.h>

#include "base/text.h"

enum {
    SHORT_ANSWER = 40,          /* words; in a short answer all stands together */
    NEAR = 2,                   /* words between a key word and the direction that is surely its own */
    QUOTES_EXTRA = 4
};

/* Own words of a text without key words: three in four of at least three, or all of two. */
static const double NEARLY_WHOLE = 0.75;
/* Fewer of all the words the scheme offers than this, and no key word: nothing of the point is there. */
static const double NEARLY_NOTHING = 0.34;

/* ---- Saying it ----------------------------------------------------------------------------------- */

static void add_quote(struct judgement *judgement, struct quote quote)
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

static void add_hit(struct judgement *judgement, const struct hit *hit)
{
    add_quote(judgement, words_span(&judgement->reading->words, hit->first, hit->last));
}

static void settle(struct judgement *judgement, enum evidence_verdict verdict, enum evidence_ground ground,
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
static const char *with_quotes(const struct judgement *judgement, const char *before, const char *behind)
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

/* ---- Directions ---------------------------------------------------------------------------------- */

enum sense { SENSE_FITS, SENSE_LEFT_OPEN, SENSE_UNSURE, SENSE_TURNED };

static struct directions turned(struct directions directions)
{
    return (struct directions){directions.down, directions.up};
}

/* Distance in words from the hit to the nearest word of this direction; a large number when there is none. */
static size_t nearest_direction(const struct words *words, size_t first, size_t last, const struct hit *hit,
                                enum direction wanted, size_t *where)
{
    size_t best = SIZE_MAX;
    for (size_t i = first; i <= last; i++) {
        if (direction_at(words, i) != wanted)
            continue;
        size_t distance = i < hit->first ? hit->first - i : i > hit->last ? i - hit->last : 0;
        if (distance < best) {
            best = distance;
            *where = i;
        }
    }
    return best;
}

/* "more water" is about the water, "water is more stable" may be about anything: a degree word counts as the
 * key's own only right before it. */
static bool is_its_own(const struct words *words, const struct hit *hit, size_t where, size_t distance)
{
    const char *stem = words->items[where].stem;
    bool degree = strcmp(stem, "more") == 0 || strcmp(stem, "less") == 0;
    return degree ? where + 1 == hit->first : distance <= NEAR;
}

/* Do words first … last of the answer, around the hit, go the way the text goes? Turned twice ("a shorter fetch
 * gives smaller waves" for "a longer fetch gives higher waves") is the same argument the other way round. */
static enum sense sense_of(const struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    const struct words *words = &judgement->reading->words;
    struct directions wanted = judgement->sense, found = directions_in(words, first, last);
    if (wanted.up + wanted.down == 0 || judgement->keys_direct)
        return SENSE_FITS;
    if (found.up + found.down == 0)
        return SENSE_LEFT_OPEN;
    if (wanted.up && wanted.down)
        return found.up && found.down ? SENSE_FITS : SENSE_UNSURE;
    enum direction way = wanted.up ? DIRECTION_UP : DIRECTION_DOWN;
    if (way == DIRECTION_DOWN)
        found = turned(found);
    if (!found.down)
        return SENSE_FITS;
    size_t where = 0, same_where = 0;
    size_t against = nearest_direction(words, first, last, hit, way == DIRECTION_UP ? DIRECTION_DOWN : DIRECTION_UP, &where);
    size_t with = nearest_direction(words, first, last, hit, way, &same_where);
    if (found.up)
        return wanted.up + wanted.down == 1 && with <= against ? SENSE_FITS : SENSE_UNSURE;
    bool plain = found.down == 1 && is_its_own(words, hit, where, against)
              && assertion_of(words, where, where) == SAID && !names_reverse(words, first, last, &judgement->text);
    return plain ? SENSE_TURNED : SENSE_UNSURE;
}

static void sentence_around(const struct words *words, const struct hit *hit, size_t *first, size_t *last)
{
    *first = hit->first;
    *last = hit->last;
    while (*first > 0 && words->items[*first - 1].sentence == words->items[hit->first].sentence)
        --*first;
    while (*last + 1 < words->count && words->items[*last + 1].sentence == words->items[hit->last].sentence)
        ++*last;
}

/* The word of direction that goes against the text, quoted with the hit. */
static void quote_turned(struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    size_t where = 0;
    enum direction against = judgement->sense.up ? DIRECTION_DOWN : DIRECTION_UP;
    nearest_direction(&judgement->reading->words, first, last, hit, against, &where);
    size_t from = where < hit->first ? where : hit->first, to = where > hit->last ? where : hit->last;
    add_quote(judgement, words_span(&judgement->reading->words, from, to));
}

/* Settles by direction unless it fits. */
static bool settle_by_sense(struct judgement *judgement, size_t first, size_t last, const struct hit *hit)
{
    switch (sense_of(judgement, first, last, hit)) {
    case SENSE_FITS:
        return false;
    case SENSE_LEFT_OPEN:
        add_hit(judgement, hit);
        settle(judgement, CANT_TELL, GROUND_NO_DIRECTION,
               with_quotes(judgement, "", " is there, but not in which direction"));
        return true;
    case SENSE_UNSURE:
        add_hit(judgement, hit);
        settle(judgement, CANT_TELL, GROUND_OPPOSITE,
               with_quotes(judgement, "look at the direction you give with ", ""));
        return true;
    case SENSE_TURNED:
        quote_turned(judgement, first, last, hit);
        settle(judgement, LOOKS_NOT_EARNED, GROUND_OPPOSITE,
               with_quotes(judgement, "", " goes the opposite way"));
        return true;
    }
    assert(false && "every sense is settled");
    return false;
}

/* ---- Whole wordings ------------------------------------------------------------------------------ */

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

static bool settle_accepted(struct judgement *judgement)
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

static void settle_rejected(struct judgement *judgement)
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

/* ---- Key words ----------------------------------------------------------------------------------- */

static void gather_group(struct judgement *judgement, struct group *group)
{
    const struct reading *reading = judgement->reading;
    group->hits.items = arena_get_array(reading->arena, reading->words.count * group->key->count, sizeof(struct hit));
    for (size_t i = 0; i < group->key->count; i++) {
        struct words wording = reading_words(reading, group->key->alternatives[i]);
        if (!wording.count)
            continue;
        struct directions ways = directions_in(&wording, 0, wording.count - 1);
        judgement->keys_direct = judgement->keys_direct || ways.up + ways.down > 0;
        struct hits hits = match_wording(reading, &wording, ANY_ORDER);
        for (size_t k = 0; k < hits.count; k++)
            group->hits.items[group->hits.count++] = hits.items[k];
    }
}

static void gather_groups(struct judgement *judgement)
{
    judgement->group_count = judgement->point->key_count;
    judgement->groups = arena_get_array(judgement->reading->arena, judgement->group_count, sizeof *judgement->groups);
    for (size_t i = 0; i < judgement->group_count; i++) {
        judgement->groups[i].key = &judgement->point->keys[i];
        gather_group(judgement, &judgement->groups[i]);
    }
}

/* The group's first hit of this kind in sentences from … to. */
static const struct hit *hit_in(const struct judgement *judgement, const struct group *group, enum assertion assertion,
                                size_t from, size_t to)
{
    for (size_t i = 0; i < group->hits.count; i++) {
        const struct hit *hit = &group->hits.items[i];
        size_t sentence = judgement->reading->words.items[hit->first].sentence;
        if (!hit->opposite && hit->assertion == assertion && sentence >= from && sentence <= to)
            return hit;
    }
    return NULL;
}

static size_t choose_in(struct judgement *judgement, enum assertion assertion, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        judgement->groups[i].chosen = hit_in(judgement, &judgement->groups[i], assertion, from, to);
        count += judgement->groups[i].chosen != NULL;
    }
    return count;
}

/* All groups said in one sentence, or else in two neighbouring ones, or else anywhere in a short answer. */
static bool choose_together(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences;
    for (size_t width = 0; width < 2; width++)
        for (size_t i = 0; i + width < sentences; i++)
            if (choose_in(judgement, SAID, i, i + width) == judgement->group_count)
                return true;
    return judgement->reading->words.count <= SHORT_ANSWER
        && choose_in(judgement, SAID, 0, sentences) == judgement->group_count;
}

/* How many carrying words of a text, those of the question left out, are in the answer. */
static size_t count_own(const struct reading *reading, const struct words *text, size_t *total)
{
    size_t found = 0;
    *total = 0;
    for (size_t i = 0; i < text->count; i++) {
        const struct word *word = &text->items[i];
        if (!word_carries(word) || words_hold(&reading->asked, word))
            continue;
        ++*total;
        for (size_t k = 0; k < reading->words.count; k++)
            if (word_compare(&reading->words.items[k], word, reading->vocabulary) != WORD_MATCH_NONE) {
                found++;
                break;
            }
    }
    return found;
}

/* The student may only be handing the question back: all chosen words stand in it, and nothing else of the point
 * is there. */
static bool is_from_the_ask(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    for (size_t i = 0; i < judgement->group_count; i++) {
        const struct hit *hit = judgement->groups[i].chosen;
        for (size_t k = hit->first; k <= hit->last; k++)
            if (word_carries(&reading->words.items[k]) && !words_hold(&reading->asked, &reading->words.items[k]))
                return false;
    }
    size_t total;
    return !names_only(reading->ask) && count_own(reading, &judgement->text, &total) == 0;
}

/* ---- Contradiction ------------------------------------------------------------------------------- */

/* Every carrying word of one clause, directions left out, stands in the other. */
static bool clause_within(const struct words *words, size_t clause, size_t other)
{
    for (size_t i = 0; i < words->count; i++) {
        if (words->items[i].clause != clause || !word_carries(&words->items[i])
            || direction_at(words, i) != DIRECTION_NONE)
            continue;
        bool found = false;
        for (size_t k = 0; k < words->count && !found; k++)
            found = words->items[k].clause == other && strcmp(words->items[k].stem, words->items[i].stem) == 0;
        if (!found)
            return false;
    }
    return true;
}

static struct directions clause_directions(const struct words *words, size_t clause)
{
    struct directions found = {0, 0};
    for (size_t i = 0; i < words->count; i++)
        if (words->items[i].clause == clause && assertion_of(words, i, i) == SAID) {
            struct directions one = directions_in(words, i, i);
            found.up += one.up;
            found.down += one.down;
        }
    return found;
}

static bool goes_against(struct directions one, struct directions other)
{
    return (one.up && !one.down && other.down && !other.up) || (one.down && !one.up && other.up && !other.down);
}

/* The same key word elsewhere with the opposite direction, or negated. */
static const struct hit *contrary(const struct judgement *judgement, const struct group *group, bool *plain)
{
    const struct words *words = &judgement->reading->words;
    size_t clause = words->items[group->chosen->first].clause;
    struct directions here = clause_directions(words, clause);
    for (size_t i = 0; i < group->hits.count; i++) {
        const struct hit *hit = &group->hits.items[i];
        size_t other = words->items[hit->first].clause;
        if (other == clause || hit->opposite)
            continue;
        bool against = hit->assertion == SAID && goes_against(here, clause_directions(words, other));
        if (!against && hit->assertion != NEGATED)
            continue;
        *plain = judgement->group_count == 1 && clause_within(words, other, clause) && clause_within(words, clause, other);
        return hit;
    }
    return NULL;
}

static bool settle_contradicted(struct judgement *judgement)
{
    for (size_t i = 0; i < judgement->group_count; i++) {
        bool plain = false;
        const struct hit *hit = contrary(judgement, &judgement->groups[i], &plain);
        if (!hit)
            continue;
        add_hit(judgement, judgement->groups[i].chosen);
        add_hit(judgement, hit);
        settle(judgement, plain ? LOOKS_NOT_EARNED : CANT_TELL, GROUND_CONTRADICTED,
               with_quotes(judgement, "compare what you wrote here: ", ""));
        judgement->evidence->contradicted = plain;
        return true;
    }
    return false;
}

/* ---- Settling ------------------------------------------------------------------------------------ */

/* The share of all words the scheme offers for the point that the answer has. */
static double share_of_words(const struct judgement *judgement, bool *any)
{
    const struct reading *reading = judgement->reading;
    const struct node *point = judgement->point;
    size_t total, found = count_own(reading, &judgement->text, &total);
    double best = total ? (double)found / (double)total : 0;
    *any = total > 0;
    for (size_t i = 0; i < point->accepts.count; i++) {
        struct words wording = reading_words(reading, point->accepts.items[i]);
        found = count_own(reading, &wording, &total);
        if (total && (double)found / (double)total > best)
            best = (double)found / (double)total;
    }
    return best;
}

/* Few key words say little by themselves: "rock is cheaper" has the key word of "timber is cheaper". The fewer they are, the
 * more of the point's other words must be there too. Naming asks for nothing but the word. */
static bool is_borne_out(const struct judgement *judgement)
{
    static const double needed[] = {1.0, 0.5, 0.34, 0.25};
    size_t groups = judgement->group_count < 3 ? judgement->group_count : 3;
    bool any;
    return names_only(judgement->reading->ask) || share_of_words(judgement, &any) >= needed[groups] || !any;
}

static void settle_all_keys(struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    size_t first = words->count, last = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        size_t from, to;
        sentence_around(words, judgement->groups[i].chosen, &from, &to);
        first = from < first ? from : first;
        last = to > last ? to : last;
    }
    if (settle_by_sense(judgement, first, last, judgement->groups[0].chosen) || settle_contradicted(judgement))
        return;
    for (size_t i = 0; i < judgement->group_count; i++)
        add_hit(judgement, judgement->groups[i].chosen);
    if (is_from_the_ask(judgement))
        settle(judgement, CANT_TELL, GROUND_FROM_THE_ASK,
               with_quotes(judgement, "", " stands in the question already"));
    else if (!belongs_together(judgement))
        settle(judgement, CANT_TELL, GROUND_FAR_APART, with_quotes(judgement, "see what belongs to what: ", ""));
    else if (!is_borne_out(judgement))
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS,
               with_quotes(judgement, "", " is there, but little else of the point: see that it says the same"));
    else
        settle(judgement, LOOKS_EARNED, GROUND_KEYS, with_quotes(judgement, "you wrote ", ""));
}

/* A key word that the answer only negates. "There is not enough energy left" may be the very point, so nothing is
 * settled: of twenty such answers labelled by hand nine were right. */
static bool settle_negated(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences, against = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        struct group *group = &judgement->groups[i];
        const struct hit *negated = hit_in(judgement, group, NEGATED, 0, sentences);
        bool stands = hit_in(judgement, group, SAID, 0, sentences) || hit_in(judgement, group, DOUBTFUL, 0, sentences);
        if (!negated || stands)
            continue;
        against++;
        add_hit(judgement, negated);
    }
    if (!against)
        return false;
    settle(judgement, CANT_TELL, GROUND_NEGATED, with_quotes(judgement, "see what \"not\" turns here: ", ""));
    return true;
}

static bool settle_ignored(struct judgement *judgement)
{
    const struct wording *ignores = &judgement->point->ignores;
    for (size_t i = 0; i < ignores->count; i++) {
        const struct hit *hit = said(judgement->reading, ignores->items[i]);
        if (!hit)
            continue;
        judgement->quote_count = 0;
        add_hit(judgement, hit);
        settle(judgement, LOOKS_NOT_EARNED, GROUND_IGNORED, with_quotes(judgement, "", " alone does not earn it"));
        return true;
    }
    return false;
}

/* Words that neither the course nor the question uses may say the point in another way, or misspelt. Only an answer in the
 * course's own words shows that the point is not among them. */
static bool is_in_known_words(const struct judgement *judgement)
{
    const struct words *words = &judgement->reading->words;
    size_t known = 0, carrying = 0;
    for (size_t i = 0; i < words->count; i++) {
        if (!word_carries(&words->items[i]) || words->items[i].number)
            continue;
        carrying++;
        known += vocabulary_holds(judgement->reading->vocabulary, &words->items[i]);
    }
    return carrying >= 1 && (double)known >= 0.5 * (double)carrying;
}

/* A word that nobody knows may be one of the point's, spelt by ear: "troff", "rane". */
static bool may_be_by_ear(const struct judgement *judgement, const struct word *typed, const char *wording)
{
    struct words wanted = reading_words(judgement->reading, wording);
    for (size_t i = 0; i < wanted.count; i++) {
        const struct word *word = &wanted.items[i];
        size_t length = strlen(word->folded), allowed = length < 8 ? length / 2 : 3;
        if (word_carries(word) && !word->number && word->folded[0] == typed->folded[0]
            && text_distance(typed->folded, word->folded, allowed) <= allowed)
            return true;
    }
    return false;
}

static bool has_word_by_ear(const struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct node *point = judgement->point;
    for (size_t i = 0; i < reading->words.count; i++) {
        const struct word *typed = &reading->words.items[i];
        if (!word_carries(typed) || typed->number || word_is_known(typed->folded)
            || vocabulary_holds(reading->vocabulary, typed))
            continue;
        for (size_t k = 0; k < point->accepts.count; k++)
            if (may_be_by_ear(judgement, typed, point->accepts.items[k]))
                return true;
        for (size_t k = 0; k < point->key_count; k++)
            for (size_t a = 0; a < point->keys[k].count; a++)
                if (may_be_by_ear(judgement, typed, point->keys[k].alternatives[a]))
                    return true;
    }
    return false;
}

static void settle_missing(struct judgement *judgement)
{
    size_t sentences = judgement->reading->words.sentences, there = 0;
    for (size_t i = 0; i < judgement->group_count; i++) {
        struct group *group = &judgement->groups[i];
        const struct hit *hit = hit_in(judgement, group, SAID, 0, sentences);
        if (!hit)
            hit = hit_in(judgement, group, DOUBTFUL, 0, sentences);
        there += hit != NULL;
        if (hit)
            add_hit(judgement, hit);
        else if (!judgement->evidence->missing && group->key->count)
            judgement->evidence->missing = group->key->alternatives[0];
        judgement->evidence->essential_missing = judgement->evidence->essential_missing || (!hit && group->key->essential);
    }
    bool any, worded = judgement->group_count || judgement->point->accepts.count;
    double share = share_of_words(judgement, &any);
    if (there && judgement->evidence->missing)
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS,
               with_quotes(judgement, "", arena_print(judgement->reading->arena, " is there, but nothing like \"%s\"",
                                                      judgement->evidence->missing)));
    else if (there)
        settle(judgement, CANT_TELL, GROUND_FAR_APART, with_quotes(judgement, "look at how you say ", ""));
    else if (share > 0 && (share >= NEARLY_NOTHING || !worded))
        settle(judgement, CANT_TELL, GROUND_SOME_WORDS, "some of its words are there");
    else if (!settle_ignored(judgement)) {
        bool plain = worded && is_in_known_words(judgement) && !has_word_by_ear(judgement);
        settle(judgement, plain ? LOOKS_NOT_EARNED : CANT_TELL, worded || any ? GROUND_NO_WORDS : GROUND_NONE,
               worded || any ? "none of its words is in your answer" : "there are no words to look for");
    }
}

/* ---- A point without key words ------------------------------------------------------------------- */

/* The text's own words, nearly all in one sentence and said. */
static bool settle_own_words(struct judgement *judgement)
{
    const struct reading *reading = judgement->reading;
    const struct words *words = &reading->words;
    size_t needed, in_all = count_own(reading, &judgement->text, &needed);
    bool naming = names_only(reading->ask) && needed == 1;
    if (!in_all || (needed < 2 && !naming))
        return false;
    for (size_t sentence = 0; sentence < words->sentences; sentence++) {
        struct hit hit = {words->count, 0, SAID, false};
        size_t found = 0;
        for (size_t w = 0; w < judgement->text.count; w++) {
            const struct word *word = &judgement->text.items[w];
            if (!word_carries(word) || words_hold(&reading->asked, word))
                continue;
            for (size_t i = 0; i < words->count; i++) {
                if (words->items[i].sentence != sentence
                    || word_compare(&words->items[i], word, reading->vocabulary) == WORD_MATCH_NONE)
                    continue;
                hit.first = i < hit.first ? i : hit.first;
                hit.last = i > hit.last ? i : hit.last;
                found++;
                break;
            }
        }
        bool enough = found == needed || (needed >= 3 && (double)found >= NEARLY_WHOLE * (double)needed);
        if (!found || !enough || judgement->negative || assertion_of(words, hit.first, hit.last) != SAID)
            continue;
        size_t first, last;
        sentence_around(words, &hit, &first, &last);
        if (settle_by_sense(judgement, first, last, &hit))
            return true;
        add_hit(judgement, &hit);
        settle(judgement, LOOKS_EARNED, GROUND_OWN_WORDS, with_quotes(judgement, "you wrote ", ""));
        return true;
    }
    return false;
}

void judge_words(const struct reading *reading, struct point_evidence *evidence)
{
    struct judgement judgement = {.reading = reading, .point = evidence->point, .evidence = evidence};
    judgement.text = reading_rich(reading, &evidence->point->text);
    if (judgement.text.count)
        judgement.sense = directions_in(&judgement.text, 0, judgement.text.count - 1);
    judgement.negative = words_negate(&judgement.text);
    judgement.quotes = arena_get_array(reading->arena, evidence->point->key_count + QUOTES_EXTRA, sizeof(struct quote));
    gather_groups(&judgement);
    if (!settle_accepted(&judgement)) {
        judgement.complete = judgement.group_count && choose_together(&judgement);
        if (judgement.complete)
            settle_all_keys(&judgement);
        else if (!settle_negated(&judgement) && (judgement.group_count || !settle_own_words(&judgement)))
            settle_missing(&judgement);
    }
    judgement.complete = judgement.complete || evidence->verdict == LOOKS_EARNED;
    settle_rejected(&judgement);
}
