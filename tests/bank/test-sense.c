/* Each fault is made in a question that is sound, so that exactly the message of that fault must come. Values:
 * by hand from the rules in sense.h; common practice, no source. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <criterion/criterion.h>

#include "bank/sense.h"
#include "base/buffer.h"
#include "sample.h"

static struct sample sample;
static struct sense *sense;
static struct messages messages;

static void set_up(void)
{
    sample_make(&sample);
    messages = MESSAGES_EMPTY;
    sense = sense_new("b.xml", NULL);
}

static void tear_down(void)
{
    sense_free(sense);
    messages_free(&messages);
}

static void start_again(void)
{
    tear_down();
    set_up();
}

static bool run(void)
{
    bool course = sense_course(sense, &sample.course, 2, 3, &messages);
    bool question = sense_question(sense, &sample.question, &messages);
    bool end = sense_end(sense, &messages);
    return course && question && end;
}

static void expect_texts(const char *const *wanted, size_t count)
{
    struct buffer text = BUFFER_EMPTY;
    messages_render(&messages, 0, &text);
    for (size_t i = 0; i < count; i++)
        cr_expect(strstr(buffer_text(&text), wanted[i]), "[%s] is not in\n%s", wanted[i], buffer_text(&text));
    buffer_free(&text);
}

/* Runs everything and wants exactly one fault, whose line holds `wanted`; then a sound sample again. */
static void expect_fault_at(int line, const char *wanted)
{
    cr_expect_not(run(), "nothing was found where [%s] was wanted at line %d", wanted, line);
    cr_expect_eq(messages.errors, 1, "%zu faults where [%s] was wanted at line %d", messages.errors, wanted, line);
    expect_texts(&wanted, 1);
    start_again();
}

#define expect_fault(wanted) expect_fault_at(__LINE__, wanted)

static void expect_sound_at(int line)
{
    cr_expect(run(), "line %d: %s", line, messages.count ? messages.items[0].text : "no message");
    cr_expect_eq(messages.count, 0, "line %d", line);
    start_again();
}

#define expect_sound() expect_sound_at(__LINE__)

Test(bank, sense_sound_question_passes, .init = set_up, .fini = tear_down)
{
    expect_sound();
}

Test(bank, sense_course_sums_and_names, .init = set_up, .fini = tear_down)
{
    sample.objectives[0].share = 39;
    expect_fault("b.xml:2:3: course: the shares of the objectives add up to 99 and not to 100");
    sample.objectives[0].share = 40.4;
    expect_sound();
    sample.objectives[0].share = 40.6;
    expect_fault("add up to 100.6");
    sample.topics[TOPIC_TIDES].share = 30;
    expect_fault("the shares of the topics add up to 110");
    sample.topics[TOPIC_WAVES].share = 90;      /* a main topic's own is not counted twice */
    expect_sound();
    sample.objectives[2].id = "AO2";
    expect_fault("the objective 'AO2' is declared twice");
    sample.topics[TOPIC_SHORE].id = "waves";
    expect_fault("the topic 'waves' is declared twice");
    sample.skills[1].id = "maths";
    expect_fault("the skill 'maths' is declared twice");
    sample.skills[1].share = 101;
    expect_fault("the share of skill 'practical' is 101");
    sample.course.paper_marks = 0;
    expect_fault("paper-marks is 0");
    sample.course.paper_minutes = NAN;
    expect_fault("paper-minutes is not above 0");
}

Test(bank, sense_course_constants, .init = set_up, .fini = tear_down)
{
    sample.constants[1].symbol = "g";
    expect_fault("the constant 'g' is declared twice");
    sample.constants[1].symbol = "pi";
    expect_fault("the constant 'pi' cannot be named in a formula");
    sample.constants[1].symbol = "2x";
    expect_fault("the constant '2x' cannot be named in a formula");
    sample.constants[1].value = "9,81";
    expect_fault("the value '9,81' of the constant 'c' is no decimal number");
    sample.constants[1].value = "1/3";
    expect_fault("the value '1/3'");
    sample.constants[1].unit = "zorkmids";
    expect_fault("the unit 'zorkmids' of the constant 'c' is not known");
}

