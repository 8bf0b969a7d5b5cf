#include "practice/machine.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/dates.h"
#include "base/memory.h"
#include "base/text.h"
#include "practice/look.h"
#include "practice/mock-inner.h"
#include "practice/show.h"

/* ---- The table of steps -------------------------------------------------------------------------- */

static const struct step_rule rules[] = {
    {STEP_WORD, "command word", NULL, introduce_word, enter_word, NULL, false, false,
     "The command word is the word in the question that tells you what to do: state, describe, explain, calculate and so "
     "on. It decides what kind of answer earns marks. An empty line shows it."},
    {STEP_GIVENS, "given", NULL, introduce_givens, enter_givens, back_over_line, true, false,
     "Write down every value the question gives you, with its unit, for example \"height 1.2 m\". A value that is "
     "written down is not forgotten. An empty line ends the list."},
    {STEP_WANTED, "wanted", NULL, introduce_wanted, enter_wanted, NULL, false, false,
     "Say what the answer has to contain, in a few words: the quantity and its unit, or the things to compare, or what "
     "to explain. An empty line goes on without."},
    {STEP_PLAN, "point", NULL, introduce_plan, enter_plan, back_over_line, true, false,
     "One short line for each idea you mean to write: about one for each mark. An empty line ends the plan."},
    {STEP_PREDICT, NULL, prompt_marks, introduce_prediction, enter_prediction, NULL, false, false,
     "How many marks will your answer earn? Comparing this with what it did earn teaches you to judge your own work. "
     "It is never shown to anybody else."},
    {STEP_ANSWER, NULL, prompt_answer, introduce_answer, enter_answer, back_over_line, true, true,
     "Write as you would in the examination. Each line is saved when you press Enter. A full stop alone on a line "
     "finishes; .back takes the last line up again; .edit opens your editor; .clock hides or shows the clock. Nothing "
     "stops when the time is up: it is only measured."},
    {STEP_ROUTE, "way", NULL, introduce_route, enter_route, back_over_tick, false, false,
     "The scheme allows more than one way. Type the number of the one you took; only its points are then asked about."},
    {STEP_POINT, "earned? y n u b", NULL, introduce_tick, enter_tick, back_over_tick, false, false,
     "y: the answer makes this point, in these or other words. n: it does not. u: you are not sure (counts as not earned "
     "until you decide). b: back to the one before. Tick what stands on the page, not what you meant."},
    {STEP_LIST_ITEM, "matches number, w n b", NULL, introduce_list_item, enter_list_item, back_over_tick, false, false,
     "Take each thing you wrote in turn. Type the number of the answer it matches, w if it is wrong, n if it is "
     "neither right nor wrong, b to go back."},
    {STEP_STRAND, NULL, prompt_strand, introduce_strand, enter_strand, back_over_tick, false, false,
     "Start at the lowest level and climb while the answer still fits the words. 0 means nothing worth a mark."},
    {STEP_CAP, "y n b", NULL, introduce_cap, enter_cap, back_over_tick, false, false,
     "Some schemes hold an answer down when something essential is missing. Say honestly whether that is so here."},
    {STEP_BEST_FIT, NULL, prompt_best_fit, introduce_best_fit, enter_best_fit, back_over_tick, false, false,
     "The program works a mark out from the levels you gave. An examiner looks at the whole answer: if another mark fits "
     "better, type it. Both are kept."},
    {STEP_QUALITY, NULL, prompt_quality, introduce_quality, enter_quality, back_over_tick, false, false,
     "Choose the band that fits the writing as a whole."},
    {STEP_SECOND_LOOK, NULL, prompt_look, introduce_look, enter_look, NULL, false, false,
     "The program compared your tick with your writing and found them at odds. It cannot read your mind, and an examiner "
     "cannot either: only what stands on the page counts. Look once more, then decide; both ticks are kept."},
    {STEP_CAUSE, "cause", NULL, introduce_cause, enter_cause, back_over_cause, false, false,
     "Why was the mark lost? The same cause usually costs marks again and again; naming it is the first step to "
     "stopping it. Type its number, or Enter for the one proposed."},
    {STEP_REWRITE, "rewrite", NULL, introduce_rewrite, enter_rewrite, back_over_line, true, false,
     "Write the missed points again without looking. Writing from memory is what makes them stay. A full stop alone on "
     "a line finishes; at once if you want to go on without."},
};

