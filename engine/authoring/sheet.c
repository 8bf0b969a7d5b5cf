#include "authoring/sheet-inner.h"
#include "base/text.h"

const struct sheet_heading sheet_headings[SHEET_COLUMNS] = {
    [SHEET_QUESTION] = {"question", SHEET_OF_QUESTION, true, "id"},
    [SHEET_TOPIC] = {"topic", SHEET_OF_QUESTION, true, "topic"},
    [SHEET_DEMAND] = {"demand", SHEET_OF_QUESTION, false, "demand"},
    [SHEET_STEM] = {"stem", SHEET_OF_QUESTION, false, NULL},
    [SHEET_GIVENS] = {"givens", SHEET_OF_QUESTION, false, NULL},
    [SHEET_PART] = {"part", SHEET_OF_PART, false, "id"},
    [SHEET_ASK] = {"ask", SHEET_OF_PART, true, NULL},
    [SHEET_COMMAND] = {"command", SHEET_OF_PART, true, "command"},
    [SHEET_OBJECTIVE] = {"objective", SHEET_OF_PART, true, "objective"},
    [SHEET_MARKS] = {"marks", SHEET_OF_PART, true, "marks"},
    [SHEET_GROUP] = {"group", SHEET_OF_POINT, false, NULL},
    [SHEET_POINT] = {"point", SHEET_OF_POINT, true, NULL},
    [SHEET_ACCEPT] = {"accept", SHEET_OF_POINT, false, NULL},
    [SHEET_IGNORE] = {"ignore", SHEET_OF_POINT, false, NULL},
    [SHEET_REJECT] = {"reject", SHEET_OF_POINT, false, NULL},
    [SHEET_KEY] = {"key", SHEET_OF_POINT, false, NULL},
    [SHEET_KIND] = {"kind", SHEET_OF_POINT, false, "kind"},
    [SHEET_VALUE] = {"value", SHEET_OF_POINT, false, "value"},
    [SHEET_FORMULA] = {"formula", SHEET_OF_POINT, false, "formula"},
    [SHEET_SYMBOL] = {"symbol", SHEET_OF_POINT, false, "symbol"},
    [SHEET_UNIT] = {"unit", SHEET_OF_POINT, false, "unit"},
    [SHEET_TOLERANCE] = {"tolerance", SHEET_OF_POINT, false, "tolerance"},
    [SHEET_FIGURES] = {"figures", SHEET_OF_POINT, false, "figures"},
    [SHEET_PLACES] = {"places", SHEET_OF_POINT, false, "places"},
    [SHEET_FROM] = {"from", SHEET_OF_POINT, false, "from"},
    [SHEET_TO] = {"to", SHEET_OF_POINT, false, "to"},
    [SHEET_MODEL] = {"model", SHEET_OF_PART, false, NULL},
    [SHEET_NOTE] = {"note", SHEET_OF_PART, false, NULL},
    [SHEET_SKILLS] = {"skills", SHEET_OF_PART, false, "skills"},
    [SHEET_LINES] = {"lines", SHEET_OF_PART, false, "lines"},
    [SHEET_PART_GIVENS] = {"part givens", SHEET_OF_PART, false, NULL},
    [SHEET_SCHEME] = {"scheme", SHEET_OF_PART, false, NULL},
    [SHEET_ID] = {"id", SHEET_OF_POINT, false, "id"},
    [SHEET_POINT_MARKS] = {"point marks", SHEET_OF_POINT, false, "marks"},
    [SHEET_NEEDS] = {"needs", SHEET_OF_POINT, false, "needs"},
    [SHEET_POINT_OBJECTIVE] = {"point objective", SHEET_OF_POINT, false, "objective"},
    [SHEET_FOLLOW] = {"follow", SHEET_OF_POINT, false, "follow"},
    [SHEET_IDEA] = {"idea", SHEET_OF_POINT, false, "idea"},
    [SHEET_NUMBER_UNIT] = {"unit printed", SHEET_OF_POINT, false, "unit-printed"},
    [SHEET_TO_EXCLUDED] = {"to excluded", SHEET_OF_POINT, false, "to-excluded"},
    [SHEET_LIST_IGNORE] = {"list ignore", SHEET_OF_POINT, false, NULL},
    [SHEET_LIST_REJECT] = {"list reject", SHEET_OF_POINT, false, NULL},
    [SHEET_CAUTION] = {"caution", SHEET_OF_QUESTION, false, NULL},
    [SHEET_QUESTION_NOTE] = {"question note", SHEET_OF_QUESTION, false, NULL},
    [SHEET_MINUTES] = {"minutes", SHEET_OF_QUESTION, false, "minutes"},
    [SHEET_ALSO] = {"also", SHEET_OF_QUESTION, false, "also"},
    [SHEET_ENEMIES] = {"enemies", SHEET_OF_QUESTION, false, "enemies"},
};

