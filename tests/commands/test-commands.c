/* Commands as a user meets them: what they say, what they refuse, how they end. */
#include "program.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static void write_file(const struct home *home, const char *name, const char *text, char path[160])
{
    snprintf(path, 160, "%s/%s", home->folder, name);
    FILE *file = fopen(path, "w");
    cr_assert(file != NULL);
    fputs(text, file);
    fclose(file);
}

/* The bank of the tests with one thing exchanged for another. */
static void faulty_bank(const struct home *home, const char *from, const char *to, char path[160])
{
    static char text[16384];
    static char changed[20000];
    FILE *file = fopen("tests/data/cycle.xml", "r");
    cr_assert(file != NULL);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    char *at = strstr(text, from);
    cr_assert(at != NULL, "nothing to exchange: %s", from);
    snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    write_file(home, "faulty.xml", changed, path);
}

static void expect_refused(const char *from, const char *to, const char *text)
{
    struct home home;
    char path[160];
    home_make(&home);
    faulty_bank(&home, from, to, path);
    EXPECT(&home, 2, text, "bank", "check", path);
    EXPECT(&home, 2, text, "practise", path, "--record", home.record);
    home_remove(&home);
}

Test(commands, every_command_has_help)
{
    struct home home;
    home_make(&home);
    EXPECT(&home, 0, "Usage: ownmark practise", "practise", "--help");
    EXPECT(&home, 0, "Usage: ownmark standing", "standing", "--help");
    EXPECT(&home, 0, "Usage: ownmark settings", "settings", "--help");
    EXPECT(&home, 0, "Usage: ownmark bank check", "bank", "check", "--help");
    EXPECT(&home, 0, "Usage: ownmark record check", "record", "check", "--help");
    EXPECT(&home, 0, "Usage: ownmark record rebuild", "record", "rebuild", "--help");
    EXPECT(&home, 0, "Usage: ownmark record erase", "record", "erase", "--help");
    EXPECT(&home, 0, "record backup", "record", "--help");
    EXPECT(&home, 0, "practise", "--help");
    EXPECT(&home, 0, "ownmark 0.1", "--version");
    home_remove(&home);
}

Test(commands, bad_use_is_told_with_what_would_be_right)
{
    struct home home;
    home_make(&home);
    EXPECT(&home, 2, "did you mean 'ownmark practise'?", "practice");
    EXPECT(&home, 2, "did you mean --minutes?", "practise", "--minuts", "3");
    EXPECT(&home, 2, "--minutes 'soon' is not a number from 1 to 600", "practise", "tests/data/cycle.xml", "--minutes", "soon");
    EXPECT(&home, 2, "--now 'someday' is not a date and time", "standing", "--now", "someday");
    EXPECT(&home, 2, "has no JSON form", "practise", "--json");
    EXPECT(&home, 2, "wants FILE", "bank", "check");
    EXPECT(&home, 2, "one word too many", "standing", "a", "b");
    EXPECT(&home, 2, "did you mean 'waves'?", "practise", "tests/data/cycle.xml", "--topic", "wavs");
    EXPECT(&home, 2, "no question 'nine'", "practise", "tests/data/cycle.xml", "--question", "nine");
    EXPECT(&home, 2, "did you mean 'waves'? It has:", "practise", "tests/data/cycle.xml", "--topic", "wavs");
    EXPECT(&home, 2, "--by 'mood' is not one of", "standing", "--by", "mood");
    EXPECT(&home, 2, "--ics wants a value", "timetable", "--ics", "--record", home.record);
    EXPECT(&home, 2, "name '", "settings", "name", "\033[31mred", "--record", home.record);
    EXPECT(&home, 0, "extra-time: 0.", "settings", "extra-time", "-0", "--record", home.record);
    EXPECT(&home, 2, "is past", "standing", "--on", "2026-05-17", "--now", "2026-05-18T09:00");
    home_remove(&home);
}

Test(commands, refused_use_writes_nothing)
{
    struct home home;
    struct stat state;
    home_make(&home);
    EXPECT(&home, 2, "none.xml", "practise", "none.xml", "--record", home.record);
    EXPECT(&home, 2, "no question 'nine'", "practise", "tests/data/cycle.xml", "--question", "nine", "--record", home.record);
    EXPECT(&home, 2, "--minutes 'soon'", "practise", "tests/data/cycle.xml", "--minutes", "soon", "--record", home.record);
    EXPECT(&home, 0, "There is no record yet", "record", "rebuild", "--record", home.record);
    EXPECT(&home, 2, "unknown option", "practise", "tests/data/cycle.xml", "--record", home.record, "--nonsense");
    cr_assert_neq(stat(home.record, &state), 0);
    home_remove(&home);
}

