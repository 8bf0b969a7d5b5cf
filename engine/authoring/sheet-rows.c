/* From rows to the XML of a question. Only what XML could not tell from something else is refused here: the rest is the
 * schema's and the checks', and sheet-import.c gives their messages back to the rows. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "authoring/cell.h"
#include "authoring/sheet-inner.h"
#include "base/memory.h"
#include "base/text.h"

static const char *cell_or_null(const struct table *table, size_t row, enum sheet_column column)
{
    const char *text = table_cell(table, row, column);
    return text_is_blank(text) ? NULL : text;
}

static void give(struct markup *element, const struct table *table, size_t row, enum sheet_column column)
{
    const char *value = cell_or_null(table, row, column);
    bool usual = value && ((column == SHEET_DEMAND && text_equal(value, "standard")) || (column == SHEET_KIND && text_equal(value, "plain")));
    markup_attribute(element, sheet_headings[column].attribute, usual ? NULL : value);
}

/* What is said once for several rows may be said again, but not otherwise. */
static void check_said_once(const struct table *table, enum sheet_scope scope, size_t first, size_t end)
{
    for (size_t row = first + 1; row < end; row++)
        for (size_t i = 0; i < SHEET_COLUMNS; i++) {
            const char *text = table_cell(table, row, (enum sheet_column)i);
            if (sheet_headings[i].scope == scope && i != SHEET_QUESTION && i != SHEET_PART && !text_is_blank(text) &&
                !text_equal(text, table_cell(table, first, (enum sheet_column)i)))
                table_fault(table, row, (enum sheet_column)i, "this differs from row %lu, which it belongs to; say it there "
                            "and leave it empty here", table->csv.rows[first].number);
        }
}

/* ---- Points --------------------------------------------------------------------------------------- */

struct wordings {
    struct markup *point;
    const char *name;
};

static void give_wording(const char *wording, void *context)
{
    struct wordings *wordings = context;
    bool essential = strcmp(wordings->name, "key") == 0 && *wording == '!';
    struct markup *element = markup_child(wordings->point, wordings->name);
    markup_attribute(element, "essential", essential ? "yes" : NULL);
    markup_text(element, wording + essential + (essential ? strspn(wording + 1, " ") : 0));
}

static void give_wordings(struct markup *element, const char *name, const struct table *table, size_t row,
                          enum sheet_column column)
{
    struct wordings wordings = {element, name};
    cell_each_wording(table_cell(table, row, column), give_wording, &wordings);
}

static void give_number(struct markup *point, const struct table *table, size_t row)
{
    static const enum sheet_column columns[] = {SHEET_SYMBOL, SHEET_VALUE, SHEET_FORMULA, SHEET_UNIT, SHEET_NUMBER_UNIT,
                                                SHEET_TOLERANCE, SHEET_FIGURES, SHEET_PLACES, SHEET_FROM, SHEET_TO,
                                                SHEET_TO_EXCLUDED};
    struct markup *number = NULL;
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++) {
        if (!cell_or_null(table, row, columns[i]))
            continue;
        if (!number)
            number = markup_child(point, "number");
        give(number, table, row, columns[i]);
    }
}

static void give_point(struct markup *around, const struct table *table, size_t row)
{
    static const enum sheet_column columns[] = {SHEET_ID, SHEET_KIND, SHEET_POINT_MARKS, SHEET_NEEDS, SHEET_POINT_OBJECTIVE,
                                                SHEET_FOLLOW, SHEET_IDEA};
    struct markup *point = markup_child(around, "point");
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
        give(point, table, row, columns[i]);
    cell_read_rich(point, table_cell(table, row, SHEET_POINT));
    give_number(point, table, row);
    give_wordings(point, "accept", table, row, SHEET_ACCEPT);
    give_wordings(point, "ignore", table, row, SHEET_IGNORE);
    give_wordings(point, "reject", table, row, SHEET_REJECT);
    give_wordings(point, "key", table, row, SHEET_KEY);
}

/* ---- Groups --------------------------------------------------------------------------------------- */

enum group_kind { GROUP_NONE, GROUP_ANY, GROUP_ALL, GROUP_LIST, GROUP_ROUTE, GROUP_LEVEL, GROUP_CAP, GROUP_INDICATIVE,
                  GROUP_BAND, GROUP_KINDS };

static const char *const group_names[GROUP_KINDS] = {"", "any", "all", "list", "route", "level", "cap", "indicative", "band"};

struct group {
    enum group_kind kind;
    char label[SHEET_GROUP_LIMIT + 1];  /* as written: the same label on the next row goes on with the group */
    struct markup *outer, *inner;   /* routes and route; levels; quality; or the group itself */
};

