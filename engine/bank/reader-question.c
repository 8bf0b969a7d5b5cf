/* Questions and their parts; their schemes are in reader-scheme.c. */
#include <assert.h>
#include <string.h>

#include "bank/reader-inner.h"

static bool is_faulty(const struct reader *reader)
{
    return reader->reading->messages->errors != reader->errors_before;
}

/* ---- Names that the course declares ---- */

static const int *look_up_list(struct reader *reader, const char *attribute, size_t *count,
                               int (*look_up)(const struct sense *, struct sense_at, const char *, struct messages *))
{
    const char *const *names = reader_list(reader, attribute, count);
    if (reader_is_faulted(reader, attribute))
        *count = 0;
    int *indices = arena_get_array(reader->arena, *count, sizeof *indices);
    for (size_t i = 0; i < *count; i++)
        indices[i] = look_up(reader->reading->sense, reader_at(reader), names[i], reader->reading->messages);
    return *count ? indices : NULL;
}

/* A name that is missing or no name at all was reported by the schema. */
static int look_up(struct reader *reader, const char *attribute,
                   int (*by_name)(const struct sense *, struct sense_at, const char *, struct messages *))
{
    const char *name = reader_attribute(reader, attribute);
    return name && !reader_is_faulted(reader, attribute) ? by_name(reader->reading->sense, reader_at(reader), name, reader->reading->messages)
                                                         : -1;
}

/* ---- Givens ---- */

static void start_given(struct reader *reader)
{
    struct given *given = reader_new(reader, sizeof *given);
    given->symbol = reader_attribute_or(reader, "symbol", "");
    given->unit = reader_attribute_or(reader, "unit", "");
    given->low = reader_attribute(reader, "from");
    given->high = reader_attribute(reader, "to");
    given->step = reader_attribute(reader, "step");
    given->formula = reader_attribute(reader, "formula");
    given->places = (int)reader_whole(reader, "places", 0);
    given->form = reader_has_attribute(reader, "value") ? GIVEN_FIXED
                  : reader_has_attribute(reader, "choices") ? GIVEN_CHOICE
                  : given->formula ? GIVEN_COMPUTED : GIVEN_RANGE;
    if (given->form == GIVEN_FIXED || given->form == GIVEN_CHOICE)
        given->choices = reader_list(reader, given->form == GIVEN_FIXED ? "value" : "choices", &given->choice_count);

    int forms = reader_has_attribute(reader, "value") + reader_has_attribute(reader, "choices") +
                (given->formula != NULL) + (given->low || given->high || given->step);
    if (forms != 1)
        reader_fault(reader, NULL, "the given '%s' has %s; wanted one of value, choices, from with to and step, or "
                     "formula with places", given->symbol, forms ? "more than one kind of value" : "no value");
    else if (given->form == GIVEN_RANGE && !(given->low && given->high && given->step))
        reader_fault(reader, NULL, "the given '%s' lacks '%s'; a range wants from, to and step", given->symbol,
                     !given->low ? "from" : !given->high ? "to" : "step");
    else if (reader_has_attribute(reader, "places") != (given->formula != NULL))
        reader_fault(reader, NULL, given->formula ? "the given '%s' has a formula but no places; say to how many decimal "
                                                    "places its value is shown"
                                                  : "the given '%s' has places but no formula; take places out",
                     given->symbol);
}

static void end_given(struct reader *reader)
{
    struct given *given = reader_frame(reader)->object;
    given->name = reader_text(reader);
    reader_push(reader, PILE_GIVENS, given);
}

/* ---- Parts ---- */

static void start_part(struct reader *reader)
{
    struct part *part = reader_new(reader, sizeof *part);
    struct sense_at at = reader_at(reader);
    part->id = reader_attribute(reader, "id");
    part->objective = look_up(reader, "objective", sense_objective);
    part->word = look_up(reader, "command", sense_word);
    part->marks = (int)reader_whole(reader, "marks", 0);
    part->skills = look_up_list(reader, "skills", &part->skill_count, sense_skill);
    part->lines = (int)reader_whole(reader, "lines", 2L * part->marks);
    part->line = at.line;
    part->column = at.column;
    reader->part_id = part->id ? part->id : "a";
    reader->part_objective = part->objective;
    memset(reader->numbered, 0, sizeof reader->numbered);
    reader->indicative_numbered = 0;
}

static void end_part(struct reader *reader)
{
    struct part *part = reader_frame(reader)->object;
    part->givens = reader_take(reader, PILE_GIVENS, &part->given_count);
    reader_push(reader, PILE_PARTS, part);
}

/* ---- Written matter of a question or a part ---- */

