/* What the command word asks of an answer, beyond its points. */
#include "answer/inside.h"

#include <assert.h>
#include <string.h>

#include "bank/scheme.h"

enum { SIDE_WORDS = 12, QUOTES_KEPT = 4 };

struct need_rule {
    const char *word;           /* command word */
    unsigned needs;             /* bits 1 << enum command_need */
};

#define BIT(need) (1u << (need))

static const struct need_rule rules[] = {
    {"compare", BIT(NEED_BOTH_SIDES) | BIT(NEED_COMPARATIVE)}, {"contrast", BIT(NEED_BOTH_SIDES) | BIT(NEED_COMPARATIVE)},
    {"distinguish", BIT(NEED_BOTH_SIDES)},
    {"evaluate", BIT(NEED_FOR_AND_AGAINST) | BIT(NEED_JUDGEMENT)}, {"assess", BIT(NEED_FOR_AND_AGAINST) | BIT(NEED_JUDGEMENT)},
    {"to what extent", BIT(NEED_FOR_AND_AGAINST) | BIT(NEED_JUDGEMENT)}, {"discuss", BIT(NEED_FOR_AND_AGAINST)},
    {"explain", BIT(NEED_LINK)}, {"justify", BIT(NEED_LINK)},
    {"calculate", BIT(NEED_WORKING) | BIT(NEED_VALUE) | BIT(NEED_UNIT)},
    {"determine", BIT(NEED_WORKING) | BIT(NEED_VALUE) | BIT(NEED_UNIT)},
    {"estimate", BIT(NEED_WORKING) | BIT(NEED_VALUE) | BIT(NEED_UNIT)}, {"convert", BIT(NEED_VALUE) | BIT(NEED_UNIT)},
    {"show that", BIT(NEED_WORKING)},
    {"describe", BIT(NEED_FIGURES)}, {"interpret", BIT(NEED_FIGURES)}, {"comment", BIT(NEED_FIGURES)},
};

static unsigned needs_of(const struct evidence_ask *ask)
{
    const char *word = ask->course->words[ask->part->word].word;
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (strcmp(rules[i].word, word) == 0)
            return rules[i].needs;
    return 0;
}

/* ---- Collecting ---------------------------------------------------------------------------------- */

struct found {
    struct quote quotes[QUOTES_KEPT];
    size_t count;
};

static void found_add(struct found *found, struct quote quote)
{
    if (found->count < QUOTES_KEPT)
        found->quotes[found->count++] = quote;
}

static void add_need(const struct reading *reading, struct evidence *evidence, enum command_need need, bool met,
                     const char *reason, const struct found *found)
{
    struct command_evidence *needs = (struct command_evidence *)evidence->needs;
    struct quote *quotes = arena_get_array(reading->arena, found->count, sizeof *quotes);
    for (size_t i = 0; i < found->count; i++)
        quotes[i] = found->quotes[i];
    assert(evidence->need_count < COMMAND_NEEDS);
    needs[evidence->need_count++] = (struct command_evidence){need, met, reason, quotes, found->count};
}

/* ---- Phrases ------------------------------------------------------------------------------------- */

/* One to four folded words, with spaces between. */
static size_t phrase_at(const struct words *words, size_t at, const char *phrase)
{
    size_t taken = 0;
    while (*phrase) {
        size_t length = strcspn(phrase, " ");
        if (at + taken >= words->count)
            return 0;
        const char *word = words->items[at + taken].folded;
        if (strlen(word) != length || memcmp(word, phrase, length) != 0)
            return 0;
        taken++;
        phrase += length + (phrase[length] == ' ');
    }
    return taken;
}

static void find_phrases(const struct words *words, const char *const *phrases, size_t count, struct found *found)
{
    for (size_t i = 0; i < words->count; i++)
        for (size_t k = 0; k < count; k++) {
            size_t taken = phrase_at(words, i, phrases[k]);
            if (taken) {
                found_add(found, words_span(words, i, i + taken - 1));
                break;
            }
        }
}