/* The faults that a bank's author makes, each with its place, its question and the way to mend it. */
Test(commands, faulty_banks_are_refused_with_place_and_question)
{
    expect_refused("<ask>", "<asks>", "faulty.xml:");
    expect_refused("command=\"name\" marks=\"2\"", "command=\"name\" marks=\"3\"", "question list");
    expect_refused("topic=\"shore\" demand=\"high\"", "topic=\"shoe\" demand=\"high\"", "did you mean 'shore'?");
    expect_refused("<stem><p>A wave", "<stem><figure file=\"figures/none.svg\" text=\"t\"/><p>A wave", "figures/none.svg");
    expect_refused("<bank ", "<!DOCTYPE bank [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;&a;\">]>\n<bank ", "DOCTYPE");
}

Test(commands, a_bank_nested_three_hundred_deep_is_refused)
{
    struct home home;
    char path[160];
    static char text[40000];
    size_t length = 0;
    home_make(&home);
    length += (size_t)snprintf(text, sizeof text, "<bank xmlns=\"urn:ownmark:bank:1\" id=\"deep\">");
    for (int i = 0; i < 300; i++)
        length += (size_t)snprintf(text + length, sizeof text - length, "<stem>");
    write_file(&home, "deep.xml", text, path);
    EXPECT(&home, 2, "deep.xml:1:", "bank", "check", path);
    home_remove(&home);
}

/* Wrapped where a person reads it; by pipes (every other test here) a message stays on its line. */
Test(commands, messages_keep_to_the_width_of_the_terminal)
{
    struct home home;
    struct pty pty;
    home_make(&home);
    program_on_pty(&pty, &home, (const char *const[]){"settings", "extra-time", "-5", NULL});
    cr_expect_eq(pty_wait(&pty), 2);
    const char *shown = pty_rest(&pty);
    size_t longest = 0;
    for (const char *line = shown; *line; line += strcspn(line, "\n") + (strchr(line, '\n') != NULL))
        longest = strcspn(line, "\r\n") > longest ? strcspn(line, "\r\n") : longest;
    cr_expect(longest > 0 && longest <= 80, "%zu columns in [%s]", longest, shown);
    cr_expect_not_null(strstr(shown, "from 0 to 100"), "%s", shown);
    pty_free(&pty);
    home_remove(&home);
}

/* Each bank has its own day; a bank never practised from is named by its file. */
Test(commands, the_exam_date_belongs_to_a_bank)
{
    struct home home;
    home_make(&home);
    EXPECT(&home, 0, "exam-date of cycle: 2027-06-10.\n", "settings", "exam-date", "2027-06-10", "--bank", "tests/data/cycle.xml",
           "--record", home.record);
    EXPECT(&home, 0, "exam-date of look: 2027-05-18.\n", "settings", "exam-date", "2027-05-18", "--bank", "tests/data/look.xml",
           "--record", home.record);
    EXPECT(&home, 0, "\"bank\":\"cycle\",\"exam-date\":\"2027-06-10\"", "settings", "--bank", "tests/data/cycle.xml", "--json",
           "--record", home.record);
    EXPECT(&home, 0, "timetable to the exam on Thursday 10 June 2027", "timetable", "tests/data/cycle.xml", "--now", "2027-06-01",
           "--record", home.record);
    EXPECT(&home, 2, "no bank 'cycle' was used yet", "settings", "exam-date", "2027-06-10", "--bank", "cycle", "--record",
           home.record);
    EXPECT(&home, 2, "minutes is the same for all banks", "settings", "minutes", "20", "--bank", "tests/data/cycle.xml", "--record",
           home.record);
    EXPECT(&home, 2, "none.xml", "settings", "--bank", "none.xml", "--record", home.record);
    home_remove(&home);
}

