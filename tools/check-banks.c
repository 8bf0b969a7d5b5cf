/* Marks by objective, skill, topic, command word and demand of banks beside their courses' shares: check-banks BANK….
 *
 * Ends with 1 when a share is off by more than max(3 points, 2 marks); a skill's share is the least it must have. The
 * tolerance is ours: no awarding body publishes one for objectives. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bank/bank.h"
#include "base/memory.h"
#include "base/text.h"
#include "report/page.h"
#include "report/text.h"

#define POINTS_OFF 3.0
#define MARKS_OFF 2.0

struct balance {
    const struct course *course;
    double *objectives, *skills, *topics, *words, demands[3];
    long *questions;            /* a topic */
    double marks;
    size_t count, varied;
    int off;
};

static double *zeros(size_t count)
{
    return memory_get_zeroed(count + 1, sizeof(double));
}

static void count_part(struct balance *balance, const struct part_summary *part)
{
    balance->objectives[part->objective] += part->marks;
    balance->words[part->word] += part->marks;
    for (size_t skill = 0; skill < balance->course->skill_count; skill++)
        if (part->skills >> skill & 1)
            balance->skills[skill] += part->marks;
}

static void count_question(struct balance *balance, const struct question_summary *question)
{
    int parent = balance->course->topics[question->topic].parent;
    balance->topics[question->topic] += question->marks;
    balance->questions[question->topic]++;
    if (parent >= 0) {
        balance->topics[parent] += question->marks;
        balance->questions[parent]++;
    }
    balance->demands[question->demand] += question->marks;
    balance->marks += question->marks;
    balance->varied += question->varied;
    for (size_t i = 0; i < question->part_count; i++)
        count_part(balance, &question->parts[i]);
}

/* One row: marks, their share, the share wanted (NAN: none), and whether it is off. */
static void add_row(struct page *page, struct balance *balance, const char *name, double marks, double wanted, bool least)
{
    double share = balance->marks > 0 ? marks * 100.0 / balance->marks : 0;
    double allowed = fmax(POINTS_OFF, balance->marks > 0 ? MARKS_OFF * 100.0 / balance->marks : 0);
    bool off = !isnan(wanted) && (share < wanted - (least ? 0 : allowed) || (!least && share > wanted + allowed));
    page_cell(page, "%s", name);
    page_cell(page, "%g", marks);
    page_cell(page, "%.1f", share);
    if (isnan(wanted))
        page_cell(page, "%s", "");
    else
        page_cell(page, "%s%g", least ? "at least " : "", wanted);
    page_cell(page, "%s", off ? "OFF" : "");
    balance->off += off;
}

static void open_table(struct page *page, const char *caption)
{
    page_table(page, caption, "lrrrl", true);
    page_cell(page, "%s", "");
    page_cell(page, "marks");
    page_cell(page, "per cent");
    page_cell(page, "wanted");
    page_cell(page, "%s", "");
}

static void show_tables(struct page *page, struct balance *balance)
{
    const struct course *course = balance->course;
    static const char *const demands[] = {"low", "standard", "high"};
    open_table(page, "By objective");
    for (size_t i = 0; i < course->objective_count; i++)
        add_row(page, balance, course->objectives[i].id, balance->objectives[i], course->objectives[i].share, false);
    open_table(page, "By skill");
    for (size_t i = 0; i < course->skill_count; i++)
        add_row(page, balance, course->skills[i].name, balance->skills[i], course->skills[i].share, true);
    open_table(page, "By topic");
    for (size_t i = 0; i < course->topic_count; i++) {
        char name[200];
        snprintf(name, sizeof name, "%s%s (%ld)", course->topics[i].parent < 0 ? "" : "- ", course->topics[i].name,
                 balance->questions[i]);
        add_row(page, balance, name, balance->topics[i], course->topics[i].share, false);
    }
    open_table(page, "By demand");
    for (size_t i = 0; i < 3; i++)
        add_row(page, balance, demands[i], balance->demands[i], (double)NAN, false);
    open_table(page, "By command word");
    for (size_t i = 0; i < course->word_count; i++)
        if (balance->words[i] > 0)
            add_row(page, balance, course->words[i].word, balance->words[i], (double)NAN, false);
}

static int check(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open(path, false, &messages);
    messages_print(&messages);
    messages_free(&messages);
    if (!bank)
        return 1;
    const struct course *course = bank_course(bank);
    struct balance balance = {
        .course = course, .objectives = zeros(course->objective_count), .skills = zeros(course->skill_count),
        .topics = zeros(course->topic_count), .words = zeros(course->word_count), .count = bank_question_count(bank),
        .questions = memory_get_zeroed(course->topic_count + 1, sizeof(long)),
    };
    for (size_t i = 0; i < balance.count; i++)
        count_question(&balance, bank_summary(bank, i));
    struct page *page = page_new();
    page_heading(page, 1, "%s: %s, %zu questions, %g marks, %zu varied", path, course->name, balance.count, balance.marks,
                 balance.varied);
    show_tables(page, &balance);
    struct buffer out = BUFFER_EMPTY;
    const struct text_look look = {.width = 100};
    page_render_text(page, &look, &out);
    fputs(buffer_text(&out), stdout);
    buffer_free(&out);
    page_free(page);
    free(balance.objectives), free(balance.skills), free(balance.topics), free(balance.words), free(balance.questions);
    bank_close(bank);
    return balance.off > 0;
}

int main(int count, char **paths)
{
    int off = 0;
    for (int i = 1; i < count; i++)
        off |= check(paths[i]);
    return off;
}