static const char *const turning_phrases[] = {
    "however", "but", "although", "though", "whereas", "on the other hand", "disadvantage", "disadvantages", "drawback",
    "drawbacks", "downside", "downsides", "against", "despite", "yet", "nevertheless", "while", "whilst", "on the other side", "problem is",
    "in spite of", "even so", "conversely",
};

static const char *const judging_phrases[] = {
    "overall", "in conclusion", "to conclude", "conclude", "on balance", "should", "shouldn't", "i think", "i believe", "i agree",
    "i disagree", "in my opinion", "in my view", "outweigh", "outweighs", "outweighed", "recommend", "to a large extent", "to a great extent",
    "to some extent", "to a limited extent", "to a certain extent", "most important", "more important", "the best", "worth", "worthwhile", "not worth",
    "judgement", "judgment", "in summary", "the better option", "better option", "best option", "more effective than", "largely",
    "therefore the", "justified", "good idea", "bad idea",
};

static const char *const linking_phrases[] = {
    "as it", "as they", "as the", "as this", "as there", "which means", "that is why", "in order to", "so as to",
};

#define FIND(words, phrases, found) find_phrases(words, phrases, sizeof(phrases) / sizeof *(phrases), found)

/* ---- Both sides of a comparison ------------------------------------------------------------------ */

struct side {
    const struct word *words[SIDE_WORDS];
    size_t count;
};

/* 0: joins none. Of several joints the plainest is taken: "and" in "the height and speed of A with those of B" is none
 * between sides, nor is the "to" in "constructive and destructive waves and what they do to a beach". */
static int joins_sides(const struct word *word)
{
    if (IS_ONE_OF(word->folded, "with", "from"))
        return 3;
    return strcmp(word->folded, "and") == 0 ? 2 : strcmp(word->folded, "to") == 0;
}

static void gather_side(const struct words *asked, size_t from, size_t to, struct side *side)
{
    for (size_t i = from; i < to && side->count < SIDE_WORDS; i++)
        if (word_carries(&asked->items[i]))
            side->words[side->count++] = &asked->items[i];
}

static const struct word *before_shared(const struct side *side, const struct side *other)
{
    for (size_t i = 1; i < side->count; i++)
        for (size_t k = 0; k < other->count; k++)
            if (strcmp(side->words[i]->stem, other->words[k]->stem) == 0)
                return side->words[i - 1];
    return NULL;
}

/* What tells a side from the other: the word before the one they share (exposed shore, sheltered shore), else
 * all words of the shorter noun group nearest to the joint. */
static void narrow_sides(struct side *left, struct side *right)
{
    const struct word *one = before_shared(left, right), *other = before_shared(right, left);
    if (one && other) {
        *left = (struct side){{one}, 1};
        *right = (struct side){{other}, 1};
        return;
    }
    if (left->count > 1)
        *left = (struct side){{left->words[left->count - 1]}, 1};
    if (right->count > 1)
        right->count = 2;
}

/* "Compare A with B …": the plainest joint of the ask's first sentence after the command word, the first of equals;
 * false: no two sides. */
static bool find_sides(const struct reading *reading, struct side *left, struct side *right)
{
    struct buffer text = BUFFER_EMPTY;
    plain_add_blocks(&text, &reading->ask->part->ask, reading->ask->values);
    struct words ask = reading_words(reading, buffer_text(&text));
    buffer_free(&text);
    size_t joint = 0, start = 0;
    int plainest = 0;
    for (size_t i = 0; i < ask.count && ask.items[i].sentence == ask.items[0].sentence; i++) {
        if (strcmp(ask.items[i].folded, "compare") == 0 || strcmp(ask.items[i].folded, "between") == 0
            || strcmp(ask.items[i].folded, "contrast") == 0 || strcmp(ask.items[i].folded, "distinguish") == 0
            || (strcmp(ask.items[i].folded, "of") == 0 && !joint))
            start = i + 1;
        if (joins_sides(&ask.items[i]) > plainest && i > start && start) {
            joint = i;
            plainest = joins_sides(&ask.items[i]);
        }
    }
    if (!joint)
        return false;
    size_t end = joint + 1;
    while (end < ask.count && ask.items[end].clause == ask.items[joint].clause && strcmp(ask.items[end].folded, "and") != 0)
        end++;
    gather_side(&ask, start, joint, left);
    gather_side(&ask, joint + 1, end, right);
    narrow_sides(left, right);
    return left->count && right->count;
}

