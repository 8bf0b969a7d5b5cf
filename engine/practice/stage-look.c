/* The second look: tick and writing side by side where they disagree, asked once; then what else the writing shows. */
#include <ctype.h>
#include <stdlib.h>

#include "answer/slips.h"
#include "base/text.h"
#include "practice/look.h"
#include "practice/machine.h"
#include "practice/mark.h"
#include "practice/show.h"
#include "quantity/unit.h"

static const struct point_evidence *evidence_in_hand(const struct practice *practice)
{
    return evidence_point(look_evidence(practice->script, practice->step.part), practice->step.node->id);
}

static bool is_first_look(const struct practice *practice)
{
    struct steps steps = {0};
    bool first = true;
    steps_of_ticking(practice->script, practice->step.part, &steps);
    for (size_t i = 0; i < steps.count; i++) {
        struct step look = {STEP_SECOND_LOOK, practice->step.part, steps.items[i].node, steps.items[i].index, NULL};
        bool looked_at = steps.items[i].kind == STEP_POINT || steps.items[i].kind == STEP_LIST_ITEM;
        first = first && !(looked_at && step_is_settled(practice->script, &look));
    }
    steps_free(&steps);
    return first;
}

static void ask_about_unit(struct practice *practice, const struct point_evidence *evidence)
{
    struct buffer wanted = BUFFER_EMPTY;
    unit_print(&wanted, evidence->point->number->unit);
    page_paragraph(practice->page, "Your unit \"%s\" is not clear. Did you mean %s?",
                   evidence->number->unit, buffer_text(&wanted));
    buffer_free(&wanted);
}

static void show_slips(struct practice *practice, size_t part, const struct point_evidence *evidence)
{
    struct evidence_ask ask = look_ask(practice->script, part);
    if (!evidence->number || evidence->number->value != VALUE_WRONG)
        return;
    struct slips slips = slips_find(&ask, evidence->point, evidence->number, practice->script->arena);
    for (size_t i = 0; i < slips.count; i++)
        page_item(practice->page, 0, "-", "%s%s.", i ? "or: " : slips.count > 1 ? "Either of two slips gives your number: " : "",
                  slips.items[i].sentence);
}

/* ---- Items of a list ------------------------------------------------------------------------------ */

static enum disagreement item_disagreement(const struct practice *practice, size_t *answer)
{
    return look_item_disagreement(practice->script, practice->step.part, practice->step.node, practice->step.index, answer);
}

static void add_answer(struct practice *practice, size_t answer)
{
    page_add(practice->page, STYLE_PLAIN, "%zu, ", answer + 1);
    show_rich(practice->page, &practice->step.node->children[answer].text, &practice->script->values);
}

static void introduce_item(struct practice *practice)
{
    const struct part_facts *facts = part_in_hand(practice);
    struct list_items items = list_items_of(facts, practice->script->arena);
    const struct choice *choice = facts_choice(facts, EVENT_LIST_JUDGED, step_item(practice->script, &practice->step), PASS_FIRST);
    size_t answer = 0;
    enum disagreement disagreement = item_disagreement(practice, &answer);
    page_gap(practice->page);
    page_fact(practice->page, "You wrote", "%s", items.items[practice->step.index]);
    page_fact(practice->page, "You said", "%s", disagreement != LOOK_ITEM_RIGHT ? "it is answer "
                                              : text_equal(choice->detail, "wrong") ? "wrong" : "neither right nor wrong");
    if (disagreement != LOOK_ITEM_RIGHT)
        add_answer(practice, (size_t)choice->number);
    page_fact(practice->page, "The writing", "%s", disagreement == LOOK_ITEM_WRONG ? "the scheme counts it as wrong" : "it looks like answer ");
    if (disagreement != LOOK_ITEM_WRONG)
        add_answer(practice, answer);
}

static void prompt_item(struct practice *practice, struct buffer *out)
{
    size_t answer = 0;
    if (item_disagreement(practice, &answer) == LOOK_ITEM_OTHER)
        buffer_print(out, "answer %zu after all? y n", answer + 1);
    else
        buffer_add(out, "right after all? y n");
}

/* ---- Asking --------------------------------------------------------------------------------------- */

