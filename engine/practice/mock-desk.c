/* A mock while it is sat: the list of questions, writing, rest breaks. Nothing of a scheme is shown here. */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"
#include "practice/mock-inner.h"
#include "practice/show.h"

bool mock_is_sat(const struct practice *practice)
{
    return practice->mock && !practice->mock->handed_in;
}

bool mock_part_written(const struct part_facts *facts)
{
    return !text_is_blank(buffer_text(&facts->texts[TEXT_ANSWER]));
}

static void stand_at(struct practice *practice, enum mock_place place)
{
    practice->mock->place = place;
    practice->position = place == MOCK_WRITING ? AT_STEP : AT_MOCK;
}

/* "12 minutes of 25 minutes" */
static void add_clock(const struct practice *practice, struct buffer *out)
{
    add_duration(out, mock_used(practice));
    buffer_add(out, " of ");
    add_duration(out, practice->mock->about.allowed);
}

/* ---- The list ------------------------------------------------------------------------------------ */

static size_t written_parts(const struct script *script)
{
    size_t count = 0;
    for (size_t i = 0; i < script->question->part_count; i++)
        count += mock_part_written(&script->parts[i]);
    return count;
}

static void cell_of_written(struct practice *practice, const struct script *script)
{
    size_t written = written_parts(script), parts = script->question->part_count;
    if (!written)
        page_cell(practice->page, "nothing yet");
    else if (written == parts)
        page_cell(practice->page, parts > 1 ? "all parts" : "yes");
    else
        page_cell(practice->page, "%zu of %zu parts", written, parts);
}

static void show_list(struct practice *practice)
{
    const struct mock *mock = practice->mock;
    struct buffer clock = BUFFER_EMPTY;
    page_table(practice->page, "The questions", "rlrll", true);
    page_cell(practice->page, "No.");
    page_cell(practice->page, "Topic");
    page_cell(practice->page, "marks");
    page_cell(practice->page, "written");
    page_cell(practice->page, "note");
    for (size_t i = 0; i < mock->count; i++) {
        const struct script *script = mock->scripts[i].script;
        page_cell(practice->page, "%zu", i + 1);
        page_cell(practice->page, "%s", script->course->topics[script->question->topic].name);
        page_cell(practice->page, "%d", script->question->marks);
        cell_of_written(practice, script);
        page_cell(practice->page, "%s", mock->scripts[i].come_back ? "later" : "");
    }
    add_clock(practice, &clock);
    page_paragraph(practice->page, "Time: %s.", buffer_text(&clock));
    buffer_free(&clock);
}

static enum practice_result go_to_list(struct practice *practice, struct messages *messages)
{
    if (!mock_note(practice, MOCK_AT_LIST, messages))
        return PRACTICE_FAILED;
    stand_at(practice, MOCK_AT_THE_LIST);
    show_list(practice);
    return PRACTICE_ON;
}

/* ---- Writing ------------------------------------------------------------------------------------- */

static bool one_line(const struct practice *practice)
{
    return part_asked(practice)->marks == 1;
}

static void introduce_part(struct practice *practice)
{
    const struct part_facts *facts = part_in_hand(practice);
    bool written = mock_part_written(facts);
    if (written) {
        page_paragraph(practice->page, "So far you wrote:");
        show_written(practice, practice->step.part, practice_answer(practice, practice->step.part));
    }
    page_paragraph(practice->page, "%s", "");
    page_add(practice->page, STYLE_QUIET, "%s", !one_line(practice) ? "A full stop alone on a line goes on to the next part."
                                                : written ? "One line; a new one takes its place, Enter keeps it."
                                                          : "One line; Enter goes on.");
}

static enum practice_result go_to_part(struct practice *practice, size_t question, size_t part, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    bool afresh = question != mock->question || mock->place != MOCK_WRITING;
    mock_hold(practice, question, part);
    if (!mock_note(practice, stage_name(STAGE_ANSWER), messages))
        return PRACTICE_FAILED;
    stand_at(practice, MOCK_WRITING);
    page_gap(practice->page);
    if (afresh)
        show_opened(practice);
    show_ask(practice->page, practice->script->question, part_asked(practice), &practice->script->values,
             bank_folder(practice->bank));
    introduce_part(practice);
    return PRACTICE_ON;
}

static enum practice_result go_on(struct practice *practice, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    if (mock->part + 1 < practice->script->question->part_count)
        return go_to_part(practice, mock->question, mock->part + 1, messages);
    if (mock->question + 1 < mock->count)
        return go_to_part(practice, mock->question + 1, 0, messages);
    page_paragraph(practice->page, "That was the last question. Go back to any of them, or .hand-in.");
    return go_to_list(practice, messages);
}

