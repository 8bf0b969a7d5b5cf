#include "authoring/interview.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/command-words.h"
#include "authoring/interview-inner.h"
#include "base/memory.h"
#include "base/text.h"

static void present(struct interview *interview);

/* ---- Beginning and ending ------------------------------------------------------------------------- */

static bool open_course(struct interview *interview, const struct interview_plan *plan, struct messages *messages)
{
    interview->bank = plan->course_text ? NULL : bank_open(plan->path, true, messages);
    if (plan->course_text)
        buffer_add(&interview->course_text, plan->course_text);
    else if (interview->bank)
        bank_course_text(interview->bank, &interview->course_text);
    return (interview->bank || plan->course_text) &&
           bank_from_text(buffer_text(&interview->course_text), NULL, interview->arena, &interview->course, NULL, messages);
}

static bool load_question(struct interview *interview, const char *id, struct messages *messages)
{
    int index = interview->bank ? bank_find(interview->bank, id) : -1;
    if (index < 0) {
        messages_error(messages, "there is no question '%s' in %s; 'ownmark bank show' lists them", id, interview->path);
        return false;
    }
    interview->replaces = memory_copy_text(id);
    return draft_from_question(&interview->draft, interview->bank, (size_t)index, messages);
}

static bool start_draft(struct interview *interview, const struct interview_plan *plan, struct messages *messages)
{
    bool loaded = plan->question ? load_question(interview, plan->question, messages)
                                 : draft_load(&interview->draft, interview->draft_path, messages);
    if (!loaded)
        return false;
    bool found = interview->draft.count > 0;
    if (!found)
        draft_add_row(&interview->draft);
    steps_resume(interview);
    if (!found)
        interview->rows[0].asked[SHEET_TOPIC] = false;
    interview->place = found && !plan->question ? INTERVIEW_GO_ON : INTERVIEW_AT_STEP;
    return true;
}

struct interview *interview_begin(const struct interview_plan *plan, struct messages *messages)
{
    struct interview *interview = memory_get_zeroed(1, sizeof *interview);
    interview->path = memory_copy_text(plan->path);
    interview->draft_path = memory_copy_text(plan->draft);
    interview->new_id = plan->id ? memory_copy_text(plan->id) : NULL;
    interview->arena = arena_new();
    interview->page = page_new();
    interview->introduced.kind = STEP_KINDS;
    if (!open_course(interview, plan, messages) || !start_draft(interview, plan, messages)) {
        interview_free(interview);
        return NULL;
    }
    interview->command_words = command_words_split(interview->course, interview->arena);
    present(interview);
    return interview;
}

void interview_free(struct interview *interview)
{
    if (!interview)
        return;
    bank_close(interview->bank);
    draft_free(&interview->draft);
    free(interview->rows), free(interview->taken), free(interview->completions);
    free(interview->path), free(interview->draft_path), free(interview->replaces), free(interview->new_id);
    buffer_free(&interview->course_text), buffer_free(&interview->lines);
    buffer_free(&interview->prompt), buffer_free(&interview->prefill);
    page_free(interview->page);
    arena_free(interview->arena);
    free(interview);
}

/* ---- What is shown and asked ----------------------------------------------------------------------- */

const struct page *interview_screen(struct interview *interview)
{
    interview->page_shown = true;
    return interview->page;
}

static void fresh_page(struct interview *interview)
{
    if (interview->page_shown)
        page_clear(interview->page);
    interview->page_shown = false;
}

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

static void ask_step(struct interview *interview)
{
    const struct step_rule *rule = step_rule_for(interview->step.kind);
    bool collecting = rule->lines && interview->lines.length > 0;
    const char *proposal = collecting || interview->place == INTERVIEW_CHANGE ? NULL : answer_proposal(interview, interview->step);
    buffer_clear(&interview->prompt);
    name_step(interview, interview->step, &interview->prompt);
    if (proposal)
        buffer_print(&interview->prompt, " [%s]", proposal);
    set_completions(interview, interview->step.kind);
}

static void introduce_step(struct interview *interview)
{
    const struct course *course = interview->course;
    struct step step = interview->step;
    int number = 0;
    if (step.row == interview->introduced.row && step.kind == interview->introduced.kind)
        return;
    interview->introduced = step;
    if (step.kind == SHEET_TOPIC && interview->place == INTERVIEW_AT_STEP) {
        page_heading(interview->page, 1, "A question for %s", course->name);
        page_paragraph(interview->page, "Enter takes what stands in square brackets, - means none, ? explains, .back goes back, .leave "
                       "keeps what there is for later.");
        page_gap(interview->page);
        for (size_t i = 0; i < course->topic_count; i++)
            if (course->topics[i].is_leaf)
                page_item(interview->page, 0, arena_print(interview->arena, "%2d", ++number), "%s", course->topics[i].name);
    }
    if (step.kind == SHEET_ASK)
        page_heading(interview->page, 3, "The ask");
    if (step.kind == SHEET_POINT && draft_part_first(&interview->draft, step.row) == step.row)
        page_heading(interview->page, 3, "The scheme");
    if (step.kind == SHEET_MODEL)
        page_heading(interview->page, 3, "The model answer");
}