Test(commands, taught_dates_are_of_topics_the_bank_has)
{
    struct home home;
    struct stat state;
    home_make(&home);
    EXPECT(&home, 2, "did you mean 'waves'?", "settings", "taught:wavs", "2027-01-15", "--bank",
           "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 2, "volcanoes", "settings", "taught:volcanoes", "2027-01-15", "--bank",
           "tests/data/cycle.xml", "--record", home.record);
    cr_assert_neq(stat(home.record, &state), 0, "what is refused writes nothing");
    EXPECT(&home, 0, "taught:waves of cycle: 2027-01-15.", "settings", "taught:waves", "15 January 2027", "--bank",
           "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 0, "\"taught\":{\"waves\":\"2027-01-15\",\"shore\":null}", "settings", "taught", "--json", "--bank",
           "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 0, "not known   taught:shore", "settings", "taught", "--bank", "tests/data/cycle.xml", "--record", home.record);
    EXPECT(&home, 0, "not set any more", "settings", "taught:volcanoes", "--clear", "--bank", "tests/data/cycle.xml", "--record",
           home.record);
    home_remove(&home);
}

Test(commands, taught_dates_are_asked_for_topic_by_topic)
{
    struct home home;
    struct pty pty;
    const char *const words[] = {"settings", "taught", "--bank", "tests/data/cycle.xml", NULL};
    home_make(&home);
    program_on_pty(&pty, &home, words);
    pty_expect(&pty, "Waves, not known");
    pty_send(&pty, "some day\r");
    pty_expect(&pty, "write a date");
    pty_expect(&pty, "Waves, not known");
    pty_send(&pty, "2027-01-15\r");
    pty_expect(&pty, "Shore, not known");
    pty_signal(&pty, SIGKILL);
    cr_assert_eq(pty_wait(&pty), 256 + SIGKILL);
    pty_free(&pty);
    program_on_pty(&pty, &home, words);
    pty_expect(&pty, "Waves, 2027-01-15");      /* kept at once */
    pty_send(&pty, "\r");
    pty_expect(&pty, "Shore, not known");
    pty_send(&pty, ".leave\r");
    cr_assert_eq(pty_wait(&pty), 0);
    pty_free(&pty);
    EXPECT(&home, 0, "\"waves\":\"2027-01-15\",\"shore\":null", "settings", "taught", "--json", "--bank", "tests/data/cycle.xml",
           "--record", home.record);
    home_remove(&home);
}

Test(commands, plain_output_is_as_plain_always)
{
    struct home home;
    struct buffer usual = BUFFER_EMPTY, option = BUFFER_EMPTY, always = BUFFER_EMPTY;
    home_make(&home);
    EXPECT(&home, 2, "it wants yes or no", "settings", "plain-output", "maybe", "--record", home.record);
    RUN(&home, &usual, "", "standing", "tests/data/cycle.xml", "--now", "2027-06-01", "--record", home.record);
    RUN(&home, &option, "", "standing", "tests/data/cycle.xml", "--now", "2027-06-01", "--plain", "--record", home.record);
    cr_assert_str_neq(buffer_text(&usual), buffer_text(&option));
    EXPECT(&home, 0, "plain-output: yes.", "settings", "plain-output", "YES", "--record", home.record);
    RUN(&home, &always, "", "standing", "tests/data/cycle.xml", "--now", "2027-06-01", "--record", home.record);
    cr_assert_str_eq(buffer_text(&always), buffer_text(&option));
    buffer_clear(&always);
    EXPECT(&home, 0, "plain-output: no.", "settings", "plain-output", "no", "--record", home.record);
    RUN(&home, &always, "", "standing", "tests/data/cycle.xml", "--now", "2027-06-01", "--record", home.record);
    cr_assert_str_eq(buffer_text(&always), buffer_text(&usual));
    buffer_free(&usual);
    buffer_free(&option);
    buffer_free(&always);
    home_remove(&home);
}

Test(commands, settings_are_kept_and_refused)
{
    struct home home;
    home_make(&home);
    EXPECT(&home, 0, "extra-time: 25.", "settings", "extra-time", "25%", "--record", home.record);
    EXPECT(&home, 0, "\"extra-time\":\"25\"", "settings", "--json", "--record", home.record);
    EXPECT(&home, 2, "no setting 'minuts': did you mean 'minutes'?\n", "settings", "minuts", "5", "--record", home.record);
    EXPECT(&home, 2, "from 0 to 100", "settings", "extra-time", "-5", "--record", home.record);
    EXPECT(&home, 2, "from 1 to 600", "settings", "minutes", "-.5", "--record", home.record);
    EXPECT(&home, 2, "lists them all", "settings", "colour", "red", "--record", home.record);
    EXPECT(&home, 2, "--clear wants the name", "settings", "--clear", "--record", home.record);
    EXPECT(&home, 2, "not both", "settings", "minutes", "5", "--clear", "--record", home.record);
    EXPECT(&home, 0, "That day is over", "settings", "exam-date", "2026-05-17", "--now", "2026-05-18", "--record", home.record);
    EXPECT(&home, 0, "exam-date: 2026-05-18.\n", "settings", "exam-date", "2026-05-18", "--now", "2026-05-18", "--record",
           home.record);
    EXPECT(&home, 2, "it wants a number from 0 to 100", "settings", "extra-time", "much", "--record", home.record);
    EXPECT(&home, 2, "did you mean 'minutes'?", "settings", "minute", "20", "--record", home.record);
    EXPECT(&home, 0, "not set any more", "settings", "extra-time", "--clear", "--record", home.record);
    home_remove(&home);
}

Test(commands, extra_time_lengthens_what_is_allowed)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    EXPECT(&home, 0, "extra-time: 50.", "settings", "extra-time", "50", "--record", home.record);
    RUN(&home, &output, "", "practise", "tests/data/cycle.xml", "--question", "list", "--record", home.record);
    cr_assert(strstr(buffer_text(&output), "2 marks, 3 minutes") != NULL, "%s", buffer_text(&output));
    buffer_free(&output);
    home_remove(&home);
}

