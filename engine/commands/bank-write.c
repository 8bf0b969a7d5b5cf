/* ownmark bank write: a bank, question by question, without knowing XML. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "authoring/course-interview.h"
#include "authoring/interview.h"
#include "base/files.h"
#include "base/memory.h"
#include "commands/dialogue.h"
#include "commands/kept.h"
#include "commands/shared.h"
#include "commands/table.h"

/* ---- The two machines, driven ---------------------------------------------------------------------- */

static const struct page *screen(void *machine)
{
    return interview_screen(machine);
}

static const struct practice_ask *ask(void *machine)
{
    return interview_ask(machine);
}

static enum practice_result enter(void *machine, const char *line, bool pasted, struct messages *messages)
{
    return interview_enter(machine, line, pasted, messages);
}

static bool keep_draft(void *machine, const char *line, struct messages *messages)
{
    return interview_keep_draft(machine, line, messages);
}

static void leave(void *machine)
{
    interview_leave(machine);
}

static const char *edit_text(const void *machine)
{
    return interview_edit_text(machine);
}

static enum practice_result edited(void *machine, const char *text, struct messages *messages)
{
    return interview_edited(machine, text, messages);
}

static const struct dialogue question_dialogue = {.screen = screen, .ask = ask, .enter = enter, .keep_draft = keep_draft,
                                                  .leave = leave, .edit_text = edit_text, .edited = edited};

static const struct page *course_screen(void *machine)
{
    return course_interview_screen(machine);
}

static const struct practice_ask *course_ask(void *machine)
{
    return course_interview_ask(machine);
}

static enum practice_result course_enter(void *machine, const char *line, bool pasted, struct messages *messages)
{
    return course_interview_enter(machine, line, pasted, messages);
}

static bool course_keep_draft(void *machine, const char *line, struct messages *messages)
{
    return course_interview_keep_draft(machine, line, messages);
}

static void course_leave(void *machine)
{
    course_interview_leave(machine);
}

static const struct dialogue course_dialogue = {.screen = course_screen, .ask = course_ask, .enter = course_enter,
                                                .keep_draft = course_keep_draft, .leave = course_leave};

/* ---- A new bank ------------------------------------------------------------------------------------- */

/* The course of a bank that is not there yet, with the bank's id on the first line: described before and kept, or now. */
static bool new_course(const char *kept_path, const char *draft, bool anew, struct buffer *course, enum exit_status *status, struct messages *messages)
{
    if (!anew && access(kept_path, F_OK) == 0)
        return file_read(kept_path, BANK_FILE_LIMIT, course, messages);
    struct course_interview *interview = course_interview_new(draft);
    *status = dialogue_run(&course_dialogue, interview, messages);
    bool given = course_interview_text(interview) != NULL;
    if (given)
        buffer_print(course, "%s\n%s", course_interview_id(interview), course_interview_text(interview));
    course_interview_free(interview);
    if (!given)
        return false;
    char *folder = path_folder_of(kept_path);
    bool kept = directory_make(folder, messages) &&
                file_write(kept_path, buffer_text(course), course->length, 0600, true, messages);
    *status = kept ? EXIT_DONE : EXIT_SYSTEM;
    if (kept)
        unlink(draft);
    free(folder);
    return kept;
}

static enum exit_status run_interview(const struct interview_plan *plan, struct messages *messages)
{
    struct interview *interview = interview_begin(plan, messages);
    enum exit_status status = interview ? dialogue_run(&question_dialogue, interview, messages) : EXIT_BAD_USE;
    interview_free(interview);
    return status;
}

/* Better said before the course is asked for than after. */
static bool can_be_made(const char *path, struct messages *messages)
{
    char *folder = path_folder_of(path);
    bool can = *path && access(folder, W_OK | X_OK) == 0;
    if (!*path)
        messages_error(messages, "a bank needs a name, such as my-bank.xml");
    else if (!can)
        messages_error(messages, "'%s' cannot be written into the folder '%s': %s; name another folder, or make this one", path, folder,
                       strerror(errno));
    free(folder);
    return can;
}

static enum exit_status write_new(struct interview_plan *plan, bool anew, struct messages *messages)
{
    enum exit_status status = EXIT_SYSTEM;
    struct buffer course = BUFFER_EMPTY;
    if (!can_be_made(plan->path, messages))
        return EXIT_BAD_USE;
    char *kept = kept_course_path(plan->path, messages), *draft = kept_path(plan->path, NULL, ".describing", messages);
    if (kept && draft && new_course(kept, draft, anew, &course, &status, messages)) {
        plan->course_text = kept_course_split(&course);
        plan->id = buffer_text(&course);
        status = run_interview(plan, messages);
        if (access(plan->path, F_OK) == 0)
            unlink(kept);
    }
    buffer_free(&course);
    free(kept), free(draft);
    return status;
}

static enum exit_status run(const struct arguments *arguments)
{
    struct messages messages = MESSAGES_EMPTY;
    const char *question = argument_value(arguments, "--question");
    char *draft = kept_path(arguments->words[0], question, ".csv", &messages);
    struct interview_plan plan = {.path = arguments->words[0], .draft = draft, .question = question};
    enum exit_status status = !draft ? EXIT_SYSTEM
                              : access(plan.path, F_OK) == 0 || plan.question ? run_interview(&plan, &messages)
                                                                              : write_new(&plan, argument_given(arguments, "--course"), &messages);
    free(draft);
    return say_and_end(&messages, status);
}

static const struct option options[] = {
    {"--question", "ID", "change this question instead of adding one"},
    {"--course", NULL, "of a bank that is not written yet: ask for its course anew"},
    {NULL, NULL, NULL},
};

const struct command command_bank_write = {
    .name = "bank write",
    .summary = "start a bank or add a question by answering prompts",
    .words = "FILE",
    .words_least = 1,
    .words_most = 1,
    .help = "Asks for a question bit by bit: topic, givens, ask, command word (recognised from the ask), marks, points with what is "
            "accepted and rejected and their key words, numbers tried at once with the givens, a model answer run through the "
            "evidence. Shows it as a student will meet it, lets any line be changed, and writes it only when it is sound; everything "
            "else in the file stays byte for byte as it is. A question left half-way is kept and offered again. When FILE does not "
            "exist, the course is asked for first.",
    .example = "ownmark bank write my-bank.xml",
    .options = options,
    .run = run,
};
