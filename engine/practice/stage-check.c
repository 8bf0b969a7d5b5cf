/* Check, first half: the answer held against the scheme, one decision at a time. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"
#include "practice/look.h"
#include "practice/machine.h"
#include "practice/show.h"
#include "quantity/unit.h"

static size_t tick_number(const struct practice *practice, size_t *of)
{
    struct steps steps = {0};
    size_t number = 0;
    steps_of_ticking(practice->script, practice->step.part, &steps);
    *of = steps.count;
    for (size_t i = 0; i < steps.count; i++)
        if (step_is_settled(practice->script, &steps.items[i]))
            number++;
    steps_free(&steps);
    return number + 1;
}

/* The answer stays in sight: in full before the first decision, its last lines before the others when it is
 * long. */
static void show_answer(struct practice *practice, bool whole)
{
    enum { LINES_IN_SIGHT = 6 };
    const char *answer = buffer_text(&part_in_hand(practice)->texts[TEXT_ANSWER]);
    const char *from = answer;
    if (!whole) {
        size_t lines = 0;
        for (const char *at = answer + strlen(answer); at > answer && lines < LINES_IN_SIGHT; at--)
            if (at[-1] == '\n' && ++lines == LINES_IN_SIGHT)
                from = at;
    }
    page_paragraph(practice->page, from > answer ? "Your answer (.answer shows all of it):" : "Your answer:");
    show_written(practice, practice->step.part, from);
}

static void open_check(struct practice *practice)
{
    size_t of, number = tick_number(practice, &of);
    const struct part *part = part_asked(practice);
    if (number == 1 && practice->script->question->part_count > 1)
        page_heading(practice->page, 3, "Check part (%s)", part->id);
    else if (number == 1)
        page_heading(practice->page, 3, "Check");
    if (number == 1 && part->scheme.working_required)
        page_paragraph(practice->page, "The ask says \"%s\": an answer without its working earns nothing.",
                       practice->script->course->words[part->word].word);
    show_answer(practice, number == 1);
}

static bool settle(struct practice *practice, double number, const char *detail, const char *text,
                   struct messages *messages)
{
    struct event event = event_blank(step_event(&practice->step));
    event.item = step_item(practice->script, &practice->step);
    event.pass = PASS_FIRST;
    event.number = number;
    event.detail = detail;
    event.text = text;
    return note(practice, event, messages);
}

void back_over_tick(struct practice *practice, struct messages *messages)
{
    struct step last;
    if (!steps_last_tick(practice->script, practice->step.part, &last)) {
        page_paragraph(practice->page, "This is the first decision.");
        return;
    }
    practice->step = last;
    settle(practice, (double)NAN, "", NULL, messages);
    practice->step.kind = STEP_DONE;    /* so that the point is shown again */
}

/* ---- Points -------------------------------------------------------------------------------------- */

/* The value that counts as right after an earlier one of the student's own that was not. */
static void show_followed(struct practice *practice)
{
    const struct node *point = practice->step.node;
    struct evidence_ask ask = look_ask(practice->script, practice->step.part);
    if (!point->number)
        return;
    struct follow follow = marking_follow(&practice->script->values, point, ask.own, ask.own_count, practice->script->arena);
    if (follow.reason != FOLLOW_APPLIES)
        return;
    struct buffer value = BUFFER_EMPTY;
    show_right_value(&value, point->number, follow.expected);
    page_item(practice->page, 1, "or:", "%s, from your own earlier value", buffer_text(&value));
    buffer_free(&value);
}

void introduce_tick(struct practice *practice)
{
    size_t of, number = tick_number(practice, &of);
    open_check(practice);
    page_heading(practice->page, 3, "Point %zu of %zu", number, of);
    show_point(practice->page, practice->step.node, &practice->script->values);
    show_followed(practice);
}

static const char *tick_of(const char *line)
{
    static const struct { const char *typed, *tick; } ticks[] = {
        {"y", "yes"}, {"yes", "yes"}, {"n", "no"}, {"no", "no"},
        {"u", "unsure"}, {"not sure", "unsure"}, {"unsure", "unsure"},
    };
    for (size_t i = 0; i < sizeof ticks / sizeof *ticks; i++)
        if (text_equal_ignoring_case(line, ticks[i].typed))
            return ticks[i].tick;
    return NULL;
}

static bool means_back(const char *line)
{
    return text_equal_ignoring_case(line, "b") || text_equal_ignoring_case(line, "back");
}

