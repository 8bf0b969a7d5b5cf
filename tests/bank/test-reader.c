/* Every element and attribute of tests/data/every-element.xml as it stands in the model, transcribed by hand. */
#include <stdlib.h>
#include <string.h>

#include "bank/bank.h"
#include "bank/check.h"
#include "trial.h"

static struct bank *bank;
static struct arena *arena;
static const struct course *course;
static const struct question *w01, *w02;

static void set_up(void)
{
    struct messages messages = MESSAGES_EMPTY;
    bank = bank_open(EVERY_ELEMENT, false, &messages);
    cr_assert(bank, "%s", messages.count ? messages.items[0].text : "");
    arena = arena_new();
    course = bank_course(bank);
    w01 = bank_question(bank, 0, arena, &messages);
    w02 = bank_question(bank, 1, arena, &messages);
    cr_assert(w01 && w02);
}

static void tear_down(void)
{
    bank_close(bank);
    arena_free(arena);
}

#define BANK .init = set_up, .fini = tear_down

/* Runs as one line: plain, /emphasis/, _subscript_, ^superscript^, {value}. */
static const char *line(struct rich prose)
{
    static const char marks[][2] = {"", "/", "_", "^", ""};
    static struct buffer lines[4];
    static unsigned turn;
    struct buffer *out = &lines[turn++ % 4];
    buffer_clear(out);
    for (size_t i = 0; i < prose.count; i++)
        if (prose.runs[i].style == RUN_VALUE)
            buffer_print(out, "{%s}", prose.runs[i].text);
        else
            buffer_print(out, "%s%s%s", marks[prose.runs[i].style], prose.runs[i].text, marks[prose.runs[i].style]);
    return buffer_text(out);
}

static void check_words(const char *const *items, size_t count, const char *wanted)
{
    struct buffer joined = BUFFER_EMPTY;
    for (size_t i = 0; i < count; i++)
        buffer_print(&joined, "%s%s", i ? "|" : "", items[i]);
    cr_expect_str_eq(buffer_text(&joined), wanted);
    buffer_free(&joined);
}

Test(bank, the_bank_and_its_course, BANK)
{
    cr_expect_str_eq(bank_id(bank), "every-element");
    cr_expect_str_eq(bank_path(bank), EVERY_ELEMENT);
    cr_expect_str_eq(bank_folder(bank), "tests/data");
    cr_expect_str_eq(course->name, "Coastal Science");
    cr_expect_str_eq(course->about, "An invented course, used to show the format.");
    cr_expect_eq(course->paper_marks, 60);
    cr_expect_eq(course->paper_minutes, 72);
    cr_expect_float_eq(course->minutes_per_mark, 1.2, 1e-12);
    cr_assert_eq(course->objective_count, 3);
    cr_expect_str_eq(course->objectives[2].id, "AO3");
    cr_expect_str_eq(course->objectives[2].name, "Analyse and evaluate");
    cr_expect_eq(course->objectives[2].share, 20);
    cr_expect_eq(course->objectives[0].kind, OBJECTIVE_KNOW);
    cr_expect_eq(course->objectives[1].kind, OBJECTIVE_APPLY);
    cr_expect_eq(course->objectives[2].kind, OBJECTIVE_ANALYSE);
    cr_assert_eq(course->skill_count, 2);
    cr_expect_str_eq(course->skills[1].id, "practical");
    cr_expect_str_eq(course->skills[1].name, "Practical work");
    cr_expect_eq(course->skills[1].share, 15);
}

Test(bank, topics_stand_in_one_array, BANK)
{
    static const struct { const char *id, *name; int parent; double share; bool is_leaf; } wanted[] = {
        {"waves", "Waves and tides", -1, 50, false}, {"waves.energy", "Wave energy", 0, 30, true},
        {"waves.tides", "Tides", 0, 20, true}, {"shore", "Rocky-shore ecology", -1, 50, true},
    };
    cr_assert_eq(course->topic_count, 4);
    for (size_t i = 0; i < 4; i++) {
        const struct topic *topic = &course->topics[i];
        cr_expect_str_eq(topic->id, wanted[i].id);
        cr_expect_str_eq(topic->name, wanted[i].name);
        cr_expect(topic->parent == wanted[i].parent && topic->share == wanted[i].share &&
                  topic->is_leaf == wanted[i].is_leaf, "%s", topic->id);
        cr_expect_eq(topic->explain.ask != NULL, i == 1);
    }
    const struct explain_prompt *explain = &course->topics[1].explain;
    cr_expect_str_eq(explain->ask, "Explain to a friend where a wave gets its energy and where the energy goes.");
    check_words(explain->points, explain->point_count, "Wind blowing over the sea passes energy to the surface.|"
                                                       "A longer fetch gives higher waves.");
}

