/* What is asked, in which order, and what of it applies. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "authoring/interview-inner.h"
#include "base/memory.h"
#include "base/text.h"

static const struct step_rule rules[] = {
    {SHEET_TOPIC, "topic", "The topic the question belongs to: its number in the list, its id or its name. Tab completes.", false, true,
     false, false},
    {SHEET_QUESTION, "id", "A short name for the question, such as my-01: letters, digits, - . and _, once in the bank.", false, true,
     false, false},
    {SHEET_DEMAND, "demand", "How hard it is for its topic: low, standard or high.", false, true, false, false},
    {SHEET_GIVENS, "given", "The numbers that are given, one a line: H = 1.2 [m] wave height. An empty line when there are none or no "
                            "more. Several numbers (H = 1.2 1.5 2.0 [m] wave height) or a range (T = 6.0 to 9.0 by 0.5 [s] period) make "
                            "the question come back with other numbers; N = : n*T to 0 places works one out from others.", true, false,
     true, true},
    {SHEET_STEM, "stem", "What stands before the ask: the situation and what is given. A paragraph a line, an empty line when done. {H} "
                         "shows the given H with its unit; _{2} and ^{-3} are set low and high, *{so} is emphasised.", true, false, true, true},
    {SHEET_ASK, "ask", "What the student is to do: a command word and what it is about, in one short sentence.", false, true, true, true},
    {SHEET_COMMAND, "command word", "The word that tells the student what to do. Tab completes.", false, true, false, false},
    {SHEET_OBJECTIVE, "objective", "The objective that the marks of this part belong to.", false, true, false, false},
    {SHEET_SKILLS, "skills", "Skills the part calls on, with spaces between them; Enter for none. Tab completes.", false, false, true, false},
    {SHEET_CAUTION, "caution", "Always shown with practical work: it is a paper exercise, and practical work follows local rules and a "
                               "qualified teacher.", false, true, true, false},
    {SHEET_MARKS, "marks", "How many marks the part carries.", false, true, false, false},
    {STEP_STYLE, "marking", "each: a point for each mark, all of them wanted. any: more points than marks, any of them count. list: as "
                            "any, but a wrong answer too many cancels a right one. levels: levels of response for long answers.", false,
     true, true, false},
    {SHEET_POINT, "point", "One idea that earns a mark, as a marker would write it. Where more points may be added, an empty line ends "
                           "them.", false, true, true, true},
    {SHEET_KIND, "kind", "plain; method: a right way, though the number may be wrong; accuracy: the right number, with its method; "
                         "independent: a number on its own; implied: shown by what follows.", false, true, true, false},
    {STEP_NUMBER, "number", "The right value, such as 12.5, or = and a formula over the givens and earlier numbers, such as = f*L; "
                            "Enter when the point is no number.", false, false, true, true},
    {SHEET_UNIT, "unit", "The unit of the number, such as m/s or kg m-3; Enter for none.", false, false, false, false},
    {SHEET_TOLERANCE, "tolerance", "How far off still counts: 2% or 0.5; - for the right figures only.", false, false, true, false},
    {SHEET_FIGURES, "figures", "Significant figures, when the ask demands a number of them; else Enter.", false, false, true, false},
    {SHEET_SYMBOL, "symbol", "A name for the number, such as v: the model answer shows it as {v}, later formulae use it; Enter for none.",
     false, false, true, false},
    {SHEET_ACCEPT, "accept", "Other wordings that earn the mark, with | between them; Enter for none.", false, false, true, true},
    {SHEET_IGNORE, "ignore", "Wordings that neither earn nor lose it, with | between them; Enter for none.", false, false, true, true},
    {SHEET_REJECT, "reject", "Wordings that lose it even beside a right one, with | between them; Enter for none.", false, false, true, true},
    {SHEET_KEY, "key words", "What is looked for in an answer when a tick is checked: | between words that are all wanted, / between words "
                             "any of which will do, ! before one that must be there: !distance | water / sea.", false, false, true, true},
    {SHEET_MODEL, "model answer", "An answer that earns every mark, as a good student would write it; an empty line when done. {v} shows "
                                  "a number.", true, false, true, true},
    {SHEET_NOTE, "note", "One thing the student should learn from this part, shown after the marking; an empty line when done.", true,
     false, true, true},
    {STEP_PARTS, "another part? y n", "y adds a part to this question; Enter goes on to the whole question.", false, true, false, false},
};

const struct step_rule *step_rule_for(int kind)
{
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (rules[i].kind == kind)
            return &rules[i];
    return NULL;
}

/* ---- What applies --------------------------------------------------------------------------------- */