enum practice_result mock_write(struct practice *practice, const char *line, bool pasted, struct messages *messages)
{
    bool end = !pasted && strcmp(line, ".") == 0, single = one_line(practice);
    bool kept = end || (single && text_is_blank(line));
    if (!kept && !note_text(practice, TEXT_ANSWER, single ? "" : "+", line, messages))
        return PRACTICE_FAILED;
    return end || single ? go_on(practice, messages) : PRACTICE_ON;
}

/* ---- Where to ------------------------------------------------------------------------------------ */

static size_t first_unwritten_part(const struct script *script)
{
    for (size_t i = 0; i < script->question->part_count; i++)
        if (!mock_part_written(&script->parts[i]))
            return i;
    return 0;
}

/* "b", "(b)" or nothing: the part; false when the question has none like that. */
static bool find_part(const struct script *script, const char *typed, size_t *part)
{
    char *copy = memory_copy_text(typed), *name = copy + strspn(copy, " (");
    name[strcspn(name, ") ")] = '\0';
    bool found = !*name;
    *part = first_unwritten_part(script);
    for (size_t i = 0; !found && i < script->question->part_count; i++)
        if (text_equal_ignoring_case(script->parts[i].part->id, name)) {
            *part = i;
            found = true;
        }
    free(copy);
    return found;
}

static enum practice_result go_to_typed(struct practice *practice, const char *typed, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    char *end;
    unsigned long number = isdigit((unsigned char)*typed) ? strtoul(typed, &end, 10) : 0;
    size_t part;
    if (number < 1 || number > mock->count || !find_part(mock->scripts[number - 1].script, end, &part)) {
        page_paragraph(practice->page, "Type the number of a question, 1 to %zu, with its part if you like (2 or 2b); Enter for the "
                                       "next without an answer; .rest, .hand-in, or ? for help.", mock->count);
        return PRACTICE_ON;
    }
    return go_to_part(practice, number - 1, part, messages);
}

static enum practice_result go_to_unwritten(struct practice *practice, struct messages *messages)
{
    const struct mock *mock = practice->mock;
    for (size_t i = 0; i < mock->count; i++) {
        size_t question = (mock->question + i) % mock->count;
        const struct script *script = mock->scripts[question].script;
        if (written_parts(script) < script->question->part_count)
            return go_to_part(practice, question, first_unwritten_part(script), messages);
    }
    page_paragraph(practice->page, "Every part has something written. Type a number to look at a question again, or .hand-in.");
    return PRACTICE_ON;
}

/* ---- Rest and return ----------------------------------------------------------------------------- */

void mock_pause(struct practice *practice)
{
    struct buffer clock = BUFFER_EMPTY;
    stand_at(practice, MOCK_PAUSED);
    add_clock(practice, &clock);
    if (practice->mock->used > 0)
        page_paragraph(practice->page, "The clock stands at %s.", buffer_text(&clock));
    buffer_free(&clock);
}

static enum practice_result end_pause(struct practice *practice, const char *line, struct messages *messages)
{
    struct mock *mock = practice->mock;
    if (!text_is_blank(line)) {
        page_paragraph(practice->page, "The clock stands. Enter starts it; .leave comes back later.");
        return PRACTICE_ON;
    }
    mock_start_clock(practice);
    practice->has_prefill = mock->draft && mock->at_part;
    mock->draft = false;
    return mock->at_part ? go_to_part(practice, mock->question, mock->part, messages) : go_to_list(practice, messages);
}

void mock_stop(struct practice *practice, struct messages *messages)
{
    if (practice->mock->read_at < 0 && practice->mock->rest_began == NO_MOMENT)
        return;     /* it stands; but a rest break ends here */
    mock_note(practice, MOCK_AWAY, messages);
    mock_stop_clock(practice);
}

/* ---- Instructions -------------------------------------------------------------------------------- */

static enum practice_result instruct_list(struct practice *practice, const char *rest, struct messages *messages)
{
    (void)rest;
    return go_to_list(practice, messages);
}

static enum practice_result instruct_go(struct practice *practice, const char *rest, struct messages *messages)
{
    return go_to_typed(practice, rest, messages);
}

static enum practice_result instruct_later(struct practice *practice, const char *rest, struct messages *messages)
{
    (void)rest;
    const struct mock *mock = practice->mock;
    bool marked = mock->scripts[mock->question].come_back;
    struct event event = event_blank(EVENT_TEXT_SAVED);
    event.detail = MOCK_COME_BACK;
    event.text = marked ? "" : "yes";
    if (!note(practice, event, messages))
        return PRACTICE_FAILED;
    page_paragraph(practice->page, "Question %zu is %s to come back to.", mock->question + 1, marked ? "no longer one" : "one");
    return PRACTICE_ON;
}