static void ask_words(struct interview *interview, const char *prompt)
{
    buffer_clear(&interview->prompt);
    buffer_add(&interview->prompt, prompt);
    interview->completion_count = 0;
}

/* Finds what is to be asked next and writes its introduction. */
static void present(struct interview *interview)
{
    switch (interview->place) {
    case INTERVIEW_GO_ON:
        page_paragraph(interview->page, "A half-written question waits: %s%s", draft_get(&interview->draft, 0, SHEET_QUESTION),
                       *draft_get(&interview->draft, 0, SHEET_ASK) ? ". " : "");
        page_add(interview->page, STYLE_EMPHASIS, "%s", draft_get(&interview->draft, 0, SHEET_ASK));
        ask_words(interview, "go on with it? y n [y]");
        break;
    case INTERVIEW_AT_STEP:
        if (steps_next(interview, &interview->step)) {
            introduce_step(interview);
            ask_step(interview);
            break;
        }
        interview->place = INTERVIEW_REVIEW;
        review_show(interview);
        ask_words(interview, "save, a number, ? [save]");
        break;
    case INTERVIEW_CHANGE:
        ask_step(interview);
        break;
    case INTERVIEW_REVIEW:
        ask_words(interview, "save, a number, ? [save]");
        break;
    case INTERVIEW_ANOTHER:
        ask_words(interview, "another question? y n [y]");
        break;
    case INTERVIEW_OVER:
        break;
    }
}

const struct practice_ask *interview_ask(struct interview *interview)
{
    if (interview->place == INTERVIEW_OVER)
        return NULL;
    interview->ask = (struct practice_ask){
        .prompt = buffer_text(&interview->prompt), .completions = interview->completions,
        .completion_count = interview->completion_count,
        .prefill = interview->has_prefill ? buffer_text(&interview->prefill) : NULL,
    };
    interview->has_prefill = false;
    return &interview->ask;
}

/* ---- Steps ----------------------------------------------------------------------------------------- */

static bool save(struct interview *interview, struct messages *messages)
{
    return interview->replaces || draft_save(&interview->draft, interview->draft_path, messages);
}

static void remember(struct interview *interview, struct step step)
{
    interview->taken = memory_grow(interview->taken, &interview->taken_capacity, interview->taken_count, sizeof step);
    interview->taken[interview->taken_count++] = step;
}

/* The step counts as asked when its answer was taken; a point that ended its group took its row along. */
static void settle(struct interview *interview, struct step step, size_t rows_before)
{
    if (interview->draft.count < rows_before)
        return;
    interview->rows[step.row].asked[step.kind] = true;
    remember(interview, step);
    answer_tell(interview, step);
    if (interview->place == INTERVIEW_CHANGE)
        interview->place = INTERVIEW_AT_STEP;
}

static void take_parts(struct interview *interview, const char *line)
{
    interview->rows[0].asked[STEP_PARTS] = true;
    if (text_equal_ignoring_case(line, "y") || text_equal_ignoring_case(line, "yes"))
        steps_add_part(interview);
}

static bool take(struct interview *interview, const char *text)
{
    struct step step = interview->step;
    size_t before = interview->draft.count;
    if (step.kind == STEP_PARTS) {
        take_parts(interview, text);
        return true;
    }
    if (!answer_take(interview, step, text))
        return false;
    settle(interview, step, before);
    return true;
}

static void back(struct interview *interview)
{
    if (!interview->taken_count) {
        page_paragraph(interview->page, "There is nothing before this.");
        return;
    }
    struct step step = interview->taken[--interview->taken_count];
    while (interview->draft.count > step.row + 1 && !*draft_get(&interview->draft, interview->draft.count - 1, SHEET_POINT))
        steps_remove_row(interview, interview->draft.count - 1);
    if (step.row >= interview->draft.count)
        return;
    interview->rows[draft_part_first(&interview->draft, step.row)].closed = false;
    interview->rows[step.row].asked[step.kind] = false;
    buffer_clear(&interview->prefill);
    buffer_add(&interview->prefill, answer_text(interview, step));
    interview->has_prefill = interview->prefill.length > 0 && !strchr(buffer_text(&interview->prefill), '\n');
}

/* A text of several lines grows until an empty line; givens stand between bars, paragraphs on lines. */
static bool collect(struct interview *interview, const char *line)
{
    const char *joint = interview->step.kind == SHEET_GIVENS ? " | " : "\n";
    if (!text_is_blank(line)) {
        size_t before = interview->lines.length;
        buffer_print(&interview->lines, "%s%s", before ? joint : "", line);
        if (interview->step.kind == SHEET_GIVENS && !answer_take(interview, interview->step, buffer_text(&interview->lines)))
            buffer_shorten(&interview->lines, before);
        return true;
    }
    bool taken = take(interview, buffer_text(&interview->lines));
    buffer_clear(&interview->lines);
    return taken;
}