Test(bank, command_words_and_the_data_sheet, BANK)
{
    const struct command_word *word = &course->words[0];
    cr_expect_str_eq(word->word, "calculate");
    cr_expect_eq(word->objective, 1);
    cr_expect_str_eq(word->meaning, "Work out a value from what is given.");
    cr_expect_str_eq(word->needs, "The working, the value and its unit.");
    cr_expect_str_eq(word->trap, "The unit is left out.");
    cr_expect(!word->generic);
    cr_assert_gt(course->word_count, 10);
    cr_expect(course->words[1].generic);
    cr_assert_eq(course->constant_count, 1);
    cr_expect_str_eq(course->constants[0].symbol, "g");
    cr_expect_str_eq(course->constants[0].value, "9.81");
    cr_expect_str_eq(course->constants[0].unit, "N/kg");
    cr_expect_str_eq(course->constants[0].name, "gravitational field strength");
    cr_assert_eq(course->formula_count, 1);
    cr_expect_str_eq(course->formulae[0].name, "wave speed");
    cr_expect_str_eq(line(course->formulae[0].text), "speed = frequency × wavelength: /v/ = /f//λ/");
}

Test(bank, what_a_question_says_of_itself, BANK)
{
    cr_expect_str_eq(w01->id, "w01");
    cr_expect_eq(w01->topic, 1);
    cr_assert_eq(w01->also_count, 1);
    cr_expect_eq(w01->also[0], 2);
    cr_expect_eq(w01->demand, DEMAND_STANDARD);
    cr_expect_eq(w01->marks, 6);
    cr_expect_eq(w01->minutes, 8);
    check_words(w01->enemies, w01->enemy_count, "w02");
    cr_expect_null(w01->caution);
    cr_expect(w01->varied);
    cr_expect_eq(w01->line, 41);
    cr_expect_eq(w01->column, 3);
    cr_assert_eq(w01->note.count, 1);
    cr_expect_str_eq(line(w01->note.items[0].text), "Powers go with the square of the height.");
    cr_expect_eq(w02->topic, 3);
    cr_expect_eq(w02->demand, DEMAND_HIGH);
    cr_expect_eq(w02->marks, 14);
    cr_expect_float_eq(w02->minutes, 14 * 1.2, 1e-12);
    cr_expect_str_eq(w02->caution, "This is a paper exercise. Work on a shore follows your school's risk assessment and a "
                                   "qualified teacher.");
    cr_expect(!w02->varied);
    const struct question_summary *summary = bank_summary(bank, 1);
    cr_expect(!summary->has_numbers && bank_summary(bank, 0)->has_numbers);
    cr_expect_eq(summary->parts[0].skills, 2);
    cr_expect_eq(bank_find(bank, "w02"), 1);
    cr_expect_eq(bank_find(bank, "w03"), -1);
}