static bool is_word(const struct reading *reading, size_t index, const struct word *word)
{
    return word_compare(&reading->words.items[index], word, reading->vocabulary) != WORD_MATCH_NONE;
}

/* The "waves" of "constructive and destructive waves" belong to both sides: behind the other side's word they are its. */
static bool find_side(const struct reading *reading, const struct side *side, const struct side *other, struct found *found)
{
    for (size_t i = 0; i < reading->words.count; i++)
        for (size_t k = 0; k < side->count; k++) {
            bool others = k > 0 && i > 0 && is_word(reading, i - 1, other->words[0]);
            if (is_word(reading, i, side->words[k]) && !others) {
                found_add(found, reading->words.items[i].at);
                return true;
            }
        }
    return false;
}

/* A point about the side that is not named is not made; where neither is named, "it" may be either. */
static void deny_points_about(const struct reading *reading, struct evidence *evidence, const struct word *side, const char *reason)
{
    struct point_evidence *points = (struct point_evidence *)evidence->points;
    for (size_t i = 0; i < evidence->point_count; i++) {
        struct words text = reading_rich(reading, &points[i].point->text);
        if (points[i].verdict != CANT_TELL || points[i].number || points[i].quote_count || !words_hold(&text, side))
            continue;
        points[i].verdict = LOOKS_NOT_EARNED;
        points[i].reason = reason;
    }
}

static void need_both_sides(const struct reading *reading, struct evidence *evidence)
{
    struct side left = {.count = 0}, right = {.count = 0};
    struct found found = {.count = 0};
    if (!find_sides(reading, &left, &right))
        return;
    bool one = find_side(reading, &left, &right, &found), other = find_side(reading, &right, &left, &found);
    const char *reason = one && other ? "you name both sides" : one || other
        ? arena_print(reading->arena, "you do not name \"%s\"", (one ? &right : &left)->words[0]->folded)
        : "you name neither side";
    add_need(reading, evidence, NEED_BOTH_SIDES, one && other, reason, &found);
    if (one != other)
        deny_points_about(reading, evidence, (one ? &right : &left)->words[0], reason);
}

/* ---- The other needs ----------------------------------------------------------------------------- */

static void need_comparative(const struct reading *reading, struct evidence *evidence)
{
    struct found found = {.count = 0};
    for (size_t i = 0; i < reading->words.count; i++)
        if (word_compares(&reading->words.items[i]))
            found_add(&found, reading->words.items[i].at);
    add_need(reading, evidence, NEED_COMPARATIVE, found.count > 0,
             found.count ? "a word compares" : "no word compares, such as higher, whereas or both", &found);
}

static void need_link(const struct reading *reading, struct evidence *evidence)
{
    struct found found = {.count = 0};
    for (size_t i = 0; i < reading->words.count; i++)
        if (word_links(&reading->words.items[i]))
            found_add(&found, reading->words.items[i].at);
    if (!found.count)
        FIND(&reading->words, linking_phrases, &found);
    add_need(reading, evidence, NEED_LINK, found.count > 0,
             found.count ? "a reason is linked" : "no word such as because or so links a reason", &found);
}