Test(bank, sense_names_are_looked_up, .init = set_up, .fini = tear_down)
{
    struct sense_at at = {"question w09", 12, 4};
    sense_course(sense, &sample.course, 2, 3, &messages);
    cr_expect_eq(sense_topic(sense, at, "waves.tides", &messages), TOPIC_TIDES);
    cr_expect_eq(sense_topic(sense, at, "shore", &messages), TOPIC_SHORE);
    cr_expect_eq(sense_objective(sense, at, "AO3", &messages), 2);
    cr_expect_eq(sense_skill(sense, at, "practical", &messages), SKILL_PRACTICAL);
    cr_expect_eq(sense_word(sense, at, "explain", &messages), WORD_EXPLAIN);
    cr_expect_eq(sense_word(sense, at, " Explain\n", &messages), WORD_EXPLAIN);
    cr_expect(sense_strand_level(sense, at, "Data", 3, 3, &messages));
    cr_expect_eq(messages.count, 0);

    cr_expect_eq(sense_topic(sense, at, "waves.tide", &messages), -1);
    cr_expect_eq(sense_topic(sense, at, "waves", &messages), -1);
    cr_expect_eq(sense_objective(sense, at, "A02", &messages), -1);
    cr_expect_eq(sense_skill(sense, at, "xyz", &messages), -1);
    cr_expect_eq(sense_word(sense, at, "explian", &messages), -1);
    cr_expect_not(sense_strand_level(sense, at, "Data", 4, 3, &messages));
    cr_expect_not(sense_strand_level(sense, at, "Data", 0, 3, &messages));
    const char *const wanted[] = {
        "b.xml:12:4: question w09: the topic 'waves.tide' is not declared in the course; did you mean 'waves.tides'?",
        "the topic 'waves' has sub-topics, and a question belongs to one of them: waves.energy, waves.tides",
        "the objective 'A02' is not declared in the course; did you mean 'AO2'?",
        "the skill 'xyz' is not declared in the course: declare it there",
        "the command word 'explian' is not known; did you mean 'explain'?",
        "the strand 'Data' describes level 4, but the levels go from 1 to 3",
    };
    expect_texts(wanted, sizeof wanted / sizeof *wanted);
    cr_expect_eq(messages.errors, 7);
}

Test(bank, sense_ids_and_enemies, .init = set_up, .fini = tear_down)
{
    static const char *const forward[] = {"w02", "w03"}, *const missing[] = {"w04", "w09"}, *const self[] = {"w01"};
    sense_course(sense, &sample.course, 2, 3, &messages);
    struct question two = sample.question, three = sample.question;
    sample.question.enemies = forward;
    sample.question.enemy_count = 2;
    two.id = "w02";
    two.line = 70;
    three.id = "w03";
    three.enemies = forward;
    three.enemy_count = 1;
    cr_expect(sense_question(sense, &sample.question, &messages));
    cr_expect(sense_question(sense, &two, &messages));
    cr_expect(sense_question(sense, &three, &messages));
    cr_expect_not(sense_question(sense, &two, &messages));
    three.id = "w05";
    three.enemies = missing;
    three.enemy_count = 2;
    cr_expect(sense_question(sense, &three, &messages), "its enemies may come later");
    three.id = "w01x";
    three.enemies = self;
    three.enemy_count = 1;
    cr_expect(sense_question(sense, &three, &messages));
    three.id = "w04";
    cr_expect(sense_question(sense, &three, &messages));
    cr_expect_not(sense_end(sense, &messages));
    const char *const wanted[] = {
        "b.xml:70:3: question w02: the id 'w02' is taken by the question at line 70",
        "b.xml:3:3: question w05: its enemy 'w09' is no question of this bank; did you mean 'w0",
    };
    expect_texts(wanted, 2);
    cr_expect_eq(messages.errors, 2);
    start_again();
    sample.question.enemies = self;
    sample.question.enemy_count = 1;
    expect_fault("the question names itself among its enemies");
}