static bool begins(const struct interview *interview, size_t row, const char *group)
{
    return text_starts_with(draft_get(&interview->draft, row, SHEET_GROUP), group);
}

bool steps_is_described(const struct interview *interview, size_t row)
{
    return begins(interview, row, "level") || begins(interview, row, "cap") || begins(interview, row, "band");
}

bool steps_is_calculation(const struct interview *interview, size_t row)
{
    static const char *const words[] = {"calculate", "determine", "estimate", "convert", "show that", "work out", "find"};
    const char *word = draft_get(&interview->draft, draft_part_first(&interview->draft, row), SHEET_COMMAND);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (text_equal_ignoring_case(words[i], word))
            return !steps_is_described(interview, row);
    return false;
}

static bool has_number(const struct interview *interview, size_t row)
{
    return *draft_get(&interview->draft, row, SHEET_VALUE) || *draft_get(&interview->draft, row, SHEET_FORMULA);
}

static bool is_practical(const struct interview *interview, size_t row)
{
    const char *skills = draft_get(&interview->draft, row, SHEET_SKILLS);
    return strstr(skills, "practical") != NULL;
}

bool steps_applies(struct interview *interview, struct step step)
{
    const struct draft *draft = &interview->draft;
    bool first_of_part = draft_part_first(draft, step.row) == step.row;
    switch (step.kind) {
    case SHEET_TOPIC: case SHEET_QUESTION: case SHEET_DEMAND: case SHEET_GIVENS: case SHEET_STEM: return step.row == 0;
    case SHEET_ASK: case SHEET_COMMAND: case SHEET_OBJECTIVE: case SHEET_MARKS: case STEP_STYLE: case SHEET_MODEL:
    case SHEET_NOTE: return first_of_part;
    case SHEET_SKILLS: return first_of_part && interview->course->skill_count > 0;
    case SHEET_CAUTION: return first_of_part && is_practical(interview, step.row) &&
                               (step.row == 0 || !*draft_get(draft, 0, SHEET_CAUTION));
    case SHEET_KIND: case STEP_NUMBER: return steps_is_calculation(interview, step.row);
    case SHEET_UNIT: case SHEET_TOLERANCE: case SHEET_FIGURES: case SHEET_SYMBOL: return has_number(interview, step.row);
    case SHEET_ACCEPT: case SHEET_IGNORE: case SHEET_REJECT: case SHEET_KEY:
        return !has_number(interview, step.row) && !steps_is_described(interview, step.row) &&
               !begins(interview, step.row, "indicative") &&
               !(steps_is_calculation(interview, step.row) && text_equal(draft_get(draft, step.row, SHEET_KIND), "method"));
    case STEP_PARTS: return step.row == 0;
    default: return true;
    }
}

size_t steps_cell_row(struct step step)
{
    return step.kind == SHEET_CAUTION ? 0 : step.row;
}

enum sheet_column steps_column(struct step step)
{
    return step.kind == STEP_STYLE ? SHEET_GROUP : step.kind == STEP_NUMBER ? SHEET_VALUE : (enum sheet_column)step.kind;
}

const char *step_help(const struct interview *interview, struct step step)
{
    if (step.kind == SHEET_POINT && steps_is_described(interview, step.row))
        return "What an answer of this level shows, in words that a student can hold an answer against. The lowest level comes first.";
    if (step.kind == SHEET_POINT && begins(interview, step.row, "indicative"))
        return "One thing that a good answer may bring in, to help whoever marks it; it is no checklist. An empty line when there are no "
               "more.";
    return step_rule_for(step.kind)->help;
}

/* ---- In order -------------------------------------------------------------------------------------- */

static const int before_points[] = {SHEET_TOPIC, SHEET_QUESTION, SHEET_DEMAND, SHEET_GIVENS, SHEET_STEM, SHEET_ASK, SHEET_COMMAND,
                                    SHEET_OBJECTIVE, SHEET_SKILLS, SHEET_CAUTION, SHEET_MARKS, STEP_STYLE, SHEET_POINT, SHEET_KIND,
                                    STEP_NUMBER, SHEET_UNIT, SHEET_TOLERANCE, SHEET_FIGURES, SHEET_SYMBOL, SHEET_ACCEPT,
                                    SHEET_IGNORE, SHEET_REJECT, SHEET_KEY};
