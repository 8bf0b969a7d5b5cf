/* What is proposed for an answer, and what is made of one. */
#include <stdlib.h>
#include <string.h>

#include "authoring/command-words.h"
#include "authoring/interview-inner.h"
#include "base/text.h"

enum { KEYS_PROPOSED = 3, MARKS_MOST = 40 };

#define USUAL_CAUTION "This is a paper exercise. Practical work follows your school's rules and a qualified teacher."

static const char *cell(const struct interview *interview, size_t row, enum sheet_column column)
{
    return draft_get(&interview->draft, row, column);
}

static size_t part_first(const struct interview *interview, size_t row)
{
    return draft_part_first(&interview->draft, row);
}

static bool is_one_of(const char *text, const char *const *words, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (text_equal_ignoring_case(text, words[i]))
            return true;
    return false;
}

/* ---- Proposals ------------------------------------------------------------------------------------- */

static bool id_is_free(const struct interview *interview, const char *id)
{
    return !interview->bank || bank_find(interview->bank, id) < 0 ||
           (interview->replaces && strcmp(interview->replaces, id) == 0);
}

/* "waves.energy" gives waves-energy-01, or the first number that is free. */
static const char *propose_id(struct interview *interview)
{
    char *topic = arena_copy_text(interview->arena, cell(interview, 0, SHEET_TOPIC));
    for (char *at = topic; *at; at++)
        if (*at == '.')
            *at = '-';
    for (int number = 1; number < 1000; number++) {
        const char *id = arena_print(interview->arena, "%.50s-%02d", topic, number);
        if (id_is_free(interview, id))
            return id;
    }
    return NULL;
}

static int command_word(const struct interview *interview, size_t row)
{
    const char *word = cell(interview, part_first(interview, row), SHEET_COMMAND);
    for (size_t i = 0; i < interview->course->word_count; i++)
        if (text_equal_ignoring_case(interview->course->words[i].word, word))
            return (int)i;
    return -1;
}

static const char *propose_word(struct interview *interview, size_t row)
{
    const struct words ask = words_of(cell(interview, row, SHEET_ASK), interview->arena);
    int word = command_word_of_ask(interview->course, interview->command_words, &ask);
    return word >= 0 ? interview->course->words[word].word : NULL;
}

/* The last point of a calculation is its number, those before it are the way there. */
static const char *propose_kind(struct interview *interview, size_t row)
{
    size_t first = part_first(interview, row);
    int marks = atoi(cell(interview, first, SHEET_MARKS));
    return marks > 1 && (int)(row - first) + 1 < marks ? "method" : marks > 1 ? "accuracy" : "plain";
}

/* The words of the point that carry meaning and that the ask does not hand over. */
static const char *propose_keys(struct interview *interview, size_t row)
{
    const struct words point = words_of(cell(interview, row, SHEET_POINT), interview->arena);
    const struct words ask = words_of(cell(interview, part_first(interview, row), SHEET_ASK), interview->arena);
    const char *keys = NULL;
    size_t count = 0;
    for (size_t i = 0; i < point.count && count < KEYS_PROPOSED; i++) {
        const struct word *word = &point.items[i];
        bool asked = word->small || word->number || strlen(word->folded) < 4;
        for (size_t k = 0; k < ask.count && !asked; k++)
            asked = text_equal(ask.items[k].stem, word->stem);
        if (asked)
            continue;
        keys = keys ? arena_print(interview->arena, "%s | %s", keys, word->folded) : word->folded;
        count++;
    }
    return keys;
}

const char *answer_proposal(struct interview *interview, struct step step)
{
    int word = command_word(interview, step.row);
    switch (step.kind) {
    case SHEET_QUESTION: return propose_id(interview);
    case SHEET_DEMAND: return "standard";
    case SHEET_COMMAND: return propose_word(interview, step.row);
    case SHEET_OBJECTIVE: return word >= 0 ? interview->course->objectives[interview->course->words[word].objective].id : NULL;
    case SHEET_CAUTION: return USUAL_CAUTION;
    case STEP_STYLE: return answer_text(interview, step);
    case SHEET_KIND: return propose_kind(interview, step.row);
    case SHEET_TOLERANCE: return "2%";
    case SHEET_KEY: return propose_keys(interview, step.row);
    case STEP_PARTS: return "n";
    default: return NULL;
    }
}

/* ---- Refusals -------------------------------------------------------------------------------------- */