Test(bank, sense_bank_without_questions, .init = set_up, .fini = tear_down)
{
    sense_course(sense, &sample.course, 2, 3, &messages);
    cr_expect_not(sense_end(sense, &messages));
    expect_texts((const char *[]){"b.xml: the bank has no question"}, 1);
}

Test(bank, sense_marks_of_scheme_and_part, .init = set_up, .fini = tear_down)
{
    sample.parts[0].marks = 4;
    expect_fault("b.xml:10:5: question w01: part a: the scheme can give 3 marks at most, but the part says marks=\"4\"");
    sample.a[2].marks = 2;
    expect_fault("the scheme can give 4 marks at most, but the part says marks=\"3\"");
    sample.parts[0].scheme.root.marks = 3;
    sample.a[2].marks = 2;
    expect_sound();
    sample.parts[0].marks = 0;
    expect_fault("part a: it carries 0 marks");
    sample.a[2].marks = 0;
    sample.parts[0].marks = 2;
    expect_fault("b.xml:30:9: question w01: part a: point 'a.3' carries 0 marks");
    sample.question.minutes = 0;
    expect_fault("the minutes are not above 0");
    sample.parts[1].id = "a";
    expect_fault("b.xml:40:5: question w01: the part id 'a' stands twice");
    sample.question.part_count = 0;
    expect_fault("the question has no part");
}

Test(bank, sense_points_that_rest_on_others, .init = set_up, .fini = tear_down)
{
    static const char *const sub[] = {"sub"}, *const own[] = {"b.2"}, *const later[] = {"b.2"}, *const typo[] = {"sbu"};
    sample.b[1].needs = sub;        /* a point of an earlier part */
    sample.b[1].need_count = 1;
    expect_sound();
    sample.b[1].needs = own;
    sample.b[1].need_count = 1;
    expect_fault("part b: point 'b.2' needs 'b.2', which is no point that stands before it");
    sample.a[1].needs = later;
    sample.a[1].need_count = 1;
    expect_fault("part a: point 'value' needs 'b.2', which is no point that stands before it");
    sample.a[1].needs = typo;
    sample.a[1].need_count = 1;
    expect_fault("needs 'sbu', which is no point that stands before it in this question; did you mean 'sub'?");
    sample.a[0].point_kind = POINT_PLAIN;
    expect_fault("b.xml:30:9: question w01: part a: accuracy point 'value' has no method point before it");
    sample.a[0].point_kind = POINT_IMPLIED;
    expect_sound();
    sample.a[0].point_kind = POINT_PLAIN;
    sample.a[1].needs = sub;
    sample.a[1].need_count = 1;
    expect_sound();
    sample.b[0].id = "sub";
    expect_fault("the id 'sub' stands twice in this question");
}

Test(bank, sense_routes_do_not_share_methods, .init = set_up, .fini = tear_down)
{
    struct node other[] = {sample_point("c.1", 1), sample_point("c.2", 1)};
    struct node routes[] = {sample_group(NODE_ALL, 0, sample.b, 2), sample_group(NODE_ALL, 0, other, 2)};
    struct node group = sample_group(NODE_ROUTES, 0, routes, 2);
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &group, 1);
    other[1].point_kind = POINT_ACCURACY;
    expect_fault("accuracy point 'c.2' has no method point before it");
    other[0].point_kind = POINT_METHOD;
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &group, 1);
    expect_sound();
}

Test(bank, sense_choices_and_lists, .init = set_up, .fini = tear_down)
{
    struct node points[] = {sample_point("x", 1), sample_point("y", 1), sample_point("z", 1)};
    struct node group = sample_group(NODE_ANY, 2, points, 3);
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &group, 1);
    expect_sound();
    group.take = 4;
    sample.parts[1].marks = 3;
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &group, 1);
    expect_fault("b.xml:20:7: question w01: part b: <any> says take=\"4\" but holds 3 choices");
    group.kind = NODE_LIST;
    group.take = 0;
    struct node rest[] = {group, sample_point("v", 2)};
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, rest, 2);
    expect_fault("<list> says take=\"0\" but holds 3 points");
    group.take = 1;
    points[1].marks = 2;
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &group, 1);
    expect_fault("the points of a <list> carry different marks (1 and 2)");
}