static const int behind_points[] = {SHEET_MODEL, SHEET_NOTE};

typedef bool step_visitor(struct interview *interview, struct step step, void *context);

static bool each_of(struct interview *interview, size_t row, const int *kinds, size_t count, step_visitor *each, void *context)
{
    for (size_t i = 0; i < count; i++) {
        const struct step step = {row, kinds[i]};
        if (steps_applies(interview, step) && !each(interview, step, context))
            return false;
    }
    return true;
}

/* Points may be added while their part is walked through: the end is looked for again each time. */
static bool each_of_part(struct interview *interview, size_t first, bool (*more)(struct interview *, size_t), step_visitor *each,
                         void *context)
{
    size_t row = first;
    do {
        if (!each_of(interview, row, before_points, sizeof before_points / sizeof *before_points, each, context))
            return false;
        row++;
    } while (row < draft_part_end(&interview->draft, first) || (more && more(interview, first)));
    return each_of(interview, first, behind_points, sizeof behind_points / sizeof *behind_points, each, context);
}

static bool walk(struct interview *interview, bool (*more)(struct interview *, size_t), step_visitor *each, void *context)
{
    for (size_t first = 0; first < interview->draft.count; first = draft_part_end(&interview->draft, first))
        if (!each_of_part(interview, first, more, each, context))
            return false;
    return each(interview, (struct step){0, STEP_PARTS}, context);
}

bool steps_each(struct interview *interview, step_visitor *each, void *context)
{
    return walk(interview, NULL, each, context);
}

/* ---- Further points -------------------------------------------------------------------------------- */

void steps_add_row(struct interview *interview)
{
    draft_add_row(&interview->draft);
    interview->rows = memory_grow(interview->rows, &interview->row_capacity, interview->draft.count - 1, sizeof *interview->rows);
    memset(&interview->rows[interview->draft.count - 1], 0, sizeof *interview->rows);
}

void steps_remove_row(struct interview *interview, size_t row)
{
    memmove(&interview->rows[row], &interview->rows[row + 1], (interview->draft.count - row - 1) * sizeof *interview->rows);
    draft_remove_row(&interview->draft, row);
}

/* A row behind the last of its part, before the parts that follow. */
static void insert_row(struct interview *interview, size_t last)
{
    steps_add_row(interview);
    struct draft_row row = interview->draft.rows[interview->draft.count - 1];
    struct interview_row beside = interview->rows[interview->draft.count - 1];
    size_t behind = interview->draft.count - last - 2;
    memmove(&interview->draft.rows[last + 2], &interview->draft.rows[last + 1], behind * sizeof row);
    memmove(&interview->rows[last + 2], &interview->rows[last + 1], behind * sizeof beside);
    interview->draft.rows[last + 1] = row;
    interview->rows[last + 1] = beside;
    draft_set(&interview->draft, last + 1, SHEET_PART, draft_get(&interview->draft, last, SHEET_PART));
    draft_set(&interview->draft, last + 1, SHEET_GROUP, draft_get(&interview->draft, last, SHEET_GROUP));
}

static int marks_so_far(const struct interview *interview, size_t first, size_t end)
{
    int marks = 0;
    for (size_t row = first; row < end; row++) {
        const char *own = draft_get(&interview->draft, row, SHEET_POINT_MARKS);
        marks += *own ? atoi(own) : 1;
    }
    return marks;
}

/* The highest mark of "level 3-4"; 0 for anything else. */
static int top_of_level(const char *group)
{
    const char *numbers = text_starts_with(group, "level ") ? group + 6 : "";
    const char *dash = strchr(numbers, '-');
    return atoi(dash ? dash + 1 : numbers);
}

/* Levels of about equal size: two up to 4 marks, three up to 9, else four; behind the highest come indicative points. */
static void set_next_level(struct interview *interview, size_t row, int below, int marks)
{
    int levels = marks <= 4 ? 2 : marks <= 9 ? 3 : 4, to = marks;
    char group[32] = "indicative";
    for (int i = levels; i >= 1; i--)
        if (marks * i / levels > below)
            to = marks * i / levels;
    if (below < marks && below + 1 == to)
        snprintf(group, sizeof group, "level %d", to);
    else if (below < marks)
        snprintf(group, sizeof group, "level %d-%d", below + 1, to);
    draft_set(&interview->draft, row, SHEET_GROUP, group);
}

