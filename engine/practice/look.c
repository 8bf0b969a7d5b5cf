#include "practice/look.h"

#include <string.h>

#include "base/text.h"
#include "practice/mark.h"

/* What was written for each part, for follow-through; NULL where nothing was. */
static const char *const *answers_of(const struct script *script)
{
    const char **answers = arena_get_array(script->arena, script->question->part_count, sizeof *answers);
    for (size_t i = 0; i < script->question->part_count; i++)
        if (!script->parts[i].no_response && script->parts[i].texts[TEXT_ANSWER].length)
            answers[i] = buffer_text(&script->parts[i].texts[TEXT_ANSWER]);
    return answers;
}

struct evidence_ask look_ask(const struct script *script, size_t part)
{
    struct evidence_ask ask = {
        .course = script->course,
        .question = script->question,
        .part = script->parts[part].part,
        .values = &script->values,
    };
    ask.own = answer_own_values(script->course, script->question, &script->values, answers_of(script), part,
                                &ask.own_count, script->arena);
    return ask;
}

const struct evidence *look_evidence(const struct script *script, size_t part)
{
    struct part_facts *facts = &script->parts[part];
    if (!facts->evidence) {
        struct evidence_ask ask = look_ask(script, part);
        facts->evidence = evidence_of(&ask, buffer_text(&facts->texts[TEXT_ANSWER]), script->arena);
    }
    return facts->evidence;
}

enum unit_shown look_unit(const struct part_facts *facts, const struct point_evidence *evidence)
{
    if (!evidence->number || evidence->number->unit_shown != UNIT_UNCLEAR)
        return evidence->number ? evidence->number->unit_shown : UNIT_NOT_LOOKED_AT;
    const struct choice *choice = facts_choice(facts, EVENT_SECOND_LOOK, evidence->point->id, PASS_FIRST);
    if (!choice)
        return UNIT_UNCLEAR;
    return text_equal(choice->detail, "other-unit") ? UNIT_WRONG : UNIT_FITS;
}

static bool is_unclear_unit(const struct point_evidence *evidence, bool ticked)
{
    const struct number_evidence *number = evidence->number;
    return ticked && number && number->found && number->unit_shown == UNIT_UNCLEAR && *number->unit &&
           number->value != VALUE_WRONG;
}

/* A right answer without working gives its method whatever was ticked: there is nothing to ask. */
static bool is_given_anyway(const struct script *script, size_t part, const struct node *point)
{
    const struct award *award = mark_award(script, part, PASS_FIRST, script->arena);
    for (size_t i = 0; i < award->line_count; i++)
        if (award->lines[i].node == point && award->lines[i].marks > 0)
            return true;
    return false;
}

enum disagreement look_disagreement(const struct script *script, size_t part, const struct node *point)
{
    const struct point_evidence *evidence = evidence_point(look_evidence(script, part), point->id);
    const struct choice *tick = facts_choice(&script->parts[part], EVENT_POINT_TICKED, point->id, PASS_FIRST);
    if (!evidence || !tick)
        return LOOK_AGREES;
    bool ticked = text_equal(tick->detail, "yes");
    if (is_unclear_unit(evidence, ticked))
        return LOOK_UNIT_UNCLEAR;
    if (ticked && evidence->verdict == LOOKS_NOT_EARNED)
        return LOOK_TICKED_NOT_SHOWN;
    return !ticked && evidence->verdict == LOOKS_EARNED && !is_given_anyway(script, part, point) ? LOOK_SHOWN_NOT_TICKED
                                                                                               : LOOK_AGREES;
}

static const struct choice *item_choice(const struct script *script, size_t part, const struct node *list, size_t index)
{
    return facts_choice(&script->parts[part], EVENT_LIST_JUDGED, facts_item(script->arena, list->id, "item", index), PASS_FIRST);
}

static bool is_matched(const struct choice *choice, size_t answer)
{
    return choice && text_equal(choice->detail, "right") && (size_t)choice->number == answer;
}

/* Was the answer matched with another item, as it stands now? Then this one is a repeat, and rightly passed over. */
static bool is_taken(const struct script *script, size_t part, const struct node *list, size_t items, size_t answer)
{
    for (size_t i = 0; i < items; i++) {
        const struct choice *changed = facts_choice(&script->parts[part], EVENT_LIST_JUDGED,
                                                    facts_item(script->arena, list->id, "item", i), PASS_FINAL);
        if (is_matched(changed ? changed : item_choice(script, part, list, i), answer))
            return true;
    }
    return false;
}

enum disagreement look_item_disagreement(const struct script *script, size_t part, const struct node *list, size_t index,
                                         size_t *answer)
{
    struct list_items items = list_items_of(&script->parts[part], script->arena);
    struct evidence_ask ask = look_ask(script, part);
    const struct choice *choice = item_choice(script, part, list, index);
    if (!choice || index >= items.count)
        return LOOK_AGREES;
    struct item_evidence evidence = evidence_item(&ask, list, items.items[index], script->arena);
    bool matched = text_equal(choice->detail, "right");
    *answer = evidence.answer;
    if (evidence.verdict == LOOKS_NOT_EARNED && matched)
        return LOOK_ITEM_WRONG;
    if (evidence.verdict != LOOKS_EARNED || is_matched(choice, evidence.answer))
        return LOOK_AGREES;
    if (matched)
        return LOOK_ITEM_OTHER;
    return is_taken(script, part, list, items.count, evidence.answer) ? LOOK_AGREES : LOOK_ITEM_RIGHT;
}

static bool disagrees(const struct script *script, const struct step *ticked)
{
    size_t answer;
    if (ticked->kind == STEP_LIST_ITEM)
        return look_item_disagreement(script, ticked->part, ticked->node, ticked->index, &answer) != LOOK_AGREES;
    return ticked->kind == STEP_POINT && look_disagreement(script, ticked->part, ticked->node) != LOOK_AGREES;
}

bool look_next(const struct script *script, size_t part, struct step *step)
{
    struct steps steps = {0};
    bool found = false;
    steps_of_ticking(script, part, &steps);
    for (size_t i = 0; i < steps.count && !found; i++) {
        struct step look = {STEP_SECOND_LOOK, part, steps.items[i].node, steps.items[i].index, NULL};
        found = !step_is_settled(script, &look) && disagrees(script, &steps.items[i]);
        if (found)
            *step = look;
    }
    steps_free(&steps);
    return found;
}

void look_add_quotes(const struct part_facts *facts, const struct quote *quotes, size_t count, struct buffer *out)
{
    const char *answer = buffer_text(&facts->texts[TEXT_ANSWER]);
    for (size_t i = 0; i < count; i++) {
        buffer_add(out, i ? " … \"" : "\"");
        buffer_add_bytes(out, answer + quotes[i].start, quotes[i].length);
        buffer_add(out, "\"");
    }
}
