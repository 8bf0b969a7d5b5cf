/* The course: objectives, skills, topics, command words, data sheet. */
#include <stdio.h>
#include <string.h>

#include "bank/reader-inner.h"

static void start_bank(struct reader *reader)
{
    struct reading *reading = reader->reading;
    snprintf(reading->id, sizeof reading->id, "%s", reader_attribute_or(reader, "id", ""));
    const char *language = reader_attribute_or(reader, "language", "en");
    snprintf(reading->language, sizeof reading->language, "%s", strlen(language) < sizeof reading->language ? language : "en");
}

/* ---- What the course lists ---- */

static void end_about(struct reader *reader)
{
    struct course *course = reader_parent(reader)->object;
    course->about = reader_text(reader);
}

static void start_objective(struct reader *reader)
{
    static const char *const kinds[] = {"know", "apply", "analyse"};
    struct objective *objective = reader_new(reader, sizeof *objective);
    objective->id = reader_attribute_or(reader, "id", "");
    objective->share = reader_decimal(reader, "share", 0);
    objective->kind = (enum objective_kind)reader_choice(reader, "kind", kinds, 3, OBJECTIVE_KNOW);
}

static void end_objective(struct reader *reader)
{
    struct objective *objective = reader_frame(reader)->object;
    objective->name = reader_text(reader);
    reader_push(reader, PILE_OBJECTIVES, objective);
}

static void start_skill(struct reader *reader)
{
    struct skill *skill = reader_new(reader, sizeof *skill);
    skill->id = reader_attribute_or(reader, "id", "");
    skill->share = reader_decimal(reader, "share", 0);
}

static void end_skill(struct reader *reader)
{
    struct skill *skill = reader_frame(reader)->object;
    skill->name = reader_text(reader);
    reader_push(reader, PILE_SKILLS, skill);
}

/* ---- Topics ---- */

/* A main topic stands before its sub-topics in the array: it is pushed when it starts, onto a pile that is otherwise
 * filled at ends, so that the height in its frame is its index. */
static void start_topic(struct reader *reader)
{
    bool is_main = reader_frame(reader)->row->element == TOPIC;
    struct topic *topic = reader_new(reader, sizeof *topic);
    topic->id = reader_attribute_or(reader, "id", "");
    topic->name = reader_attribute_or(reader, "name", "");
    topic->share = reader_decimal(reader, "share", -1);
    topic->is_leaf = true;
    topic->parent = is_main ? -1 : (int)reader_parent(reader)->heights[PILE_TOPICS];
    reader_push(reader, PILE_TOPICS, topic);
}

static void sum_of_sub_topics(struct reader *reader, struct topic *topics, size_t main, size_t count)
{
    double sum = 0;
    for (size_t i = main + 1; i < count; i++)
        sum += topics[i].share;
    if (topics[main].share >= 0)
        reader_fault(reader, "share", "the topic '%s' has sub-topics, and its share is their sum; take its own share "
                     "out", topics[main].id);
    topics[main].share = sum;
    topics[main].is_leaf = false;
}

static void end_topic(struct reader *reader)
{
    const struct pile *pile = &reader->piles[PILE_TOPICS];
    struct topic *topics = (struct topic *)(void *)pile->items;
    size_t main = reader_frame(reader)->heights[PILE_TOPICS];
    topics[main].explain = ((struct topic *)reader_frame(reader)->object)->explain;
    if (pile->count > main + 1) {
        sum_of_sub_topics(reader, topics, main, pile->count);
    } else if (topics[main].share < 0) {
        reader_fault(reader, NULL, "the topic '%s' has neither a share nor sub-topics; give it its share of the marks "
                     "in per cent", topics[main].id);
        topics[main].share = 0;
    }
}

static void start_explain(struct reader *reader)
{
    struct topic *topic = reader_parent(reader)->object;
    topic->explain.ask = reader_attribute_or(reader, "ask", "");
}

static void end_explain(struct reader *reader)
{
    struct topic *topic = reader_parent(reader)->object;
    topic->explain.points = reader_take(reader, PILE_TEXTS, &topic->explain.point_count);
}

static void end_key_point(struct reader *reader)
{
    const char *text = reader_text(reader);
    reader_push(reader, PILE_TEXTS, &text);
}

/* ---- Command words ---- */

static void start_command_word(struct reader *reader)
{
    struct written_word *word = reader_new(reader, sizeof *word);
    struct sense_at at = reader_at(reader);
    word->word = reader_attribute_or(reader, "word", "");
    word->objective = reader_attribute(reader, "objective");
    word->line = at.line;
    word->column = at.column;
}

static void end_word_text(struct reader *reader)
{
    struct written_word *word = reader_parent(reader)->object;
    const char *text = reader_text(reader);
    switch (reader_frame(reader)->row->element) {
    case MEANING: word->meaning = text; break;
    case NEEDS: word->needs = text; break;
    default: word->trap = text; break;
    }
}

static void end_command_word(struct reader *reader)
{
    reader_push(reader, PILE_WORDS, reader_frame(reader)->object);
}

/* ---- The data sheet ---- */

