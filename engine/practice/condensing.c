#include "practice/condensing-inner.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "practice/timetable.h"

/* ---- Small things --------------------------------------------------------------------------------------- */

static bool note(struct condensing *condensing, const char *detail, const char *text, struct messages *messages)
{
    struct event event = event_blank(EVENT_NOTE_CONDENSED);
    event.bank = bank_id(condensing->bank);
    event.item = condensing->topic->id;
    event.number = condensing->stage;
    event.detail = detail;
    event.text = text;
    if (!record_append(condensing->record, &event, 1, messages))
        return false;
    notes_apply(&condensing->notes, &event, condensing->arena);
    return true;
}

/* What was written anew: as a draft until the stage is kept, then as the stage itself. */
static bool note_whole(struct condensing *condensing, const char *text, struct messages *messages)
{
    condensing->over_warned = false;
    return note(condensing, condensing->place == CONDENSING_WRITING ? "draft" : NULL, text, messages);
}

static void set_prefill(struct condensing *condensing, const char *line)
{
    buffer_clear(&condensing->prefill);
    buffer_add(&condensing->prefill, line);
    condensing->has_prefill = true;
}

/* ---- Beginning ------------------------------------------------------------------------------------------ */

static enum condense_stage stage_before(const struct topic_notes *notes, enum condense_stage stage)
{
    int earlier = (int)stage - 1;
    while (earlier > CONDENSE_NONE && !notes->texts[earlier])
        earlier--;
    return (enum condense_stage)earlier;
}

static size_t leaves_of(const struct course *course)
{
    size_t count = 0;
    for (size_t i = 0; i < course->topic_count; i++)
        count += course->topics[i].is_leaf;
    return count;
}

bool condensing_drop_draft(const struct bank *bank, struct record *record, int topic, struct topic_notes *notes,
                           struct messages *messages)
{
    struct event event = event_blank(EVENT_NOTE_CONDENSED);
    event.bank = bank_id(bank);
    event.item = bank_course(bank)->topics[topic].id;
    event.number = notes->drafting;
    event.detail = "draft";
    event.text = "";
    if (!record_append(record, &event, 1, messages))
        return false;
    notes->draft = "";
    notes->half_line = NULL;
    return true;
}

struct condensing *condensing_begin(struct bank *bank, struct record *record, int topic, enum condense_stage stage,
                                    const struct topic_notes *notes, struct messages *messages)
{
    const struct course *course = bank_course(bank);
    struct condensing *condensing = memory_get_zeroed(1, sizeof *condensing);
    assert(course->topics[topic].is_leaf && stage != CONDENSE_NONE);
    condensing->bank = bank;
    condensing->record = record;
    condensing->topic = &course->topics[topic];
    condensing->stage = stage;
    condensing->notes = *notes;
    condensing->earlier = stage_before(notes, stage);
    condensing->limit = condense_limit(stage, condensing->topic->share, leaves_of(course));
    condensing->arena = arena_new();
    condensing->exam = timetable_exam(record, bank_id(bank), condensing->arena);
    condensing->page = page_new();
    condensing->fresh = true;
    if (condensing->notes.drafting != stage)
        condensing->notes.draft = condensing->notes.half_line = NULL;
    if (condensing->notes.half_line)
        set_prefill(condensing, condensing->notes.half_line);
    if (!key_words_of_topic(bank, topic, condensing->arena, &condensing->words, messages)) {
        condensing_free(condensing);
        return NULL;
    }
    condensing_introduce(condensing);
    return condensing;
}

void condensing_free(struct condensing *condensing)
{
    if (!condensing)
        return;
    buffer_free(&condensing->prefill);
    page_free(condensing->page);
    arena_free(condensing->arena);
    free(condensing);
}

/* ---- Writing -------------------------------------------------------------------------------------------- */

static void say_too_long(struct condensing *condensing, int over)
{
    page_paragraph(condensing->page, "%s, %d too many: leave out what follows from the rest. ",
                   text_count(condensing->limit + over, "word", "words"), over);
    page_add(condensing->page, STYLE_PLAIN, "%s", condensing_one_line(condensing)
             ? "Shorten the line; as it is, it is kept when you enter it once more."
             : ".edit opens your notes in your editor, .back takes the last line up again; a full stop once more keeps them as "
               "they are.");
    condensing->over_warned = true;
    if (condensing_one_line(condensing))
        set_prefill(condensing, condensing_text(condensing));
}

