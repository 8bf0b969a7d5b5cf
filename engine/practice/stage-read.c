/* Read: what is asked? The more marks, the more of it is asked back (steps.c). */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "answer/reading.h"
#include "bank/scheme.h"
#include "base/text.h"
#include "practice/machine.h"
#include "practice/show.h"
#include "quantity/unit.h"

/* ---- The command word ---------------------------------------------------------------------------- */

void introduce_word(struct practice *practice)
{
    page_heading(practice->page, 3, "Read");
    page_paragraph(practice->page, "Which word tells you what to do? Tab completes it.");
}

/* The unit depends on the part and not on the word: a ratio has none. */
static void tell_need(struct practice *practice)
{
    const struct part *part = part_asked(practice);
    const struct command_word *word = &practice->script->course->words[part->word];
    if (!word->needs)
        return;
    page_paragraph(practice->page, "A full answer to \"%s\" needs: %s", word->word, word->needs);
    if (scheme_wants_unit(&part->scheme.root) && !part->scheme.working_required && !strstr(word->needs, "unit"))
        page_add(practice->page, STYLE_PLAIN, " The value needs its unit.");
}

static void compare_word(struct practice *practice, const char *typed)
{
    const struct course *course = practice->script->course;
    const struct part *part = part_asked(practice);
    struct word_reading reading = reading_command_word(course, part, typed);
    const char *right = course->words[part->word].word;
    page_paragraph(practice->page, "%s", "");
    switch (reading.verdict) {
    case WORD_RIGHT:
        page_add(practice->page, STYLE_GOOD, "Yes");
        page_add(practice->page, STYLE_PLAIN, ": %s.", right);
        break;
    case WORD_OTHER:
        page_add(practice->page, STYLE_BAD, "Overlooked");
        page_add(practice->page, STYLE_PLAIN, ": you named \"%s\"; the question says \"%s\".",
                 course->words[reading.word].word, right);
        break;
    case WORD_UNKNOWN:
        page_add(practice->page, STYLE_BAD, "Overlooked");
        page_add(practice->page, STYLE_PLAIN, ": \"%s\" does not tell you what to do. The word that does is \"%s\".",
                 typed, right);
        break;
    case WORD_BLANK:
        page_add(practice->page, STYLE_PLAIN, "The command word is \"%s\".", right);
        break;
    }
    tell_need(practice);
}

enum practice_result enter_word(struct practice *practice, const char *line, bool pasted,
                                struct messages *messages)
{
    (void)pasted;
    if (!note_text(practice, TEXT_WORD, "", line, messages) ||
        !note_text(practice, TEXT_WORD, "=", NULL, messages))
        return PRACTICE_FAILED;
    compare_word(practice, line);
    return PRACTICE_ON;
}

/* ---- The givens ---------------------------------------------------------------------------------- */

static bool has_unit(const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (*givens[i].unit)
            return true;
    return false;
}

void introduce_givens(struct practice *practice)
{
    if (!part_asks_word(part_asked(practice)))
        page_heading(practice->page, 3, "Read");
    const struct question *question = practice->script->question;
    bool with_unit = has_unit(question->givens, question->given_count) ||
                     has_unit(part_asked(practice)->givens, part_asked(practice)->given_count);
    page_paragraph(practice->page, "What is given? Each value%s, on one line or several; an empty line when done.",
                   with_unit ? " with its unit" : "");
}

static void tell_given(struct practice *practice, const struct given_reading *reading)
{
    struct buffer value = BUFFER_EMPTY;
    quantity_print(&value, reading->value ? reading->value->text : "?", reading->given->unit);
    page_item(practice->page, 0, "-", "%s = %s: ", reading->given->name, buffer_text(&value));
    switch (reading->verdict) {
    case GIVEN_FOUND:
        page_add(practice->page, STYLE_GOOD, "found");
        break;
    case GIVEN_WITHOUT_UNIT:
        page_add(practice->page, STYLE_BAD, "found, but you left out the unit");
        break;
    case GIVEN_WRONG_UNIT:
        page_add(practice->page, STYLE_BAD, "found, but with another unit (you wrote \"%s\")", reading->written);
        break;
    case GIVEN_OVERLOOKED:
        page_add(practice->page, STYLE_BAD, "overlooked");
        break;
    }
    buffer_free(&value);
}

static void compare_givens(struct practice *practice)
{
    struct script *script = practice->script;
    const struct part_facts *facts = part_in_hand(practice);
    struct givens_reading reading = reading_givens(script->question, facts->part, &script->values,
                                                   buffer_text(&facts->texts[TEXT_GIVENS]), script->arena);
    if (!reading.count && !reading.extra_count)
        page_paragraph(practice->page, "No new value is given for this part.");
    for (size_t i = 0; i < reading.count; i++)
        tell_given(practice, &reading.items[i]);
    for (size_t i = 0; i < reading.extra_count; i++)
        page_item(practice->page, 0, "-", "%s: the question does not give this number", reading.extra[i]);
}

/* A line of a text that an empty line ends (or a full stop, as in an answer). Returns true when it was the end. */
static bool collect_line(struct practice *practice, enum part_text text, const char *line, bool *failed,
                         struct messages *messages)
{
    bool end = text_is_blank(line) || strcmp(line, ".") == 0;
    *failed = end ? !note_text(practice, text, "=", NULL, messages)
                  : !note_text(practice, text, "+", line, messages);
    return end && !*failed;
}

