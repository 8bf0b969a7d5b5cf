#include "commands/dialogue.h"

#include <math.h>

#include "terminal/terminal.h"

struct talk {
    const struct dialogue *dialogue;
    void *machine;
};

static void add_clock(void *context, struct buffer *out)
{
    struct talk *talk = context;
    const struct practice_ask *ask = talk->dialogue->ask(talk->machine);
    if (!ask)
        return;
    long used = (long)ask->used, allowed = lround(ask->allowed);
    buffer_print(out, "%ld:%02ld of %ld:%02ld", used / 60, used % 60, allowed / 60, allowed % 60);
}

static void show_screen(struct talk *talk)
{
    const struct practice_ask *ask = talk->dialogue->ask(talk->machine);
    if (ask && ask->out_of_sight)
        terminal_move_out_of_sight();
    terminal_show(talk->dialogue->screen(talk->machine));
}

static enum practice_result edit(struct talk *talk, struct messages *messages)
{
    struct buffer text = BUFFER_EMPTY;
    enum practice_result result = PRACTICE_ON;
    enum terminal_edit_result edited = terminal_edit(talk->dialogue->edit_text(talk->machine), &text, messages);
    if (edited == TERMINAL_EDITED || edited == TERMINAL_EDIT_HUNG_UP)
        result = talk->dialogue->edited(talk->machine, buffer_text(&text), messages);
    buffer_free(&text);
    if (edited == TERMINAL_EDIT_HUNG_UP)
        terminal_end_by_signal();
    if (edited == TERMINAL_NOT_EDITED) {
        messages_print_wrapped(messages, terminal_error_width());
        messages_free(messages);
    }
    return result;
}

/* One prompt. */
static enum practice_result ask_once(struct talk *talk, struct messages *messages)
{
    const struct practice_ask *wanted = talk->dialogue->ask(talk->machine);
    struct terminal_ask ask = {
        .prompt = wanted->prompt,
        .several_lines = wanted->several_lines,
        .completions = wanted->completions,
        .completion_count = wanted->completion_count,
        .prefill = wanted->prefill,
        .clock = wanted->clock ? add_clock : NULL,
        .clock_context = talk,
        .notice = wanted->notice,
        .notice_after = wanted->allowed - wanted->used,
    };
    struct terminal_entry entry;
    enum practice_result result = PRACTICE_ON;
    terminal_ask(&ask, &entry);
    switch (entry.outcome) {
    case TERMINAL_ENTERED:
        result = talk->dialogue->enter(talk->machine, entry.text, entry.pasted, messages);
        break;
    case TERMINAL_ENDED:
    case TERMINAL_INTERRUPTED:
        talk->dialogue->leave(talk->machine);
        break;
    case TERMINAL_HUNG_UP:
        talk->dialogue->keep_draft(talk->machine, entry.text, messages);
        terminal_end_by_signal();
    }
    terminal_entry_free(&entry);
    return result == PRACTICE_EDIT ? edit(talk, messages) : result;
}

enum exit_status dialogue_run(const struct dialogue *dialogue, void *machine, struct messages *messages)
{
    struct talk talk = {dialogue, machine};
    for (;;) {
        show_screen(&talk);
        if (!dialogue->ask(machine))
            return EXIT_DONE;
        if (terminal_output_failed() || ask_once(&talk, messages) == PRACTICE_FAILED)
            return EXIT_SYSTEM;
    }
}

/* ---- The machine of a sitting ---------------------------------------------------------------------- */

static const struct page *screen_of(void *machine) { return practice_screen(machine); }
static const struct practice_ask *ask_of(void *machine) { return practice_ask(machine); }
static const char *edit_text_of(const void *machine) { return practice_edit_text(machine); }
static void leave(void *machine) { practice_leave(machine); }

static enum practice_result enter(void *machine, const char *line, bool pasted, struct messages *messages)
{
    return practice_enter(machine, line, pasted, messages);
}

static enum practice_result edited(void *machine, const char *text, struct messages *messages)
{
    return practice_edited(machine, text, messages);
}

static bool keep_draft(void *machine, const char *line, struct messages *messages)
{
    return practice_keep_draft(machine, line, messages);
}

const struct dialogue dialogue_of_practice = {screen_of, ask_of, enter, edit_text_of, edited, keep_draft, leave};