static void end(struct condensing *condensing)
{
    condensing->place = CONDENSING_OVER;
    page_gap(condensing->page);
    condensing_say_next(condensing->page, &condensing->notes, condensing->exam, day_of(moment_now()));
    page_paragraph(condensing->page, "'ownmark condense %s --show' prints all stages.", condensing->topic->id);
}

static enum practice_result finish(struct condensing *condensing, struct messages *messages)
{
    int over = condensing_words_over(condensing);
    if (text_is_blank(condensing_text(condensing))) {
        page_paragraph(condensing->page, "Nothing is written yet. Start with any word of the topic; .leave stops.");
        return PRACTICE_ON;
    }
    if (over > 0 && !condensing->over_warned) {
        say_too_long(condensing, over);
        return PRACTICE_ON;
    }
    if (!note(condensing, NULL, condensing_text(condensing), messages))
        return PRACTICE_FAILED;
    condensing->place = CONDENSING_COMPARED;
    condensing_show_kept(condensing);
    return PRACTICE_ON;
}

/* A line takes the place of the one before; the same once more is meant. */
static enum practice_result enter_one_line(struct condensing *condensing, const char *line, struct messages *messages)
{
    struct buffer folded = BUFFER_EMPTY;
    text_add_folded_space(&folded, line);
    bool same = text_equal(buffer_text(&folded), condensing_text(condensing));
    bool good = same || note_whole(condensing, buffer_text(&folded), messages);
    buffer_free(&folded);
    if (!good)
        return PRACTICE_FAILED;
    if (condensing->place == CONDENSING_WRITING)
        return finish(condensing, messages);
    condensing_show_kept(condensing);
    return PRACTICE_ON;
}

static bool add_line(struct condensing *condensing, const char *line, struct messages *messages)
{
    if (condensing->place == CONDENSING_WRITING) {
        condensing->over_warned = false;
        return note(condensing, "+", line, messages);
    }
    const char *text = arena_print(condensing->arena, "%s\n%s", condensing_text(condensing), line);
    page_paragraph(condensing->page, "Added. Another line, or Enter alone to end.");
    return note(condensing, NULL, text, messages);
}