static bool refuse(struct interview *interview, const char *why)
{
    page_paragraph(interview->page, "%s", why);
    return false;
}

/* ---- Taking ---------------------------------------------------------------------------------------- */

/* By its number in the list, its id or its name; NULL: none of these. */
static const char *topic_meant(struct interview *interview, const char *text)
{
    const struct course *course = interview->course;
    char *end;
    long number = 0, wanted = strtol(text, &end, 10);
    if (*end)
        wanted = 0;
    for (size_t i = 0; i < course->topic_count; i++) {
        if (!course->topics[i].is_leaf)
            continue;
        if (++number == wanted || text_equal_ignoring_case(course->topics[i].id, text) ||
            text_equal_ignoring_case(course->topics[i].name, text))
            return course->topics[i].id;
    }
    return NULL;
}

static bool holds(const struct messages *messages, const char *text)
{
    for (size_t i = 0; i < messages->count; i++)
        if (strcmp(messages->items[i].text, text) == 0)
            return true;
    return false;
}

static size_t count_missing(const struct messages *wanted, const struct messages *among)
{
    size_t missing = 0;
    for (size_t i = 0; i < wanted->count; i++)
        missing += !holds(among, wanted->items[i].text);
    return missing;
}

/* A draft of another day may have faults of its own (the course has changed): an answer that mends one of them or adds
 * none is taken, so that nobody is caught. */
static bool is_no_worse(struct interview *interview, struct step step, const struct messages *after, const char *before_text,
                        enum sheet_column column)
{
    struct messages before = MESSAGES_EMPTY;
    size_t row = steps_cell_row(step);
    const char *text = arena_copy_text(interview->arena, cell(interview, row, column));
    draft_set(&interview->draft, row, column, before_text);
    trial_faults(interview, step, &before);
    bool taken = before.count && (count_missing(&before, after) || !count_missing(after, &before));
    if (taken)
        draft_set(&interview->draft, row, column, text);
    messages_free(&before);
    return taken;
}

/* Sets the cell and tries the draft; a cell that is not sound is as it was before. */
static bool try_cell(struct interview *interview, struct step step, enum sheet_column column, const char *text)
{
    struct messages faults = MESSAGES_EMPTY;
    size_t row = steps_cell_row(step);
    const char *before = arena_copy_text(interview->arena, cell(interview, row, column));
    draft_set(&interview->draft, row, column, text);
    trial_faults(interview, step, &faults);
    bool taken = !faults.count || is_no_worse(interview, step, &faults, before, column);
    if (!taken) {
        page_paragraph(interview->page, "That cannot stand:");
        trial_show_faults(interview->page, &faults);
    }
    messages_free(&faults);
    return taken;
}

static bool take_topic(struct interview *interview, struct step step, const char *text)
{
    const char *topic = topic_meant(interview, text);
    return topic ? try_cell(interview, step, SHEET_TOPIC, topic)
                 : refuse(interview, "There is no such topic; please type its number in the list, its id or its name.");
}

static bool take_word(struct interview *interview, struct step step, const char *text)
{
    const struct course *course = interview->course;
    const char **words = arena_get_array(interview->arena, course->word_count, sizeof *words);
    for (size_t i = 0; i < course->word_count; i++) {
        words[i] = course->words[i].word;
        if (text_equal_ignoring_case(words[i], text))
            return try_cell(interview, step, SHEET_COMMAND, words[i]);
    }
    const char *nearest = text_nearest(text, words, course->word_count);
    return refuse(interview, arena_print(interview->arena, "'%s' is not a command word of this course; %s%s%s", text,
                                         nearest ? "did you mean '" : "Tab shows those it has.", nearest ? nearest : "",
                                         nearest ? "'?" : ""));
}

static bool take_objective(struct interview *interview, struct step step, const char *text)
{
    const struct course *course = interview->course;
    const char *known = NULL;
    for (size_t i = 0; i < course->objective_count; i++) {
        const char *id = course->objectives[i].id;
        if (text_equal_ignoring_case(id, text))
            return try_cell(interview, step, SHEET_OBJECTIVE, id);
        known = known ? arena_print(interview->arena, "%s, %s", known, id) : id;
    }
    return refuse(interview, arena_print(interview->arena, "There is no such objective; the course has %s.", known));
}

