#include "answer/inside.h"

#include <assert.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"

/* ---- Reading ------------------------------------------------------------------------------------- */

struct words reading_words(const struct reading *reading, const char *text)
{
    return words_of(text, reading->arena);
}

struct words reading_rich(const struct reading *reading, const struct rich *text)
{
    struct buffer plain = BUFFER_EMPTY;
    plain_add_rich(&plain, text, reading->ask->values);
    struct words words = words_of(buffer_text(&plain), reading->arena);
    buffer_free(&plain);
    return words;
}

static const struct vocabulary *vocabulary_for(const struct evidence_ask *ask, struct arena *arena)
{
    if (ask->vocabulary)
        return ask->vocabulary;
    struct vocabulary *vocabulary = vocabulary_new(arena);
    vocabulary_add_course(vocabulary, ask->course);
    vocabulary_add_question(vocabulary, ask->question);
    return vocabulary;
}

struct reading reading_begin(const struct evidence_ask *ask, const char *answer, struct arena *arena)
{
    struct buffer asked = BUFFER_EMPTY;
    struct reading reading = {.ask = ask, .answer = answer ? answer : "", .arena = arena};
    reading.words = words_of(reading.answer, arena);
    plain_add_blocks(&asked, &ask->part->ask, ask->values);
    reading.ask_words = words_of(buffer_text(&asked), arena);
    plain_add_blocks(&asked, &ask->question->stem, ask->values);
    reading.asked = words_of(buffer_text(&asked), arena);
    reading.vocabulary = vocabulary_for(ask, arena);
    buffer_free(&asked);
    return reading;
}

const struct quote *keep_quote(const struct reading *reading, struct quote quote)
{
    struct quote *kept = arena_get(reading->arena, sizeof *kept);
    *kept = quote;
    return kept;
}

const char *quoted(const struct reading *reading, struct quote quote)
{
    assert(quote.start + quote.length <= strlen(reading->answer));
    char *bytes = arena_copy_bytes(reading->arena, reading->answer + quote.start, quote.length);
    struct buffer folded = BUFFER_EMPTY;
    text_add_folded_space(&folded, bytes);
    const char *copy = arena_copy_text(reading->arena, buffer_text(&folded));
    buffer_free(&folded);
    return copy;
}

/* ---- Points -------------------------------------------------------------------------------------- */

struct judging {
    const struct reading *reading;
    struct candidates candidates;
    struct own_values own;
    struct point_evidence *points;
    size_t count;
};

static bool judge_point(const struct node *point, void *context)
{
    struct judging *judging = context;
    struct point_evidence *evidence = &judging->points[judging->count++];
    *evidence = (struct point_evidence){.point = point, .reason = ""};
    if (point->number)
        judge_number(judging->reading, &judging->candidates, &judging->own, evidence);
    else
        judge_words(judging->reading, evidence);
    return true;
}

static bool judge_if_number(const struct node *point, void *context)
{
    return point->number ? judge_point(point, context) : true;
}

static bool blank_point(const struct node *point, void *context)
{
    struct judging *judging = context;
    judging->points[judging->count++] = (struct point_evidence){
        .point = point, .verdict = CANT_TELL, .ground = GROUND_BLANK, .reason = "nothing is written"};
    return true;
}

/* Room for every number of the question and for the values that come in. */
static struct own_values own_room(const struct evidence_ask *ask, struct arena *arena)
{
    size_t room = ask->own_count;
    for (size_t i = 0; i < ask->question->part_count; i++)
        room += scheme_point_count(&ask->question->parts[i].scheme.root);
    room += scheme_point_count(&ask->part->scheme.root);
    struct own_values own = {arena_get_array(arena, room, sizeof *own.items), ask->own_count};
    if (ask->own_count)
        memcpy(own.items, ask->own, ask->own_count * sizeof *own.items);
    return own;
}

/* A number that the method's point rejects ("divides by 6.15") stands in the answer. */
static bool uses_rejected_number(const struct reading *reading, const struct node *point)
{
    for (size_t i = 0; i < point->rejects.count; i++) {
        struct words rejected = reading_words(reading, point->rejects.items[i]);
        for (size_t k = 0; k < rejected.count; k++)
            if (rejected.items[k].number && words_hold(&reading->words, &rejected.items[k]))
                return true;
    }
    return false;
}

static bool is_right(const struct point_evidence *evidence)
{
    return evidence->ground == GROUND_NUMBER_RIGHT || evidence->ground == GROUND_NUMBER_FOLLOWS;
}