/* A scheme with levels for part b; each test spoils one thing of it. */
static struct level levels[3];
static struct level_cap cap;
static struct band bands[2];
static struct node judged[2];

static struct node ideas[1];

static void use_levels(void)
{
    ideas[0] = (struct node){.kind = NODE_POINT, .id = "idea", .marks = 0};
    levels[0] = (struct level){1, 1, 2, "low"};
    levels[1] = (struct level){2, 3, 4, "middle"};
    levels[2] = (struct level){3, 5, 6, "high"};
    cap = (struct level_cap){"no judgement", 2};
    bands[0] = (struct band){2, "clear"};
    bands[1] = (struct band){1, "mostly clear"};
    judged[0] = (struct node){.kind = NODE_LEVELS, .id = "l", .levels = levels, .level_count = 3, .caps = &cap,
                              .cap_count = 1, .indicative = ideas, .indicative_count = 1, .line = 50, .column = 9};
    judged[1] = (struct node){.kind = NODE_QUALITY, .id = "k", .bands = bands, .band_count = 2, .line = 60, .column = 9};
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, judged, 2);
    sample.parts[1].marks = 8;
}

Test(bank, sense_levels_and_quality, .init = set_up, .fini = tear_down)
{
    use_levels();
    expect_sound();
    use_levels();
    levels[1].from = 4;
    expect_fault("b.xml:50:9: question w01: part b: level 2 starts at 4 marks but must start at 3");
    use_levels();
    levels[0].from = 0;
    expect_fault("level 1 starts at 0 marks but must start at 1");
    use_levels();
    levels[2].from = 5;
    levels[2].to = 4;
    sample.parts[1].marks = 6;
    expect_fault("level 3 goes from 5 to 4 marks");
    use_levels();
    cap.level = 4;
    expect_fault("the cap 'no judgement' names level 4, but the levels go from 1 to 3");
    use_levels();
    cap.level = 0;
    expect_fault("names level 0");
    use_levels();
    ideas[0].marks = 1;
    expect_fault("the indicative point 'idea' says marks=\"1\"");
    use_levels();
    ideas[0].id = "sub";
    expect_fault("the id 'sub' stands twice");
    use_levels();
    bands[1].marks = 2;
    expect_fault("b.xml:60:9: question w01: part b: the quality band of 2 marks stands after the band of 2");
    use_levels();
    sample.parts[1].scheme.root = sample_group(NODE_ALL, 0, &judged[1], 1);
    sample.parts[1].marks = 2;
    expect_fault("the scheme has nothing but <quality>");
}

Test(bank, sense_practical_work_needs_a_caution, .init = set_up, .fini = tear_down)
{
    sample.skill_indices[0] = SKILL_PRACTICAL;
    expect_fault("b.xml:10:5: question w01: part a: it is marked as practical work, but the question has no <caution>");
    sample.skill_indices[0] = SKILL_PRACTICAL;
    sample.question.caution = "A paper exercise.";
    expect_sound();
    sample.skill_indices[0] = -1;       /* a skill that was not found */
    expect_sound();
}

static void expect_figure(const char *folder, const char *file, const char *text, const char *wanted)
{
    sense_free(sense);
    sense = sense_new("b.xml", folder);
    struct block figure = {.kind = BLOCK_FIGURE, .file = file, .alternative = text};
    struct block source = {.kind = BLOCK_SOURCE, .title = "Source A", .blocks = &figure, .block_count = 1};
    sample.question.stem = (struct blocks){&source, 1};
    if (wanted)
        expect_fault(wanted);
    else
        expect_sound();
}