Test(commands, the_record_is_private_and_can_be_taken_along_and_erased)
{
    struct home home;
    struct stat state;
    char copy[160];
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    snprintf(copy, sizeof copy, "%s/copy.db", home.folder);
    EXPECT(&home, 0, "minutes: 20.", "settings", "minutes", "20", "--record", home.record);
    cr_assert_eq(stat(home.record, &state), 0);
    cr_assert_eq(state.st_mode & 0777, 0600);
    EXPECT(&home, 0, "Copied to", "record", "backup", copy, "--record", home.record);
    cr_assert_eq(stat(copy, &state), 0);
    cr_assert_eq(state.st_mode & 0777, 0600);
    EXPECT(&home, 0, "is sound", "record", "check", "--record", copy);
    EXPECT(&home, 0, "\"minutes\"", "record", "export", "--record", home.record);
    EXPECT(&home, 0, "Nothing was erased", "record", "erase", "--record", home.record);
    cr_assert_eq(stat(home.record, &state), 0);
    cr_assert_eq(RUN(&home, &output, "what?\nno\n", "record", "erase", "--record", home.record), 0);
    cr_assert(strstr(buffer_text(&output), "Please type y for yes or n for no. Enter alone means no."));
    buffer_free(&output);
    EXPECT(&home, 0, "Erased", "record", "erase", "--yes", "--record", home.record);
    cr_assert_neq(stat(home.record, &state), 0);
    home_remove(&home);
}

Test(commands, what_is_no_record_is_refused_untouched)
{
    struct home home;
    struct stat before, after;
    char path[160];
    home_make(&home);
    write_file(&home, "letter.txt", "Dear reader, this is a letter and no record at all.\n", path);
    stat(path, &before);
    EXPECT(&home, 3, "letter.txt", "practise", "tests/data/cycle.xml", "--record", path);
    stat(path, &after);
    cr_assert_eq(before.st_size, after.st_size);
    cr_assert_eq(before.st_mtim.tv_nsec, after.st_mtim.tv_nsec);
    home_remove(&home);
}

Test(commands, output_that_cannot_be_written_is_an_error)
{
    struct home home;
    char line[256];
    home_make(&home);
    snprintf(line, sizeof line, "exec \"$OWNMARK\" --help >/dev/full 2>/dev/null");
    int status = system(line);
    cr_assert_eq(WEXITSTATUS(status), 3);
    home_remove(&home);
}

Test(commands, now_moves_the_clock)
{
    struct home home;
    home_make(&home);
    EXPECT(&home, 0, "Monday 18 May 2026", "standing", "tests/data/cycle.xml", "--now", "2026-05-18", "--record", home.record);
    EXPECT(&home, 0, "Sunday 24 May 2026", "standing", "tests/data/cycle.xml", "--now", "2026-05-18", "--on", "2026-05-24",
           "--record", home.record);
    home_remove(&home);
}

static bool file_holds(const char *path, const char *text)
{
    static char bytes[1 << 20];
    FILE *file = fopen(path, "r");
    cr_assert(file != NULL);
    bytes[fread(bytes, 1, sizeof bytes - 1, file)] = '\0';
    fclose(file);
    return strstr(bytes, text) != NULL;
}

/* Twelve weeks before the exam the page shows four; the calendar file has the last day before it all the same. */
Test(commands, a_calendar_file_has_every_day_though_the_page_shows_four_weeks)
{
    struct home home;
    struct buffer out = BUFFER_EMPTY;
    char calendar[160];
    home_make(&home);
    snprintf(calendar, sizeof calendar, "%s/revision.ics", home.folder);
    EXPECT(&home, 0, "exam-date", "settings", "exam-date", "2027-06-11", "--record", home.record);
    cr_expect_eq(RUN(&home, &out, "", "timetable", "tests/data/cycle.xml", "--now", "2027-03-22", "--record", home.record), 0);
    cr_expect(strstr(buffer_text(&out), "Week of Monday 12 April"));
    cr_expect(strstr(buffer_text(&out), "Week of Monday 19 April") == NULL);
    EXPECT(&home, 0, "revision.ics", "timetable", "tests/data/cycle.xml", "--ics", calendar, "--now", "2027-03-22", "--record",
           home.record);
    cr_expect(file_holds(calendar, "DTSTART:20270610T"), "the day before the exam");
    buffer_free(&out);
    home_remove(&home);
}