const struct step_rule *step_rule_of(enum step_kind kind)
{
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (rules[i].kind == kind)
            return &rules[i];
    return NULL;
}

/* ---- Small things the stages share ---------------------------------------------------------------- */

struct part_facts *part_in_hand(struct practice *practice)
{
    assert(practice->script);
    return &practice->script->parts[practice->step.part];
}

const struct part *part_asked(const struct practice *practice)
{
    assert(practice->script);
    return practice->script->parts[practice->step.part].part;
}

const char *practice_answer(const struct practice *practice, size_t part)
{
    return buffer_text(&practice->script->parts[part].texts[TEXT_ANSWER]);
}

void show_written(struct practice *practice, size_t part, const char *from)
{
    const struct part_facts *facts = &practice->script->parts[part];
    size_t before = (size_t)(from - buffer_text(&facts->texts[TEXT_ANSWER]));
    if (!facts_is_late(facts)) {
        page_verbatim(practice->page, 1, from);
        return;
    }
    if (before < facts->in_time) {
        char *in_time = memory_copy_text(from);
        in_time[facts->in_time - before] = '\0';
        page_verbatim(practice->page, 1, in_time);
        free(in_time);
    }
    page_paragraph(practice->page, "%s", "");
    page_add(practice->page, STYLE_QUIET, "--- time was over; written after it: ---");
    const char *late = before < facts->in_time ? from + (facts->in_time - before) : from;
    page_verbatim(practice->page, 1, late + strspn(late, "\n"));
}

double part_allowed(const struct practice *practice, const struct part *part)
{
    return part->marks * seconds_a_mark(practice, practice->script->question);
}

double seconds_used(const struct practice *practice)
{
    double used = practice->script->parts[practice->step.part].seconds;
    return practice->answer_clock < 0 ? used : used + clock_elapsed() - practice->answer_clock;
}

bool note(struct practice *practice, struct event event, struct messages *messages)
{
    event.sitting = practice->sitting;
    event.bank = bank_id(practice->bank);
    if (practice->script) {
        event.script = practice->script->sequence;
        if (!event.part && practice->step.kind != STEP_DONE)
            event.part = part_asked(practice)->id;
    }
    if (!record_append(practice->record, &event, 1, messages))
        return false;
    if (practice->mock)
        mock_take(practice, &event);
    if (practice->script)
        script_apply(practice->script, &event);
    return true;
}

bool note_text(struct practice *practice, enum part_text text, const char *suffix, const char *line,
               struct messages *messages)
{
    char name[16];
    struct event event = event_blank(EVENT_TEXT_SAVED);
    snprintf(name, sizeof name, "%s%s", part_text_name(text), suffix);
    event.detail = name;
    event.text = line ? line : "";
    if (text != TEXT_ANSWER)
        return note(practice, event, messages);
    /* The clock's reading goes with each line, so that a resume goes on counting from there. */
    event.number = seconds_used(practice);
    double read_at = clock_elapsed();
    if (!note(practice, event, messages))
        return false;
    practice->answer_clock = read_at;
    return true;
}

/* ---- Presenting ---------------------------------------------------------------------------------- */

static bool same_step(const struct step *a, const struct step *b)
{
    return a->kind == b->kind && a->part == b->part && a->node == b->node && a->index == b->index;
}

/* The first part not yet done with, and its step; awards a part as soon as its ticks are settled, which shows it. */
static bool find_step(struct practice *practice, struct step *found, bool *awarded_now, struct messages *messages)
{
    struct script *script = practice->script;
    *found = steps_before_ticking(script);
    *awarded_now = false;
    for (size_t part = 0; found->kind == STEP_DONE && part < script->question->part_count; part++) {
        if (isnan(script->parts[part].awarded)) {
            if (steps_next_tick(script, part, found) || look_next(script, part, found))
                return true;
            if (!award_part(practice, part, messages))
                return false;
            *awarded_now = true;
        }
        *found = step_after_award(practice, part);
    }
    return true;
}

