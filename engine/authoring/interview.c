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

/* The question as it stands in the bank, as a draft. */
static bool load_question(struct interview *interview, const char *id, struct draft *draft, struct messages *messages)
{
    int index = interview->bank ? bank_find(interview->bank, id) : -1;
    if (index < 0) {
        messages_error(messages, "there is no question '%s' in %s; 'ownmark bank show %s' lists them", id, interview->path,
                       interview->path);
        return false;
    }
    buffer_clear(&interview->original), buffer_clear(&interview->original_xml);
    if (!bank_question_text(interview->bank, (size_t)index, &interview->original, messages) ||
        !draft_from_question(draft, interview->bank, (size_t)index, messages))
        return false;
    draft_xml(draft, &interview->original_xml);
    return true;
}

static bool start_change(struct interview *interview, const char *id, struct messages *messages)
{
    struct draft fresh = {NULL, 0, 0};
    bool waits = interview->draft.count > 0, loaded = load_question(interview, id, &fresh, messages);
    if (loaded && !interview->replaces)
        interview->replaces = memory_copy_text(id);
    if (loaded && !waits) {
        interview->draft = fresh;
        fresh = (struct draft){NULL, 0, 0};
    }
    draft_free(&fresh);
    if (!loaded)
        return false;
    steps_all_asked(interview);
    interview->place = waits ? INTERVIEW_GO_ON : INTERVIEW_AT_STEP;
    return true;
}

static void start_new(struct interview *interview)
{
    bool waits = interview->draft.count > 0;
    if (!waits)
        draft_add_row(&interview->draft);
    steps_resume(interview);
    interview->place = waits ? INTERVIEW_GO_ON : INTERVIEW_AT_STEP;
    if (!waits)
        ask_greet(interview);
}