/* The ids, with spaces or commas between them. */
static bool take_skills(struct interview *interview, struct step step, const char *text)
{
    const struct course *course = interview->course;
    const char *known = "", *taken = "";
    for (size_t i = 0; i < course->skill_count; i++)
        known = arena_print(interview->arena, "%s%s%s", known, *known ? ", " : "", course->skills[i].id);
    char *copy = arena_copy_text(interview->arena, text), *rest = NULL;
    for (char *word = strtok_r(copy, " ,", &rest); word; word = strtok_r(NULL, " ,", &rest)) {
        const char *id = NULL;
        for (size_t i = 0; i < course->skill_count && !id; i++)
            id = text_equal_ignoring_case(course->skills[i].id, word) ? course->skills[i].id : NULL;
        if (!id)
            return refuse(interview, arena_print(interview->arena, "There is no skill '%s'; the course has %s.", word, known));
        taken = arena_print(interview->arena, "%s%s%s", taken, *taken ? " " : "", id);
    }
    return try_cell(interview, step, SHEET_SKILLS, taken);
}

static bool take_choice(struct interview *interview, struct step step, const char *text, const char *const *words, size_t count,
                        const char *fault)
{
    for (size_t i = 0; i < count; i++)
        if (text_equal_ignoring_case(text, words[i]))
            return try_cell(interview, step, steps_column(step), words[i]);
    return refuse(interview, fault);
}

static bool is_levels(const struct interview *interview, size_t row)
{
    return steps_is_described(interview, row) || text_starts_with(cell(interview, row, SHEET_GROUP), "indicative");
}

/* All points of the part go into one group, or out of it. */
static bool take_style(struct interview *interview, struct step step, const char *text)
{
    static const char *const words[] = {"each", "any", "list", "levels"};
    const char *marks = cell(interview, step.row, SHEET_MARKS);
    size_t end = draft_part_end(&interview->draft, step.row);
    bool levels = text_equal_ignoring_case(text, "levels"), each = text_equal_ignoring_case(text, "each");
    if (!is_one_of(text, words, sizeof words / sizeof *words))
        return refuse(interview, "Please type each, any, list or levels; ? explains them.");
    if (levels != is_levels(interview, step.row) && (end - step.row > 1 || *cell(interview, step.row, SHEET_POINT)))
        return refuse(interview, "Points and levels cannot be turned into each other. In the review 'part' adds a part, and 'drop' "
                                 "with the line of an ask takes one out.");
    interview->rows[step.row].closed = false;
    if (levels && is_levels(interview, step.row))
        return true;
    if (levels)
        steps_start_levels(interview, step.row);
    for (size_t row = step.row; row < end && !levels; row++)
        draft_set(&interview->draft, row, SHEET_GROUP,
                  each ? NULL : arena_print(interview->arena, "%s %s", text_equal_ignoring_case(text, "any") ? "any" : "list", marks));
    return true;
}

static bool take_marks(struct interview *interview, struct step step, const char *text)
{
    char *end;
    long marks = strtol(text, &end, 10);
    if (*end || end == text || marks < 1 || marks > MARKS_MOST)
        return refuse(interview, "Please type a whole number of marks from 1 to 40.");
    interview->rows[step.row].closed = false;
    draft_set(&interview->draft, step.row, SHEET_MARKS, arena_print(interview->arena, "%ld", marks));
    for (size_t row = step.row; row < draft_part_end(&interview->draft, step.row); row++) {
        const char *group = cell(interview, row, SHEET_GROUP);
        if (text_starts_with(group, "any ") || text_starts_with(group, "list "))
            draft_set(&interview->draft, row, SHEET_GROUP, arena_print(interview->arena, "%.*s %ld", (int)strcspn(group, " "), group, marks));
    }
    return true;
}

static bool take_number(struct interview *interview, struct step step, const char *text)
{
    bool formula = *text == '=';
    enum sheet_column column = formula ? SHEET_FORMULA : SHEET_VALUE, other = formula ? SHEET_VALUE : SHEET_FORMULA;
    const char *before = arena_copy_text(interview->arena, cell(interview, step.row, other));
    draft_set(&interview->draft, step.row, other, NULL);
    if (try_cell(interview, step, column, formula ? text + 1 + strspn(text + 1, " ") : text))
        return true;
    draft_set(&interview->draft, step.row, other, before);
    return false;
}

