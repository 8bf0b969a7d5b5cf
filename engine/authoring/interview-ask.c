/* What is asked, word by word: the prompt, what Tab completes, what is explained before it. */
#include <stdlib.h>
#include <string.h>

#include "authoring/interview-inner.h"
#include "base/memory.h"
#include "base/text.h"

enum { PROPOSAL_SHOWN = 40 };       /* bytes of a proposal in the prompt; a longer one stands before it */

static void complete_with(struct interview *interview, const char *const *words, size_t count)
{
    interview->completions = memory_resize_array(interview->completions, count, sizeof *interview->completions);
    for (size_t i = 0; i < count; i++)
        interview->completions[i] = words[i];
    interview->completion_count = count;
}

static void set_completions(struct interview *interview, int kind)
{
    static const char *const styles[] = {"each", "any", "list", "levels"}, *const demands[] = {"low", "standard", "high"},
                      *const kinds[] = {"plain", "method", "accuracy", "independent", "implied"};
    const struct course *course = interview->course;
    size_t most = course->topic_count + course->word_count + course->objective_count + course->skill_count, count = 0;
    const char **names = memory_get_zeroed(most + 1, sizeof *names);
    for (size_t i = 0; kind == SHEET_TOPIC && i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            names[count++] = course->topics[i].name;
    for (size_t i = 0; kind == SHEET_COMMAND && i < course->word_count; i++)
        names[count++] = course->words[i].word;
    for (size_t i = 0; kind == SHEET_OBJECTIVE && i < course->objective_count; i++)
        names[count++] = course->objectives[i].id;
    for (size_t i = 0; kind == SHEET_SKILLS && i < course->skill_count; i++)
        names[count++] = course->skills[i].id;
    complete_with(interview, names, count);
    free(names);
    if (kind == STEP_STYLE)
        complete_with(interview, styles, 4);
    if (kind == SHEET_DEMAND)
        complete_with(interview, demands, 3);
    if (kind == SHEET_KIND)
        complete_with(interview, kinds, 5);
}

/* "point 2 of 3", "level 1-2", "indicative point". */
static void name_step(struct interview *interview, struct step step, struct buffer *out)
{
    const struct step_rule *rule = step_rule_for(step.kind);
    size_t first = draft_part_first(&interview->draft, step.row);
    const char *group = draft_get(&interview->draft, step.row, SHEET_GROUP);
    const char *part = draft_get(&interview->draft, step.row, SHEET_PART);
    if (step.kind == SHEET_ASK && *part)
        buffer_print(out, "ask of part (%s)", part);
    else if (step.kind != SHEET_POINT)
        buffer_add(out, rule->name);
    else if (steps_is_described(interview, step.row))
        buffer_print(out, "%s", group);
    else if (text_starts_with(group, "indicative"))
        buffer_add(out, "content that may be used");
    else if (*group)
        buffer_print(out, "point %zu", step.row - first + 1);
    else
        buffer_print(out, "point %zu of %s", step.row - first + 1, draft_get(&interview->draft, first, SHEET_MARKS));
}

/* What could not stand is there to be mended, a line that is there already to be changed; texts of several lines are shown before
 * the prompt. */
static void set_prefill(struct interview *interview)
{
    const char *now = interview->refused.length ? buffer_text(&interview->refused)
                      : step_rule_for(interview->step.kind)->lines ? "" : answer_text(interview, interview->step);
    buffer_clear(&interview->prefill);
    buffer_add(&interview->prefill, strchr(now, '\n') ? "" : now);
    interview->has_prefill = interview->prefill.length > 0 && interview->step.kind != STEP_STYLE;
}

void ask_step(struct interview *interview)
{
    bool collecting = interview->lines.length > 0;
    set_prefill(interview);
    bool changing = interview->has_prefill && !interview->refused.length;
    const char *proposal = collecting || changing ? NULL : answer_proposal(interview, interview->step);
    buffer_clear(&interview->prompt);
    name_step(interview, interview->step, &interview->prompt);
    if (proposal)
        buffer_print(&interview->prompt, " [%s]", strlen(proposal) <= PROPOSAL_SHOWN ? proposal : "as above");
    set_completions(interview, interview->step.kind);
}

void ask_greet(struct interview *interview)
{
    page_heading(interview->page, 1, "%s for %s", interview->replaces ? "A change" : "A question", interview->course->name);
    if (!interview->greeted)
        page_paragraph(interview->page, "Enter takes what stands in square brackets, - means none, ? explains, .back goes back, .edit "
                       "opens your editor, .leave keeps what there is for later.");
    interview->greeted = true;
}

static void list_topics(struct interview *interview)
{
    const struct course *course = interview->course;
    int number = 0;
    page_gap(interview->page);
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            page_item(interview->page, 0, arena_print(interview->arena, "%2d", ++number), "%s", course->topics[i].name);
}

static void head_step(struct interview *interview, struct step step)
{
    if (step.kind == SHEET_ASK)
        page_heading(interview->page, 3, "The ask");
    if (step.kind == SHEET_POINT && draft_part_first(&interview->draft, step.row) == step.row)
        page_heading(interview->page, 3, "The scheme");
    if (step.kind == SHEET_MODEL)
        page_heading(interview->page, 3, "The model answer");
}

void ask_introduce(struct interview *interview)
{
    struct step step = interview->step;
    const struct step_rule *rule = step_rule_for(step.kind);
    if (step.row == interview->introduced.row && step.kind == interview->introduced.kind)
        return;
    interview->introduced = step;
    if (step.kind == SHEET_TOPIC)
        list_topics(interview);
    head_step(interview, step);
    const char *help = step_help(interview, step);
    if (rule->told && interview->met[step.kind] != help)
        page_paragraph(interview->page, "%s", help);
    interview->met[step.kind] = help;
    const char *proposal = answer_proposal(interview, step);
    if (proposal && strlen(proposal) > PROPOSAL_SHOWN)
        page_paragraph(interview->page, "Usual: %s", proposal);
    if (rule->lines && *answer_text(interview, step))
        text_say_now(interview);
}

void ask_words(struct interview *interview, const char *prompt)
{
    buffer_clear(&interview->prompt);
    buffer_add(&interview->prompt, prompt);
    interview->completion_count = 0;
}