Test(bank, sense_figures_are_files_with_a_text, .init = set_up, .fini = tear_down)
{
    char folder[] = "/tmp/ownmark-sense-XXXXXX";
    cr_assert(mkdtemp(folder));
    struct buffer path = BUFFER_EMPTY;
    buffer_print(&path, "%s/wave.svg", folder);
    FILE *file = fopen(buffer_text(&path), "w");
    cr_assert(file);
    fclose(file);
    expect_figure(folder, "wave.svg", "A wave.", NULL);
    expect_figure(folder, "wave.png", "A wave.", "the figure 'wave.png' is no file in the bank's folder");
    expect_figure(folder, "../wave.svg", "A wave.", "is no file in the bank's folder");
    expect_figure(folder, buffer_text(&path), "A wave.", "is no file in the bank's folder");
    expect_figure(folder, "wave.svg", " \n", "the figure 'wave.svg' has no text that stands for it");
    expect_figure(NULL, "wave.png", "A wave.", NULL);
    unlink(buffer_text(&path));
    rmdir(folder);
    buffer_free(&path);
}

Test(bank, sense_givens, .init = set_up, .fini = tear_down)
{
    static const char *const words[] = {"1.2", "high"};
    sample.givens[0].choices = words;
    sample.givens[0].choice_count = 2;
    expect_fault("b.xml:3:3: question w01: the given 'H' has the value 'high', which is no decimal number");
    sample.givens[0].choice_count = 0;
    expect_fault("the given 'H' has no value");
    sample.givens[1].low = "9.5";
    expect_fault("the given 'T' goes from 9.5 to 9.0: the first must be the smaller");
    sample.givens[1].step = "0";
    expect_fault("the given 'T' has the step 0: it must be above 0");
    sample.givens[1].step = "3.1";
    expect_fault("the given 'T' has the step 3.1, larger than its range");
    sample.givens[1].step = "3";
    expect_sound();
    sample.givens[1].unit = "zorkmids";
    expect_fault("the unit 'zorkmids' of the given 'T' is not known");
    sample.givens[2].symbol = "H";
    sample.givens[3].formula = "12*T";
    expect_fault("the given 'H' has the symbol of an earlier given or number");
    sample.part_givens[0].symbol = "g";
    sample.power.formula = "g^2*H^2*T/(32*pi)";
    expect_fault("b.xml:10:5: question w01: part a: the given 'g' has the symbol of a constant");
    sample.givens[2].symbol = "sqrt";
    sample.givens[3].formula = "12*T";
    expect_fault("the given 'sqrt' cannot be named in a formula");
    sample.givens[2].symbol = "n'";
    sample.givens[3].formula = "12*T";
    expect_fault("the given 'n'' cannot be named in a formula");
    sample.givens[3].places = -1;
    expect_fault("the given 't' is computed to -1 decimal places");
}

Test(bank, sense_formulae, .init = set_up, .fini = tear_down)
{
    sample.power.formula = "rho*g^2*HH^2*T";
    expect_fault("b.xml:30:9: question w01: part a: the formula 'rho*g^2*HH^2*T' uses 'HH', which is no constant and no "
                 "earlier given or number; did you mean 'H'?");
    sample.power.formula = "E*2";
    expect_fault("the formula 'E*2' uses 'E', which is no constant and no earlier given or number");
    sample.power.formula = "P*2";
    expect_fault("uses 'P'");
    sample.power.formula = "rho*(g^2";
    expect_fault("the formula 'rho*(g^2' cannot be read at character ");
    sample.givens[3].formula = "n*rho";
    expect_fault("question w01: the formula 'n*rho' uses 'rho'");
    sample.energy.formula = "P*rho";    /* a given of an earlier part */
    expect_sound();
    sample.energy.symbol = "P";
    expect_fault("part b: the number 'P' has the symbol of an earlier given or number");
}