static const char *text_meant(struct interview *interview, const char *line)
{
    const char *trimmed = text_trim(arena_copy_text(interview->arena, line));
    const char *proposal = interview->place == INTERVIEW_CHANGE ? NULL : answer_proposal(interview, interview->step);
    return strcmp(trimmed, "-") == 0 ? "" : !*trimmed && proposal ? proposal : trimmed;
}

static void help(struct interview *interview)
{
    if (interview->place == INTERVIEW_AT_STEP || interview->place == INTERVIEW_CHANGE)
        page_paragraph(interview->page, "%s", step_rule_for(interview->step.kind)->help);
    else if (interview->place == INTERVIEW_REVIEW)
        page_paragraph(interview->page, "save (or Enter) writes the question into the bank. A number changes that line. 'part' adds "
                       "another part, 'drop' and the number of a point takes the point out, 'show' shows the question again.");
    page_paragraph(interview->page, ".back takes the last answer back, .leave keeps the question for later.");
}

static enum practice_result enter_step(struct interview *interview, const char *line, bool pasted, struct messages *messages)
{
    const struct step_rule *rule = step_rule_for(interview->step.kind);
    if (!pasted && strcmp(line, ".back") == 0 && interview->place == INTERVIEW_AT_STEP)
        back(interview);
    else if (rule->lines && interview->place == INTERVIEW_AT_STEP && (strcmp(line, "-") != 0 || interview->lines.length))
        collect(interview, line);
    else
        take(interview, text_meant(interview, line));
    return save(interview, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- Between questions ------------------------------------------------------------------------------ */

static bool says_no(const char *line)
{
    return text_equal_ignoring_case(line, "n") || text_equal_ignoring_case(line, "no");
}

static void start_afresh(struct interview *interview)
{
    draft_free(&interview->draft);
    unlink(interview->draft_path);
    free(interview->replaces);
    interview->replaces = NULL;
    interview->taken_count = 0;
    draft_add_row(&interview->draft);
    steps_resume(interview);
    interview->rows[0].asked[SHEET_TOPIC] = false;
    interview->place = INTERVIEW_AT_STEP;
    interview->introduced.kind = STEP_KINDS;
}

static void enter_go_on(struct interview *interview, const char *line)
{
    if (says_no(line))
        start_afresh(interview);
    else
        interview->place = INTERVIEW_AT_STEP;
}

/* The bank has changed: it is read again, so that ids in use are known. */
static enum practice_result enter_another(struct interview *interview, const char *line, struct messages *messages)
{
    interview->place = INTERVIEW_OVER;
    if (says_no(line)) {
        page_paragraph(interview->page, "'ownmark bank balance %s' says what to write next.", interview->path);
        return PRACTICE_ON;
    }
    bank_close(interview->bank);
    interview->bank = bank_open(interview->path, true, messages);
    if (!interview->bank)
        return PRACTICE_FAILED;
    start_afresh(interview);
    return PRACTICE_ON;
}

/* ---- Driven ---------------------------------------------------------------------------------------- */

void interview_leave(struct interview *interview)
{
    fresh_page(interview);
    if (interview->place != INTERVIEW_ANOTHER && !interview->replaces)
        page_paragraph(interview->page, "Kept for later: 'ownmark bank write %s' offers it again.", interview->path);
    interview->place = INTERVIEW_OVER;
}

enum practice_result interview_enter(struct interview *interview, const char *line, bool pasted, struct messages *messages)
{
    enum practice_result result = PRACTICE_ON;
    fresh_page(interview);
    if (!pasted && strcmp(line, ".leave") == 0) {
        interview_leave(interview);
        return PRACTICE_ON;
    }
    if (!pasted && strcmp(line, "?") == 0)
        help(interview);
    else if (interview->place == INTERVIEW_GO_ON)
        enter_go_on(interview, line);
    else if (interview->place == INTERVIEW_REVIEW)
        result = review_enter(interview, line, messages);
    else if (interview->place == INTERVIEW_ANOTHER)
        result = enter_another(interview, line, messages);
    else
        result = enter_step(interview, line, pasted, messages);
    if (result == PRACTICE_ON)
        present(interview);
    return result;
}

/* What was typed so far of a line is the beginning of a text of several lines, else it is left out. */
bool interview_keep_draft(struct interview *interview, const char *line, struct messages *messages)
{
    if (interview->place == INTERVIEW_AT_STEP && step_rule_for(interview->step.kind)->lines && (*line || interview->lines.length)) {
        buffer_print(&interview->lines, "%s%s", interview->lines.length ? "\n" : "", line);
        take(interview, buffer_text(&interview->lines));
    }
    return save(interview, messages);
}
