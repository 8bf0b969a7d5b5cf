/* A bank of six questions made by interview on a pseudo-terminal, and the same six from a table: both banks say the same. The
 * questions are our own; common practice, no source. */
#include "program.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/files.h"
#include "base/message.h"

struct turn {
    const char *prompt, *typed;     /* typed NULL: the end */
};

static const struct turn course[] = {
    {"name of the course", "Pond Study"}, {"id of the bank", ""}, {"marks of the whole", "60"}, {"minutes of the whole", "72"},
    {"objective", "AO1 40 know Know"}, {"objective", "AO2 40 apply Apply"}, {"objective", "AO3 20 analyse Judge"}, {"objective", ""},
    {"skill", "maths 10 Mathematics"}, {"skill", ""}, {"topic", "Water 60"}, {"topic", "Life 40"}, {"topic", ""}, {NULL, NULL},
};

static const struct turn one_point[] = {
    {"topic", "Wat\t"}, {"id", "q1"}, {"demand", "low"}, {"given", ""}, {"stem", ""}, {"ask", "State what a pond holds."}, {"command word", ""},
    {"objective", ""}, {"skills", ""}, {"marks", "1"}, {"marking", ""}, {"point", "fresh water"}, {"accept", "rain water | still water"},
    {"ignore", "liquid"}, {"reject", "salt water"}, {"key words", "!water | fresh / rain / still"}, {"model answer", "Fresh water."},
    {"model answer", ""}, {"note", "Ponds are fresh."}, {"note", ""}, {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

static const struct turn any_two[] = {
    {"topic", "2"}, {"id", "q2"}, {"demand", ""}, {"given", ""}, {"stem", "A pond is cut off from a river."}, {"stem", ""},
    {"ask", "Give two animals of a pond."}, {"command word", ""}, {"objective", ""}, {"skills", ""}, {"marks", "2"}, {"marking", "any"},
    {"point 1", "frog"}, {"accept", "toad"}, {"ignore", ""}, {"reject", ""}, {"key words", "frog / toad"},
    {"point 2", "newt"}, {"accept", ""}, {"ignore", ""}, {"reject", ""}, {"key words", ""},
    {"point 3", "snail"}, {"accept", ""}, {"ignore", ""}, {"reject", ""}, {"key words", ""}, {"point 4", ""},
    {"model answer", "A frog and a newt."}, {"model answer", ""}, {"note", ""}, {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

static const struct turn list_of_two[] = {
    {"topic", "2"}, {"id", "q3"}, {"demand", "low"}, {"given", ""}, {"stem", ""}, {"ask", "Name two plants of a pond."}, {"command word", ""},
    {"objective", ""}, {"skills", ""}, {"marks", "2"}, {"marking", "list"},
    {"point 1", "reed"}, {"accept", ""}, {"ignore", ""}, {"reject", ""}, {"key words", ""},
    {"point 2", "lily"}, {"accept", ""}, {"ignore", ""}, {"reject", ""}, {"key words", ""}, {"point 3", ""},
    {"model answer", "Reed and lily."}, {"model answer", ""}, {"note", ""}, {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

static const struct turn calculation[] = {
    {"topic", "1"}, {"id", "q4"}, {"demand", "high"}, {"given", "A = 12 15 20 [m2] area"}, {"given", "d = 0.5 to 1.5 by 0.5 [m] depth"},
    {"given", ""}, {"stem", "A pond of {A} is {d} deep."}, {"stem", ""}, {"ask", "Calculate its volume."}, {"command word", ""},
    {"objective", ""}, {"skills", "maths"}, {"marks", "2"}, {"marking", ""}, {"point 1", "multiplies area by depth"}, {"kind", ""},
    {"number", ""}, {"point 2", "volume with unit"}, {"kind", ""}, {"number", "= A*D"}, {"number", "= A*d"}, {"unit", "m3"},
    {"tolerance", "1%"}, {"figures", ""}, {"symbol", "V"}, {"model answer", "volume = area \xc3\x97 depth"}, {"model answer", "{A} \xc3\x97 {d} = {V}"},
    {"model answer", ""}, {"note", ""}, {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

static const struct turn levels[] = {
    {"topic", "2"}, {"id", "q5"}, {"demand", "high"}, {"given", ""}, {"stem", ""}, {"ask", "Evaluate a plan to drain a pond."},
    {"command word", ""}, {"objective", ""}, {"skills", ""}, {"marks", "4"}, {"marking", "levels"}, {"level 1-2", "one side"},
    {"level 3-4", "both sides and a judgement"}, {"content", "land is won"}, {"content", "frogs are lost"}, {"content", ""},
    {"model answer", "Land is won, but frogs are lost. On the whole the pond should stay."}, {"model answer", ""}, {"note", ""},
    {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

static const struct turn two_parts[] = {
    {"topic", "1"}, {"id", "q6"}, {"demand", ""}, {"given", ""}, {"stem", ""}, {"ask", "Define evaporation."}, {"command word", ""},
    {"objective", ""}, {"skills", ""}, {"marks", "1"}, {"marking", ""}, {"point", "water turns to vapour"}, {"accept", "liquid to gas"},
    {"ignore", ""}, {"reject", "boiling"}, {"key words", "vapour / gas"}, {"model answer", "Water turns to vapour."}, {"model answer", ""},
    {"note", ""}, {"another part?", "y"}, {"ask of part (b)", "Explain why a pond shrinks in summer."}, {"command word", ""}, {"objective", ""},
    {"skills", ""}, {"marks", "2"}, {"marking", ""}, {"point 1", "it is warmer"}, {"accept", "hot"}, {"ignore", ""}, {"reject", ""},
    {"key words", "warm / hot / heat"}, {"point 2", "so more water evaporates"}, {"accept", ""}, {"ignore", ""}, {"reject", ""},
    {"key words", "evaporates"}, {"model answer", "It is warmer, so more water evaporates."}, {"model answer", ""},
    {"note", ""}, {"another part?", ""}, {"save", ""}, {NULL, NULL},
};

/* The same six, as a spreadsheet of another country would save them: semicolons, a byte-order mark, CRLF. */
static const char table[] =
    "\xEF\xBB\xBFquestion;topic;demand;stem;givens;part;ask;command;objective;marks;skills;group;point;accept;ignore;reject;key;kind;formula;"
    "symbol;unit;tolerance;model;note\r\n"
    "q1;water;low;;;;State what a pond holds.;state;AO1;1;;;fresh water;rain water | still water;liquid;salt water;"
    "!water | fresh / rain / still;;;;;;Fresh water.;Ponds are fresh.\r\n"
    "q2;life;standard;A pond is cut off from a river.;;;Give two animals of a pond.;give;AO1;2;;any 2;frog;toad;;;frog / toad;;;;;;"
    "A frog and a newt.;\r\n"
    "q2;;;;;;;;;;;any 2;newt;;;;newt;;;;;;;\r\n"
    "q2;;;;;;;;;;;any 2;snail;;;;snail;;;;;;;\r\n"
    "q3;life;low;;;;Name two plants of a pond.;name;AO1;2;;list 2;reed;;;;reed;;;;;;Reed and lily.;\r\n"
    "q3;;;;;;;;;;;list 2;lily;;;;lily;;;;;;;\r\n"
    "q4;water;high;A pond of {A} is {d} deep.;A = 12 15 20 [m2] area | d = 0.5 to 1.5 by 0.5 [m] depth;;Calculate its volume.;calculate;AO2;"
    "2;maths;;multiplies area by depth;;;;;method;;;;;\"volume = area \xc3\x97 depth\n{A} \xc3\x97 {d} = {V}\";\r\n"
    "q4;;;;;;;;;;;;volume with unit;;;;;accuracy;A*d;V;m3;1%;;\r\n"
    "q5;life;high;;;;Evaluate a plan to drain a pond.;evaluate;AO3;4;;level 1-2;one side;;;;;;;;;;"
    "\"Land is won, but frogs are lost. On the whole the pond should stay.\";\r\n"
    "q5;;;;;;;;;;;level 3-4;both sides and a judgement;;;;;;;;;;;\r\n"
    "q5;;;;;;;;;;;indicative;land is won;;;;;;;;;;;\r\n"
    "q5;;;;;;;;;;;indicative;frogs are lost;;;;;;;;;;;\r\n"
    "q6;water;;;;a;Define evaporation.;define;AO1;1;;;water turns to vapour;liquid to gas;;boiling;vapour / gas;;;;;;Water turns to vapour.;\r\n"
    "q6;;;;;b;Explain why a pond shrinks in summer.;explain;AO2;2;;;it is warmer;hot;;;warm / hot / heat;;;;;;"
    "\"It is warmer, so more water evaporates.\";\r\n"
    "q6;;;;;b;;;;;;;so more water evaporates;;;;evaporates;;;;;;;\r\n";

static void take_turns(struct pty *pty, const struct turn *turns)
{
    for (; turns->typed; turns++) {
        pty_expect(pty, turns->prompt);
        pty_expect(pty, "> ");
        pty_send(pty, turns->typed);
        pty_send(pty, "\r");
    }
}

static char *read_file(const char *path)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer bytes = BUFFER_EMPTY;
    cr_assert(file_read(path, 1 << 20, &bytes, &messages), "%s", path);
    return buffer_take(&bytes);
}

static void write_file(const char *path, const char *bytes, size_t length)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(file_write(path, bytes, length, 0600, true, &messages));
}

static void make_by_interview(const struct home *home, const char *bank)
{
    static const struct turn *const questions[] = {one_point, any_two, list_of_two, calculation, levels, two_parts};
    enum { QUESTIONS = sizeof questions / sizeof *questions };
    struct pty pty;
    program_on_pty(&pty, home, (const char *const[]){"bank", "write", bank, NULL});
    take_turns(&pty, course);
    for (size_t i = 0; i < QUESTIONS; i++) {
        take_turns(&pty, questions[i]);
        pty_expect(&pty, "Written to");
        pty_expect(&pty, "another question? y n [y]> ");
        pty_send(&pty, i + 1 < QUESTIONS ? "y\r" : "n\r");
    }
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
}

/* The course described and left, then the table into the bank that is not there yet. */
static void make_from_table(const struct home *home, const char *bank)
{
    char csv[120];
    struct pty pty;
    snprintf(csv, sizeof csv, "%s/six.csv", home->folder);
    write_file(csv, table, sizeof table - 1);
    EXPECT(home, 2, "asks for its course", "bank", "import", csv, bank);
    program_on_pty(&pty, home, (const char *const[]){"bank", "write", bank, NULL});
    take_turns(&pty, course);
    take_turns(&pty, (const struct turn[]){{"topic", ".leave"}, {NULL, NULL}});
    pty_expect(&pty, "The course is kept");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(home, 0, ",water,", "bank", "import", "--template", bank);
    EXPECT(home, 0, "6 questions would be added", "bank", "import", "--dry-run", csv, bank);
    EXPECT(home, 0, "6 questions added", "bank", "import", csv, bank);
}

Test(commands, six_questions_by_interview_and_from_a_table_are_the_same, .timeout = 120)
{
    struct home home;
    char by_interview[120], from_table[120];
    home_make(&home);
    snprintf(by_interview, sizeof by_interview, "%s/interview.xml", home.folder);
    snprintf(from_table, sizeof from_table, "%s/table.xml", home.folder);
    make_by_interview(&home, by_interview);
    make_from_table(&home, from_table);
    EXPECT(&home, 0, "is sound: Pond Study, 6 questions", "bank", "check", by_interview);
    EXPECT(&home, 0, "", "bank", "tidy", by_interview);
    EXPECT(&home, 0, "", "bank", "tidy", from_table);
    char *one = read_file(by_interview), *other = read_file(from_table);
    cr_expect_str_eq(one, other);
    free(one), free(other);
    EXPECT(&home, 1, "What to write next", "bank", "balance", by_interview);
    home_remove(&home);
}

/* Killed while a line is typed, and by a hang-up, which keeps even that line. */
Test(commands, a_half_written_question_outlives_the_program, .timeout = 60)
{
    struct home home;
    struct pty pty;
    char bank[120], *bytes = read_file("tests/data/cycle.xml");
    home_make(&home);
    snprintf(bank, sizeof bank, "%s/bank.xml", home.folder);
    write_file(bank, bytes, strlen(bytes));
    free(bytes);
    const char *const words[] = {"bank", "write", bank, NULL};
    program_on_pty(&pty, &home, words);
    take_turns(&pty, (const struct turn[]){{"topic", "1"}, {"id", ""}, {"demand", ""}, {"given", ""}, {"stem", "The first line."}, {NULL, NULL}});
    pty_expect(&pty, "stem> ");
    pty_send(&pty, "half a line");
    pty_expect(&pty, "half a line");
    pty_signal(&pty, SIGKILL);
    pty_wait(&pty);
    pty_free(&pty);
    program_on_pty(&pty, &home, words);
    take_turns(&pty, (const struct turn[]){{"go on with it?", ""}, {"The first line.", ""}, {NULL, NULL}});
    pty_expect(&pty, "ask> ");
    pty_send(&pty, ".back\r");
    pty_expect(&pty, "stem> ");
    pty_send(&pty, "The other");
    pty_expect(&pty, "The other");
    pty_signal(&pty, SIGHUP);
    cr_assert_eq(pty_wait(&pty), 256 + SIGHUP);
    pty_free(&pty);
    program_on_pty(&pty, &home, words);
    take_turns(&pty, (const struct turn[]){{"go on with it?", ""}, {"The other", ".leave"}, {NULL, NULL}});
    pty_expect(&pty, "Kept for later");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    home_remove(&home);
}