static bool start_draft(struct interview *interview, const struct interview_plan *plan, struct messages *messages)
{
    if (!draft_load(&interview->draft, interview->draft_path, messages))
        return false;
    if (plan->question)
        return start_change(interview, plan->question, messages);
    start_new(interview);
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
    buffer_free(&interview->prompt), buffer_free(&interview->prefill), buffer_free(&interview->edited), buffer_free(&interview->refused);
    buffer_free(&interview->original), buffer_free(&interview->original_xml);
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

static void present_draft(struct interview *interview)
{
    page_paragraph(interview->page, "%s waits: %s%s", interview->replaces ? "A half-written change" : "A half-written question",
                   draft_get(&interview->draft, 0, SHEET_QUESTION), *draft_get(&interview->draft, 0, SHEET_ASK) ? ". " : "");
    page_add(interview->page, STYLE_EMPHASIS, "%s", draft_get(&interview->draft, 0, SHEET_ASK));
    ask_words(interview, "go on with it? y n [y]");
}

static void present_step(struct interview *interview)
{
    if (steps_next(interview, &interview->step)) {
        ask_introduce(interview);
        ask_step(interview);
        return;
    }
    interview->place = INTERVIEW_REVIEW;
    review_show(interview);
    ask_words(interview, "save, a number, ? [save]");
}

/* Finds what is to be asked next and writes its introduction. */
static void present(struct interview *interview)
{
    switch (interview->place) {
    case INTERVIEW_GO_ON: present_draft(interview); break;
    case INTERVIEW_THROW_AWAY: ask_words(interview, "throw it away for good? y n [n]"); break;
    case INTERVIEW_AT_STEP: present_step(interview); break;
    case INTERVIEW_CHANGE: ask_step(interview); break;
    case INTERVIEW_REVIEW: ask_words(interview, "save, a number, ? [save]"); break;
    case INTERVIEW_ANOTHER: ask_words(interview, "another question? y n [y]"); break;
    case INTERVIEW_OVER: break;
    }
}

static bool at_answer(const struct interview *interview)
{
    return interview->place == INTERVIEW_AT_STEP || interview->place == INTERVIEW_CHANGE;
}

static bool is_text(const struct interview *interview)
{
    return at_answer(interview) && step_rule_for(interview->step.kind)->lines;
}

const struct practice_ask *interview_ask(struct interview *interview)
{
    if (interview->place == INTERVIEW_OVER)
        return NULL;
    interview->ask = (struct practice_ask){
        .prompt = buffer_text(&interview->prompt), .completions = interview->completions,
        .completion_count = interview->completion_count,
        .several_lines = is_text(interview) && interview->step.kind != SHEET_GIVENS,
        .prefill = interview->has_prefill ? buffer_text(&interview->prefill) : NULL,
    };
    interview->has_prefill = false;
    return &interview->ask;
}

/* ---- Steps ----------------------------------------------------------------------------------------- */

static bool save(struct interview *interview, struct messages *messages)
{
    return draft_is_empty(&interview->draft) || draft_save(&interview->draft, interview->draft_path, messages);
}

/* The step counts as asked when its answer was taken; a point that ended its group took its row along. */
static void settle(struct interview *interview, struct step step, size_t rows_before)
{
    interview->place = INTERVIEW_AT_STEP;
    if (interview->draft.count < rows_before)
        return;
    interview->rows[step.row].asked[step.kind] = true;
    steps_remember(interview, step);
    answer_tell(interview, step);
}

static void take_parts(struct interview *interview, const char *line)
{
    interview->rows[0].asked[STEP_PARTS] = true;
    if (text_equal_ignoring_case(line, "y") || text_equal_ignoring_case(line, "yes"))
        steps_add_part(interview);
}

static void take(struct interview *interview, const char *text)
{
    struct step step = interview->step;
    size_t before = interview->draft.count;
    if (step.kind == STEP_PARTS)
        take_parts(interview, text);
    else if (answer_take(interview, step, text))
        settle(interview, step, before);
    else if (step_rule_for(step.kind)->worded)
        buffer_add(&interview->refused, text);
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
}

static void step_back(struct interview *interview)
{
    if (is_text(interview) && text_back(interview))
        return;
    if (interview->place == INTERVIEW_CHANGE)
        interview->place = INTERVIEW_AT_STEP;
    else
        back(interview);
}

/* Enter alone keeps what is there, but ends the points of a group. */
static bool keeps(struct interview *interview, const char *line)
{
    return text_is_blank(line) && (interview->place == INTERVIEW_CHANGE ||
                                   (interview->step.kind != SHEET_POINT && *answer_text(interview, interview->step)));
}

static void take_line(struct interview *interview, const char *line)
{
    const char *trimmed = text_trim(arena_copy_text(interview->arena, line));
    const char *proposal = interview->place == INTERVIEW_CHANGE ? NULL : answer_proposal(interview, interview->step);
    if (keeps(interview, line))
        settle(interview, interview->step, interview->draft.count);
    else
        take(interview, strcmp(trimmed, "-") == 0 ? "" : !*trimmed && proposal ? proposal : trimmed);
}

static void take_text_line(struct interview *interview, const char *line)
{
    if (text_enter(interview, line))
        settle(interview, interview->step, interview->draft.count);
}

static bool is_instruction(const char *line)
{
    return *line == '.' && line[1] && strspn(line + 1, "abcdefghijklmnopqrstuvwxyz") == strlen(line + 1);
}

static enum practice_result enter_step(struct interview *interview, const char *line, bool pasted, struct messages *messages)
{
    if (!pasted && strcmp(line, ".edit") == 0 && interview->step.kind != STEP_PARTS)
        return text_begin_edit(interview);
    if (!pasted && strcmp(line, ".back") == 0)
        step_back(interview);
    else if (!pasted && is_instruction(line))
        page_paragraph(interview->page, "There is no instruction '%s' here: .back, .edit and .leave are; ? explains.", line);
    else if (step_rule_for(interview->step.kind)->lines)
        take_text_line(interview, line);
    else
        take_line(interview, line);
    return save(interview, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

const char *interview_edit_text(const struct interview *interview)
{
    return buffer_text(&interview->edited);
}

enum practice_result interview_edited(struct interview *interview, const char *text, struct messages *messages)
{
    fresh_page(interview);
    buffer_clear(&interview->lines), buffer_clear(&interview->refused);
    take(interview, text_from_editor(interview, text));
    if (!save(interview, messages))
        return PRACTICE_FAILED;
    present(interview);
    return PRACTICE_ON;
}

static void help(struct interview *interview)
{
    if (at_answer(interview))
        page_paragraph(interview->page, "%s", step_help(interview, interview->step));
    else if (interview->place == INTERVIEW_REVIEW)
        page_paragraph(interview->page, "save (or Enter) writes the question into the bank. A number changes that line. 'point' adds a "
                       "point, 'part' another part; 'drop' and the number of a line takes that point out, or the part when it is the "
                       "line of its ask; 'show' shows the question again.");
    page_paragraph(interview->page, at_answer(interview)
                       ? ".back takes the last answer back, .edit opens your editor, .leave keeps the question for later."
                       : ".leave keeps the question for later.");
}

/* ---- Between questions ------------------------------------------------------------------------------ */

static bool says_no(const char *line)
{
    return text_equal_ignoring_case(line, "n") || text_equal_ignoring_case(line, "no");
}

static bool says_yes(const char *line)
{
    return text_equal_ignoring_case(line, "y") || text_equal_ignoring_case(line, "yes");
}

static void start_afresh(struct interview *interview)
{
    draft_free(&interview->draft);
    unlink(interview->draft_path);
    interview->introduced.kind = STEP_KINDS;
    start_new(interview);
}

static void enter_go_on(struct interview *interview, const char *line)
{
    if (!text_is_blank(line) && !says_no(line) && !says_yes(line)) {
        page_paragraph(interview->page, "Please type y or n.");
        return;
    }
    interview->place = says_no(line) ? INTERVIEW_THROW_AWAY : INTERVIEW_AT_STEP;
    if (interview->place == INTERVIEW_AT_STEP)
        ask_greet(interview);
}

static enum practice_result enter_throw_away(struct interview *interview, const char *line, struct messages *messages)
{
    if (!says_yes(line)) {
        interview->place = INTERVIEW_GO_ON;
        return PRACTICE_ON;
    }
    if (!interview->replaces) {
        start_afresh(interview);
        return PRACTICE_ON;
    }
    draft_free(&interview->draft);
    unlink(interview->draft_path);
    return start_change(interview, interview->replaces, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* The bank has changed: it is read again, so that ids in use are known. */
static enum practice_result enter_another(struct interview *interview, const char *line, struct messages *messages)
{
    if (!text_is_blank(line) && !says_no(line) && !says_yes(line)) {
        page_paragraph(interview->page, "Please type y or n.");
        return PRACTICE_ON;
    }
    interview->place = INTERVIEW_OVER;
    if (says_no(line)) {
        page_paragraph(interview->page, "'ownmark bank check %s' looks for weak questions, 'ownmark bank balance %s' says what to write "
                       "next.", interview->path, interview->path);
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
    if (interview->place != INTERVIEW_ANOTHER && interview->place != INTERVIEW_OVER) {
        bool kept = access(interview->draft_path, F_OK) == 0;
        if (!kept && interview->bank)
            page_paragraph(interview->page, "Nothing was written.");
        else if (!kept)
            page_paragraph(interview->page, "The course is kept: 'ownmark bank write %s' asks for its first question, and with --course "
                           "for the course anew.", interview->path);
        else if (interview->replaces)
            page_paragraph(interview->page, "Kept for later: 'ownmark bank write %s --question %s' offers it again.", interview->path,
                           interview->replaces);
        else
            page_paragraph(interview->page, "Kept for later: 'ownmark bank write %s' offers it again.", interview->path);
    }
    interview->place = INTERVIEW_OVER;
}

static enum practice_result enter(struct interview *interview, const char *line, bool pasted, struct messages *messages)
{
    switch (interview->place) {
    case INTERVIEW_GO_ON: enter_go_on(interview, line); return PRACTICE_ON;
    case INTERVIEW_THROW_AWAY: return enter_throw_away(interview, line, messages);
    case INTERVIEW_REVIEW: review_enter(interview, line); return PRACTICE_ON;
    case INTERVIEW_ANOTHER: return enter_another(interview, line, messages);
    case INTERVIEW_OVER: return PRACTICE_ON;
    default: return enter_step(interview, line, pasted, messages);
    }
}

enum practice_result interview_enter(struct interview *interview, const char *line, bool pasted, struct messages *messages)
{
    enum practice_result result = PRACTICE_ON;
    fresh_page(interview);
    buffer_clear(&interview->refused);
    if (!pasted && strcmp(line, ".leave") == 0) {
        interview_leave(interview);
        return PRACTICE_ON;
    }
    if (!pasted && strcmp(line, "?") == 0)
        help(interview);
    else
        result = enter(interview, line, pasted, messages);
    if (result == PRACTICE_ON)
        present(interview);
    return result;
}

/* What was typed so far of a line is the beginning of a text of several lines, else it is left out. */
bool interview_keep_draft(struct interview *interview, const char *line, struct messages *messages)
{
    if (!at_answer(interview))
        return true;
    if (is_text(interview) && !text_is_blank(line))
        text_enter(interview, line);
    return save(interview, messages);
}