Test(bank, written_matter, BANK)
{
    cr_assert_eq(w01->stem.count, 5);
    const struct block *blocks = w01->stem.items;
    cr_expect_eq(blocks[0].kind, BLOCK_PARAGRAPH);
    cr_expect_str_eq(line(blocks[0].text), "A buoy bobs in waves of height {H}. Sea water has a density of 1030 kg m^−3^; carbon "
                                           "dioxide is CO_2_. Read /every/ line.");
    cr_expect_eq(blocks[1].kind, BLOCK_LIST);
    cr_assert_eq(blocks[1].item_count, 2);
    cr_expect_str_eq(line(blocks[1].items[1]), "The water is deep.");
    cr_expect_eq(blocks[2].kind, BLOCK_TABLE);
    cr_expect_str_eq(line(blocks[2].text), "Height of the waves on three days");
    cr_assert_eq(blocks[2].row_count, 3);
    cr_expect(blocks[2].rows[0].heading && !blocks[2].rows[1].heading);
    cr_assert_eq(blocks[2].rows[2].count, 2);
    cr_expect_str_eq(line(blocks[2].rows[2].cells[0]), "Tuesday");
    cr_expect_str_eq(line(blocks[2].rows[2].cells[1]), "0.8");
    cr_expect_eq(blocks[3].kind, BLOCK_FIGURE);
    cr_expect_str_eq(blocks[3].file, "figures/profile.svg");
    cr_expect_str_eq(blocks[3].alternative, "A wave with its height marked from trough to crest: 1.2 m.");
    cr_expect_str_eq(line(blocks[3].text), "Figure 1: the profile of a wave");
    cr_expect_eq(blocks[4].kind, BLOCK_SOURCE);
    cr_expect_str_eq(blocks[4].title, "Source A: the harbour log");
    cr_expect_str_eq(line(blocks[4].text), "Written for this bank");
    cr_assert_eq(blocks[4].block_count, 1);
    cr_expect_str_eq(line(blocks[4].blocks[0].text), "Swell from the west all week.");
}

Test(bank, givens, BANK)
{
    cr_assert_eq(w01->given_count, 4);
    const struct given *given = w01->givens;
    cr_expect_eq(given[0].form, GIVEN_CHOICE);
    cr_expect_str_eq(given[0].symbol, "H");
    cr_expect_str_eq(given[0].unit, "m");
    cr_expect_str_eq(given[0].name, "wave height");
    check_words(given[0].choices, given[0].choice_count, "1.2|1.5|2.0");
    cr_expect_eq(given[1].form, GIVEN_RANGE);
    cr_expect_str_eq(given[1].low, "6.0");
    cr_expect_str_eq(given[1].high, "9.0");
    cr_expect_str_eq(given[1].step, "0.5");
    cr_expect_eq(given[2].form, GIVEN_FIXED);
    cr_expect_str_eq(given[2].unit, "");
    check_words(given[2].choices, given[2].choice_count, "12");
    cr_expect_eq(given[3].form, GIVEN_COMPUTED);
    cr_expect_str_eq(given[3].formula, "n*T");
    cr_expect_eq(given[3].places, 0);
    cr_assert_eq(w01->parts[0].given_count, 1);
    cr_expect_str_eq(w01->parts[0].givens[0].symbol, "rho");
}

Test(bank, parts, BANK)
{
    cr_assert_eq(w01->part_count, 3);
    const struct part *part = &w01->parts[0];
    cr_expect_str_eq(part->id, "a");
    cr_expect_eq(part->objective, 1);
    cr_expect_eq(part->word, 0);
    cr_expect_eq(part->marks, 3);
    cr_assert_eq(part->skill_count, 1);
    cr_expect_eq(part->skills[0], 0);
    cr_expect_eq(part->lines, 5);
    cr_expect_eq(w01->parts[1].lines, 4, "two a mark unless said");
    cr_expect_eq(part->line, 67);
    cr_expect_eq(part->column, 5);
    cr_assert_eq(part->ask.count, 1);
    cr_expect_str_eq(line(part->model.items[0].text), "P = {P} for each metre: energy transferred each second.");
    cr_expect_str_eq(line(part->note.items[0].text), "Square the height before you multiply.");
    cr_expect_eq(w01->parts[1].model.count, 0);
    cr_expect_str_eq(course->words[w01->parts[2].word].word, "show that");
}