/* A tick of a point, or yes or no to a cap; a cap keeps a number beside it. */
static enum practice_result settle_tick(struct practice *practice, const char *line, const char *wanted, bool numbered,
                                        struct messages *messages)
{
    if (means_back(line)) {
        back_over_tick(practice, messages);
        return PRACTICE_ON;
    }
    const char *tick = tick_of(line);
    if (!tick) {
        page_paragraph(practice->page, "Please type %s.", wanted);
        return PRACTICE_ON;
    }
    double number = !numbered ? (double)NAN : strcmp(tick, "yes") == 0 ? 1 : 0;
    return settle(practice, number, tick, NULL, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

enum practice_result enter_tick(struct practice *practice, const char *line, bool pasted,
                                struct messages *messages)
{
    (void)pasted;
    return settle_tick(practice, line, "y, n, u (not sure) or b (back)", false, messages);
}

/* A number typed from `from` to `to`. */
static bool read_whole(const char *line, long from, long to, long *number)
{
    char *end;
    *number = strtol(line, &end, 10);
    return end != line && text_is_blank(end) && *number >= from && *number <= to;
}

static enum practice_result settle_number(struct practice *practice, const char *line, long from, long to,
                                          long offset, struct messages *messages)
{
    long number;
    if (means_back(line)) {
        back_over_tick(practice, messages);
        return PRACTICE_ON;
    }
    if (!read_whole(line, from, to, &number)) {
        page_paragraph(practice->page, "Please type a number from %ld to %ld, or b to go back.", from, to);
        return PRACTICE_ON;
    }
    return settle(practice, (double)(number - offset), "chosen", NULL, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- Routes -------------------------------------------------------------------------------------- */

void introduce_route(struct practice *practice)
{
    const struct node *routes = practice->step.node;
    open_check(practice);
    page_paragraph(practice->page, "There is more than one way to these marks; the best one counts. Which did you take?");
    for (size_t i = 0; i < routes->child_count; i++) {
        char marker[24];
        snprintf(marker, sizeof marker, "%zu", i + 1);
        page_item(practice->page, 0, marker, "%s", routes->children[i].name ? routes->children[i].name : "another way");
    }
    char marker[24];
    snprintf(marker, sizeof marker, "%zu", routes->child_count + 1);
    page_item(practice->page, 0, marker, "something of each, or not sure: go through all of them");
}

enum practice_result enter_route(struct practice *practice, const char *line, bool pasted,
                                 struct messages *messages)
{
    (void)pasted;
    return settle_number(practice, line, 1, (long)practice->step.node->child_count + 1, 1, messages);
}

/* ---- Lists --------------------------------------------------------------------------------------- */

static void show_list_choices(struct practice *practice)
{
    const struct node *list = practice->step.node;
    page_paragraph(practice->page, "%s asked for. %s", text_count(list->take, "answer is", "answers are"),
                   list->list_rule == LIST_FIRST ? "Only the first ones written count."
                                                 : "If you gave more, each wrong one cancels a right one.");
    for (size_t i = 0; i < list->child_count; i++) {
        char marker[24];
        snprintf(marker, sizeof marker, "%zu", i + 1);
        page_item(practice->page, 0, marker, "%s", "");
        show_rich(practice->page, &list->children[i].text, &practice->script->values);
        for (size_t j = 0; j < list->children[i].accepts.count; j++)
            page_add(practice->page, STYLE_PLAIN, "; accept %s", list->children[i].accepts.items[j]);
    }
    for (size_t i = 0; i < list->ignores.count; i++)
        page_item(practice->page, 0, "n", "%s (neither right nor wrong)", list->ignores.items[i]);
    for (size_t i = 0; i < list->rejects.count; i++)
        page_item(practice->page, 0, "w", "%s (wrong)", list->rejects.items[i]);
}

void introduce_list_item(struct practice *practice)
{
    const struct part_facts *facts = part_in_hand(practice);
    struct list_items items = list_items_of(facts, practice->script->arena);
    if (practice->step.index == 0) {
        open_check(practice);
        show_list_choices(practice);
    }
    page_paragraph(practice->page, "You wrote, item %zu of %zu: %s", practice->step.index + 1, items.count,
                   items.items[practice->step.index]);
}

enum practice_result enter_list_item(struct practice *practice, const char *line, bool pasted,
                                     struct messages *messages)
{
    (void)pasted;
    struct list_items items = list_items_of(part_in_hand(practice), practice->script->arena);
    const char *item = items.items[practice->step.index];
    bool wrong = text_equal_ignoring_case(line, "w"), neutral = text_equal_ignoring_case(line, "n");
    if (wrong || neutral)
        return settle(practice, (double)NAN, wrong ? "wrong" : "neutral", item, messages) ? PRACTICE_ON : PRACTICE_FAILED;
    long number;
    if (means_back(line)) {
        back_over_tick(practice, messages);
        return PRACTICE_ON;
    }
    if (!read_whole(line, 1, (long)practice->step.node->child_count, &number)) {
        page_paragraph(practice->page, "Please type the number of the answer it matches, w (wrong), n (neither) or b (back).");
        return PRACTICE_ON;
    }
    return settle(practice, (double)(number - 1), "right", item, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- Levels -------------------------------------------------------------------------------------- */

static void show_levels(struct practice *practice)
{
    const struct node *node = practice->step.node;
    for (size_t i = node->level_count; i-- > 0;) {
        const struct level *level = &node->levels[i];
        char marker[48];
        snprintf(marker, sizeof marker, "Level %d, %d to %d:", level->number, level->from, level->to);
        page_item(practice->page, 0, marker, "%s", level->descriptor ? level->descriptor : "");
    }
    page_item(practice->page, 0, "0:", "nothing worth a mark");
    if (!node->indicative_count)
        return;
    page_paragraph(practice->page, "Content an answer may draw on (not a checklist):");
    for (size_t i = 0; i < node->indicative_count; i++) {
        page_item(practice->page, 0, "-", "%s", "");
        show_rich(practice->page, &node->indicative[i].text, &practice->script->values);
    }
}

void introduce_strand(struct practice *practice)
{
    const struct node *node = practice->step.node;
    if (practice->step.index == 0) {
        open_check(practice);
        show_levels(practice);
    }
    if (!node->strand_count) {
        page_paragraph(practice->page, "Read your answer as a whole. Which level fits it best?");
        return;
    }
    const struct strand *strand = &node->strands[practice->step.index];
    page_paragraph(practice->page, "Strand %zu of %zu, %s: which level fits?", practice->step.index + 1,
                   node->strand_count, strand->name);
    for (size_t i = 0; i < node->level_count; i++)
        if (strand->descriptors && strand->descriptors[i]) {
            char marker[24];
            snprintf(marker, sizeof marker, "%d", node->levels[i].number);
            page_item(practice->page, 0, marker, "%s", strand->descriptors[i]);
        }
}

void prompt_strand(struct practice *practice, struct buffer *out)
{
    buffer_print(out, "level, 0 to %zu", practice->step.node->level_count);
}

enum practice_result enter_strand(struct practice *practice, const char *line, bool pasted,
                                  struct messages *messages)
{
    (void)pasted;
    return settle_number(practice, line, 0, (long)practice->step.node->level_count, 0, messages);
}

void introduce_cap(struct practice *practice)
{
    const struct level_cap *cap = &practice->step.node->caps[practice->step.index];
    page_paragraph(practice->page, "Does this hold for your answer: %s? (then level %d is the most it can reach)",
                   cap->condition, cap->level);
}

enum practice_result enter_cap(struct practice *practice, const char *line, bool pasted,
                               struct messages *messages)
{
    (void)pasted;
    return settle_tick(practice, line, "y or n, or b to go back", true, messages);
}

/* ---- Quality ------------------------------------------------------------------------------------- */

void introduce_quality(struct practice *practice)
{
    const struct node *node = practice->step.node;
    open_check(practice);
    page_paragraph(practice->page, "Marks for the quality of the writing (none when the content earned none):");
    for (size_t i = 0; i < node->band_count; i++) {
        char marker[24];
        snprintf(marker, sizeof marker, "%d", node->bands[i].marks);
        page_item(practice->page, 0, marker, "%s", node->bands[i].descriptor ? node->bands[i].descriptor : "");
    }
    page_item(practice->page, 0, "0", "below that");
}

static int highest_band(const struct node *node)
{
    return node->band_count ? node->bands[0].marks : 0;
}

void prompt_quality(struct practice *practice, struct buffer *out)
{
    buffer_print(out, "marks, 0 to %d", highest_band(practice->step.node));
}

enum practice_result enter_quality(struct practice *practice, const char *line, bool pasted,
                                   struct messages *messages)
{
    (void)pasted;
    return settle_number(practice, line, 0, highest_band(practice->step.node), 0, messages);
}
