/* ownmark standing as JSON. Where a person is told "no evidence yet" a program gets null, never the starting figure. */
#include <math.h>

#include "base/json.h"
#include "commands/shared.h"
#include "commands/standing.h"
#include "terminal/terminal.h"

static void write_range(struct json *json, const char *name, bool known, double share, double low, double high)
{
    if (!known) {
        json_null(json, name);
        return;
    }
    json_object(json, name);
    json_number(json, "share", share);
    json_number(json, "low80", low);
    json_number(json, "high80", high);
    json_close_object(json);
}

static void write_total(struct json *json, const struct standing_view *view, const char *name, moment when)
{
    bool known = when != NO_MOMENT && *view->standing.learner->attempts >= LEARNER_TOTAL_ATTEMPTS;
    double marks = bank_course(view->bank)->paper_marks;
    struct learner_total total = known ? learner_paper(view->standing.learner, when, marks) : (struct learner_total){0};
    write_range(json, name, known, total.share, total.low80, total.high80);
}

static void write_paper(struct json *json, const struct standing_view *view)
{
    json_object(json, "paper");
    json_whole(json, "marks", bank_course(view->bank)->paper_marks);
    write_total(json, view, "today", view->now);
    write_total(json, view, "then", view->then);
    json_close_object(json);
}

static void write_rating(struct json *json, const struct standing_row *row)
{
    static const char *const words[] = {
        [RATING_UNTOLD] = "too little evidence", [RATING_AGREES] = "agrees", [RATING_HIGHER] = "higher", [RATING_LOWER] = "lower",
    };
    if (row->rating == TOPIC_NOT_RATED) {
        json_null(json, "rating");
        return;
    }
    json_object(json, "rating");
    json_whole(json, "step", row->rating);
    json_text(json, "word", topic_rating_name(row->rating));
    json_day(json, "day", row->rated);
    json_text(json, "against_marks", words[topic_rating_compare(row->rating, &row->today, row->marks)]);
    json_close_object(json);
}

static void write_row(struct json *json, const struct standing_view *view, const struct standing_row *row)
{
    bool known = standing_row_has_evidence(row);
    json_object(json, NULL);
    json_text(json, "id", row->id);
    json_text(json, "name", row->name);
    json_number(json, "marks_met", row->marks);
    json_truth(json, "enough_evidence", known);
    if (view->by == BY_SKILL) {
        json_number(json, "marks_earned", row->earned);
    } else {
        const struct learner_estimate *today = &row->today, *then = &row->then;
        write_range(json, "today", known, today->share, today->low80, today->high80);
        write_range(json, "then", known && view->then != NO_MOMENT, then->share, then->low80, then->high80);
    }
    if (view->by == BY_TOPIC)
        write_rating(json, row);
    json_close_object(json);
}

static void write_coverage(struct json *json, const struct standing_view *view)
{
    const struct coverage *coverage = &view->coverage;
    json_object(json, "coverage");
    json_whole(json, "topics", (int64_t)coverage->topics);
    json_whole(json, "met_once", (int64_t)coverage->once);
    json_whole(json, "met_twice", (int64_t)coverage->twice);
    json_number(json, "share_once", coverage->share_once);
    json_number(json, "share_twice", coverage->share_twice);
    json_day(json, "all_once_by", coverage->once_by);
    json_day(json, "all_twice_by", coverage->twice_by);
    json_array(json, "never_met");
    for (size_t i = 0; i < coverage->never_count; i++)
        json_text(json, NULL, bank_course(view->bank)->topics[coverage->never[i]].id);
    json_close_array(json);
    json_close_object(json);
}

static void write_moderation(struct json *json, const struct moderation *moderation)
{
    if (!moderation->points) {
        json_null(json, "moderation");
        return;
    }
    json_object(json, "moderation");
    json_whole(json, "points", moderation->points);
    json_number(json, "own", moderation->own);
    json_number(json, "teacher", moderation->teacher);
    json_number(json, "maximum", moderation->maximum);
    json_close_object(json);
}

void standing_write_json(const struct standing_view *view)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "course", bank_course(view->bank)->name);
    json_text(&json, "bank", bank_id(view->bank));
    json_moment(&json, "today", view->now);
    json_moment(&json, "then", view->then);
    json_day(&json, "exam", view->exam);
    json_text(&json, "by", standing_by_names[view->by]);
    json_number(&json, "questions_marked", *view->standing.learner->attempts);
    json_text(&json, "note", "practice figures, not grades");
    write_paper(&json, view);
    json_array(&json, "rows");
    for (size_t i = 0; i < view->count; i++)
        write_row(&json, view, &view->rows[i]);
    json_close_array(&json);
    write_coverage(&json, view);
    write_moderation(&json, &view->moderation);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}