/* A right number shows its method, unless the scheme wants to see the working (docs/marking.md, rule 12). */
static void credit_methods(const struct reading *reading, struct point_evidence *points, size_t count)
{
    const struct scheme *scheme = &reading->ask->part->scheme;
    for (size_t i = 0; !scheme->working_required && i < count; i++) {
        if (!points[i].number || !is_right(&points[i]) || points[i].point->point_kind != POINT_ACCURACY)
            continue;
        const struct node *method = scheme_method_of(&scheme->root, points[i].point);
        for (size_t k = 0; k < count; k++) {
            bool needed = points[k].point == method;
            for (size_t n = 0; n < points[i].point->need_count; n++)
                needed = needed || text_equal(points[i].point->needs[n], points[k].point->id);
            if (!needed || points[k].number || points[k].rejected
                || !scheme_gives_method(points[k].point) || uses_rejected_number(reading, points[k].point))
                continue;
            points[k].verdict = LOOKS_EARNED;
            points[k].ground = GROUND_NUMBER_RIGHT;
            points[k].reason = "the right number shows the method";
            points[k].quotes = points[i].quotes;
            points[k].quote_count = points[i].quote_count;
        }
    }
}

/* Where the working is what is asked for, a bare number has no method. */
static void deny_methods(const struct reading *reading, struct point_evidence *points, size_t count)
{
    bool bare = false, worked = false;
    for (size_t i = 0; i < count; i++) {
        bool found = points[i].number && points[i].number->found;
        bare = bare || (found && points[i].number->working == WORKING_NONE);
        worked = worked || (found && points[i].number->working == WORKING_SEEN);
    }
    for (size_t i = 0; reading->ask->part->scheme.working_required && bare && !worked && i < count; i++) {
        if (points[i].number || points[i].verdict != CANT_TELL || !scheme_gives_method(points[i].point))
            continue;
        points[i].verdict = LOOKS_NOT_EARNED;
        points[i].reason = "no working is shown";
    }
}

/* A point that needs another one is not earned without it: "Z, because it loses less water" where seaweed Y is wanted. */
static void doubt_without_needed(struct point_evidence *points, size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t n = 0; n < points[i].point->need_count; n++)
            for (size_t k = 0; k < count; k++) {
                if (points[i].verdict != LOOKS_EARNED || points[i].number || points[k].verdict != LOOKS_NOT_EARNED
                    || !text_equal(points[i].point->needs[n], points[k].point->id))
                    continue;
                points[i].verdict = CANT_TELL;
                points[i].ground = GROUND_SOME_WORDS;
                points[i].reason = "its words are there, but the point that it needs does not look earned";
            }
}

static bool overlaps(struct quote one, struct quote other)
{
    return one.start < other.start + other.length && other.start < one.start + one.length;
}

/* Words that the scheme rejects for one point earn no other one by their key words: "waves go faster in shallow water" does not
 * say that the water is shallow there. */
static void doubt_inside_rejected(struct point_evidence *points, size_t count)
{
    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < count; k++)
            for (size_t q = 0; points[k].ground == GROUND_REJECTED && k != i && q < points[i].quote_count; q++)
                if (points[i].verdict == LOOKS_EARNED && points[i].ground == GROUND_KEYS
                    && overlaps(points[i].quotes[q], points[k].quotes[0])) {
                    points[i].verdict = CANT_TELL;
                    points[i].ground = GROUND_SOME_WORDS;
                    points[i].reason = "its words are there, but in a sentence that is not accepted";
                }
}

static struct judging judging_begin(const struct reading *reading, size_t count)
{
    return (struct judging){
        .reading = reading, .candidates = candidates_of(reading->ask, reading->answer, reading->arena),
        .own = own_room(reading->ask, reading->arena),
        .points = arena_get_array(reading->arena, count, sizeof(struct point_evidence)),
    };
}

const struct evidence *evidence_of(const struct evidence_ask *ask, const char *answer, struct arena *arena)
{
    const struct reading reading = reading_begin(ask, answer, arena);
    const struct node *root = &ask->part->scheme.root;
    struct judging judging = judging_begin(&reading, scheme_point_count(root));
    struct evidence *evidence = arena_get(arena, sizeof *evidence);
    *evidence = (struct evidence){.blank = reading.words.count == 0, .points = judging.points,
                                  .word_count = reading.words.count, .marks = ask->part->marks};
    scheme_each_point(root, evidence->blank ? blank_point : judge_point, &judging);
    evidence->point_count = judging.count;
    if (evidence->blank)
        return evidence;
    credit_methods(&reading, judging.points, judging.count);
    deny_methods(&reading, judging.points, judging.count);
    doubt_inside_rejected(judging.points, judging.count);
    settle_absent(&reading, judging.points, judging.count);
    doubt_without_needed(judging.points, judging.count);
    find_stem(&reading, evidence);
    find_statements(&reading, evidence);
    find_vague(&reading, evidence);
    find_needs(&reading, evidence);
    return evidence;
}