static void introduce_point(struct practice *practice)
{
    const struct point_evidence *evidence = evidence_in_hand(practice);
    enum disagreement disagreement = look_disagreement(practice->script, practice->step.part, practice->step.node);
    struct buffer quotes = BUFFER_EMPTY;
    page_paragraph(practice->page, "%s", "");
    show_rich(practice->page, &practice->step.node->text, &practice->script->values);
    if (disagreement == LOOK_UNIT_UNCLEAR) {
        ask_about_unit(practice, evidence);
        return;
    }
    look_add_quotes(part_in_hand(practice), evidence->quotes, evidence->quote_count, &quotes);
    page_fact(practice->page, "You said", "%s", disagreement == LOOK_TICKED_NOT_SHOWN ? "earned" : "not earned, or not sure");
    page_fact(practice->page, "The writing", "%s", evidence->reason);
    if (quotes.length)
        page_fact(practice->page, "In it", "%s", buffer_text(&quotes));
    show_slips(practice, practice->step.part, evidence);
    buffer_free(&quotes);
}

void introduce_look(struct practice *practice)
{
    if (is_first_look(practice)) {
        page_heading(practice->page, 3, "Second look");
        page_paragraph(practice->page, "Your ticks are set against your writing. Where they disagree you are asked once; your word "
                                       "stands.");
    }
    if (practice->step.node->kind == NODE_LIST)
        introduce_item(practice);
    else
        introduce_point(practice);
}

void prompt_look(struct practice *practice, struct buffer *out)
{
    if (practice->step.node->kind == NODE_LIST) {
        prompt_item(practice, out);
        return;
    }
    enum disagreement disagreement = look_disagreement(practice->script, practice->step.part, practice->step.node);
    buffer_add(out, disagreement == LOOK_UNIT_UNCLEAR ? "y n" : "earned after all? y n");
}

static bool note_look(struct practice *practice, const char *detail, struct messages *messages)
{
    struct event event = event_blank(EVENT_SECOND_LOOK);
    event.item = step_item(practice->script, &practice->step);
    event.pass = PASS_FIRST;
    event.detail = detail;
    return note(practice, event, messages);
}

static bool note_final_tick(struct practice *practice, bool earned, struct messages *messages)
{
    struct event event = event_blank(EVENT_POINT_TICKED);
    event.item = practice->step.node->id;
    event.pass = PASS_FINAL;
    event.detail = earned ? "yes" : "no";
    return note(practice, event, messages);
}

static bool settle_point(struct practice *practice, bool yes, struct messages *messages)
{
    enum disagreement disagreement = look_disagreement(practice->script, practice->step.part, practice->step.node);
    if (disagreement == LOOK_UNIT_UNCLEAR)
        return note_look(practice, yes ? "same-unit" : "other-unit", messages);
    bool changed = yes != (disagreement == LOOK_TICKED_NOT_SHOWN);
    return (!changed || note_final_tick(practice, yes, messages)) && note_look(practice, changed ? "changed" : "kept", messages);
}

static bool settle_item(struct practice *practice, bool yes, struct messages *messages)
{
    size_t answer = 0;
    bool said_right = item_disagreement(practice, &answer) == LOOK_ITEM_WRONG, changed = yes != said_right;
    struct list_items items = list_items_of(part_in_hand(practice), practice->script->arena);
    struct event event = event_blank(EVENT_LIST_JUDGED);
    event.item = step_item(practice->script, &practice->step);
    event.pass = PASS_FINAL;
    event.detail = said_right ? "wrong" : "right";
    event.text = items.items[practice->step.index];
    if (!said_right)
        event.number = (double)answer;
    return (!changed || note(practice, event, messages)) && note_look(practice, changed ? "changed" : "kept", messages);
}