Test(bank, sense_numbers, .init = set_up, .fini = tear_down)
{
    sample.energy.value = "12";
    expect_fault("part b: a number has both a value and a formula");
    sample.energy.formula = NULL;
    sample.energy.symbol = NULL;
    expect_fault("a number has no value, no formula and no interval");
    sample.energy = (struct number_key){.unit = "J", .has_interval = true, .from = 1, .to = 2, .places = -1};
    expect_sound();
    sample.energy = (struct number_key){.symbol = "E", .unit = "J", .has_interval = true, .from = 1, .to = 2,
                                        .places = -1};
    expect_fault("the number 'E' has only an interval");
    sample.energy = (struct number_key){.unit = "J", .has_interval = true, .from = 2, .to = 2, .places = -1};
    expect_fault("a number may lie from 2 to 2: the first must be the smaller");
    sample.energy = (struct number_key){.unit = "J", .has_interval = true, .from = 1, .to = 2, .tolerance = 1,
                                        .places = -1};
    expect_fault("a number has both an interval and a tolerance");
    sample.energy.tolerance = 1;
    expect_fault("a tolerance of 100% cannot be used");
    sample.energy.tolerance = -0.5;
    sample.energy.tolerance_relative = false;
    expect_fault("a tolerance of -0.5 cannot be used");
    sample.power.places = 2;
    expect_fault("part a: a number asks for figures and for decimal places");
    sample.power.figures = 9;
    expect_fault("a number asks for more than can be written sensibly");
    sample.power.unit = "zorkmids";
    expect_fault("the unit 'zorkmids' of the number 'P' is not known");
    sample.energy.formula = NULL;
    sample.energy.value = "twelve";
    expect_fault("the value 'twelve' of a number is no decimal number");
}

Test(bank, sense_values_in_texts, .init = set_up, .fini = tear_down)
{
    sample.ask_runs[1].text = "HH";
    sample.question.stem = (struct blocks){NULL, 0};
    sample.parts[1].ask = (struct blocks){NULL, 0};
    expect_fault("b.xml:10:5: question w01: part a: a text shows the value of 'HH', which is no constant, no given and "
                 "no number known there; did you mean 'H'?");
    sample.ask_runs[1].text = "P";      /* the ask must not give the answer away */
    sample.question.stem = (struct blocks){NULL, 0};
    sample.parts[1].ask = (struct blocks){NULL, 0};
    expect_fault("part a: a text shows the value of 'P'");
    sample.ask_runs[1].text = "rho";
    expect_fault("question w01: a text shows the value of 'rho'");
    struct run run = {RUN_VALUE, "P"};
    struct rich cell = {&run, 1};
    struct table_row row = {&cell, 1, false};
    struct block table = {.kind = BLOCK_TABLE, .rows = &row, .row_count = 1};
    sample.parts[0].model = (struct blocks){&table, 1};
    sample.question.note = (struct blocks){&table, 1};
    sample.a[2].text = cell;
    expect_sound();
    sample.question.stem = (struct blocks){&table, 1};
    expect_fault("b.xml:3:3: question w01: a text shows the value of 'P'");
    struct block list = {.kind = BLOCK_LIST, .items = &cell, .item_count = 1};
    sample.question.stem = (struct blocks){&list, 1};
    expect_fault("shows the value of 'P'");
}

Test(bank, sense_drawn_numbers, .init = set_up, .fini = tear_down)
{
    sample.givens[3].formula = "n*(T-7)";       /* zero when T is 7.0 */
    expect_fault("b.xml:3:3: question w01: the given 't' comes out as 0 with H = ");
    sample.energy.formula = "P*(T-6)";
    expect_fault("the number 'E' comes out as 0");
    sample.energy.formula = "P/(T-6)";
    expect_fault("the formula 'P/(T-6)' gives no finite number");
    sample.energy.formula = "P*10^30";
    expect_fault("beyond what is sensible");
    sample.energy.formula = "P*10^-30";
    expect_fault("beyond what is sensible");
    sample.energy.formula = "P*T/7";
    sample.energy.places = 6;
    expect_fault("more than 8 figures");
    sample.energy.places = -1;
    sample.energy.has_interval = true;
    sample.energy.tolerance = 0;
    sample.energy.from = 1;
    sample.energy.to = 10;
    expect_fault("the number 'E' comes out as ");
    sample.energy.symbol = NULL;
    sample.energy.formula = "P*(T-6)";
    expect_fault("a number comes out as 0");
}