/* Kinds that stand in one element together. */
static bool share_an_element(enum group_kind a, enum group_kind b)
{
    bool levels = a >= GROUP_LEVEL && a <= GROUP_INDICATIVE, others = b >= GROUP_LEVEL && b <= GROUP_INDICATIVE;
    return (a == b && (a == GROUP_ROUTE || a == GROUP_BAND)) || (levels && others);
}

/* "any 2", "list 3 first", "route by power", each with a remark in brackets behind it. rest: behind the first word. */
static bool read_group(const char *label, enum group_kind *kind, char *rest, size_t size)
{
    size_t length = strcspn(label, " ");
    *kind = GROUP_KINDS;
    for (size_t i = 1; i < GROUP_KINDS; i++)
        if (strlen(group_names[i]) == length && strncmp(group_names[i], label, length) == 0)
            *kind = (enum group_kind)i;
    snprintf(rest, size, "%s", label + length + strspn(label + length, " "));
    char *remark = strrchr(rest, '(');
    if (remark && remark > rest && remark[-1] == ' ' && rest[strlen(rest) - 1] == ')')
        *remark = '\0';
    memmove(rest, text_trim(rest), strlen(text_trim(rest)) + 1);
    return *kind != GROUP_KINDS && (*kind == GROUP_INDICATIVE || *rest);
}

static void open_outer(struct group *group, struct markup *scheme)
{
    static const char *const outer[GROUP_KINDS] = {[GROUP_ROUTE] = "routes", [GROUP_LEVEL] = "levels", [GROUP_CAP] = "levels",
                                                   [GROUP_INDICATIVE] = "levels", [GROUP_BAND] = "quality"};
    group->outer = outer[group->kind] ? markup_child(scheme, outer[group->kind]) : scheme;
}

static void open_inner(struct group *group, const char *rest)
{
    bool first = strstr(rest, " first") != NULL;
    char number[64];
    snprintf(number, sizeof number, "%.*s", (int)strcspn(rest, " "), rest);
    group->inner = group->outer;
    switch (group->kind) {
    case GROUP_ANY: case GROUP_LIST: case GROUP_ALL:
        group->inner = markup_child(group->outer, group_names[group->kind]);
        markup_attribute(group->inner, group->kind == GROUP_ALL ? "marks" : "take", number);
        markup_attribute(group->inner, "rule", group->kind == GROUP_LIST && first ? "first" : NULL);
        break;
    case GROUP_ROUTE:
        group->inner = markup_child(group->outer, "route");
        markup_attribute(group->inner, "name", rest);
        break;
    case GROUP_INDICATIVE:
        group->inner = markup_child(group->outer, "indicative");
        break;
    default:
        break;
    }
}

static void give_described(struct markup *around, enum group_kind kind, const char *rest, const char *text)
{
    struct markup *element = markup_child(around, group_names[kind]);
    markup_attribute(element, kind == GROUP_CAP ? "level" : "marks", rest);
    markup_text(element, text);
}

static void give_row(struct markup *scheme, struct group *group, const struct table *table, size_t row)
{
    const char *label = table_cell(table, row, SHEET_GROUP);
    enum group_kind kind = GROUP_NONE;
    char rest[SHEET_GROUP_LIMIT + 1] = "";
    if (text_is_blank(table_cell(table, row, SHEET_POINT)))
        table_fault(table, row, SHEET_POINT, "there is no marking point; every row has one");
    if (strlen(label) > SHEET_GROUP_LIMIT)
        table_fault(table, row, SHEET_GROUP, "the name of the group has more than %d bytes; shorten it", SHEET_GROUP_LIMIT);
    else if (!text_is_blank(label) && !read_group(label, &kind, rest, sizeof rest))
        table_fault(table, row, SHEET_GROUP, "'%s' is no group; write for example 'any 2', 'list 3', 'list 3 first', "
                    "'all 2', 'route by power', 'level 1-2', 'cap 2', 'indicative' or 'band 2'", label);
    if (kind == GROUP_NONE || kind == GROUP_KINDS) {
        *group = (struct group){.kind = GROUP_NONE};
        give_point(scheme, table, row);
        return;
    }
    bool same = kind == group->kind && strncmp(label, group->label, sizeof group->label - 1) == 0;
    if (!same && !share_an_element(kind, group->kind)) {
        group->kind = kind;
        open_outer(group, scheme);
    }
    group->kind = kind;
    if (!same)
        open_inner(group, rest);
    snprintf(group->label, sizeof group->label, "%s", label);
    if (kind == GROUP_LEVEL || kind == GROUP_CAP || kind == GROUP_BAND)
        give_described(group->outer, kind, rest, table_cell(table, row, SHEET_POINT));
    else
        give_point(group->inner, table, row);
    if (kind == GROUP_LIST) {
        give_wordings(group->inner, "ignore", table, row, SHEET_LIST_IGNORE);
        give_wordings(group->inner, "reject", table, row, SHEET_LIST_REJECT);
    }
}