static void ask_for_step(struct practice *practice)
{
    const struct step_rule *rule = step_rule_of(practice->step.kind);
    assert(rule);
    buffer_clear(&practice->prompt);
    if (rule->prompt_for)
        rule->prompt_for(practice, &practice->prompt);
    else
        buffer_add(&practice->prompt, rule->prompt);
    bool word = practice->step.kind == STEP_WORD;
    practice->ask = (struct practice_ask){
        .prompt = buffer_text(&practice->prompt),
        .completions = word ? practice->completions : NULL,
        .completion_count = word ? practice->script->course->word_count : 0,
        .prefill = practice->has_prefill ? buffer_text(&practice->prefill) : NULL,
        .several_lines = rule->several_lines,
        .clock = rule->clock && !practice->clock_hidden,
        .allowed = part_allowed(practice, part_asked(practice)),
    };
}

static bool begin_answer(struct practice *practice, struct messages *messages)
{
    if (practice->answer_clock < 0)
        practice->answer_clock = clock_elapsed();
    if (part_in_hand(practice)->answer_begun)
        return true;
    struct event event = event_blank(EVENT_STAGE_ENTERED);
    event.detail = stage_name(STAGE_ANSWER);
    return note(practice, event, messages);
}

static bool part_is_new(const struct practice *practice, size_t part)
{
    const struct part_facts *facts = &practice->script->parts[part];
    return !facts->answer_begun && !facts->settled[TEXT_WORD] && !facts->settled[TEXT_GIVENS];
}

/* Who goes on where a mark was lost has to see again what was lost of what. */
static void show_award_again(struct practice *practice)
{
    const char *answer = practice_answer(practice, practice->step.part);
    if (!text_is_blank(answer)) {
        page_paragraph(practice->page, "Your answer:");
        show_written(practice, practice->step.part, answer);
    }
    show_award(practice, practice->step.part);
}

/* In a mock the asks went by long before the check. A part left blank was awarded, with its ask, before this step. */
static bool wants_ask(const struct practice *practice, const struct step *step, bool afresh, bool awarded_now)
{
    bool other_part = step->part != practice->step.part;
    if (practice->mock)
        return (afresh || other_part) && !(awarded_now && step->kind >= STEP_CAUSE);
    return afresh || (other_part && step->kind <= STEP_ANSWER && part_is_new(practice, step->part));
}

static bool present_step(struct practice *practice, struct step step, bool awarded_now, struct messages *messages)
{
    bool changed = practice->step_is_new || !same_step(&step, &practice->step);
    bool afresh = practice->step_is_new;    /* a new question, or one gone on with: the ask is not on the screen */
    bool ask = wants_ask(practice, &step, afresh, awarded_now);
    practice->step = step;
    practice->step_is_new = false;
    if (changed) {
        practice->rewrite_ready = false;
        page_gap(practice->page);
        if (ask)
            show_ask(practice->page, practice->script->question, part_asked(practice), &practice->script->values,
                     bank_folder(practice->bank));
        if (afresh && !awarded_now && (step.kind == STEP_CAUSE || step.kind == STEP_REWRITE))
            show_award_again(practice);
        step_rule_of(step.kind)->introduce(practice);
    }
    if (step.kind == STEP_ANSWER && !begin_answer(practice, messages))
        return false;
    ask_for_step(practice);
    return true;
}

bool present(struct practice *practice, struct messages *messages)
{
    if (mock_is_sat(practice) || practice->position == AT_MOCK) {
        mock_present(practice);
        return true;
    }
    if (practice->position == AT_STEP) {
        struct step step;
        bool awarded_now;
        if (!find_step(practice, &step, &awarded_now, messages))
            return false;
        if (step.kind != STEP_DONE)
            return present_step(practice, step, awarded_now, messages);
        if (!close_question(practice, messages))
            return false;
    }
    if (practice->position == AT_RATING)
        rating_present(practice);
    if (practice->position == AT_NEXT)
        practice->ask = (struct practice_ask){.prompt = "Enter for the next question, .leave to stop"};
    return true;
}

/* ---- The doors ----------------------------------------------------------------------------------- */

static void start_writing(struct practice *practice)
{
    if (practice->page_shown)
        page_clear(practice->page);
    practice->page_shown = false;
}