void steps_start_levels(struct interview *interview, size_t row)
{
    set_next_level(interview, row, 0, atoi(draft_get(&interview->draft, row, SHEET_MARKS)));
}

/* Adds a row when the part wants a further point. */
static bool add_needed(struct interview *interview, size_t first)
{
    size_t end = draft_part_end(&interview->draft, first), last = end - 1;
    int marks = atoi(draft_get(&interview->draft, first, SHEET_MARKS));
    const char *group = draft_get(&interview->draft, last, SHEET_GROUP);
    int below = top_of_level(group);
    if (!interview->rows[first].asked[STEP_STYLE] || interview->rows[first].closed ||
        (!*group && marks_so_far(interview, first, end) >= marks))
        return false;
    insert_row(interview, last);
    if (below)
        set_next_level(interview, end, below, marks);
    return true;
}

static bool find_unasked(struct interview *interview, struct step step, void *context)
{
    struct step *found = context;
    if (interview->rows[step.row].asked[step.kind])
        return true;
    *found = step;
    return false;
}

bool steps_next(struct interview *interview, struct step *step)
{
    return !walk(interview, add_needed, find_unasked, step);
}

/* ---- After a draft was loaded ----------------------------------------------------------------------- */

static bool find_last_filled(struct interview *interview, struct step step, void *context)
{
    struct step *last = context;
    if (step.kind != STEP_PARTS && step.kind != STEP_STYLE && *answer_text(interview, step))
        *last = step;
    return true;
}

static bool mark_until(struct interview *interview, struct step step, void *context)
{
    const struct step *last = context;
    bool is_last = step.row == last->row && step.kind == last->kind;
    if (is_last && step_rule_for(step.kind)->lines)
        return false;       /* it may not be whole: it is shown and asked again */
    interview->rows[step.row].asked[step.kind] = true;
    steps_remember(interview, step);
    return !is_last;
}

static void rows_for_draft(struct interview *interview, bool asked)
{
    interview->row_capacity = interview->draft.count + 1;
    interview->rows = memory_resize_array(interview->rows, interview->row_capacity, sizeof *interview->rows);
    memset(interview->rows, 0, interview->row_capacity * sizeof *interview->rows);
    for (size_t row = 0; asked && row < interview->draft.count; row++)
        for (int kind = 0; kind < STEP_KINDS; kind++)
            interview->rows[row].asked[kind] = true;
    interview->taken_count = 0;
}

void steps_resume(struct interview *interview)
{
    struct step last = {0, STEP_KINDS};
    struct draft *draft = &interview->draft;
    rows_for_draft(interview, false);
    steps_each(interview, find_last_filled, &last);
    if (last.kind != STEP_KINDS)
        steps_each(interview, mark_until, &last);
    for (size_t first = 0; first < draft->count; first = draft_part_end(draft, first))
        interview->rows[first].closed = *draft_get(draft, first, SHEET_MODEL) || draft_part_end(draft, first) < draft->count;
}

void steps_all_asked(struct interview *interview)
{
    rows_for_draft(interview, true);
    for (size_t row = 0; row < interview->draft.count; row++)
        interview->rows[row].closed = true;
}

bool steps_reopen(struct interview *interview, size_t row)
{
    size_t first = draft_part_first(&interview->draft, row), before = interview->draft.count;
    interview->rows[first].closed = false;
    struct step step;
    steps_next(interview, &step);
    return interview->draft.count > before;
}

void steps_remember(struct interview *interview, struct step step)
{
    interview->taken = memory_grow(interview->taken, &interview->taken_capacity, interview->taken_count, sizeof step);
    interview->taken[interview->taken_count++] = step;
}

void steps_add_part(struct interview *interview)
{
    struct draft *draft = &interview->draft;
    char part[2] = "b";
    for (size_t row = 0; row < draft->count; row++) {
        const char *id = draft_get(draft, row, SHEET_PART);
        if (!*id)
            draft_set(draft, row, SHEET_PART, "a");
        else if (id[0] >= part[0] && id[0] < 'z' && !id[1])
            part[0] = (char)(id[0] + 1);
    }
    steps_add_row(interview);
    draft_set(draft, draft->count - 1, SHEET_PART, part);
    draft_set(draft, draft->count - 1, SHEET_GROUP, NULL);
    interview->rows[0].asked[STEP_PARTS] = false;
}