enum practice_result enter_givens(struct practice *practice, const char *line, bool pasted,
                                  struct messages *messages)
{
    (void)pasted;
    bool failed;
    if (collect_line(practice, TEXT_GIVENS, line, &failed, messages))
        compare_givens(practice);
    return failed ? PRACTICE_FAILED : PRACTICE_ON;
}

/* ---- What is wanted ------------------------------------------------------------------------------ */

void introduce_wanted(struct practice *practice)
{
    page_paragraph(practice->page, "What is wanted, in a few words of your own?");
}

static void tell_words(struct practice *practice, const char *label, const char *const *words, size_t count)
{
    if (!count)
        return;
    page_paragraph(practice->page, "%s ", label);
    for (size_t i = 0; i < count; i++)
        page_add(practice->page, STYLE_PLAIN, "%s%s", i ? ", " : "", words[i]);
    page_add(practice->page, STYLE_PLAIN, ".");
}

static void compare_wanted(struct practice *practice, const char *line)
{
    struct script *script = practice->script;
    const struct part *part = part_asked(practice);
    struct wanted_reading reading = reading_wanted(script->course, part, &script->values, line, script->arena);
    tell_words(practice, "In your words:", reading.touched, reading.touched_count);
    tell_words(practice, "The question also says:", reading.overlooked, reading.overlooked_count);
    if (!reading.unit_named)
        page_paragraph(practice->page, "The answer needs a unit. Name it now, and you will not forget it later.");
}

enum practice_result enter_wanted(struct practice *practice, const char *line, bool pasted,
                                  struct messages *messages)
{
    (void)pasted;
    if (!note_text(practice, TEXT_WANTED, "", line, messages) ||
        !note_text(practice, TEXT_WANTED, "=", NULL, messages))
        return PRACTICE_FAILED;
    if (!text_is_blank(line))
        compare_wanted(practice, line);
    return PRACTICE_ON;
}

/* ---- Plan ---------------------------------------------------------------------------------------- */

void introduce_plan(struct practice *practice)
{
    const struct part *part = part_asked(practice);
    page_heading(practice->page, 3, "Plan");
    if (scheme_has_levels(&part->scheme.root))
        page_paragraph(practice->page, "This part is marked by levels, as a whole: one line for each idea you will use, in order, "
                                       "and what they lead to; an empty line when done.");
    else
        page_paragraph(practice->page, "%s want %s: one line for each, a few words will do; an empty line when done.",
                       text_count(part->marks, "mark", "marks"), text_count(part->marks, "point", "points"));
    if (!part_asks_word(part) || part_in_hand(practice)->skipped[STAGE_READ])
        tell_need(practice);
}

enum practice_result enter_plan(struct practice *practice, const char *line, bool pasted,
                                struct messages *messages)
{
    (void)pasted;
    bool failed;
    if (collect_line(practice, TEXT_PLAN, line, &failed, messages)) {
        size_t points = 0;
        for (const char *at = buffer_text(&part_in_hand(practice)->texts[TEXT_PLAN]); at && *at;
             at = strchr(at, '\n'), at = at ? at + 1 : NULL)
            points++;
        const struct part *part = part_asked(practice);
        if ((int)points < part->marks && !scheme_has_levels(&part->scheme.root))
            page_paragraph(practice->page, "You planned %s for %s.", text_count((long)points, "point", "points"),
                           text_count(part->marks, "mark", "marks"));
    }
    return failed ? PRACTICE_FAILED : PRACTICE_ON;
}

/* ---- Prediction ---------------------------------------------------------------------------------- */

void introduce_prediction(struct practice *practice)
{
    const struct part *part = part_asked(practice);
    if (!part_asks_plan(part))
        page_heading(practice->page, 3, "Plan");
    page_paragraph(practice->page, "How many of the %s do you expect to earn? (Enter: no prediction)",
                   text_count(part->marks, "mark", "marks"));
}

void prompt_marks(struct practice *practice, struct buffer *out)
{
    buffer_print(out, "marks, 0 to %d", part_asked(practice)->marks);
}

/* A whole number from 0 to maximum, and nothing else. */
static bool read_marks(const char *line, int maximum, int *marks)
{
    char *end;
    long value = strtol(line, &end, 10);
    while (*end == ' ')
        end++;
    if (end == line || *end || value < 0 || value > maximum)
        return false;
    *marks = (int)value;
    return true;
}

enum practice_result enter_prediction(struct practice *practice, const char *line, bool pasted,
                                      struct messages *messages)
{
    (void)pasted;
    int marks = 0;
    struct event event = event_blank(EVENT_PREDICTED);
    if (!text_is_blank(line)) {
        if (!read_marks(line, part_asked(practice)->marks, &marks)) {
            page_paragraph(practice->page, "\"%s\" is not a whole number from 0 to %d.", line,
                           part_asked(practice)->marks);
            return PRACTICE_ON;
        }
        event.number = marks;
    }
    return note(practice, event, messages) ? PRACTICE_ON : PRACTICE_FAILED;
}
