/* Answer: written against the clock. Every line is durable before the next prompt. */
#include <stdio.h>
#include <string.h>

#include "base/dates.h"
#include "base/text.h"
#include "practice/mock-inner.h"

/* A part of one mark is answered on one line: the line's end finishes it. */
static bool one_line(const struct practice *practice)
{
    return part_asked(practice)->marks == 1;
}

static bool answer_is_blank(const struct practice *practice)
{
    const struct part_facts *facts = &practice->script->parts[practice->step.part];
    return text_is_blank(buffer_text(&facts->texts[TEXT_ANSWER]));
}

void introduce_answer(struct practice *practice)
{
    const struct part *part = part_asked(practice);
    const struct part_facts *facts = part_in_hand(practice);
    struct buffer allowed = BUFFER_EMPTY;
    add_duration(&allowed, part_allowed(practice, part));
    page_heading(practice->page, 3, "Answer");
    if (practice->script->question->part_count > 1)
        page_paragraph(practice->page, "Part (%s), %s, %s. ", part->id,
                       text_count(part->marks, "mark", "marks"), buffer_text(&allowed));
    else
        page_paragraph(practice->page, "%s, %s. ", text_count(part->marks, "mark", "marks"),
                       buffer_text(&allowed));
    page_add(practice->page, STYLE_PLAIN, "%s",
             one_line(practice) ? "One line; Enter finishes it."
                                : "Write as many lines as you like; a full stop alone on a line finishes.");
    page_add(practice->page, STYLE_QUIET, "%s", " (.edit opens your editor, .clock hides the clock, ? helps)");
    if (facts->texts[TEXT_ANSWER].length) {
        page_paragraph(practice->page, "So far you wrote:");
        page_verbatim(practice->page, 1, buffer_text(&facts->texts[TEXT_ANSWER]));
    }
    buffer_free(&allowed);
}

void prompt_answer(struct practice *practice, struct buffer *out)
{
    const struct part *part = part_asked(practice);
    if (practice->script->question->part_count > 1)
        buffer_print(out, "answer (%s)", part->id);
    else
        buffer_add(out, "answer");
}

static enum practice_result finish_answer(struct practice *practice, struct messages *messages)
{
    if (answer_is_blank(practice) && !practice->blank_warned) {
        practice->blank_warned = true;
        page_paragraph(practice->page, "Nothing is written yet. Write something, even a first thought; or finish "
                                       "again to hand it in blank (counted as no response, not as a wrong answer).");
        return PRACTICE_ON;
    }
    struct event event = event_blank(EVENT_ANSWER_FINISHED);
    event.number = seconds_used(practice);
    event.detail = answer_is_blank(practice) ? "no-response" : "response";
    char seconds[32];
    snprintf(seconds, sizeof seconds, "%.0f", part_allowed(practice, part_asked(practice)));
    event.text = seconds;
    if (!note(practice, event, messages))
        return PRACTICE_FAILED;
    struct buffer used = BUFFER_EMPTY, allowed = BUFFER_EMPTY;
    add_duration(&used, event.number);
    add_duration(&allowed, part_allowed(practice, part_asked(practice)));
    page_paragraph(practice->page, "Time: %s of %s.", buffer_text(&used), buffer_text(&allowed));
    buffer_free(&used);
    buffer_free(&allowed);
    practice->answer_clock = -1;
    practice->blank_warned = false;
    return PRACTICE_ON;
}

enum practice_result enter_answer(struct practice *practice, const char *line, bool pasted,
                                  struct messages *messages)
{
    if (practice->mock)
        return mock_write(practice, line, pasted, messages);
    bool end = !pasted && strcmp(line, ".") == 0;
    bool empty_line = one_line(practice) && text_is_blank(line);
    if (!end && !empty_line && !note_text(practice, TEXT_ANSWER, "+", line, messages))
        return PRACTICE_FAILED;
    if (end || one_line(practice))
        return finish_answer(practice, messages);
    return PRACTICE_ON;
}

void back_over_line(struct practice *practice, struct messages *messages)
{
    static const enum part_text text_of[] = {
        [STEP_GIVENS] = TEXT_GIVENS, [STEP_PLAN] = TEXT_PLAN, [STEP_ANSWER] = TEXT_ANSWER, [STEP_REWRITE] = TEXT_REWRITE,
    };
    enum part_text text = text_of[practice->step.kind];
    const struct buffer *kept = &part_in_hand(practice)->texts[text];
    if (!kept->length) {
        page_paragraph(practice->page, "There is no line to go back to.");
        return;
    }
    const char *whole = buffer_text(kept);
    const char *last = strrchr(whole, '\n');
    struct buffer rest = BUFFER_EMPTY;
    buffer_clear(&practice->prefill);
    buffer_add(&practice->prefill, last ? last + 1 : whole);
    buffer_add_bytes(&rest, whole, last ? (size_t)(last - whole) : 0);
    practice->has_prefill = note_text(practice, text, "", buffer_text(&rest), messages);
    buffer_free(&rest);
}
