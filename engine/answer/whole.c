/* The answer as a whole: the question handed back, statements, vague words. */
#include "answer/inside.h"

#include <assert.h>
#include <string.h>

#include "bank/scheme.h"

enum {
    STEM_WORDS = 4, STEM_CARRYING = 3,      /* fewer repeated words than this are no restatement */
    STATEMENT_WORDS = 2                     /* carrying words of a clause that says something */
};

/* ---- The question handed back -------------------------------------------------------------------- */

/* A calculation starts with the numbers of the question, and has to: they hand nothing back. */
void find_stem(const struct reading *reading, struct evidence *evidence)
{
    const struct words *words = &reading->words;
    size_t end = 0, carrying = 0, kept = 0;
    while (end < words->count) {
        const struct word *word = &words->items[end];
        bool repeated = words_hold(&reading->asked, word);
        if (!repeated && !word->small)
            break;
        end++;
        if (repeated && word_carries(word) && !word->number) {
            carrying++;
            kept = end;
        }
    }
    if (kept < STEM_WORDS || carrying < STEM_CARRYING)
        return;
    evidence->stem_words = kept;
    evidence->stem = words_span(words, 0, kept - 1);
}

/* ---- Statements ---------------------------------------------------------------------------------- */

static size_t carrying_in(const struct words *words, size_t from, size_t to)
{
    size_t count = 0;
    for (size_t i = from; i < to; i++)
        count += word_carries(&words->items[i]) || words->items[i].number;
    return count;
}

/* A sentence's clauses that say something, the "and" between two such included; a list of single words ("limpet,
 * mussel") counts each. */
static size_t statements_in(const struct words *words, size_t from, size_t to)
{
    size_t count = 0, start = from, short_ones = 0;
    for (size_t i = from + 1; i <= to; i++) {
        bool joint = i < to && strcmp(words->items[i].folded, "and") == 0
                  && carrying_in(words, start, i) >= STATEMENT_WORDS && carrying_in(words, i, to) >= STATEMENT_WORDS;
        if (i < to && !joint && words->items[i].clause == words->items[i - 1].clause)
            continue;
        size_t carrying = carrying_in(words, start, i);
        count += carrying >= STATEMENT_WORDS;
        short_ones += carrying > 0 && carrying < STATEMENT_WORDS;
        start = i;
    }
    return count ? count : short_ones;
}

/* Items of a list are counted one by one when they are marked; "rain, snow, ice" is one sentence and three of them. */
static bool is_list(const struct node *root)
{
    for (size_t i = 0; i < root->child_count; i++)
        if (root->children[i].kind != NODE_LIST)
            return false;
    return root->child_count > 0;
}

static bool is_in_words(const struct reading *reading, const struct evidence *evidence)
{
    for (size_t i = 0; i < evidence->point_count; i++)
        if (evidence->points[i].number)
            return false;
    return evidence->point_count > 0 && !scheme_has_levels(&reading->ask->part->scheme.root);
}

void find_statements(const struct reading *reading, struct evidence *evidence)
{
    const struct words *words = &reading->words;
    for (size_t from = evidence->stem_words, to; from < words->count; from = to) {
        to = from + 1;
        while (to < words->count && words->items[to].sentence == words->items[from].sentence)
            to++;
        evidence->statements += statements_in(words, from, to);
    }
    evidence->marks = reading->ask->part->marks;
    evidence->too_few = is_in_words(reading, evidence) && !is_list(&reading->ask->part->scheme.root) && evidence->statements < (size_t)evidence->marks;
}

/* ---- Vague words --------------------------------------------------------------------------------- */

struct vague_rule {
    const char *word;           /* a second one with a space between */
    enum vague_kind kind;
};