static void need_argument(const struct reading *reading, struct evidence *evidence, unsigned needs)
{
    struct found turn = {.count = 0}, verdict = {.count = 0};
    FIND(&reading->words, turning_phrases, &turn);
    FIND(&reading->words, judging_phrases, &verdict);
    if (needs & BIT(NEED_FOR_AND_AGAINST))
        add_need(reading, evidence, NEED_FOR_AND_AGAINST, turn.count > 0,
                 turn.count ? "you turn to the other side" : "no word such as however turns to the other side", &turn);
    if (needs & BIT(NEED_JUDGEMENT))
        add_need(reading, evidence, NEED_JUDGEMENT, verdict.count > 0,
                 verdict.count ? "there is a judgement" : "no sentence gives your judgement, with a word such as overall", &verdict);
}

static const struct point_evidence *answer_evidence(const struct evidence_ask *ask, const struct evidence *evidence)
{
    const struct node *point = scheme_answer_point(&ask->part->scheme.root);
    const struct point_evidence *best = NULL;
    for (size_t i = 0; point && i < evidence->point_count; i++) {
        const struct point_evidence *each = &evidence->points[i];
        if (each->number && (!best || each->point == point || each->verdict == LOOKS_EARNED))
            best = each;
    }
    return best;
}

static void need_number(const struct reading *reading, struct evidence *evidence, unsigned needs)
{
    const struct point_evidence *answer = answer_evidence(reading->ask, evidence);
    if (!answer)
        return;
    const struct number_evidence *number = answer->number;
    struct found found = {.count = 0};
    if (number->found)
        found_add(&found, number->at);
    bool working = number->found && number->working == WORKING_SEEN, asks_unit = answer->point->number->unit
        && answer->point->number->unit[0] && !answer->point->number->unit_printed;
    bool unit = number->found && number->unit_shown != UNIT_LEFT_OUT && number->unit_shown != UNIT_WRONG;
    if (needs & BIT(NEED_WORKING))
        add_need(reading, evidence, NEED_WORKING, working || (!number->found && evidence->word_count > 3),
                 working ? "working is shown" : "no working is shown", &found);
    if (needs & BIT(NEED_VALUE))
        add_need(reading, evidence, NEED_VALUE, number->found || answer->ground == GROUND_NUMBER_UNCLEAR,
                 number->found ? "a value is given" : "no value of your own is given", &found);
    if ((needs & BIT(NEED_UNIT)) && asks_unit && number->found)
        add_need(reading, evidence, NEED_UNIT, unit, unit ? "the value has its unit" : number->unit_shown == UNIT_WRONG ? "the unit of the value is not the right one"
                                                                            : "the value lacks its unit", &found);
}

static bool has_table(const struct blocks *blocks)
{
    for (size_t i = 0; i < blocks->count; i++) {
        const struct block *block = &blocks->items[i];
        if (block->kind == BLOCK_TABLE || has_table(&(struct blocks){block->blocks, block->block_count}))
            return true;
    }
    return false;
}

static void need_figures(const struct reading *reading, struct evidence *evidence)
{
    if (!has_table(&reading->ask->question->stem) && !has_table(&reading->ask->part->ask))
        return;
    struct candidates numbers = numbers_written(reading->answer, reading->arena);
    struct found found = {.count = 0};
    for (size_t i = 0; i < numbers.count; i++)
        found_add(&found, numbers.items[i].at);
    add_need(reading, evidence, NEED_FIGURES, found.count > 0,
             found.count ? "figures are quoted" : "no figure from the table is quoted", &found);
}

void find_needs(const struct reading *reading, struct evidence *evidence)
{
    unsigned needs = needs_of(reading->ask);
    evidence->needs = arena_get_array(reading->arena, COMMAND_NEEDS, sizeof *evidence->needs);
    if (needs & BIT(NEED_BOTH_SIDES))
        need_both_sides(reading, evidence);
    if (needs & BIT(NEED_COMPARATIVE))
        need_comparative(reading, evidence);
    need_argument(reading, evidence, needs);
    if (needs & BIT(NEED_LINK))
        need_link(reading, evidence);
    need_number(reading, evidence, needs);
    if (needs & BIT(NEED_FIGURES))
        need_figures(reading, evidence);
}
