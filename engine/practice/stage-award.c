/* Check, second half: the award with its reasons, the causes of lost marks, the model answer, putting it right. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/dates.h"
#include "base/text.h"
#include "marking/cause.h"
#include "practice/look.h"
#include "practice/machine.h"
#include "practice/mark.h"
#include "practice/show.h"

/* ---- Best fit ------------------------------------------------------------------------------------ */

void introduce_best_fit(struct practice *practice)
{
    struct award_levels proxy = mark_level_proxy(practice->script, practice->step.part, practice->step.node);
    page_paragraph(practice->page, "By the levels you gave this is level %d: %s. Enter keeps it; or type the marks that "
                                   "fit the whole answer better.",
                   proxy.level, text_count(proxy.proxy, "mark", "marks"));
}

static long highest_level_mark(const struct node *node)
{
    return node->levels[node->level_count - 1].to;
}

void prompt_best_fit(struct practice *practice, struct buffer *out)
{
    buffer_print(out, "Enter, or marks 0 to %ld", highest_level_mark(practice->step.node));
}

enum practice_result enter_best_fit(struct practice *practice, const char *line, bool pasted,
                                    struct messages *messages)
{
    (void)pasted;
    const struct node *node = practice->step.node;
    struct event event = event_blank(EVENT_LEVEL_CHOSEN);
    event.item = node->id;
    event.pass = PASS_FIRST;
    event.detail = "proxy";
    if (text_equal_ignoring_case(line, "b")) {
        back_over_tick(practice, messages);
        return PRACTICE_ON;
    }
    if (!text_is_blank(line)) {
        char *end;
        long marks = strtol(line, &end, 10), most = highest_level_mark(node);
        if (end == line || !text_is_blank(end) || marks < 0 || marks > most) {
            page_paragraph(practice->page, "Please type marks from 0 to %ld, or Enter to keep %d, or b to go back.", most,
                           mark_level_proxy(practice->script, practice->step.part, node).proxy);
            return PRACTICE_ON;
        }
        event.number = (double)marks;
        event.detail = "best fit";
    }
    return note(practice, event, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- The award ----------------------------------------------------------------------------------- */

/* The other point that the reason speaks of, in its own words. */
static void add_rests_on(struct practice *practice, const struct award_line *line)
{
    for (size_t part = 0; line->rests_on && part < practice->script->question->part_count; part++) {
        const struct node *point = scheme_find(&practice->script->parts[part].part->scheme.root, line->rests_on);
        if (!point)
            continue;
        char *words = show_plain(&point->text, &practice->script->values);
        page_add(practice->page, STYLE_PLAIN, " (%s)", text_trim(words));
        free(words);
        return;
    }
}

static void show_slot(struct practice *practice, const struct award *award, size_t slot)
{
    const struct award_line *line = mark_slot(award, slot);
    struct buffer words = BUFFER_EMPTY;
    char marks[32];
    snprintf(marks, sizeof marks, "%d of %d", line->marks, line->maximum);
    mark_slot_words(practice->script, award, slot, &words);
    page_item(practice->page, 0, marks, "%s: ", buffer_text(&words));
    buffer_free(&words);
    page_add(practice->page, line->marks < line->maximum ? STYLE_BAD : STYLE_GOOD, "%s", line->text);
    add_rests_on(practice, line);
}

void show_award(struct practice *practice, size_t part)
{
    const struct part_facts *facts = &practice->script->parts[part];
    const struct award *award = mark_award(practice->script, part, PASS_FINAL, practice->script->arena);
    page_gap(practice->page);
    page_heading(practice->page, 3, "Award%s%s%s: %d of %d", practice->script->question->part_count > 1 ? " for (" : "",
                 practice->script->question->part_count > 1 ? facts->part->id : "",
                 practice->script->question->part_count > 1 ? ")" : "", award->marks, award->maximum);
    if (award->no_response)
        page_paragraph(practice->page, "No response: recorded as blank, which is not the same as a wrong answer. This is "
                                       "what would have earned marks:");
    for (size_t slot = 0; slot < mark_slot_count(award); slot++)
        show_slot(practice, award, slot);
    for (size_t i = 0; i < award->line_count; i++)
        if (award->lines[i].maximum == 0)
            page_item(practice->page, 0, "note", "%s", award->lines[i].text);
    if (!isnan(facts->predicted))
        page_paragraph(practice->page, "You predicted %g and earned %d.", facts->predicted, award->marks);
    if (award->marks == award->maximum)
        page_paragraph(practice->page, "Every mark earned.");
}

static void show_model(struct practice *practice, size_t part)
{
    const struct part *asked = practice->script->parts[part].part;
    const char *folder = bank_folder(practice->bank);
    if (asked->model.count) {
        page_heading(practice->page, 3, "Model answer");
        show_blocks(practice->page, &asked->model, &practice->script->values, folder, 1);
    }
    if (asked->note.count) {
        page_heading(practice->page, 3, "Note");
        show_blocks(practice->page, &asked->note, &practice->script->values, folder, 0);
    }
}

bool award_part(struct practice *practice, size_t part, struct messages *messages)
{
    struct script *script = practice->script;
    const struct award *first = mark_award(script, part, PASS_FIRST, script->arena);
    const struct award *final = mark_award(script, part, PASS_FINAL, script->arena);
    struct buffer reasons = BUFFER_EMPTY;
    mark_reasons(final, &reasons);
    struct event event = event_blank(EVENT_AWARDED);
    event.part = script->parts[part].part->id;
    event.pass = PASS_FIRST;
    event.number = first->marks;
    bool noted = note(practice, event, messages);
    event.pass = PASS_FINAL;
    event.number = final->marks;
    event.text = buffer_text(&reasons);
    noted = noted && note(practice, event, messages);
    buffer_free(&reasons);
    noted = noted && note_evidence(practice, part, messages);
    if (!noted || script->parts[part].skipped[STAGE_CHECK])
        return noted;
    if (practice->mock && final->no_response)
        show_ask(practice->page, script->question, script->parts[part].part, &script->values, bank_folder(practice->bank));
    show_award(practice, part);
    show_writing(practice, part);
    if (final->no_response || final->marks == final->maximum)
        show_model(practice, part);
    return true;
}

/* ---- Causes -------------------------------------------------------------------------------------- */

/* The slot's line when it lost marks, else NULL. */
static const struct award_line *lost_line(const struct award *award, size_t slot)
{
    const struct award_line *line = mark_slot(award, slot);
    return line->marks < line->maximum ? line : NULL;
}

struct step step_after_award(const struct practice *practice, size_t part)
{
    const struct script *script = practice->script;
    const struct part_facts *facts = &script->parts[part];
    const struct award *award = mark_award(script, part, PASS_FINAL, script->arena);
    if (facts->skipped[STAGE_CHECK] || award->marks == award->maximum)
        return (struct step){STEP_DONE, 0, NULL, 0, NULL};
    for (size_t slot = 0; !award->no_response && slot < mark_slot_count(award); slot++) {
        struct step step = {STEP_CAUSE, part, NULL, slot, mark_slot_id(award, slot, script->arena)};
        if (lost_line(award, slot) && !step_is_settled(script, &step))
            return step;
    }
    struct step rewrite = {STEP_REWRITE, part, NULL, 0, NULL};
    return step_is_settled(script, &rewrite) ? (struct step){STEP_DONE, 0, NULL, 0, NULL} : rewrite;
}

static const struct award_line *line_in_hand(const struct practice *practice)
{
    const struct award *award = mark_award(practice->script, practice->step.part, PASS_FINAL, practice->script->arena);
    return lost_line(award, practice->step.index);
}

/* For a slot that stands for no single point: what the whole answer lacks. */
static enum cause cause_of_whole(const struct evidence *evidence, const char **because)
{
    static const struct { enum command_need need; enum cause cause; } causes[] = {
        {NEED_JUDGEMENT, CAUSE_NO_JUDGEMENT}, {NEED_BOTH_SIDES, CAUSE_ONE_SIDED}, {NEED_FOR_AND_AGAINST, CAUSE_ONE_SIDED},
    };
    for (size_t k = 0; k < sizeof causes / sizeof *causes; k++)
        for (size_t i = 0; i < evidence->need_count; i++)
            if (evidence->needs[i].need == causes[k].need && !evidence->needs[i].met) {
                *because = evidence->needs[i].reason;
                return causes[k].cause;
            }
    return evidence->too_few ? CAUSE_POINTS : CAUSE_NONE;
}

/* The likeliest cause, and a sentence that says why it is proposed (NULL when there is none). */
static enum cause proposed_cause(const struct practice *practice, const char **because)
{
    const struct award_line *line = line_in_hand(practice);
    const struct script *script = practice->script;
    const struct evidence *evidence = look_evidence(script, practice->step.part);
    struct evidence_ask ask = look_ask(script, practice->step.part);
    enum cause cause = CAUSE_NONE;
    *because = NULL;
    for (size_t i = 0; i < evidence->point_count && cause == CAUSE_NONE; i++)
        if (evidence->points[i].point == line->node)
            cause = evidence_cause(&ask, evidence, i, line->reason, because, script->arena);
    if (cause == CAUSE_NONE)
        cause = cause_of_reason(line->reason);
    if (cause == CAUSE_NONE && line->point == AWARD_NO_POINT)
        cause = cause_of_whole(evidence, because);
    return cause == CAUSE_NONE ? CAUSE_KNOWLEDGE : cause;
}

void show_causes(struct practice *practice)
{
    page_paragraph(practice->page, "%s", "");
    for (int cause = CAUSE_KNOWLEDGE; cause < CAUSE_BLANK; cause++)
        page_add(practice->page, STYLE_PLAIN, "%s%d\u00a0%s", cause > CAUSE_KNOWLEDGE ? ",  " : "", cause,
                 cause_text((enum cause)cause)->title);
}

/* The settled cause nearest before the one in hand. */
static bool cause_before(const struct practice *practice, struct step *earlier)
{
    const struct script *script = practice->script;
    const struct award *award = mark_award(script, practice->step.part, PASS_FINAL, script->arena);
    for (size_t slot = practice->step.index; slot-- > 0;) {
        *earlier = (struct step){STEP_CAUSE, practice->step.part, NULL, slot, mark_slot_id(award, slot, script->arena)};
        if (step_is_settled(script, earlier))
            return true;
    }
    return false;
}

void introduce_cause(struct practice *practice)
{
    const struct award_line *line = line_in_hand(practice);
    struct step earlier;
    if (!cause_before(practice, &earlier)) {
        page_heading(practice->page, 3, "Why was it lost?");
        show_causes(practice);
    }
    struct buffer words = BUFFER_EMPTY;
    const struct award *award = mark_award(practice->script, practice->step.part, PASS_FINAL, practice->script->arena);
    mark_slot_words(practice->script, award, practice->step.index, &words);
    page_paragraph(practice->page, "Lost (%s): %s", text_count(line->maximum - line->marks, "mark", "marks"),
                   buffer_text(&words));
    buffer_free(&words);
    const char *because;
    enum cause proposed = proposed_cause(practice, &because);
    if (because)
        page_paragraph(practice->page, "Likely: %d %s, because %s. (Enter: %d)", (int)proposed, cause_text(proposed)->title,
                       because, (int)proposed);
    else
        page_add(practice->page, STYLE_QUIET, " (Enter: %d %s)", (int)proposed, cause_text(proposed)->title);
}

static enum cause cause_typed(const char *line, enum cause proposed)
{
    char *end;
    long number = strtol(line, &end, 10);
    if (text_is_blank(line))
        return proposed;
    if (end != line && text_is_blank(end))
        return number >= CAUSE_KNOWLEDGE && number < CAUSE_BLANK ? (enum cause)number : CAUSE_NONE;
    enum cause cause = cause_from_label(line);
    return cause < CAUSE_BLANK ? cause : CAUSE_NONE;
}

enum practice_result enter_cause(struct practice *practice, const char *line, bool pasted,
                                 struct messages *messages)
{
    (void)pasted;
    const char *because;
    enum cause proposed = proposed_cause(practice, &because), cause = cause_typed(line, proposed);
    if (text_equal_ignoring_case(line, "b")) {
        back_over_cause(practice, messages);
        return PRACTICE_ON;
    }
    if (cause == CAUSE_NONE) {
        page_paragraph(practice->page, "Please type a number from 1 to %d, or Enter for %d.", CAUSE_BLANK - 1,
                       (int)proposed);
        return PRACTICE_ON;
    }
    struct event event = event_blank(EVENT_CAUSE_GIVEN);
    event.item = step_item(practice->script, &practice->step);
    event.pass = PASS_FIRST;
    event.detail = cause_text(cause)->label;
    event.text = cause_text(proposed)->label;
    if (!note(practice, event, messages))
        return PRACTICE_FAILED;
    page_paragraph(practice->page, "%s", cause_text(cause)->remedy);
    return PRACTICE_ON;
}

void back_over_cause(struct practice *practice, struct messages *messages)
{
    struct step earlier;
    if (!cause_before(practice, &earlier)) {
        page_paragraph(practice->page, "This is the first lost mark.");
        return;
    }
    struct event event = event_blank(EVENT_CAUSE_GIVEN);
    event.item = earlier.item;
    event.pass = PASS_FIRST;
    event.detail = "";
    note(practice, event, messages);
}

/* ---- Putting it right ---------------------------------------------------------------------------- */

/* What a full answer does in the strands that were rated below the highest level. */
static void show_levels_missed(struct practice *practice, const struct node *node)
{
    const struct level *highest = &node->levels[node->level_count - 1];
    bool any = false;
    for (size_t i = 0; i < node->strand_count; i++) {
        const char *words = node->strands[i].descriptors ? node->strands[i].descriptors[node->level_count - 1] : NULL;
        if (mark_strand_rating(practice->script, practice->step.part, node, i) >= (int)node->level_count || !words)
            continue;
        page_item(practice->page, 0, "-", "%s: %s", node->strands[i].name, words);
        any = true;
    }
    if (!any)
        page_item(practice->page, 0, "-", "%s", highest->descriptor);
}

/* The right value, which the model answer has and the words of the point have not. */
static void add_right_value(struct practice *practice, const struct node *point)
{
    struct buffer value = BUFFER_EMPTY;
    struct follow follow = marking_follow(&practice->script->values, point, NULL, 0, practice->script->arena);
    if (isfinite(follow.scheme_value)) {
        show_right_value(&value, point->number, follow.scheme_value);
        page_add(practice->page, STYLE_PLAIN, ": %s", buffer_text(&value));
    }
    buffer_free(&value);
}

static void show_missed(struct practice *practice)
{
    const struct award *award = mark_award(practice->script, practice->step.part, PASS_FINAL, practice->script->arena);
    for (size_t slot = 0; slot < mark_slot_count(award); slot++) {
        struct buffer words = BUFFER_EMPTY;
        const struct award_line *line = lost_line(award, slot);
        if (!line)
            continue;
        if (line->node->kind == NODE_LEVELS) {
            show_levels_missed(practice, line->node);
            continue;
        }
        mark_slot_words(practice->script, award, slot, &words);
        page_item(practice->page, 0, "-", "%s", buffer_text(&words));
        buffer_free(&words);
        if (line->node->kind == NODE_POINT && line->node->number)
            add_right_value(practice, line->node);
        if (line->node->kind == NODE_QUALITY && line->node->band_count && line->node->bands[0].descriptor)
            page_add(practice->page, STYLE_PLAIN, ": %s", line->node->bands[0].descriptor);
    }
}

void introduce_rewrite(struct practice *practice)
{
    const struct part_facts *facts = part_in_hand(practice);
    if (!facts->no_response)
        show_model(practice, practice->step.part);
    page_heading(practice->page, 3, "Put it right");
    if (practice->script->question->part_count > 1)
        page_paragraph(practice->page, "Missed in part (%s):", facts->part->id);
    else
        page_paragraph(practice->page, "Missed:");
    show_missed(practice);
    page_paragraph(practice->page, "Read it once more. Press Enter and it goes out of sight; then write the missed points "
                                   "from memory. (.skip goes on without.)");
}

static enum practice_result finish_rewrite(struct practice *practice, struct messages *messages)
{
    bool written = !text_is_blank(buffer_text(&part_in_hand(practice)->texts[TEXT_REWRITE]));
    if (!note_text(practice, TEXT_REWRITE, "=", NULL, messages))
        return PRACTICE_FAILED;
    if (written) {
        page_paragraph(practice->page, "Compare what you wrote with:");
        show_missed(practice);
    }
    return PRACTICE_ON;
}

enum practice_result enter_rewrite(struct practice *practice, const char *line, bool pasted,
                                   struct messages *messages)
{
    if (!pasted && strcmp(line, ".") == 0)
        return finish_rewrite(practice, messages);
    if (!practice->rewrite_ready && text_is_blank(line)) {
        practice->rewrite_ready = true;
        practice->clear_screen = true;
        page_paragraph(practice->page, "Now write the missed points without looking; a full stop alone on a line "
                                       "finishes.");
        return PRACTICE_ON;
    }
    practice->rewrite_ready = true;
    return note_text(practice, TEXT_REWRITE, "+", line, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}