/* A number that fails in one variant of nine is found whichever it is: when they are few, all are tried. */
Test(bank, sense_few_variants_are_all_tried, .init = set_up, .fini = tear_down)
{
    static const char *const heights[] = {"1.2", "1.5", "2.0"}, *const periods[] = {"7", "8", "9"};
    for (int i = 0; i < 9; i++) {
        char formula[64], wanted[64];
        snprintf(formula, sizeof formula, "n*(T-%s)^2+(H-%s)^2", periods[i / 3], heights[i % 3]);
        snprintf(wanted, sizeof wanted, "comes out as 0 with H = %s, T = %s, n = 12", heights[i % 3], periods[i / 3]);
        sample.givens[1].low = "7";
        sample.givens[1].high = "9";
        sample.givens[1].step = "1";
        sample.givens[3].formula = formula;
        sample.givens[3].places = 2;
        expect_fault(wanted);
    }
}

Test(bank, sense_numbers_that_do_not_vary, .init = set_up, .fini = tear_down)
{
    static const char *const fixed[] = {"7.0"};
    sample.givens[0] = (struct given){.symbol = "H", .unit = "m", .form = GIVEN_FIXED, .choices = fixed,
                                      .choice_count = 1};
    sample.givens[1] = (struct given){.symbol = "T", .unit = "s", .form = GIVEN_FIXED, .choices = fixed,
                                      .choice_count = 1};
    struct sample still = sample;
    sample.question.varied = false;
    sample.energy.formula = "P*(T-7)";      /* an answer of 0 may be meant */
    expect_sound();
    sample.givens[0] = still.givens[0];
    sample.givens[1] = still.givens[1];
    sample.question.varied = false;
    sample.energy.formula = "P/(T-7)";
    expect_fault("the formula 'P/(T-7)' gives no finite number");
}

Test(bank, sense_names_not_found_are_passed_over, .init = set_up, .fini = tear_down)
{
    sample.question.topic = -1;
    sample.parts[0].objective = -1;
    sample.parts[0].word = -1;
    sample.a[0].objective = -1;
    expect_sound();
}

Test(bank, sense_messages_stop_at_their_limit, .init = set_up, .fini = tear_down)
{
    messages.limit = 2;
    sample.parts[0].marks = 9;
    sample.parts[1].marks = 9;
    sample.givens[0].unit = "zorkmids";
    cr_expect_not(run());
    cr_expect_eq(messages.count, 2);
    cr_expect_eq(messages.dropped, 1);
}

Test(bank, sense_many_questions_keep_their_ids, .init = set_up, .fini = tear_down)
{
    enum { QUESTIONS = 20000 };
    sense_course(sense, &sample.course, 2, 3, &messages);
    struct buffer id = BUFFER_EMPTY;
    sample.question.varied = false;
    sample.question.parts = &(struct part){.id = "a", .marks = 1, .line = 4,
                                           .scheme.root = sample_group(NODE_ALL, 0, &sample.a[0], 1)};
    sample.question.part_count = 1;
    sample.question.given_count = 0;
    sample.question.stem = (struct blocks){NULL, 0};
    for (int i = 0; i < QUESTIONS; i++) {
        buffer_clear(&id);
        buffer_print(&id, "q%d", i);
        sample.question.id = buffer_text(&id);
        cr_assert(sense_question(sense, &sample.question, &messages));
    }
    sample.question.id = "q12345";
    cr_expect_not(sense_question(sense, &sample.question, &messages));
    cr_expect(sense_end(sense, &messages));
    cr_expect_eq(messages.errors, 1);
    buffer_free(&id);
}