Test(bank, points, BANK)
{
    const struct node *points = w01->parts[0].scheme.root.children;
    cr_assert_eq(w01->parts[0].scheme.root.child_count, 3);
    cr_expect_str_eq(points[0].id, "sub");
    cr_expect_eq(points[0].kind, NODE_POINT);
    cr_expect_eq(points[0].point_kind, POINT_METHOD);
    cr_expect_eq(points[0].marks, 1);
    cr_expect(points[0].follow);
    cr_expect_eq(points[0].objective, 1);
    cr_expect_str_eq(line(points[0].text), "puts the values into the formula");
    cr_expect_eq(points[1].point_kind, POINT_ACCURACY);
    check_words(points[1].needs, points[1].need_count, "sub");
    const struct number_key *number = points[1].number;
    cr_assert(number && !points[0].number);
    cr_expect_str_eq(number->symbol, "P");
    cr_expect_str_eq(number->formula, "rho*g^2*H^2*T/(32*pi)");
    cr_expect_str_eq(number->unit, "W/m");
    cr_expect(number->tolerance_relative && !number->unit_printed && !number->has_interval && !number->value);
    cr_expect_float_eq(number->tolerance, 0.02, 1e-15);
    cr_expect_eq(number->figures, 2);
    cr_expect_eq(number->places, -1);
    const struct node *third = &points[2];
    cr_expect_str_eq(third->id, "a.3", "its place among the points of the part");
    cr_expect_eq(third->point_kind, POINT_INDEPENDENT);
    cr_expect_eq(third->objective, 0);
    cr_expect_str_eq(third->idea, "power-unit");
    check_words(third->accepts.items, third->accepts.count, "joules per second|rate of transfer of energy");
    check_words(third->ignores.items, third->ignores.count, "strength");
    check_words(third->rejects.items, third->rejects.count, "energy on its own");
    cr_assert_eq(third->key_count, 2);
    cr_expect(!third->keys[0].essential && third->keys[1].essential);
    check_words(third->keys[1].alternatives, third->keys[1].count, "second|time|rate");
}

Test(bank, routes_and_the_scheme_itself, BANK)
{
    const struct scheme *scheme = &w01->parts[1].scheme;
    cr_expect(!scheme->unit_penalty && !scheme->working_required && scheme->crossed_out == CROSSED_OUT_MARKED);
    cr_expect(w01->parts[0].scheme.unit_penalty);
    const struct node *routes = &scheme->root.children[0];
    cr_expect_eq(routes->kind, NODE_ROUTES);
    cr_expect_eq(routes->marks, 2);
    cr_assert_eq(routes->child_count, 2);
    cr_expect_eq(routes->children[1].kind, NODE_ALL);
    cr_expect_str_eq(routes->children[1].name, "energy of each metre first");
    const struct node *points = routes->children[1].children;
    cr_expect_eq(points[0].point_kind, POINT_IMPLIED);
    cr_expect_str_eq(points[0].id, "b.3");
    cr_expect(!points[1].follow && points[1].number->unit_printed);
    cr_expect_str_eq(routes->children[0].children[1].number->symbol, "E");
    const struct scheme *show = &w01->parts[2].scheme;
    cr_expect(show->working_required && show->crossed_out == CROSSED_OUT_IGNORED);
    const struct number_key *number = show->root.children[0].number;
    cr_expect(number->has_interval && number->from == 0 && number->to == 20 && number->to_excluded && number->places == 1);
}

Test(bank, lists_and_choices, BANK)
{
    const struct node *list = &w02->parts[0].scheme.root.children[0];
    cr_expect_eq(list->kind, NODE_LIST);
    cr_expect_eq(list->take, 2);
    cr_expect_eq(list->list_rule, LIST_CANCEL);
    cr_expect_eq(list->child_count, 3);
    check_words(list->ignores.items, list->ignores.count, "shellfish");
    check_words(list->rejects.items, list->rejects.count, "crab");
    const struct node *nodes = w02->parts[1].scheme.root.children;
    cr_assert_eq(w02->parts[1].scheme.root.child_count, 2);
    cr_expect(nodes[0].kind == NODE_ANY && nodes[0].take == 2 && nodes[0].child_count == 3 && nodes[0].marks == 2);
    cr_expect(nodes[1].kind == NODE_ALL && nodes[1].marks == 2 && nodes[1].child_count == 3);
    cr_expect_str_eq(nodes[1].children[2].id, "b.6");
}

