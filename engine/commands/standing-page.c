/* ownmark standing as a page. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "base/text.h"
#include "commands/shared.h"
#include "commands/standing.h"
#include "practice/habits.h"

static const char *band_word(enum learner_band band)
{
    switch (band) {
    case LEARNER_LOW: return "weak";
    case LEARNER_MIDDLE: return "under way";
    case LEARNER_HIGH: return "strong";
    case LEARNER_NO_EVIDENCE: break;
    }
    return "too little evidence";
}

static long in_hundred(double share)
{
    return lround(share * 100.0);
}

static day_number today_of(const struct standing_view *view)
{
    return day_of(view->now);
}

static bool has_then(const struct standing_view *view)
{
    return view->then != NO_MOMENT;
}

/* NO_DAY when the exam is not known or over. */
static day_number exam_ahead(const struct standing_view *view)
{
    return view->exam != NO_DAY && view->exam >= today_of(view) ? view->exam : NO_DAY;
}

/* ---- The days, the whole paper --------------------------------------------------------------------- */

static void show_day(struct page *page, const char *label, day_number day, day_number today)
{
    struct buffer text = BUFFER_EMPTY;
    add_day_long(&text, day);
    if (day < today)
        buffer_add(&text, "; it is over. 'ownmark settings exam-date DATE' sets the next one");
    else if (day > today || strcmp(label, "Today") != 0) {
        buffer_add(&text, ", ");
        add_days_ahead(&text, day, today);
    }
    page_fact(page, label, "%s", buffer_text(&text));
    buffer_free(&text);
}

static void show_days(struct page *page, const struct standing_view *view)
{
    show_day(page, "Today", today_of(view), today_of(view));
    if (view->asked_for && has_then(view))
        show_day(page, "Asked for", day_of(view->then), today_of(view));
    else if (view->exam != NO_DAY)
        show_day(page, "Exam", view->exam, today_of(view));
    else if (*view->standing.learner->attempts > 0)
        page_fact(page, "Exam", "not known; 'ownmark settings exam-date 2027-05-18', with the right day, shows that day too");
}

static void add_range(struct page *page, const struct standing_view *view, moment when)
{
    int marks = bank_course(view->bank)->paper_marks;
    struct learner_total total = learner_paper(view->standing.learner, when, marks);
    page_add(page, STYLE_PLAIN, "%ld and %ld", lround(total.low80 * marks), lround(total.high80 * marks));
}

static void show_total(struct page *page, const struct standing_view *view)
{
    double attempts = *view->standing.learner->attempts;
    if (attempts < LEARNER_TOTAL_ATTEMPTS) {
        page_paragraph(page, "A figure for the whole paper needs %g questions; you have marked %g so far.", LEARNER_TOTAL_ATTEMPTS,
                       attempts);
        return;
    }
    page_paragraph(page, "Between ");
    add_range(page, view, view->now);
    page_add(page, STYLE_PLAIN, " of %d marks if the paper were today", bank_course(view->bank)->paper_marks);
    if (has_then(view)) {
        struct buffer day = BUFFER_EMPTY;
        add_day_short(&day, day_of(view->then), today_of(view));
        page_add(page, STYLE_PLAIN, "; between ");
        add_range(page, view, view->then);
        page_add(page, STYLE_PLAIN, " on %s if you practised nothing more until then", buffer_text(&day));
        buffer_free(&day);
    }
    page_add(page, STYLE_PLAIN, ". This is a practice figure, not a grade.");
}

/* ---- The table ------------------------------------------------------------------------------------- */

static bool any_rating(const struct standing_view *view)
{
    for (size_t i = 0; i < view->count; i++)
        if (view->rows[i].rating != TOPIC_NOT_RATED && standing_row_has_evidence(&view->rows[i]))
            return true;
    return false;
}