/* The points of a group end with an empty line, once there are as many as count. */
static bool end_points(struct interview *interview, struct step step)
{
    size_t first = part_first(interview, step.row), have = step.row - first;
    const char *group = cell(interview, step.row, SHEET_GROUP);
    bool indicative = text_starts_with(group, "indicative");
    int wanted = atoi(group + strcspn(group, " "));
    if (!*group || steps_is_described(interview, step.row))
        return refuse(interview, "Please write the point; ? says what a point is.");
    if (!indicative && (int)have < wanted)
        return refuse(interview, "There are fewer points than marks so far; please write another.");
    steps_remove_row(interview, step.row);
    interview->rows[first].closed = true;
    return true;
}

static bool take_id(struct interview *interview, struct step step, const char *text)
{
    if (!id_is_free(interview, text))
        return refuse(interview, "The bank has a question of that id; please choose another.");
    return try_cell(interview, step, SHEET_QUESTION, text);
}

static bool take_empty(struct interview *interview, struct step step)
{
    const struct step_rule *rule = step_rule_for(step.kind);
    if (step.kind == SHEET_POINT)
        return end_points(interview, step);
    if (rule->required)
        return refuse(interview, "Please give an answer; ? helps, .leave keeps what there is for later.");
    if (step.kind == STEP_NUMBER)
        draft_set(&interview->draft, step.row, SHEET_FORMULA, NULL);
    return try_cell(interview, step, steps_column(step), NULL);
}

/* What no file of the program may hold; a level's words are not tried before the review, but kept in the draft. */
static bool is_text(const char *text)
{
    for (const char *at = text; *at; at++)
        if (((unsigned char)*at < ' ' && *at != '\n' && *at != '\t') || *at == 0x7f)
            return false;
    return text_is_valid(text, strlen(text));
}

bool answer_take(struct interview *interview, struct step step, const char *text)
{
    static const char *const demands[] = {"low", "standard", "high"};
    static const char *const kinds[] = {"plain", "method", "accuracy", "independent", "implied"};
    if (!*text)
        return take_empty(interview, step);
    if (!is_text(text))
        return refuse(interview, "That holds characters that are no text (UTF-8 is wanted, without control characters).");
    switch (step.kind) {
    case SHEET_TOPIC: return take_topic(interview, step, text);
    case SHEET_COMMAND: return take_word(interview, step, text);
    case SHEET_SKILLS: return take_skills(interview, step, text);
    case SHEET_OBJECTIVE: return take_objective(interview, step, text);
    case SHEET_QUESTION: return take_id(interview, step, text);
    case SHEET_DEMAND: return take_choice(interview, step, text, demands, 3, "Please type low, standard or high.");
    case SHEET_KIND:
        return take_choice(interview, step, text, kinds, 5, "Please type plain, method, accuracy, independent or implied.");
    case SHEET_MARKS: return take_marks(interview, step, text);
    case STEP_STYLE: return take_style(interview, step, text);
    case STEP_NUMBER: return take_number(interview, step, text);
    default: return try_cell(interview, step, steps_column(step), text);
    }
}

/* ---- As it is ---------------------------------------------------------------------------------------- */

const char *answer_text(struct interview *interview, struct step step)
{
    size_t row = steps_cell_row(step);
    const char *formula = cell(interview, row, SHEET_FORMULA), *group = cell(interview, row, SHEET_GROUP);
    if (step.kind == STEP_NUMBER && *formula)
        return arena_print(interview->arena, "= %s", formula);
    if (step.kind == STEP_STYLE)
        return !*group ? "each" : text_starts_with(group, "level") ? "levels"
               : arena_print(interview->arena, "%.*s", (int)strcspn(group, " "), group);
    return step.kind == STEP_PARTS ? "" : cell(interview, row, steps_column(step));
}

static void tell_word(struct interview *interview, size_t row)
{
    int word = command_word(interview, row);
    if (word >= 0 && interview->course->words[word].needs)
        page_paragraph(interview->page, "A full answer to \"%s\" needs: %s", interview->course->words[word].word,
                       interview->course->words[word].needs);
}

void answer_tell(struct interview *interview, struct step step)
{
    if (step.kind == SHEET_COMMAND)
        tell_word(interview, step.row);
    if (step.kind == SHEET_QUESTION && interview->replaces && !text_equal(cell(interview, 0, SHEET_QUESTION), interview->replaces))
        page_paragraph(interview->page, "What students did with the question hangs on its id: under another one it is new to them.");
    if ((step.kind == STEP_NUMBER || step.kind == SHEET_UNIT) &&
        (*cell(interview, step.row, SHEET_FORMULA) || *cell(interview, step.row, SHEET_VALUE)))
        trial_show_number(interview, step.row);
}
