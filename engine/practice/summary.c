/* The end of a sitting: what it came to and what to do next. */
#include <math.h>
#include <stdlib.h>

#include "base/dates.h"
#include "base/text.h"
#include "marking/cause.h"
#include "practice/habits.h"
#include "practice/mock-inner.h"
#include "practice/timetable.h"

void show_marks_table(struct practice *practice, const char *caption, const struct total_row *rows, size_t count)
{
    page_table(practice->page, caption, "lrr", true);
    page_cell(practice->page, "%s", "");
    page_cell(practice->page, "earned");
    page_cell(practice->page, "of");
    for (size_t i = 0; i < count; i++) {
        page_cell(practice->page, "%s", rows[i].name);
        page_cell(practice->page, "%g", rows[i].got);
        page_cell(practice->page, "%g", rows[i].maximum);
    }
}

static void tell_prediction(struct practice *practice)
{
    const struct totals *totals = &practice->totals;
    if (totals->predicted_maximum <= 0)
        return;
    double miss = totals->predicted - totals->predicted_got;
    page_fact(practice->page, "Predicted", "%g of %g marks, earned %g of them: %s", totals->predicted,
              totals->predicted_maximum, totals->predicted_got,
              fabs(miss) < 0.5 ? "a good judgement" : miss > 0 ? "you hoped for more" : "you did better than you thought");
}

static void tell_time(struct practice *practice)
{
    struct buffer used = BUFFER_EMPTY, allowed = BUFFER_EMPTY;
    add_duration(&used, practice->totals.seconds);
    add_duration(&allowed, practice->totals.allowed);
    page_fact(practice->page, "Time", "%s writing, %s allowed", buffer_text(&used), buffer_text(&allowed));
    buffer_free(&used);
    buffer_free(&allowed);
}

void show_missed_list(struct practice *practice)
{
    const struct totals *totals = &practice->totals;
    if (!totals->missed_count)
        return;
    page_heading(practice->page, 3, "Missed points");
    for (size_t i = 0; i < totals->missed_count; i++) {
        const struct missed_line *missed = &totals->missed[i];
        if (missed->number)
            page_item(practice->page, 0, "-", "question %d", missed->number);
        else
            page_item(practice->page, 0, "-", "%s", missed->question);
        page_add(practice->page, STYLE_PLAIN, "%s%s%s: %s", missed->part ? " (" : "", missed->part ? missed->part : "",
                 missed->part ? ")" : "", missed->text);
        if (missed->cause)
            page_add(practice->page, STYLE_QUIET, " [%s]", cause_text(cause_from_label(missed->cause))->title);
    }
}

static bool exam_is_tomorrow(const struct practice *practice)
{
    return timetable_exam(practice->record, bank_id(practice->bank), practice->arena) == day_of(moment_now()) + 1;
}

static void tell_next(struct practice *practice)
{
    page_heading(practice->page, 3, "Next");
    if (exam_is_tomorrow(practice)) {
        page_item(practice->page, 0, "-", "The exam is tomorrow. %sThen put the books away, and sleep well.",
                  practice->totals.missed_count ? "Write the missed points once more from memory. " : "");
        return;
    }
    if (practice->totals.missed_count)
        page_item(practice->page, 0, "-", "Tomorrow: write the missed points again from memory. They come back on later days.");
    page_item(practice->page, 0, "-", "ownmark standing shows where you stand; ownmark missed, what to win back and why it was lost.");
    page_item(practice->page, 0, "-", "ownmark practise starts the next sitting. Take a break of five or ten minutes first.");
}

/* A sitting's summary does not fail because a sentence about earlier ones cannot be had. */
void show_habits(struct practice *practice)
{
    struct messages unheeded = MESSAGES_EMPTY;
    if (habits_of_judging(practice->record, practice->bank, practice->page, &unheeded))
        habits_of_losing(practice->record, practice->bank, practice->page, &unheeded);
    messages_free(&unheeded);
}

void show_caution(struct practice *practice)
{
    page_paragraph(practice->page, "%s", "");
    page_add(practice->page, STYLE_QUIET, "These are practice figures from your own marking, not grades. An awarding "
                                          "body's own mark scheme always prevails.");
}

void show_summary(struct practice *practice)
{
    const struct totals *totals = &practice->totals;
    if (practice->mock) {
        mock_show_result(practice);
        return;
    }
    page_heading(practice->page, 1, "End of the sitting");
    if (!totals->marked) {
        page_paragraph(practice->page, "No question was marked this time; nothing changes in your standing.");
        tell_next(practice);
        return;
    }
    page_fact(practice->page, "Marks", "%g of %g, on %s", totals->got, totals->maximum,
              text_count(totals->marked, "question", "questions"));
    tell_prediction(practice);
    tell_time(practice);
    if (totals->no_response)
        page_fact(practice->page, "Left blank", "%s", text_count(totals->no_response, "part", "parts"));
    show_marks_table(practice, "By objective", totals->objectives, totals->objective_count);
    show_marks_table(practice, "By command word", totals->words, totals->word_count);
    rating_show(practice);
    show_missed_list(practice);
    show_habits(practice);
    tell_next(practice);
    show_caution(practice);
}

void say_saved_and_left(struct practice *practice)
{
    if (mock_is_sat(practice))
        page_paragraph(practice->page, "Everything you entered is saved, and the clock stands. ownmark mock goes on at this place.");
    else
        page_paragraph(practice->page, "Everything you entered is saved. ownmark %s goes on at this place.",
                       practice->mock ? "mock" : "practise");
}
