/* What can be typed at every prompt: help, and the words that are instructions. */
#include <string.h>

#include "practice/mock-inner.h"
#include "practice/show.h"

static void explain_instructions(struct practice *practice)
{
    const struct step_rule *rule = practice->position == AT_STEP ? step_rule_of(practice->step.kind) : NULL;
    page_heading(practice->page, 3, "Help");
    if (mock_is_sat(practice)) {
        mock_help(practice);
        return;
    }
    if (practice->position == AT_RATING)
        rating_help(practice);
    else
        page_paragraph(practice->page, "%s", rule ? rule->help : "Enter goes on to the next question.");
    if (practice->position == AT_STEP && practice->step.kind == STEP_CAUSE)
        show_causes(practice);
    page_fact(practice->page, ".leave", practice->position == AT_RATING
                                            ? "ends the sitting here" : "stop here; %s goes on at this place later",
              practice->mock ? "ownmark mock" : "ownmark practise");
    if (practice->position != AT_STEP)
        return;
    page_fact(practice->page, ".skip", "skip this stage on purpose");
    page_fact(practice->page, ".question", "show the question again");
    page_fact(practice->page, ".answer", "show your answer so far");
    page_fact(practice->page, ".sheet", "show the data sheet");
    if (rule && rule->go_back)
        page_fact(practice->page, ".back", "go back one line or one decision");
    if (rule && rule->clock) {
        page_fact(practice->page, ".edit", "write in your editor ($VISUAL or $EDITOR)");
        page_fact(practice->page, ".clock", "hide or show the clock");
    }
}

static enum practice_result skip(struct practice *practice, struct messages *messages)
{
    static const enum stage stage_of[] = {
        [STEP_WORD] = STAGE_READ, [STEP_GIVENS] = STAGE_READ, [STEP_WANTED] = STAGE_READ,
        [STEP_PLAN] = STAGE_PLAN, [STEP_PREDICT] = STAGE_PLAN, [STEP_ANSWER] = STAGE_ANSWER,
    };
    enum step_kind kind = practice->step.kind;
    if (kind == STEP_REWRITE)
        return note_text(practice, TEXT_REWRITE, "=", NULL, messages) ? PRACTICE_ON : PRACTICE_FAILED;
    if (kind == STEP_ANSWER) {
        practice->blank_warned = true;
        return enter_answer(practice, ".", false, messages);
    }
    struct event event = event_blank(EVENT_STAGE_SKIPPED);
    event.detail = stage_name(kind > STEP_ANSWER ? STAGE_CHECK : stage_of[kind]);
    return note(practice, event, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

static enum practice_result instruct_leave(struct practice *practice, struct messages *messages)
{
    (void)messages;
    practice_leave(practice);
    return PRACTICE_ON;
}

static enum practice_result instruct_sheet(struct practice *practice, struct messages *messages)
{
    (void)messages;
    show_data_sheet(practice->page, practice->script->course);
    return PRACTICE_ON;
}

static enum practice_result instruct_question(struct practice *practice, struct messages *messages)
{
    (void)messages;
    const struct script *script = practice->script;
    show_question(practice->page, script->course, script->question, &script->values, bank_folder(practice->bank),
                  practice->number, question_allowed(practice, script->question));
    for (size_t i = 0; i < script->question->part_count; i++)
        show_ask(practice->page, script->question, &script->question->parts[i], &script->values,
                 bank_folder(practice->bank));
    return PRACTICE_ON;
}

static enum practice_result instruct_answer(struct practice *practice, struct messages *messages)
{
    (void)messages;
    const char *answer = buffer_text(&part_in_hand(practice)->texts[TEXT_ANSWER]);
    page_paragraph(practice->page, *answer ? "Your answer:" : "You have not written anything yet.");
    if (*answer)
        show_written(practice, practice->step.part, answer);
    return PRACTICE_ON;
}

static enum practice_result instruct_back(struct practice *practice, struct messages *messages)
{
    const struct step_rule *rule = step_rule_of(practice->step.kind);
    if (rule->go_back)
        rule->go_back(practice, messages);
    else
        page_paragraph(practice->page, "There is nothing to go back to here.");
    return PRACTICE_ON;
}

static enum practice_result instruct_edit(struct practice *practice, struct messages *messages)
{
    (void)messages;
    if (step_rule_of(practice->step.kind)->clock)
        return PRACTICE_EDIT;
    page_paragraph(practice->page, "The editor is for answers.");
    return PRACTICE_ON;
}

static enum practice_result instruct_clock(struct practice *practice, struct messages *messages)
{
    (void)messages;
    practice->clock_hidden = !practice->clock_hidden;
    page_paragraph(practice->page, practice->clock_hidden ? "The clock is hidden; it still counts."
                                                          : "The clock is shown.");
    return PRACTICE_ON;
}

static const struct instruction {
    const char *word;
    bool inside_question;
    enum practice_result (*run)(struct practice *practice, struct messages *messages);
} instructions[] = {
    {".leave", false, instruct_leave},       {".skip", true, skip},
    {".sheet", true, instruct_sheet},        {".question", true, instruct_question},
    {".answer", true, instruct_answer},      {".back", true, instruct_back},
    {".edit", true, instruct_edit},          {".clock", true, instruct_clock},
};

static const struct instruction *instruction_of(const struct practice *practice, const char *line)
{
    for (size_t i = 0; i < sizeof instructions / sizeof *instructions; i++)
        if (strcmp(line, instructions[i].word) == 0 &&
            (practice->position == AT_STEP || !instructions[i].inside_question))
            return &instructions[i];
    return NULL;
}

bool run_instruction(struct practice *practice, const char *line, enum practice_result *result, struct messages *messages)
{
    const struct instruction *instruction = instruction_of(practice, line);
    *result = PRACTICE_ON;
    if (mock_is_sat(practice) && mock_instruct(practice, line, result, messages))
        return true;
    if (strcmp(line, "?") == 0)
        explain_instructions(practice);
    else if (instruction)
        *result = instruction->run(practice, messages);
    else
        return false;
    return true;
}
