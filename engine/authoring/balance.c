#include "authoring/balance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

enum { DEMANDS = 3, WISH_MARKS = 6 };

static const char *const demand_names[DEMANDS] = {"low", "standard", "high"};

const char *balance_heading(enum balance_by by)
{
    static const char *const names[BALANCE_HEADINGS] = {"objective", "skill", "topic", "demand", "command word"};
    return names[by];
}

/* ---- Counting ------------------------------------------------------------------------------------- */

static struct balance_table table_of(struct arena *arena, size_t count)
{
    struct balance_table table = {arena_get(arena, (count + 1) * sizeof(struct balance_line)), count};
    memset(table.lines, 0, (count + 1) * sizeof *table.lines);
    for (size_t i = 0; i < count; i++)
        table.lines[i].wanted = (double)NAN;
    return table;
}

static void name_lines(struct balance *balance, struct arena *arena)
{
    const struct course *course = balance->course;
    const size_t counts[BALANCE_HEADINGS] = {course->objective_count, course->skill_count, course->topic_count, DEMANDS,
                                             course->word_count};
    for (size_t by = 0; by < BALANCE_HEADINGS; by++)
        balance->tables[by] = table_of(arena, counts[by]);
    for (size_t i = 0; i < course->objective_count; i++)
        balance->tables[BALANCE_OBJECTIVE].lines[i] = (struct balance_line){
            .id = course->objectives[i].id, .name = course->objectives[i].name, .wanted = course->objectives[i].share};
    for (size_t i = 0; i < course->skill_count; i++)
        balance->tables[BALANCE_SKILL].lines[i] = (struct balance_line){
            .id = course->skills[i].id, .name = course->skills[i].name, .wanted = course->skills[i].share, .least = true};
    for (size_t i = 0; i < course->topic_count; i++)
        balance->tables[BALANCE_TOPIC].lines[i] = (struct balance_line){
            .id = course->topics[i].id, .name = course->topics[i].name, .wanted = course->topics[i].share,
            .inner = course->topics[i].parent >= 0};
    for (size_t i = 0; i < DEMANDS; i++)
        balance->tables[BALANCE_DEMAND].lines[i].id = balance->tables[BALANCE_DEMAND].lines[i].name = demand_names[i];
    for (size_t i = 0; i < course->word_count; i++)
        balance->tables[BALANCE_WORD].lines[i].id = balance->tables[BALANCE_WORD].lines[i].name = course->words[i].word;
}

static void add_marks(struct balance_line *line, int marks)
{
    line->marks += marks;
    line->questions++;
}

static void count_question(struct balance *balance, const struct question_summary *question)
{
    const struct course *course = balance->course;
    int parent = course->topics[question->topic].parent;
    add_marks(&balance->tables[BALANCE_TOPIC].lines[question->topic], question->marks);
    if (parent >= 0)
        add_marks(&balance->tables[BALANCE_TOPIC].lines[parent], question->marks);
    add_marks(&balance->tables[BALANCE_DEMAND].lines[question->demand], question->marks);
    balance->marks += question->marks;
    balance->varied += question->varied;
    for (size_t i = 0; i < question->part_count; i++) {
        const struct part_summary *part = &question->parts[i];
        add_marks(&balance->tables[BALANCE_OBJECTIVE].lines[part->objective], part->marks);
        add_marks(&balance->tables[BALANCE_WORD].lines[part->word], part->marks);
        for (size_t skill = 0; skill < course->skill_count; skill++)
            if (part->skills >> skill & 1)
                add_marks(&balance->tables[BALANCE_SKILL].lines[skill], part->marks);
    }
}

/* x more marks of this kind make the share right when (marks + x) / (all + x) is what is wanted. */
static double missing_marks(double marks, double all, double wanted)
{
    double share = fmin(wanted, 99) / 100;
    return fmax(0, (share * all - marks) / (1 - share));
}

static void judge_line(struct balance *balance, struct balance_line *line)
{
    double all = balance->marks;
    line->share = all > 0 ? line->marks * 100 / all : 0;
    if (isnan(line->wanted) || all <= 0)
        return;
    double allowed = fmax(BALANCE_POINTS, BALANCE_MARKS * 100 / all);
    line->off = line->share < line->wanted - (line->least ? 0 : allowed) ||
                (!line->least && line->share > line->wanted + allowed);
    line->missing = missing_marks(line->marks, all, line->wanted);
    balance->off += line->off;
}

static int most_marks_first(const void *a, const void *b)
{
    const struct balance_line *x = a, *y = b;
    return x->marks < y->marks ? 1 : x->marks > y->marks ? -1 : strcmp(x->name, y->name);
}

/* The built-in set of command words is long: those in use are what a teacher wants to see. */
static void keep_used_words(struct balance_table *words)
{
    size_t kept = 0;
    for (size_t i = 0; i < words->count; i++)
        if (words->lines[i].questions)
            words->lines[kept++] = words->lines[i];
    words->count = kept;
    if (kept)
        qsort(words->lines, kept, sizeof *words->lines, most_marks_first);
}