enum practice_result enter_look(struct practice *practice, const char *line, bool pasted, struct messages *messages)
{
    (void)pasted;
    bool yes = text_equal_ignoring_case(line, "y") || text_equal_ignoring_case(line, "yes");
    bool no = text_equal_ignoring_case(line, "n") || text_equal_ignoring_case(line, "no");
    if (!yes && !no) {
        page_paragraph(practice->page, "Please type y or n.");
        return PRACTICE_ON;
    }
    bool noted = practice->step.node->kind == NODE_LIST ? settle_item(practice, yes, messages)
                                                        : settle_point(practice, yes, messages);
    return noted ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- What the writing shows ----------------------------------------------------------------------- */

static void add_quoted(struct practice *practice, size_t part, const struct quote *quotes, size_t count)
{
    struct buffer text = BUFFER_EMPTY;
    look_add_quotes(&practice->script->parts[part], quotes, count, &text);
    page_add(practice->page, STYLE_PLAIN, "%s", buffer_text(&text));
    buffer_free(&text);
}

static void show_needs(struct practice *practice, const struct evidence *evidence)
{
    for (size_t i = 0; i < evidence->need_count; i++)
        if (!evidence->needs[i].met)
            page_item(practice->page, 0, "-", "%c%s.", toupper((unsigned char)*evidence->needs[i].reason), evidence->needs[i].reason + 1);
}

static void show_vague(struct practice *practice, size_t part, const struct evidence *evidence)
{
    enum { VAGUE_SHOWN = 3 };
    for (size_t i = 0; i < evidence->vague_count && i < VAGUE_SHOWN; i++) {
        page_item(practice->page, 0, "-", "Vague: ");
        add_quoted(practice, part, &evidence->vague[i].at, 1);
        page_add(practice->page, STYLE_PLAIN, ": %s", evidence->vague[i].question);
    }
}

static void show_indicative(struct practice *practice, size_t part)
{
    struct evidence_ask ask = look_ask(practice->script, part);
    size_t count = 0, touched = 0;
    const struct point_evidence *points = evidence_indicative(&ask, practice_answer(practice, part), &count,
                                                              practice->script->arena);
    for (size_t i = 0; i < count; i++)
        touched += points[i].verdict == LOOKS_EARNED;
    if (count)
        page_item(practice->page, 0, "-", "Of %zu things the answer could draw on, %zu can be recognised in it.", count, touched);
}

void show_writing(struct practice *practice, size_t part)
{
    const struct evidence *evidence = look_evidence(practice->script, part);
    const struct part *asked = practice->script->parts[part].part;
    struct page *whole = practice->page, *found = page_new();
    if (evidence->blank) {
        page_free(found);
        return;
    }
    practice->page = found;
    for (size_t i = 0; i < evidence->point_count; i++) {
        struct step look = {STEP_SECOND_LOOK, part, evidence->points[i].point, 0, NULL};
        if (!step_is_settled(practice->script, &look))      /* else they were shown there */
            show_slips(practice, part, &evidence->points[i]);
    }
    if (asked->marks > 1) {
        show_needs(practice, evidence);
        if (evidence->stem_words >= 4) {
            page_item(practice->page, 0, "-", "The first %zu words only repeat the question: ", evidence->stem_words);
            add_quoted(practice, part, &evidence->stem, 1);
        }
        if (evidence->too_few)
            page_item(practice->page, 0, "-", "%s for %s.", text_count((long)evidence->statements, "statement", "statements"),
                      text_count(evidence->marks, "mark", "marks"));
        show_vague(practice, part, evidence);
        show_indicative(practice, part);
    }
    practice->page = whole;
    if (found->count) {
        page_heading(practice->page, 3, "What your writing shows");
        page_append(practice->page, found);
    }
    page_free(found);
}

bool note_evidence(struct practice *practice, size_t part, struct messages *messages)
{
    const struct evidence *evidence = look_evidence(practice->script, part);
    for (size_t i = 0; i < evidence->point_count; i++) {
        const struct point_evidence *point = &evidence->points[i];
        struct buffer quotes = BUFFER_EMPTY;
        struct event event = event_blank(EVENT_EVIDENCE_SHOWN);
        if (point->ground == GROUND_BLANK || point->ground == GROUND_NONE)
            continue;
        look_add_quotes(&practice->script->parts[part], point->quotes, point->quote_count, &quotes);
        event.part = practice->script->parts[part].part->id;
        event.item = point->point->id;
        event.pass = PASS_FIRST;
        event.detail = evidence_verdict_name(point->verdict);
        event.text = buffer_text(&quotes);
        bool noted = note(practice, event, messages);
        buffer_free(&quotes);
        if (!noted)
            return false;
    }
    return true;
}