/* ---- Parts and the question ------------------------------------------------------------------------ */

static void give_scheme(struct markup *part, const struct table *table, size_t first, size_t end)
{
    static const struct { const char *words, *attribute, *value; } flags[] = {
        {"working required", "working", "required"}, {"no unit penalty", "unit-penalty", "no"},
        {"crossed-out ignored", "crossed-out", "ignored"}};
    const char *said = table_cell(table, first, SHEET_SCHEME);
    struct markup *scheme = markup_child(part, "scheme");
    struct group group = {.kind = GROUP_NONE};
    size_t known = 0;
    for (size_t i = 0; i < sizeof flags / sizeof *flags; i++)
        if (strstr(said, flags[i].words)) {
            markup_attribute(scheme, flags[i].attribute, flags[i].value);
            known++;
        }
    if (!known && !text_is_blank(said))
        table_fault(table, first, SHEET_SCHEME, "'%s' says nothing known; write 'working required', 'no unit penalty' or "
                    "'crossed-out ignored', with | between them", said);
    for (size_t row = first; row < end; row++)
        give_row(scheme, &group, table, row);
}

static void give_givens(struct markup *around, const struct table *table, size_t row, enum sheet_column column)
{
    const char *fault;
    if (!cell_read_givens(around, table_cell(table, row, column), &fault))
        table_fault(table, row, column, "%s; with | between several", fault);
}

static void give_part(struct markup *question, const struct table *table, size_t first, size_t end)
{
    static const enum sheet_column columns[] = {SHEET_PART, SHEET_OBJECTIVE, SHEET_COMMAND, SHEET_MARKS, SHEET_SKILLS,
                                                SHEET_LINES};
    struct markup *part = markup_child(question, "part");
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
        give(part, table, first, columns[i]);
    cell_read_blocks(part, "ask", table_cell(table, first, SHEET_ASK));
    give_givens(part, table, first, SHEET_PART_GIVENS);
    give_scheme(part, table, first, end);
    cell_read_blocks(part, "model", table_cell(table, first, SHEET_MODEL));
    cell_read_blocks(part, "note", table_cell(table, first, SHEET_NOTE));
    check_said_once(table, SHEET_OF_PART, first, end);
}

static void give_parts(struct markup *question, const struct rows *rows)
{
    size_t end = rows->first + rows->count, first = rows->first;
    while (first < end) {
        size_t next = first + 1;
        const char *part = table_cell(rows->table, first, SHEET_PART);
        while (next < end && (!cell_or_null(rows->table, next, SHEET_PART) ||
                              text_equal(table_cell(rows->table, next, SHEET_PART), part)))
            next++;
        give_part(question, rows->table, first, next);
        first = next;
    }
}

struct markup *rows_markup(const struct rows *rows)
{
    static const enum sheet_column columns[] = {SHEET_QUESTION, SHEET_TOPIC, SHEET_ALSO, SHEET_DEMAND, SHEET_MINUTES,
                                                SHEET_ENEMIES};
    const struct table *table = rows->table;
    struct markup *question = markup_new(table->arena, "question");
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++)
        give(question, table, rows->first, columns[i]);
    cell_read_blocks(question, "stem", table_cell(table, rows->first, SHEET_STEM));
    if (cell_or_null(table, rows->first, SHEET_CAUTION))
        markup_text(markup_child(question, "caution"), table_cell(table, rows->first, SHEET_CAUTION));
    give_givens(question, table, rows->first, SHEET_GIVENS);
    give_parts(question, rows);
    cell_read_blocks(question, "note", table_cell(table, rows->first, SHEET_QUESTION_NOTE));
    check_said_once(table, SHEET_OF_QUESTION, rows->first, rows->first + rows->count);
    return question;
}

/* ---- From a line of the XML back to its row ---------------------------------------------------------- */

/* Each row is one of these elements, in the order of the rows. */
static size_t rows_begun(const char *line, size_t length)
{
    static const char *const tags[] = {"<point", "<level ", "<cap ", "<band "};
    for (size_t i = 0; i < sizeof tags / sizeof *tags; i++)
        if (memmem(line, length, tags[i], strlen(tags[i])))
            return 1;
    return 0;
}

size_t rows_row_of_line(const struct rows *rows, const char *xml, unsigned long line)
{
    size_t begun = 0;
    bool in_scheme = false;
    for (unsigned long number = 1; *xml && number <= line; number++) {
        size_t length = strcspn(xml, "\n");
        in_scheme = (in_scheme || memmem(xml, length, "<scheme", 7)) && (number == line || !memmem(xml, length, "</scheme>", 9));
        begun += rows_begun(xml, length);
        xml += length + (xml[length] == '\n');
    }
    size_t index = in_scheme && begun ? begun - 1 : begun;
    return rows->first + (index < rows->count ? index : rows->count - 1);
}