const struct page *practice_screen(struct practice *practice)
{
    start_writing(practice);
    practice->page_shown = true;
    return practice->page;
}

const struct practice_ask *practice_ask(struct practice *practice)
{
    if (practice->position == AT_END)
        return NULL;
    if (mock_is_sat(practice))
        mock_fill_ask(practice);
    else if (practice->ask.clock)
        practice->ask.used = seconds_used(practice);
    practice->ask.out_of_sight = practice->clear_screen;
    return &practice->ask;
}

static enum practice_result go_on(struct practice *practice, const char *line, struct messages *messages)
{
    if (!text_is_blank(line)) {
        page_paragraph(practice->page, "Enter goes on; .leave stops; ? helps.");
        return PRACTICE_ON;
    }
    return open_next_question(practice, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

static enum practice_result dispatch(struct practice *practice, const char *line, bool pasted,
                                     struct messages *messages)
{
    enum practice_result result;
    if (!pasted && run_instruction(practice, line, &result, messages))
        return result;
    if (practice->position == AT_NEXT)
        return go_on(practice, line, messages);
    if (practice->position == AT_MOCK)
        return mock_enter(practice, line, messages);
    if (practice->position == AT_RATING)
        return rating_enter(practice, line, pasted, messages);
    return step_rule_of(practice->step.kind)->enter(practice, line, pasted, messages);
}

/* Surrounding spaces never matter, except inside an answer where they may line figures up. */
static char *tidied(const struct practice *practice, const char *line)
{
    char *copy = memory_copy_text(line);
    bool keep = practice->position == AT_STEP && practice->step.kind == STEP_ANSWER;
    char *start = text_trim(copy);
    if (keep && *start != '.' && strcmp(start, "?") != 0) {
        free(copy);
        return memory_copy_text(line);
    }
    char *result = memory_copy_text(start);
    free(copy);
    return result;
}

enum practice_result practice_enter(struct practice *practice, const char *line, bool pasted,
                                    struct messages *messages)
{
    assert(practice->position != AT_END);
    start_writing(practice);
    practice->has_prefill = false;
    practice->clear_screen = false;
    if (practice->mock && !mock_call_time(practice, messages))
        return PRACTICE_FAILED;
    char *tidy = tidied(practice, line);
    enum practice_result result = dispatch(practice, tidy, pasted, messages);
    free(tidy);
    if (result == PRACTICE_ON && practice->position != AT_END && !present(practice, messages))
        return PRACTICE_FAILED;
    return result;
}

const char *practice_edit_text(const struct practice *practice)
{
    return buffer_text(&practice->script->parts[practice->step.part].texts[TEXT_ANSWER]);
}

enum practice_result practice_edited(struct practice *practice, const char *text, struct messages *messages)
{
    start_writing(practice);
    if (practice->mock && !mock_call_time(practice, messages))
        return PRACTICE_FAILED;
    if (!note_text(practice, TEXT_ANSWER, "", text, messages))
        return PRACTICE_FAILED;
    page_paragraph(practice->page, *text ? "Your answer now reads:" : "Your answer is empty now.");
    if (*text)
        show_written(practice, practice->step.part, practice_answer(practice, practice->step.part));
    return present(practice, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}

bool practice_keep_draft(struct practice *practice, const char *line, struct messages *messages)
{
    struct messages unheeded = MESSAGES_EMPTY;
    if (mock_is_sat(practice))
        mock_stop(practice, &unheeded);
    messages_free(&unheeded);
    if (practice->position != AT_STEP || text_is_blank(line))
        return true;
    struct event event = event_blank(EVENT_TEXT_SAVED);
    event.detail = "draft";
    event.text = line;
    return note(practice, event, messages);
}

void practice_leave(struct practice *practice)
{
    struct messages unheeded = MESSAGES_EMPTY;
    start_writing(practice);
    /* Nothing is left to come back to: the sitting ends without the ratings that are missing. */
    if (practice->position == AT_RATING && end_sitting(practice, &unheeded))
        return;
    if (mock_is_sat(practice))
        mock_stop(practice, &unheeded);
    messages_free(&unheeded);
    practice->left = true;
    practice->position = AT_END;
    say_saved_and_left(practice);
}

bool practice_was_left(const struct practice *practice)
{
    return practice->left;
}