Test(bank, levels_and_quality, BANK)
{
    const struct node *nodes = w02->parts[2].scheme.root.children;
    const struct node *levels = &nodes[0], *quality = &nodes[1];
    cr_expect(levels->kind == NODE_LEVELS && levels->marks == 6 && levels->level_count == 3);
    cr_expect(levels->levels[1].number == 2 && levels->levels[1].from == 3 && levels->levels[1].to == 4);
    cr_expect_str_eq(levels->levels[0].descriptor, "Simple statements, one side only.");
    cr_assert_eq(levels->strand_count, 2);
    check_words(levels->strands[0].descriptors, 3, "none|some figures quoted|figures compared");
    cr_expect_str_eq(levels->strands[1].name, "Argument");
    cr_expect_null(levels->strands[1].descriptors[2]);
    cr_assert_eq(levels->cap_count, 1);
    cr_expect_str_eq(levels->caps[0].condition, "no judgement");
    cr_expect_eq(levels->caps[0].level, 2);
    cr_assert_eq(levels->indicative_count, 2);
    cr_expect_str_eq(levels->indicative[1].id, "c.i2");
    cr_expect_str_eq(line(levels->indicative[1].text), "the wall costs habitat");
    cr_expect_eq(levels->indicative[1].marks, 0);
    cr_expect(quality->kind == NODE_QUALITY && quality->marks == 2 && quality->band_count == 2);
    cr_expect_eq(quality->bands[1].marks, 1);
    cr_expect_str_eq(quality->bands[1].descriptor, "Mostly clear.");
    cr_expect_str_eq(levels->id, "c.levels1");
}

/* An id is a token: blanks round it belong to it neither for the reader nor for what names it. */
Test(bank, blanks_round_an_id_are_none_of_it, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    char *before = trial_every_element();
    char *text = trial_replaced(before, "<question id=\"w02\"", "<question id=\"\n w02 \"", NULL);
    trial_write("bank.xml", text, strlen(text));
    struct bank *spaced = bank_open(trial_path("bank.xml"), false, &messages);
    cr_assert(spaced, "%s", messages.count ? messages.items[0].text : "");
    cr_expect_str_eq(bank_summary(spaced, 1)->id, "w02");
    struct arena *own = arena_new();
    cr_expect_str_eq(bank_question(spaced, 1, own, &messages)->id, "w02");
    arena_free(own);
    bank_close(spaced);
    char *twice = trial_replaced(before, "<question id=\"w02\"", "<question id=\" w01\"", NULL);
    trial_write("bank.xml", twice, strlen(twice));
    cr_expect_null(bank_open(trial_path("bank.xml"), false, &messages), "the same id twice");
    messages_free(&messages);
    free(twice);
    free(text);
    free(before);
}

/* The same text, divided by whatever XML allows between its characters. */
Test(bank, divided_text_is_whole, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    char *before = trial_every_element();
    char *text = trial_replaced(before, "Look at the shore.", " Look&#32;<!-- no -->at <?x y?>a&amp;b <![CDATA[<c> ]]]]>"
                                "<![CDATA[>]]>\n <em> d </em> e ", NULL);
    char *other = trial_replaced(text, "title=\"Source A: the harbour log\"", "title=\" A &amp; B&#10;&amp;#38; &lt;C \"", NULL);
    trial_write("bank.xml", other, strlen(other));
    struct bank *divided = bank_open(trial_path("bank.xml"), false, &messages);
    cr_assert(divided, "%s", messages.count ? messages.items[0].text : "");
    struct arena *own = arena_new();
    const struct question *question = bank_question(divided, 1, own, &messages);
    cr_expect_str_eq(line(question->stem.items[0].text), "Look at a&b <c> ]]> /d /e");
    question = bank_question(divided, 0, own, &messages);
    cr_expect_str_eq(question->stem.items[4].title, "A & B &#38; <C");
    arena_free(own);
    bank_close(divided);
    free(other);
    free(text);
    free(before);
}

static void count_progress(size_t done, size_t total, void *context)
{
    size_t *last = context;
    cr_expect(done > *last && done <= total);
    *last = done;
}

Test(bank, a_check_tells_what_the_bank_holds_and_how_far_it_is, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank_check check = bank_check(EVERY_ELEMENT, &messages, NULL, NULL);
    cr_expect(check.sound && check.questions == 2 && check.marks == 20);
    cr_expect_str_eq(check.id, "every-element");
    cr_expect_str_eq(check.course, "Coastal Science");
    cr_expect_eq(messages.count, 0);
    char *large = trial_generated("1000");
    size_t last = 0;
    trial_write("bank.xml", large, strlen(large));
    check = bank_check(trial_path("bank.xml"), &messages, count_progress, &last);
    cr_expect(check.sound && check.questions == 1000);
    cr_expect_gt(last, (size_t)2 << 20);
    free(large);
}