static void start_constant(struct reader *reader)
{
    struct constant *constant = reader_new(reader, sizeof *constant);
    constant->symbol = reader_attribute_or(reader, "symbol", "");
    constant->value = reader_attribute_or(reader, "value", "0");
    constant->unit = reader_attribute_or(reader, "unit", "");
}

static void end_constant(struct reader *reader)
{
    struct constant *constant = reader_frame(reader)->object;
    constant->name = reader_text(reader);
    reader_push(reader, PILE_CONSTANTS, constant);
}

static void start_formula(struct reader *reader)
{
    struct data_formula *formula = reader_new(reader, sizeof *formula);
    formula->name = reader_attribute_or(reader, "name", "");
}

static void end_formula(struct reader *reader)
{
    struct data_formula *formula = reader_frame(reader)->object;
    formula->text = reader_prose(reader);
    if (formula->text.count == 0)
        reader_fault(reader, NULL, "'formula' has no text; wanted the formula in words or symbols");
    reader_push(reader, PILE_FORMULAE, formula);
}

/* ---- The course as a whole ---- */

static void start_course(struct reader *reader)
{
    if (reader->reading->course) {      /* a second one: the schema has said so */
        reader_frame(reader)->row = NULL;
        return;
    }
    struct course *course = reader_new(reader, sizeof *course);
    course->name = reader_attribute_or(reader, "name", "");
    course->paper_marks = (int)reader_whole(reader, "paper-marks", 1);
    course->paper_minutes = reader_decimal(reader, "paper-minutes", 1);
    course->minutes_per_mark = course->paper_minutes / (course->paper_marks ? course->paper_marks : 1);
}

static void take_lists(struct reader *reader, struct course *course, struct messages *messages)
{
    course->objectives = reader_take(reader, PILE_OBJECTIVES, &course->objective_count);
    course->skills = reader_take(reader, PILE_SKILLS, &course->skill_count);
    course->topics = reader_take(reader, PILE_TOPICS, &course->topic_count);
    course->constants = reader_take(reader, PILE_CONSTANTS, &course->constant_count);
    course->formulae = reader_take(reader, PILE_FORMULAE, &course->formula_count);
    size_t count;
    const struct written_word *written = reader_take(reader, PILE_WORDS, &count);
    command_words_of_course(reader->arena, course->objectives, course->objective_count, written, count,
                            reader->reading->source->name, &course->words, &course->word_count, messages);
}

/* After faults against the schema the course has gaps. Its names are taken up nevertheless, so that the questions
 * can be checked; what else would be found wrong with it only follows from the gaps and is thrown away. */
static void end_course(struct reader *reader)
{
    struct reading *reading = reader->reading;
    struct course *course = reader_frame(reader)->object;
    struct messages thrown_away = MESSAGES_EMPTY;
    bool faulty = reading->messages->errors != reader->errors_before;
    struct messages *messages = faulty ? &thrown_away : reading->messages;
    struct sense_at at = reader_at(reader);
    take_lists(reader, course, messages);
    sense_course(reading->sense, course, at.line, at.column, messages);
    messages_free(&thrown_away);

    const struct tag *tag = &reader_frame(reader)->tag;
    reading->read_course = course;
    reading->course_at = (struct element_bytes){tag->start, reader->last_tag.end - tag->start, at.line, at.column};
    if (reading->root == READ_BANK) {
        reading->course = course;
        reader->arena = reading->question_arena;
    }
}

#define IN_COURSE PARENT(COURSE)

const struct element_row rows_of_course[] = {
    {BANK, "bank", PARENT(IN_DOCUMENT), start_bank, NULL, false},
    {COURSE, "course", PARENT(BANK) | PARENT(IN_DOCUMENT), start_course, end_course, false},
    {ABOUT, "about", IN_COURSE, NULL, end_about, false},
    {OBJECTIVE, "objective", IN_COURSE, start_objective, end_objective, false},
    {SKILL, "skill", IN_COURSE, start_skill, end_skill, false},
    {TOPIC, "topic", IN_COURSE, start_topic, end_topic, false},
    {SUB_TOPIC, "topic", PARENT(TOPIC), start_topic, end_topic, false},
    {EXPLAIN, "explain", PARENT(TOPIC) | PARENT(SUB_TOPIC), start_explain, end_explain, false},
    {KEY_POINT, "key-point", PARENT(EXPLAIN), NULL, end_key_point, false},
    {COMMAND_WORD, "command-word", IN_COURSE, start_command_word, end_command_word, false},
    {MEANING, "meaning", PARENT(COMMAND_WORD), NULL, end_word_text, false},
    {NEEDS, "needs", PARENT(COMMAND_WORD), NULL, end_word_text, false},
    {TRAP, "trap", PARENT(COMMAND_WORD), NULL, end_word_text, false},
    {DATA_SHEET, "data-sheet", IN_COURSE, NULL, NULL, false},
    {CONSTANT, "constant", PARENT(DATA_SHEET), start_constant, end_constant, false},
    {FORMULA, "formula", PARENT(DATA_SHEET), start_formula, end_formula, true},
};
const size_t rows_of_course_count = sizeof rows_of_course / sizeof *rows_of_course;