static enum practice_result instruct_rest(struct practice *practice, const char *rest, struct messages *messages)
{
    (void)rest;
    if (!mock_note(practice, MOCK_AT_REST, messages))
        return PRACTICE_FAILED;
    mock_stop_clock(practice);
    practice->clear_screen = true;
    page_heading(practice->page, 3, "Rest break");
    mock_pause(practice);
    return PRACTICE_ON;
}

static enum practice_result instruct_hand_in(struct practice *practice, const char *rest, struct messages *messages)
{
    (void)rest;
    if (!mock_note(practice, MOCK_AT_LIST, messages))
        return PRACTICE_FAILED;
    stand_at(practice, MOCK_HANDING_IN);
    mock_offer_hand_in(practice);
    return PRACTICE_ON;
}

static const struct {
    const char *word;
    bool writing_only;
    const char *help;
    enum practice_result (*run)(struct practice *practice, const char *rest, struct messages *messages);
} words[] = {
    {".list", false, "the list of questions", instruct_list},
    {".go", false, "with a number: to that question (.go 2, .go 2b)", instruct_go},
    {".later", true, "marks this question as one to come back to, or no longer", instruct_later},
    {".rest", false, "a rest break: the clock stands, the paper goes out of sight", instruct_rest},
    {".hand-in", false, "hands the paper in; then it is marked", instruct_hand_in},
};

bool mock_instruct(struct practice *practice, const char *line, enum practice_result *result, struct messages *messages)
{
    enum mock_place place = practice->mock->place;
    size_t length = strcspn(line, " ");
    if (place != MOCK_WRITING && place != MOCK_AT_THE_LIST)
        return false;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        bool takes_rest = words[i].run == instruct_go;
        if (strlen(words[i].word) != length || strncmp(line, words[i].word, length) != 0 || (line[length] && !takes_rest) ||
            (words[i].writing_only && place != MOCK_WRITING))
            continue;
        *result = words[i].run(practice, line + length + strspn(line + length, " "), messages);
        return true;
    }
    return false;
}

void mock_help(struct practice *practice)
{
    bool writing = practice->mock->place == MOCK_WRITING;
    page_paragraph(practice->page, "%s", writing ? "Write as in the examination. Each line is saved when you press Enter. Nothing "
                                                   "is marked before you hand the paper in."
                                                 : "Type the number of a question (2), or with its part (2b). Enter goes to the "
                                                   "next part without an answer.");
    if (writing)
        page_fact(practice->page, ".", "alone on a line: on to the next part");
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (writing || !words[i].writing_only)
            page_fact(practice->page, words[i].word, "%s", words[i].help);
    if (writing) {
        page_fact(practice->page, ".back", "takes the last line up again");
        page_fact(practice->page, ".edit", "write in your editor ($VISUAL or $EDITOR)");
        page_fact(practice->page, ".question", "the whole question again; .answer, what you wrote; .sheet, the data sheet");
        page_fact(practice->page, ".clock", "hide or show the clock");
    }
    page_fact(practice->page, ".leave", "stop here; the clock stands, and ownmark mock goes on at this place later");
}

/* ---- Asked --------------------------------------------------------------------------------------- */

static void add_prompt(const struct practice *practice, struct buffer *out)
{
    const struct mock *mock = practice->mock;
    switch (mock->place) {
    case MOCK_PAUSED: buffer_add(out, mock->rest_began != NO_MOMENT ? "Enter ends the break" : "Enter starts the clock"); break;
    case MOCK_AT_THE_LIST: buffer_add(out, "question, or Enter for the next"); break;
    case MOCK_HANDING_IN: buffer_add(out, "hand in? y, or Enter to go on writing"); break;
    case MOCK_PREDICTING: buffer_print(out, "marks, 0 to %d", mock->about.marks); break;
    default:
        buffer_print(out, "answer %zu", mock->question + 1);
        if (practice->script->question->part_count > 1)
            buffer_print(out, "(%s)", part_asked(practice)->id);
    }
}

void mock_present(struct practice *practice)
{
    buffer_clear(&practice->prompt);
    add_prompt(practice, &practice->prompt);
    practice->ask = (struct practice_ask){
        .prompt = buffer_text(&practice->prompt),
        .prefill = practice->has_prefill ? buffer_text(&practice->prefill) : NULL,
        .several_lines = practice->mock->place == MOCK_WRITING,
    };
}

enum practice_result mock_enter(struct practice *practice, const char *line, struct messages *messages)
{
    switch (practice->mock->place) {
    case MOCK_PAUSED: return end_pause(practice, line, messages);
    case MOCK_HANDING_IN:
        if (text_is_blank(line))
            return go_to_list(practice, messages);
        return mock_enter_hand_in(practice, line, messages);
    case MOCK_PREDICTING: return mock_enter_prediction(practice, line, messages);
    default: return text_is_blank(line) ? go_to_unwritten(practice, messages) : go_to_typed(practice, line, messages);
    }
}