/* ---- The template --------------------------------------------------------------------------------- */

struct sample_cell {
    enum sheet_column column;
    const char *text;
};

#define ROW_END {SHEET_COLUMNS, NULL}

static const struct sample_cell samples[] = {
    {SHEET_QUESTION, "my-01"}, {SHEET_TOPIC, "waves.motion"}, {SHEET_DEMAND, "low"}, {SHEET_ASK, "Name two parts of a wave."},
    {SHEET_COMMAND, "name"}, {SHEET_OBJECTIVE, "AO1"}, {SHEET_MARKS, "2"}, {SHEET_GROUP, "list 2"}, {SHEET_POINT, "crest"},
    {SHEET_ACCEPT, "top | peak"}, {SHEET_KEY, "crest / top / peak"}, {SHEET_MODEL, "The crest and the trough."},
    {SHEET_LIST_REJECT, "beach"}, ROW_END,
    {SHEET_QUESTION, "my-01"}, {SHEET_GROUP, "list 2"}, {SHEET_POINT, "trough"}, {SHEET_KEY, "trough / bottom"}, ROW_END,
    {SHEET_QUESTION, "my-02"}, {SHEET_TOPIC, "waves.motion"}, {SHEET_STEM, "Waves with a length of {L} pass a buoy {f} times each second."},
    {SHEET_GIVENS, "L = 12 15 20 [m] wavelength | f = 0.20 to 0.30 by 0.05 [Hz] frequency"},
    {SHEET_ASK, "Calculate the speed of the waves."}, {SHEET_COMMAND, "calculate"}, {SHEET_OBJECTIVE, "AO2"}, {SHEET_MARKS, "2"},
    {SHEET_POINT, "multiplies frequency by wavelength"}, {SHEET_KIND, "method"}, {SHEET_SKILLS, "maths"},
    {SHEET_MODEL, "speed = frequency × wavelength = {f} × {L} = {v}"}, ROW_END,
    {SHEET_QUESTION, "my-02"}, {SHEET_POINT, "value with its unit"}, {SHEET_KIND, "accuracy"}, {SHEET_FORMULA, "f*L"},
    {SHEET_SYMBOL, "v"}, {SHEET_UNIT, "m/s"}, {SHEET_TOLERANCE, "2%"}, ROW_END,
};

void sheet_add_row(struct buffer *out, const char *const cells[SHEET_COLUMNS])
{
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        csv_add_cell(out, cells[i] ? cells[i] : "", i == 0);
    buffer_add(out, "\r\n");
}

void sheet_add_headings(struct buffer *out)
{
    const char *cells[SHEET_COLUMNS];
    for (size_t i = 0; i < SHEET_COLUMNS; i++)
        cells[i] = sheet_headings[i].name;
    sheet_add_row(out, cells);
}

static const char *first_topic(const struct course *course)
{
    for (size_t i = 0; i < course->topic_count; i++)
        if (course->topics[i].is_leaf)
            return course->topics[i].id;
    return "";
}

/* An objective of this kind, else the first. */
static const char *objective_of(const struct course *course, const char *word)
{
    for (size_t i = 0; i < course->word_count; i++)
        if (text_equal_ignoring_case(course->words[i].word, word))
            return course->objectives[course->words[i].objective].id;
    return course->objectives[0].id;
}

static bool has_skill(const struct course *course, const char *id)
{
    for (size_t i = 0; i < course->skill_count; i++)
        if (text_equal(course->skills[i].id, id))
            return true;
    return false;
}

/* What another course calls differently. */
static void fit_row(const char *cells[SHEET_COLUMNS], const struct course *course)
{
    if (cells[SHEET_TOPIC])
        cells[SHEET_TOPIC] = first_topic(course);
    if (cells[SHEET_OBJECTIVE])
        cells[SHEET_OBJECTIVE] = objective_of(course, cells[SHEET_COMMAND]);
    if (cells[SHEET_SKILLS] && !has_skill(course, cells[SHEET_SKILLS]))
        cells[SHEET_SKILLS] = NULL;
}

void sheet_template(struct buffer *out, const struct course *course)
{
    const char *cells[SHEET_COLUMNS] = {NULL};
    sheet_add_headings(out);
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        if (samples[i].text) {
            cells[samples[i].column] = samples[i].text;
            continue;
        }
        if (course)
            fit_row(cells, course);
        sheet_add_row(out, cells);
        for (size_t column = 0; column < SHEET_COLUMNS; column++)
            cells[column] = NULL;
    }
}