struct balance *balance_of(const struct bank *bank, struct arena *arena)
{
    struct balance *balance = arena_get(arena, sizeof *balance);
    *balance = (struct balance){.course = bank_course(bank), .questions = bank_question_count(bank)};
    name_lines(balance, arena);
    for (size_t i = 0; i < balance->questions; i++)
        count_question(balance, bank_summary(bank, i));
    for (size_t by = 0; by < BALANCE_HEADINGS; by++)
        for (size_t i = 0; i < balance->tables[by].count; i++)
            judge_line(balance, &balance->tables[by].lines[i]);
    keep_used_words(&balance->tables[BALANCE_WORD]);
    return balance;
}

/* ---- What to write next ---------------------------------------------------------------------------- */

/* Marks as they would stand with the wishes so far. */
struct tallies {
    double *marks[BALANCE_HEADINGS];
    double all;
};

static double tally_word(const struct balance *balance, const struct tallies *tallies, const char *word)
{
    const struct balance_table *words = &balance->tables[BALANCE_WORD];
    for (size_t i = 0; i < words->count; i++)
        if (words->lines[i].name == word)
            return tallies->marks[BALANCE_WORD][i];
    return 0;
}

/* Marks the line lacks in a bank that is one question longer. */
static double lack(const struct balance *balance, const struct tallies *tallies, enum balance_by by, size_t line)
{
    return balance->tables[by].lines[line].wanted / 100 * (tallies->all + WISH_MARKS) - tallies->marks[by][line];
}

static bool may_be_wished(const struct balance *balance, enum balance_by by, size_t line)
{
    return by != BALANCE_TOPIC || balance->course->topics[line].is_leaf;
}

static size_t most_lacking(const struct balance *balance, const struct tallies *tallies, enum balance_by by)
{
    size_t best = balance->tables[by].count;
    for (size_t i = 0; i < balance->tables[by].count; i++)
        if (may_be_wished(balance, by, i) && (best == balance->tables[by].count ||
                                              lack(balance, tallies, by, i) > lack(balance, tallies, by, best) + 1e-9))
            best = i;
    return best;
}

/* The three words that usually signal the objective and have fewest marks so far. */
static void choose_words(const struct balance *balance, const struct tallies *tallies, int objective, const char **words)
{
    const struct course *course = balance->course;
    double used[3] = {0};
    words[0] = words[1] = words[2] = NULL;
    for (size_t i = 0; i < course->word_count; i++) {
        if (course->words[i].objective != objective)
            continue;
        const char *word = course->words[i].word;
        double marks = tally_word(balance, tallies, word);
        for (size_t place = 0; place < 3; place++) {
            if (words[place] && used[place] <= marks)
                continue;
            memmove(&words[place + 1], &words[place], (2 - place) * sizeof *words);
            memmove(&used[place + 1], &used[place], (2 - place) * sizeof *used);
            words[place] = word, used[place] = marks;
            break;
        }
    }
}

static void wish_next(const struct balance *balance, struct tallies *tallies, struct balance_wish *wish)
{
    const struct course *course = balance->course;
    size_t topic = most_lacking(balance, tallies, BALANCE_TOPIC), objective = most_lacking(balance, tallies, BALANCE_OBJECTIVE);
    size_t skill = most_lacking(balance, tallies, BALANCE_SKILL);
    const double *demands = tallies->marks[BALANCE_DEMAND];
    bool skilled = skill < course->skill_count && lack(balance, tallies, BALANCE_SKILL, skill) > 0.5;
    bool hard = course->objectives[objective].kind != OBJECTIVE_KNOW;   /* recall is hard for its topic, not its demand */
    double marks = fmin(lack(balance, tallies, BALANCE_TOPIC, topic), lack(balance, tallies, BALANCE_OBJECTIVE, objective));
    *wish = (struct balance_wish){
        .topic = course->topics[topic].name, .objective = course->objectives[objective].id,
        .skill = skilled ? course->skills[skill].name : NULL,
        .demand = hard && demands[DEMAND_HIGH] < demands[DEMAND_STANDARD] ? DEMAND_HIGH : DEMAND_STANDARD,
        .marks = (int)fmax(2, fmin(WISH_MARKS, round(marks)))};
    choose_words(balance, tallies, (int)objective, wish->words);
    tallies->all += wish->marks;
    tallies->marks[BALANCE_TOPIC][topic] += wish->marks;
    tallies->marks[BALANCE_OBJECTIVE][objective] += wish->marks;
    tallies->marks[BALANCE_DEMAND][wish->demand] += wish->marks;
    if (skilled)
        tallies->marks[BALANCE_SKILL][skill] += wish->marks;
}

size_t balance_wishes(const struct balance *balance, struct balance_wish *wishes, size_t most)
{
    struct tallies tallies = {.all = balance->marks};
    for (size_t by = 0; by < BALANCE_HEADINGS; by++) {
        tallies.marks[by] = memory_get_zeroed(balance->tables[by].count + 1, sizeof(double));
        for (size_t i = 0; i < balance->tables[by].count; i++)
            tallies.marks[by][i] = balance->tables[by].lines[i].marks;
    }
    for (size_t i = 0; i < most; i++)
        wish_next(balance, &tallies, &wishes[i]);
    for (size_t by = 0; by < BALANCE_HEADINGS; by++)
        free(tallies.marks[by]);
    return most;
}
