#include <math.h>

#include "authoring/balance.h"
#include "base/buffer.h"
#include "base/text.h"

enum { BAR = 10, WISHES = 3 };

static const char *const demand_names[] = {"low", "standard", "high"};

static double longest_share(const struct balance_table *table)
{
    double longest = 1;
    for (size_t i = 0; i < table->count; i++)
        longest = fmax(longest, fmax(table->lines[i].share, isnan(table->lines[i].wanted) ? 0 : table->lines[i].wanted));
    return longest;
}

/* "######|###": a # for each step of the share, a | where the course wants it to end. */
static void add_bar(struct page *page, const struct balance_line *line, double longest)
{
    struct buffer bar = BUFFER_EMPTY;
    int filled = (int)lround(line->share * BAR / longest);
    int aim = isnan(line->wanted) ? -1 : (int)lround(line->wanted * BAR / longest);
    for (int i = 0; i <= BAR; i++) {
        if (i == aim)
            buffer_add_character(&bar, '|');
        if (i < BAR && (i < filled || i < aim))
            buffer_add_character(&bar, i < filled ? '#' : '.');
    }
    page_cell(page, "%s", buffer_text(&bar));
    buffer_free(&bar);
}

static bool has_aim(enum balance_by by)
{
    return by == BALANCE_OBJECTIVE || by == BALANCE_SKILL || by == BALANCE_TOPIC;
}

static void add_line(struct page *page, const struct balance_line *line, enum balance_by by, double longest, bool judged)
{
    bool wants = has_aim(by);
    page_cell(page, "%s%s%s%s", line->inner ? "- " : "", by == BALANCE_OBJECTIVE ? line->id : "",
              by == BALANCE_OBJECTIVE ? ": " : "", line->name);
    page_cell(page, "%ld", line->questions);
    page_cell(page, "%g", line->marks);
    page_cell(page, "%.1f", line->share);
    if (wants && isnan(line->wanted))
        page_cell(page, "%s", "");
    else if (wants)
        page_cell(page, "%s%g", line->least ? "min " : "", line->wanted);
    add_bar(page, line, longest);
    if (!judged)
        return;
    page_cell(page, "%s", "");
    if (line->off)
        page_add(page, STYLE_BAD, "%s", line->share < line->wanted ? "too few" : "too many");
}

/* The last column says what is off, and is there only when something is. */
static void add_table(struct page *page, const struct balance *balance, enum balance_by by)
{
    const struct balance_table *table = &balance->tables[by];
    bool wants = has_aim(by), judged = false;
    if (!table->count)
        return;
    for (size_t i = 0; i < table->count; i++)
        judged = judged || table->lines[i].off;
    struct buffer caption = BUFFER_EMPTY;
    buffer_print(&caption, "Marks by %s", balance_heading(by));
    page_table(page, buffer_text(&caption), judged ? "lrrrrll" : wants ? "lrrrrl" : "lrrrl", true);
    static const char *const heads[] = {"", "questions", "marks", "%", "wanted", "", ""};
    for (size_t i = 0; i < sizeof heads / sizeof *heads - !judged; i++)
        if (i != 4 || wants)
            page_cell(page, "%s", heads[i]);
    double longest = longest_share(table);
    for (size_t i = 0; i < table->count; i++)
        add_line(page, &table->lines[i], by, longest, judged);
    buffer_free(&caption);
}

static void add_wish(struct page *page, const struct balance_wish *wish)
{
    page_item(page, 0, "-", "%s on %s for %s%s%s, %s demand", text_count(wish->marks, "mark", "marks"), wish->topic,
              wish->objective, wish->skill ? ", with " : "", wish->skill ? wish->skill : "", demand_names[wish->demand]);
    for (size_t i = 0; i < 3 && wish->words[i]; i++)
        page_add(page, STYLE_PLAIN, "%s%s", i == 0 ? "; for example with " : i == 2 || !wish->words[i + 1] ? " or " : ", ",
                 wish->words[i]);
}

static void add_wishes(struct page *page, const struct balance *balance)
{
    struct balance_wish wishes[WISHES];
    size_t count = balance_wishes(balance, wishes, WISHES);
    page_heading(page, 2, "What to write next");
    for (size_t i = 0; i < count; i++)
        add_wish(page, &wishes[i]);
}

void balance_show(struct page *page, const char *path, const struct balance *balance)
{
    page_heading(page, 1, "%s", balance->course->name);
    page_paragraph(page, "%s: %s, %s, %zu with other numbers each time.", path,
                   text_count((long)balance->questions, "question", "questions"),
                   text_count((long)balance->marks, "mark", "marks"), balance->varied);
    for (size_t by = 0; by < BALANCE_HEADINGS; by++)
        add_table(page, balance, (enum balance_by)by);
    page_gap(page);
    page_paragraph(page, "Each # is a share of the marks, and | is where the course wants it to end. A share may be off by %g "
                   "points or %g marks, whichever is more. A question with several parts counts once a part by objective, "
                   "skill and command word.", BALANCE_POINTS, BALANCE_MARKS);
    if (balance->off)
        page_paragraph(page, "%s.", text_count((long)balance->off, "share is off", "shares are off"));
    else
        page_paragraph(page, "Nothing is off.");
    add_wishes(page, balance);
}

static void line_json(struct json *json, const struct balance_line *line)
{
    json_object(json, NULL);
    json_text(json, "id", line->id);
    json_text(json, "name", line->name);
    json_whole(json, "questions", line->questions);
    json_number(json, "marks", line->marks);
    json_number(json, "share", line->share);
    json_number(json, "wanted", line->wanted);
    json_truth(json, "least", line->least);
    json_truth(json, "off", line->off);
    json_number(json, "missing", line->missing);
    json_close_object(json);
}

static void wishes_json(struct json *json, const struct balance *balance)
{
    struct balance_wish wishes[WISHES];
    size_t count = balance_wishes(balance, wishes, WISHES);
    json_array(json, "next");
    for (size_t i = 0; i < count; i++) {
        json_object(json, NULL);
        json_text(json, "topic", wishes[i].topic);
        json_text(json, "objective", wishes[i].objective);
        json_text(json, "skill", wishes[i].skill);
        json_text(json, "demand", demand_names[wishes[i].demand]);
        json_whole(json, "marks", wishes[i].marks);
        json_array(json, "words");
        for (size_t k = 0; k < 3 && wishes[i].words[k]; k++)
            json_text(json, NULL, wishes[i].words[k]);
        json_close_array(json);
        json_close_object(json);
    }
    json_close_array(json);
}

void balance_json(struct json *json, const struct balance *balance)
{
    json_text(json, "course", balance->course->name);
    json_whole(json, "questions", (int64_t)balance->questions);
    json_number(json, "marks", balance->marks);
    json_whole(json, "off", (int64_t)balance->off);
    json_object(json, "by");
    for (size_t by = 0; by < BALANCE_HEADINGS; by++) {
        json_array(json, balance_heading((enum balance_by)by));
        for (size_t i = 0; i < balance->tables[by].count; i++)
            line_json(json, &balance->tables[by].lines[i]);
        json_close_array(json);
    }
    json_close_object(json);
    wishes_json(json, balance);
}
