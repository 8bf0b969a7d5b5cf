#include "paper/explain.h"

#include <string.h>

#include "base/dates.h"
#include "base/text.h"

static const char *const demand_names[] = {"low demand", "standard demand", "high demand"};

static const char *name_of(const struct gathered *gathered, const struct aim *aim)
{
    const struct course *course = gathered->course;
    switch (aim->kind) {
    case AIM_OBJECTIVE: return course->objectives[aim->index].id;
    case AIM_SKILL: return course->skills[aim->index].name;
    case AIM_TOPIC: return course->topics[aim->index].name;
    case AIM_DEMAND: break;
    }
    return demand_names[aim->index];
}

static bool is_sub_topic(const struct gathered *gathered, const struct aim *aim)
{
    return aim->kind == AIM_TOPIC && gathered->course->topics[aim->index].parent >= 0;
}

/* "22 to 26", "at least 12", "about 4"; of a span that is one number, the number. */
static void add_span(struct buffer *out, const struct gathered *gathered, const struct aim *aim)
{
    int marks = gathered->blueprint.marks;
    if (aim->least == 0 && aim->most == marks) {
        buffer_print(out, "about %d", aim->low);
        if (aim->high != aim->low)
            buffer_print(out, " to %d", aim->high);
    } else if (aim->most == marks && aim->least < marks) {
        buffer_print(out, "at least %d", aim->least);
    } else if (aim->least == aim->most) {
        buffer_print(out, "%d", aim->least);
    } else {
        buffer_print(out, "%d to %d", aim->least, aim->most);
    }
}

/* ---- The blueprint ------------------------------------------------------------------------------------------ */

static void add_row(struct page *page, const char *name, const char *wanted, long has, bool met)
{
    page_cell(page, "%s", name);
    page_cell(page, "%s", wanted);
    page_cell(page, "%ld", has);
    page_cell(page, "%s", met ? "" : "missed");
}

static void add_aim(struct page *page, const struct gathered *gathered, const struct aim *aim, int given)
{
    struct buffer name = BUFFER_EMPTY, wanted = BUFFER_EMPTY;
    buffer_print(&name, "%s%s", is_sub_topic(gathered, aim) ? "– " : "", name_of(gathered, aim));
    if (aim->kind == AIM_OBJECTIVE)
        buffer_print(&name, " %s", gathered->course->objectives[aim->index].name);
    add_span(&wanted, gathered, aim);
    add_row(page, buffer_text(&name), buffer_text(&wanted), given, given >= aim->least && given <= aim->most);
    buffer_free(&name);
    buffer_free(&wanted);
}

static long whole_minutes(int seconds)
{
    return seconds / 60;
}

void explain_blueprint(struct page *page, const struct gathered *gathered, const struct verdict *verdict)
{
    const struct blueprint *blueprint = &gathered->blueprint;
    struct buffer wanted = BUFFER_EMPTY;
    page_table(page, NULL, "llrl", true);
    page_cell(page, "Demand");
    page_cell(page, "wanted");
    page_cell(page, "has");
    page_cell(page, "%s", "");
    buffer_print(&wanted, "%d", blueprint->marks);
    add_row(page, "Marks in all", buffer_text(&wanted), verdict->marks, verdict->marks == blueprint->marks);
    buffer_clear(&wanted);
    buffer_print(&wanted, "at most %ld", whole_minutes(blueprint->seconds));
    add_row(page, "Minutes", buffer_text(&wanted), whole_minutes(verdict->seconds), verdict->seconds <= blueprint->seconds);
    buffer_free(&wanted);
    for (size_t i = 0; i < blueprint->aim_count; i++)
        add_aim(page, gathered, &blueprint->aims[i], verdict->given[i]);
}

/* ---- What is missed ----------------------------------------------------------------------------------------- */

struct stock { long marks, of_aim; };

/* What the questions that may be used hold in all. */
static struct stock count_stock(const struct blueprint *blueprint, size_t aim)
{
    struct stock stock = {0, 0};
    for (size_t i = 0; i < blueprint->item_count; i++) {
        if (blueprint->items[i].kept_out)
            continue;
        stock.marks += blueprint->items[i].marks;
        stock.of_aim += aim < blueprint->aim_count ? blueprint->items[i].gives[aim] : 0;
    }
    return stock;
}

static void explain_total(struct page *page, const struct gathered *gathered, const struct verdict *nearest)
{
    const struct blueprint *blueprint = &gathered->blueprint;
    int off = nearest->marks - blueprint->marks;
    long stock = count_stock(blueprint, blueprint->aim_count).marks;
    if (!off)
        return;
    page_item(page, 0, "-", "the total: %s of %d, %d too %s", text_count(nearest->marks, "mark", "marks"), blueprint->marks,
              off < 0 ? -off : off, off < 0 ? "few" : "many");
    if (stock < blueprint->marks)
        page_add(page, STYLE_PLAIN, "; all questions that may be used hold %s",  text_count(stock, "mark", "marks"));
}

static void explain_time(struct page *page, const struct gathered *gathered, const struct verdict *nearest)
{
    struct buffer needed = BUFFER_EMPTY, excess = BUFFER_EMPTY;
    if (nearest->seconds <= gathered->blueprint.seconds)
        return;
    add_duration(&needed, nearest->seconds);
    add_duration(&excess, nearest->seconds - gathered->minutes * 60.0);
    page_item(page, 0, "-", "the time: these questions need %s, %s too much for %d minutes", buffer_text(&needed),
              buffer_text(&excess), gathered->minutes);
    buffer_free(&needed);
    buffer_free(&excess);
}

/* "1 is wanted", "at least 1 is wanted". */
static bool is_one(const struct gathered *gathered, const struct aim *aim)
{
    return aim->least == 1 && (aim->most == 1 || aim->most == gathered->blueprint.marks);
}

static void explain_aim(struct page *page, const struct gathered *gathered, size_t index, int given)
{
    const struct aim *aim = &gathered->blueprint.aims[index];
    bool few = given < aim->least;
    int off = few ? aim->least - given : given - aim->most;
    long stock = count_stock(&gathered->blueprint, index).of_aim;
    if (off <= 0)
        return;
    struct buffer wanted = BUFFER_EMPTY;
    add_span(&wanted, gathered, aim);
    page_item(page, 0, "-", "%s: %s, where %s %s wanted, %d too %s", name_of(gathered, aim),
              text_count(given, "mark", "marks"), buffer_text(&wanted), is_one(gathered, aim) ? "is" : "are", off,
              few ? "few" : "many");
    if (few && stock < aim->least)
        page_add(page, STYLE_PLAIN, "; all questions that may be used hold %ld", stock);
    buffer_free(&wanted);
}

void explain_misses(struct page *page, const struct gathered *gathered, const struct verdict *nearest)
{
    explain_total(page, gathered, nearest);
    explain_time(page, gathered, nearest);
    for (size_t i = 0; i < gathered->blueprint.aim_count; i++)
        explain_aim(page, gathered, i, nearest->given[i]);
}

void explain_bars(struct page *page, const struct verdict *nearest, const struct verdict *with_enemies,
                  const struct verdict *with_all)
{
    if (with_enemies->missed < nearest->missed)
        page_paragraph(page, "Questions that give each other away (enemies) are in the way: if they could stand together, %s.",
                       with_enemies->missed ? "less would be missed" : "all could be met");
    if (with_all->missed < with_enemies->missed)
        page_paragraph(page, "The papers to avoid are in the way: with their questions %s.",
                       with_all->missed ? "less would be missed" : "all could be met");
}