static void end_written(struct reader *reader)
{
    struct frame *around = reader_parent(reader);
    struct question *question = around->object;
    struct part *part = around->object;
    bool in_part = around->row->element == PART;
    struct blocks blocks;
    blocks.items = reader_take(reader, PILE_BLOCKS, &blocks.count);
    switch (reader_frame(reader)->row->element) {
    case STEM: question->stem = blocks; break;
    case ASK: part->ask = blocks; break;
    case MODEL: part->model = blocks; break;
    default:
        if (in_part)
            part->note = blocks;
        else
            question->note = blocks;
    }
}

static void end_caution(struct reader *reader)
{
    struct question *question = reader_parent(reader)->object;
    question->caution = reader_text(reader);
}

/* ---- The question as a whole ---- */

static void start_question(struct reader *reader)
{
    static const char *const demands[] = {"low", "standard", "high"};
    if (!reader->reading->course) {     /* the course is missing: nothing can be looked up */
        reader_frame(reader)->row = NULL;
        return;
    }
    if (reader->reading->question_count > BANK_QUESTION_LIMIT) {
        reader_fault(reader, NULL, "this is more than the %d questions a bank may have; divide the bank",
                     BANK_QUESTION_LIMIT);
        reader->stopped = true;
        xmlStopParser(reader->parser);
        return;
    }
    struct question *question = reader_new(reader, sizeof *question);
    struct sense_at at = reader_at(reader);
    question->id = reader_attribute_or(reader, "id", "");
    question->topic = look_up(reader, "topic", sense_topic);
    question->also = look_up_list(reader, "also", &question->also_count, sense_topic);
    question->demand = (enum demand)reader_choice(reader, "demand", demands, 3, DEMAND_STANDARD);
    question->minutes = reader_decimal(reader, "minutes", 0);
    question->enemies = reader_list(reader, "enemies", &question->enemy_count);
    question->line = at.line;
    question->column = at.column;
}

static bool is_drawn(const struct given *givens, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (givens[i].form == GIVEN_RANGE || (givens[i].form == GIVEN_CHOICE && givens[i].choice_count > 1))
            return true;
    return false;
}

static void complete_parts(struct reader *reader, struct question *question)
{
    struct part *parts = (struct part *)question->parts;
    for (size_t i = 0; i < question->part_count; i++) {
        if (!parts[i].id && question->part_count > 1) {
            reader->has_gaps = true;
            messages_add(reader->reading->messages, SEVERITY_ERROR,
                         (struct place){reader->reading->source->name, parts[i].line, parts[i].column},
                         buffer_text(&reader->subject), "part %zu has no id; give each part its own, such as \"%c\"",
                         i + 1, (char)('a' + i % 26));
        }
        if (!parts[i].id)
            parts[i].id = "a";
        question->marks += parts[i].marks;
        question->varied = question->varied || is_drawn(parts[i].givens, parts[i].given_count);
    }
}

static void complete(struct reader *reader, struct question *question)
{
    question->givens = reader_take(reader, PILE_GIVENS, &question->given_count);
    question->parts = reader_take(reader, PILE_PARTS, &question->part_count);
    question->varied = is_drawn(question->givens, question->given_count);
    complete_parts(reader, question);
    if (question->minutes == 0)
        question->minutes = question->marks * reader->reading->course->minutes_per_mark;
}

/* The checks of sense would stumble over gaps that are reported already; names that are not declared are no gaps, the
 * checks know them. So only a question that is whole goes there. */
static void end_question(struct reader *reader)
{
    struct reading *reading = reader->reading;
    struct question *question = reader_frame(reader)->object;
    const struct tag *tag = &reader_frame(reader)->tag;
    complete(reader, question);
    for (int i = 0; i < PILE_COUNT; i++)
        assert(reader->piles[i].count == 0 && "every element took what it was given");
    if (reading->check_questions && !reader->has_gaps)
        sense_question(reading->sense, question, reading->messages);
    reading->marks += question->marks;
    if (!is_faulty(reader) && reading->on_question) {
        struct element_bytes at = {tag->start, reader->last_tag.end - tag->start, question->line, question->column};
        reading->on_question(reading->context, question, &at);
    }
    if (reading->root == READ_BANK)
        arena_reset(reader->arena);
    else
        reading->question = question;
}

#define GIVEN_IN (PARENT(QUESTION) | PARENT(PART))

const struct element_row rows_of_question[] = {
    {QUESTION, "question", PARENT(BANK) | PARENT(IN_DOCUMENT), start_question, end_question, false},
    {STEM, "stem", PARENT(QUESTION), NULL, end_written, false},
    {CAUTION, "caution", PARENT(QUESTION), NULL, end_caution, false},
    {GIVEN, "given", GIVEN_IN, start_given, end_given, false},
    {PART, "part", PARENT(QUESTION), start_part, end_part, false},
    {ASK, "ask", PARENT(PART), NULL, end_written, false},
    {MODEL, "model", PARENT(PART), NULL, end_written, false},
    {NOTE, "note", GIVEN_IN, NULL, end_written, false},
};
const size_t rows_of_question_count = sizeof rows_of_question / sizeof *rows_of_question;