static void show_heads(struct page *page, const struct standing_view *view, bool ratings)
{
    static const char *const heads[] = {
        [BY_TOPIC] = "Topic", [BY_OBJECTIVE] = "Objective", [BY_WORD] = "Command word", [BY_SKILL] = "Skill",
    };
    struct buffer alignments = BUFFER_EMPTY, day = BUFFER_EMPTY;
    buffer_print(&alignments, "lrr%sl%s", has_then(view) ? "r" : "", ratings ? "l" : "");
    page_table(page, "Likely marks of 100, right four times in five; weakest first", buffer_text(&alignments), true);
    page_cell(page, "%s", heads[view->by]);
    page_cell(page, "marks met");
    page_cell(page, "today");
    if (has_then(view)) {
        add_day_short(&day, day_of(view->then), today_of(view));
        page_cell(page, "%s", buffer_text(&day));
    }
    page_cell(page, "marks say");
    if (ratings)
        page_cell(page, "you say");
    buffer_free(&alignments);
    buffer_free(&day);
}

static void range_cell(struct page *page, const struct learner_estimate *estimate)
{
    page_cell(page, "%ld to %ld", in_hundred(estimate->low80), in_hundred(estimate->high80));
}

static void show_rows(struct page *page, const struct standing_view *view)
{
    bool ratings = any_rating(view);
    if (!view->count || !standing_row_has_evidence(&view->rows[0]))
        return;
    show_heads(page, view, ratings);
    for (size_t i = 0; i < view->count && standing_row_has_evidence(&view->rows[i]); i++) {
        const struct standing_row *row = &view->rows[i];
        if (view->by == BY_OBJECTIVE)
            page_cell(page, "%s: %s", row->id, row->name);
        else
            page_cell(page, "%s", row->name);
        page_cell(page, "%g", row->marks);
        range_cell(page, &row->today);
        if (has_then(view))
            range_cell(page, &row->then);
        page_cell(page, "%s", band_word(row->band));
        if (ratings)
            page_cell(page, "%s", row->rating == TOPIC_NOT_RATED ? "" : topic_rating_name(row->rating));
    }
}

static void show_skills(struct page *page, const struct standing_view *view)
{
    if (!view->count)
        page_paragraph(page, "This course names no skills.");
    if (!view->count || !standing_row_has_evidence(&view->rows[0]))
        return;
    page_table(page, "Earned so far, weakest first", "lrrrl", true);
    page_cell(page, "Skill");
    page_cell(page, "earned");
    page_cell(page, "of");
    page_cell(page, "of 100");
    page_cell(page, "marks say");
    for (size_t i = 0; i < view->count && standing_row_has_evidence(&view->rows[i]); i++) {
        const struct standing_row *row = &view->rows[i];
        page_cell(page, "%s", row->name);
        page_cell(page, "%g", row->earned);
        page_cell(page, "%g", row->marks);
        page_cell(page, "%ld", in_hundred(row->today.share));
        page_cell(page, "%s", band_word(row->band));
    }
    page_paragraph(page, "By skill you see what you earned so far, not an estimate for today: a skill runs through all topics.");
}

/* ---- What is not known ----------------------------------------------------------------------------- */

static void show_thin(struct page *page, const struct standing_view *view)
{
    bool any = false;
    for (size_t i = 0; i < view->count; i++) {
        const struct standing_row *row = &view->rows[i];
        if (standing_row_has_evidence(row) || row->marks <= 0)
            continue;
        if (!any)
            page_paragraph(page, "Too little evidence yet (a figure needs 3 marks): ");
        page_add(page, STYLE_PLAIN, "%s%s (%s)", any ? "; " : "", row->name, text_count(lround(row->marks), "mark", "marks"));
        any = true;
    }
    if (any)
        page_add(page, STYLE_PLAIN, ".");
}

/* Topics without any are named under coverage. */
static void show_unmet(struct page *page, const struct standing_view *view)
{
    bool any = false;
    for (size_t i = 0; i < view->count && view->by != BY_TOPIC; i++) {
        if (view->rows[i].marks > 0)
            continue;
        if (!any)
            page_paragraph(page, "No evidence yet: ");
        page_add(page, STYLE_PLAIN, "%s%s", any ? "; " : "", view->rows[i].name);
        any = true;
    }
    if (any)
        page_add(page, STYLE_PLAIN, ".");
}

