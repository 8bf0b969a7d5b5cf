#include "practice/habits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"
#include "learner/calibration.h"
#include "marking/cause.h"
#include "practice/show.h"

enum { SCRIPTS_TO_SPEAK = 3 };

/* ---- Judging -------------------------------------------------------------------------------------- */

/* Predictions were made on some parts only: both sides of the comparison are over those. */
static struct calibration_script predicted_of(const struct script_marks *marks)
{
    return (struct calibration_script){
        .predicted = marks->predicted, .first = (double)NAN,
        .final = marks->predicted_final, .maximum = marks->predicted_maximum,
    };
}

static struct calibration_script ticked_of(const struct script_marks *marks)
{
    return (struct calibration_script){
        .predicted = (double)NAN, .first = marks->first,
        .final = isnan(marks->moderated) ? marks->final : marks->moderated, .maximum = marks->maximum,
    };
}

static void say_bias(struct page *page, const char *what, const char *right, double bias)
{
    if (fabs(bias) < 0.25)
        page_add(page, STYLE_PLAIN, "%s on average", right);
    else
        page_add(page, STYLE_PLAIN, "%s %.1f marks in ten too %s on average", what, fabs(bias), bias > 0 ? "many" : "few");
}

static void say_judging(struct page *page, const struct calibration_script *scripts, size_t count,
                        enum calibration_which which, const char *what, const char *right)
{
    static const char *const trends[] = {
        [CALIBRATION_TOO_FEW] = "", [CALIBRATION_SHRINKING] = ", and shrinking", [CALIBRATION_STEADY] = ", and steady",
        [CALIBRATION_GROWING] = ", and growing",
    };
    struct calibration sums = CALIBRATION_EMPTY;
    double early, late;
    for (size_t i = 0; i < count; i++)
        calibration_add(&sums, which, &scripts[i]);
    if (sums.scripts < SCRIPTS_TO_SPEAK)
        return;
    say_bias(page, what, right, calibration_bias_in_ten(&sums));
    page_add(page, STYLE_PLAIN, "; a usual miss is %.1f in ten%s (%g questions). ", calibration_miss_in_ten(&sums),
             trends[calibration_trend_of(scripts, count, which, &early, &late)], sums.scripts);
}

bool habits_of_judging(struct record *record, const struct bank *bank, struct page *page, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct script_marks *marks;
    size_t count;
    bool read = record_script_marks(record, bank_id(bank), arena, &marks, &count, messages);
    if (read && count >= SCRIPTS_TO_SPEAK) {
        struct calibration_script *scripts = arena_get_array(arena, count, sizeof *scripts);
        page_paragraph(page, "%s", "");
        for (size_t i = 0; i < count; i++)
            scripts[i] = predicted_of(&marks[i]);
        say_judging(page, scripts, count, CALIBRATION_PREDICTED, "Judging your own marks: you predict",
                    "Judging your own marks: you predict right");
        for (size_t i = 0; i < count; i++)
            scripts[i] = ticked_of(&marks[i]);
        say_judging(page, scripts, count, CALIBRATION_FIRST, "Your first ticks give you", "Your first ticks are right");
    }
    arena_free(arena);
    return read;
}

/* ---- A teacher's marks ---------------------------------------------------------------------------- */

bool habits_of_moderation(struct record *record, const struct bank *bank, struct page *page, struct messages *messages)
{
    struct moderation sums;
    bool read = record_moderation(record, bank_id(bank), &sums, messages);
    if (!read || !sums.points)
        return read;
    double in_ten = (sums.own - sums.teacher) / sums.maximum * 10.0;
    page_paragraph(page, "A teacher marked %s of yours: you had given yourself %g of %g, the teacher gave %g, so yours were ",
                   text_count(sums.points, "point", "points"), sums.own, sums.maximum, sums.teacher);
    if (fabs(in_ten) < 0.25)
        page_add(page, STYLE_PLAIN, "right on the whole");
    else
        page_add(page, STYLE_PLAIN, "%.1f marks in ten too %s", fabs(in_ten), in_ten > 0 ? "many" : "few");
    page_add(page, STYLE_PLAIN, "; every figure here allows for that, and for these points the teacher's marks count.");
    return true;
}

/* ---- Losing --------------------------------------------------------------------------------------- */

bool habits_of_losing(struct record *record, const struct bank *bank, struct page *page, struct messages *messages)
{
    struct arena *arena = arena_new();
    struct tally *tallies;
    size_t count;
    const struct tally *worst = NULL;
    bool read = record_tallies(record, bank_id(bank), TALLY_CAUSE, arena, &tallies, &count, messages);
    for (size_t i = 0; read && i < count; i++)
        if (!worst || tallies[i].maximum > worst->maximum)
            worst = &tallies[i];
    if (worst && worst->maximum > 0) {
        const struct cause_text *cause = cause_text(cause_from_label(worst->id));
        page_paragraph(page, "The habit that would win you most: %s Lost so far through %s, every time counted: %s.", cause->remedy, cause->title,
                       text_count(lround(worst->maximum), "mark", "marks"));
    }
    arena_free(arena);
    return read;
}

/* ---- A missed point's words ------------------------------------------------------------------------ */

static const struct node *find_in_question(const struct question *question, const struct missed_point *missed,
                                           const struct part **part, struct arena *arena)
{
    char *id = arena_copy_text(arena, missed->item);
    id[strcspn(id, "#")] = '\0';
    for (size_t i = 0; i < question->part_count; i++)
        if (text_equal(question->parts[i].id, missed->part)) {
            *part = &question->parts[i];
            return scheme_find(&question->parts[i].scheme.root, id);
        }
    return NULL;
}

/* A node that is no point stands for several: their words, parted by semicolons. */
static void add_node_words(const struct node *node, struct buffer *out)
{
    if (node->kind == NODE_POINT) {
        char *text = show_plain(&node->text, NULL);
        buffer_add(out, text_trim(text));
        free(text);
    } else if (node->kind == NODE_LEVELS) {
        buffer_add(out, "level of response");
    } else if (node->kind == NODE_QUALITY) {
        buffer_add(out, "quality of the writing");
    }
    for (size_t i = 0; i < node->child_count; i++) {
        buffer_add(out, i ? "; " : "one of: ");
        add_node_words(&node->children[i], out);
    }
}

const char *habits_point_words(struct record *record, const struct bank *bank, const struct missed_point *missed,
                               const char **asked, struct arena *arena)
{
    struct messages unheeded = MESSAGES_EMPTY;
    struct buffer course_text = BUFFER_EMPTY, words = BUFFER_EMPTY, ask = BUFFER_EMPTY;
    const struct course *course;
    const struct question *question;
    const char *text = missed->content ? record_content(record, missed->content, arena) : NULL;
    bank_course_text(bank, &course_text);
    if (text && bank_from_text(buffer_text(&course_text), text, arena, &course, &question, &unheeded)) {
        const struct part *part = NULL;
        const struct node *node = find_in_question(question, missed, &part, arena);
        if (node) {
            add_node_words(node, &words);
            show_add_asked(&ask, node, part, NULL);
        }
    }
    if (asked)
        *asked = arena_copy_text(arena, buffer_text(&ask));
    const char *result = arena_copy_text(arena, words.length ? buffer_text(&words) : missed->item);
    buffer_free(&course_text);
    buffer_free(&words);
    buffer_free(&ask);
    messages_free(&unheeded);
    return result;
}