static const struct vague_rule vague_rules[] = {
    {"affect", VAGUE_DIRECTION}, {"affects", VAGUE_DIRECTION}, {"affected", VAGUE_DIRECTION}, {"affecting", VAGUE_DIRECTION},
    {"change", VAGUE_DIRECTION}, {"changes", VAGUE_DIRECTION}, {"changed", VAGUE_DIRECTION}, {"changing", VAGUE_DIRECTION},
    {"varies", VAGUE_DIRECTION}, {"vary", VAGUE_DIRECTION}, {"different", VAGUE_DIRECTION}, {"differs", VAGUE_DIRECTION},
    {"influence", VAGUE_DIRECTION}, {"influences", VAGUE_DIRECTION}, {"impact", VAGUE_DIRECTION}, {"impacts", VAGUE_DIRECTION},
    {"alters", VAGUE_DIRECTION}, {"altered", VAGUE_DIRECTION},
    {"a lot", VAGUE_AMOUNT}, {"lots", VAGUE_AMOUNT}, {"loads", VAGUE_AMOUNT}, {"amount", VAGUE_AMOUNT}, {"amounts", VAGUE_AMOUNT},
    {"a bit", VAGUE_AMOUNT}, {"not much", VAGUE_AMOUNT},
    {"better", VAGUE_QUALITY}, {"worse", VAGUE_QUALITY}, {"good", VAGUE_QUALITY}, {"bad", VAGUE_QUALITY}, {"nice", VAGUE_QUALITY},
    {"things", VAGUE_TERM}, {"thing", VAGUE_TERM}, {"stuff", VAGUE_TERM}, {"something", VAGUE_TERM}, {"somehow", VAGUE_TERM},
};

static const char *const vague_questions[] = {
    [VAGUE_POINTER] = "who or what?", [VAGUE_DIRECTION] = "which way?", [VAGUE_AMOUNT] = "how much, and of what?",
    [VAGUE_QUALITY] = "in what way?", [VAGUE_TERM] = "what exactly?",
};

/* How many words of the answer the rule's word takes from here; 0: it is not here. */
static size_t rule_at(const struct words *words, size_t at, const char *rule)
{
    const char *space = strchr(rule, ' ');
    size_t length = space ? (size_t)(space - rule) : strlen(rule);
    const char *word = words->items[at].folded;
    if (strlen(word) != length || memcmp(word, rule, length) != 0)
        return 0;
    if (!space)
        return 1;
    return at + 1 < words->count && strcmp(words->items[at + 1].folded, space + 1) == 0 ? 2 : 0;
}

static bool clause_holds(const struct words *words, size_t at, bool (*test)(const struct words *, size_t))
{
    size_t clause = words->items[at].clause;
    for (size_t i = 0; i < words->count; i++)
        if (words->items[i].clause == clause && test(words, i))
            return true;
    return false;
}

static bool says_direction(const struct words *words, size_t index)
{
    return direction_at(words, index) != DIRECTION_NONE;
}

static bool says_number(const struct words *words, size_t index)
{
    return words->items[index].number;
}

/* Made good in its own clause: "changes from 3 to 5", "a better grip because …" is left to the reader. */
static bool is_made_good(const struct words *words, size_t at, enum vague_kind kind)
{
    if (kind == VAGUE_DIRECTION)
        return clause_holds(words, at, says_direction) || clause_holds(words, at, says_number);
    return kind == VAGUE_AMOUNT && clause_holds(words, at, says_number);
}

/* "it" and "they" before anything was named. */
static bool is_pointer(const struct words *words, size_t at)
{
    const char *word = words->items[at].folded;
    return at == 0 && (strcmp(word, "it") == 0 || strcmp(word, "they") == 0 || strcmp(word, "its") == 0
                       || strcmp(word, "their") == 0 || strcmp(word, "it's") == 0 || strcmp(word, "they're") == 0);
}

void find_vague(const struct reading *reading, struct evidence *evidence)
{
    const struct words *words = &reading->words;
    struct vague_word *vague = arena_get_array(reading->arena, words->count, sizeof *vague);
    for (size_t i = 0; i < words->count; i++) {
        if (is_pointer(words, i)) {
            vague[evidence->vague_count++] = (struct vague_word){words->items[i].at, VAGUE_POINTER,
                                                                 vague_questions[VAGUE_POINTER]};
            continue;
        }
        for (size_t k = 0; k < sizeof vague_rules / sizeof *vague_rules; k++) {
            size_t taken = rule_at(words, i, vague_rules[k].word);
            enum vague_kind kind = vague_rules[k].kind;
            if (!taken || is_made_good(words, i, kind))
                continue;
            vague[evidence->vague_count++] = (struct vague_word){words_span(words, i, i + taken - 1), kind,
                                                                 vague_questions[kind]};
            break;
        }
    }
    assert(evidence->vague_count <= words->count);
    evidence->vague = vague;
}