/* ---- In words -------------------------------------------------------------------------------------- */

static void show_sentence(struct page *page, const struct standing_view *view)
{
    static const char *const on[] = {
        [BY_TOPIC] = "on", [BY_OBJECTIVE] = "for", [BY_WORD] = "when asked to",
    };
    const struct standing_row *row = &view->rows[0];
    page_paragraph(page, "In words: you would earn about %ld of 100 marks %s %s today (likely %ld to %ld). Marks you earn or miss "
                         "move the number; it sinks while you leave the %s, and more slowly each time you come back on another "
                         "day.",
                   in_hundred(row->today.share), on[view->by], view->by == BY_TOPIC ? row->name : row->id, in_hundred(row->today.low80),
                   in_hundred(row->today.high80), view->by == BY_TOPIC ? "topic" : "topics alone");
}

static void show_remarks(struct page *page, const struct standing_view *view)
{
    struct topic_rated *topics = memory_get_zeroed(view->count + 1, sizeof *topics);
    for (size_t i = 0; i < view->count; i++) {
        const struct standing_row *row = &view->rows[i];
        topics[i] = (struct topic_rated){row->id, row->name, row->rating, row->today, row->marks};
    }
    topic_rating_remarks(page, topics, view->count);
    free(topics);
}

static const struct standing_row *first_thin(const struct standing_view *view)
{
    for (size_t i = 0; i < view->count; i++)
        if (!standing_row_has_evidence(&view->rows[i]))
            return &view->rows[i];
    return NULL;
}

static void show_next(struct page *page, const struct standing_view *view)
{
    static const char *const option[] = {
        [BY_TOPIC] = "--topic", [BY_OBJECTIVE] = "--objective", [BY_WORD] = "--command-word", [BY_SKILL] = "--skill",
    };
    static const char *const thing[] = {
        [BY_TOPIC] = "topic", [BY_OBJECTIVE] = "objective", [BY_WORD] = "command word", [BY_SKILL] = "skill",
    };
    const struct standing_row *thin = first_thin(view);
    bool weak = view->count && standing_row_has_evidence(&view->rows[0]) && view->rows[0].band != LEARNER_HIGH;
    const struct standing_row *weakest = weak ? &view->rows[0] : NULL;
    const char *quote = weakest && strchr(weakest->id, ' ') ? "\"" : "";
    page_heading(page, 3, "Next");
    if (thin && view->by == BY_TOPIC)
        page_item(page, 0, "-", "ownmark practise --topic %s: you have not met enough of %s to know, and marks are easiest to "
                                "win where little was done.", thin->id, thin->name);
    if (weakest)
        page_item(page, 0, "-", "ownmark practise %s %s%s%s: your weakest %s so far.", option[view->by], quote, weakest->id, quote,
                  thing[view->by]);
    page_item(page, 0, "-", "ownmark practise: mixes the topics for you; what wins most marks comes first.");
}

bool standing_show_page(const struct standing_view *view, struct messages *messages)
{
    struct page *page = page_new();
    bool read = true;
    page_heading(page, 1, "%s: where you stand", bank_course(view->bank)->name);
    show_days(page, view);
    show_total(page, view);
    if (view->by == BY_SKILL)
        show_skills(page, view);
    else
        show_rows(page, view);
    show_thin(page, view);
    show_unmet(page, view);
    if (view->by != BY_SKILL && view->count && standing_row_has_evidence(&view->rows[0]))
        show_sentence(page, view);
    show_remarks(page, view);
    coverage_show(page, bank_course(view->bank), &view->coverage, today_of(view), exam_ahead(view));
    if (view->record)
        read = habits_of_judging(view->record, view->bank, page, messages) &&
               habits_of_moderation(view->record, view->bank, page, messages);
    show_next(page, view);
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_QUIET, "Practice figures from your own marking, never grades; the awarding body's own mark scheme "
                                "prevails.");
    if (read)
        show_and_end(page, EXIT_DONE);
    else
        page_free(page);
    return read;
}