static const struct node *find_levels(const struct node *node)
{
    if (node->kind == NODE_LEVELS)
        return node;
    for (size_t i = 0; i < node->child_count; i++) {
        const struct node *found = find_levels(&node->children[i]);
        if (found)
            return found;
    }
    return NULL;
}

const struct point_evidence *evidence_indicative(const struct evidence_ask *ask, const char *answer, size_t *count,
                                                 struct arena *arena)
{
    const struct node *levels = find_levels(&ask->part->scheme.root);
    const struct reading reading = reading_begin(ask, answer, arena);
    struct judging judging = judging_begin(&reading, levels ? levels->indicative_count : 0);
    for (size_t i = 0; levels && i < levels->indicative_count; i++) {
        const struct node *point = &levels->indicative[i];
        bool (*judge)(const struct node *, void *) = reading.words.count && !point->number ? judge_point : blank_point;
        if (point->kind == NODE_POINT)
            judge(point, &judging);
    }
    settle_absent(&reading, judging.points, judging.count);
    *count = judging.count;
    return judging.points;
}

const struct point_evidence *evidence_point(const struct evidence *evidence, const char *id)
{
    for (size_t i = 0; i < evidence->point_count; i++)
        if (text_equal(evidence->points[i].point->id, id))
            return &evidence->points[i];
    return NULL;
}

/* ---- For the award ------------------------------------------------------------------------------- */

void evidence_numbers(const struct evidence *evidence, struct point_input *inputs, size_t count)
{
    assert(count == evidence->point_count);
    for (size_t i = 0; i < count; i++) {
        const struct point_evidence *point = &evidence->points[i];
        inputs[i].rejected = point->rejected;
        inputs[i].rejected_words = point->rejected_words;
        inputs[i].contradicted = point->contradicted;
        const struct number_evidence *number = point->number;
        if (!number || !number->found)
            continue;
        inputs[i].value = number->value;
        inputs[i].figures_wrong = number->figures_wrong;
        inputs[i].unit = number->unit_shown;
        inputs[i].working = number->working;
    }
}

const struct own_value *answer_own_values(const struct course *course, const struct question *question,
                                          const struct values *values, const char *const *answers, size_t before,
                                          size_t *count, struct arena *arena)
{
    assert(before <= question->part_count);
    struct own_values own = {NULL, 0};
    for (size_t i = 0; i < before; i++) {
        struct evidence_ask *ask = arena_get(arena, sizeof *ask);
        *ask = (struct evidence_ask){.course = course, .question = question, .part = &question->parts[i],
                                     .values = values, .own = own.items, .own_count = own.count};
        if (!answers[i])
            continue;
        /* Only numbers are judged: words cost a vocabulary. */
        struct reading reading = {.ask = ask, .answer = answers[i], .arena = arena};
        size_t points = scheme_point_count(&ask->part->scheme.root);
        struct judging judging = judging_begin(&reading, points);
        scheme_each_point(&ask->part->scheme.root, judge_if_number, &judging);
        own = judging.own;
    }
    *count = own.count;
    return own.items;
}

/* ---- Names --------------------------------------------------------------------------------------- */

const char *evidence_verdict_name(enum evidence_verdict verdict)
{
    static const char *const names[] = {[CANT_TELL] = "cant-tell", [LOOKS_EARNED] = "earned",
                                        [LOOKS_NOT_EARNED] = "not-earned"};
    assert(verdict <= LOOKS_NOT_EARNED);
    return names[verdict];
}

const char *evidence_ground_name(enum evidence_ground ground)
{
    static const char *const names[] = {
        [GROUND_NONE] = "none", [GROUND_BLANK] = "blank", [GROUND_KEYS] = "keys", [GROUND_ACCEPT] = "accept",
        [GROUND_OWN_WORDS] = "own-words", [GROUND_SOME_WORDS] = "some-words", [GROUND_FAR_APART] = "far-apart",
        [GROUND_FROM_THE_ASK] = "from-the-ask", [GROUND_NO_WORDS] = "no-words", [GROUND_IGNORED] = "ignored",
        [GROUND_REJECTED] = "rejected", [GROUND_NEGATED] = "negated", [GROUND_OPPOSITE] = "opposite",
        [GROUND_NO_DIRECTION] = "no-direction", [GROUND_CONTRADICTED] = "contradicted",
        [GROUND_NUMBER_RIGHT] = "number-right", [GROUND_NUMBER_FOLLOWS] = "number-follows",
        [GROUND_NUMBER_WRONG] = "number-wrong", [GROUND_NUMBER_NONE] = "number-none",
        [GROUND_NUMBER_UNCLEAR] = "number-unclear",
    };
    assert(ground <= GROUND_NUMBER_UNCLEAR);
    return names[ground];
}