static enum practice_result enter_text(struct condensing *condensing, const char *line, bool pasted, struct messages *messages)
{
    bool blank = text_is_blank(line), stop = !pasted && strcmp(line, ".") == 0;
    if (condensing->place == CONDENSING_COMPARED && (blank || stop)) {
        end(condensing);
        return PRACTICE_ON;
    }
    if (stop || (blank && condensing_one_line(condensing)))
        return finish(condensing, messages);
    if (condensing_one_line(condensing))
        return enter_one_line(condensing, line, messages);
    return add_line(condensing, line, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

/* ---- Instructions --------------------------------------------------------------------------------------- */

static enum practice_result instruct_help(struct condensing *condensing, struct messages *messages)
{
    struct page *page = condensing->page;
    (void)messages;
    page_heading(page, 3, "Help");
    page_paragraph(page, "Rebuilding notes from memory is what makes them stay; copying them does not. Each line is saved when you "
                         "press Enter.");
    page_fact(page, ".", "alone on a line, finishes");
    page_fact(page, ".notes", "shows what you wrote so far");
    page_fact(page, ".back", "takes the last line up again");
    page_fact(page, ".edit", "write in your editor ($VISUAL or $EDITOR)");
    page_fact(page, ".leave", "stop here; the draft is kept");
    return PRACTICE_ON;
}

static enum practice_result instruct_notes(struct condensing *condensing, struct messages *messages)
{
    const char *text = condensing_text(condensing);
    (void)messages;
    page_paragraph(condensing->page, "%s", *text ? "Your notes so far:" : "You have not written anything yet.");
    if (*text) {
        page_verbatim(condensing->page, 1, text);
        page_paragraph(condensing->page, "%s of at most %d.", text_count((long)condense_word_count(text), "word", "words"),
                       condensing->limit);
    }
    return PRACTICE_ON;
}

static enum practice_result instruct_back(struct condensing *condensing, struct messages *messages)
{
    const char *text = condensing_text(condensing), *last = strrchr(text, '\n');
    if (!*text) {
        page_paragraph(condensing->page, "There is no line to go back to.");
        return PRACTICE_ON;
    }
    set_prefill(condensing, last ? last + 1 : text);
    condensing->place = CONDENSING_WRITING;     /* what is kept stays until this is finished */
    const char *rest = arena_copy_bytes(condensing->arena, text, last ? (size_t)(last - text) : 0);
    return note_whole(condensing, rest, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

static enum practice_result instruct_edit(struct condensing *condensing, struct messages *messages)
{
    (void)condensing, (void)messages;
    return PRACTICE_EDIT;
}

static enum practice_result instruct_leave(struct condensing *condensing, struct messages *messages)
{
    (void)messages;
    condensing_leave(condensing);
    return PRACTICE_ON;
}

static const struct instruction {
    const char *word;
    enum practice_result (*run)(struct condensing *condensing, struct messages *messages);
} instructions[] = {
    {"?", instruct_help},       {".notes", instruct_notes}, {".back", instruct_back},
    {".edit", instruct_edit},   {".leave", instruct_leave},
};

/* ---- The doors ------------------------------------------------------------------------------------------ */

static void start_writing(struct condensing *condensing)
{
    if (condensing->page_shown)
        page_clear(condensing->page);
    condensing->page_shown = false;
}

const struct page *condensing_screen(struct condensing *condensing)
{
    start_writing(condensing);
    condensing->page_shown = true;
    return condensing->page;
}

const struct practice_ask *condensing_ask(struct condensing *condensing)
{
    static const char *const prompts[2][2] = {{"notes", "line"}, {"add", "better line"}};
    if (condensing->place == CONDENSING_OVER)
        return NULL;
    condensing->ask = (struct practice_ask){
        .prompt = prompts[condensing->place == CONDENSING_COMPARED][condensing_one_line(condensing)],
        .prefill = condensing->has_prefill ? buffer_text(&condensing->prefill) : NULL,
        .several_lines = !condensing_one_line(condensing),
        .out_of_sight = condensing->fresh && condensing->earlier != CONDENSE_NONE,
    };
    return &condensing->ask;
}

enum practice_result condensing_enter(struct condensing *condensing, const char *line, bool pasted, struct messages *messages)
{
    assert(condensing->place != CONDENSING_OVER);
    start_writing(condensing);
    condensing->has_prefill = condensing->fresh = false;
    char *copy = memory_copy_text(line);
    const char *word = text_trim(copy);
    enum practice_result result = PRACTICE_ON;
    const struct instruction *found = NULL;
    for (size_t i = 0; !pasted && i < sizeof instructions / sizeof *instructions; i++)
        if (strcmp(word, instructions[i].word) == 0)
            found = &instructions[i];
    if (found)
        result = found->run(condensing, messages);
    else
        result = enter_text(condensing, strcmp(word, ".") == 0 ? "." : line, pasted, messages);
    free(copy);
    return result;
}

const char *condensing_edit_text(const struct condensing *condensing)
{
    return condensing_text(condensing);
}

enum practice_result condensing_edited(struct condensing *condensing, const char *text, struct messages *messages)
{
    start_writing(condensing);
    if (text_is_blank(text) && condensing->place == CONDENSING_COMPARED) {
        page_paragraph(condensing->page, "Empty notes are not kept; what stood there stays.");
        return PRACTICE_ON;
    }
    if (condensing_one_line(condensing) && !text_is_blank(text))
        return enter_one_line(condensing, text, messages);
    if (!note_whole(condensing, text, messages))
        return PRACTICE_FAILED;
    if (condensing->place == CONDENSING_COMPARED)
        condensing_show_kept(condensing);
    else
        instruct_notes(condensing, messages);
    return PRACTICE_ON;
}

bool condensing_keep_draft(struct condensing *condensing, const char *line, struct messages *messages)
{
    if (condensing->place != CONDENSING_WRITING || text_is_blank(line))
        return true;
    return note(condensing, "line", line, messages);
}

void condensing_leave(struct condensing *condensing)
{
    start_writing(condensing);
    if (condensing->place == CONDENSING_COMPARED)
        page_paragraph(condensing->page, "Everything is kept.");
    else if (*condensing_text(condensing))
        page_paragraph(condensing->page, "Left. The draft is kept: 'ownmark condense %s' goes on with it.", condensing->topic->id);
    else
        page_paragraph(condensing->page, "Left; nothing was written.");
    condensing->place = CONDENSING_OVER;
}
