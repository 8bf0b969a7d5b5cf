/* ownmark standing over records written past the cycle. Expected figures are computed by the learner room itself, whose
 * own tests hold it against an independent implementation; here it matters that they reach the screen. */
#include "program.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "practice/standing.h"
#include "record/record.h"

#define BANK_FILE "tests/data/cycle.xml"
#define NOW "2026-11-25T18:00"

struct seeded {
    struct home home;
    struct bank *bank;
    struct record *record;
    int64_t sitting;
    int count;
};

static void append(struct seeded *seeded, struct event *event)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert(record_append(seeded->record, event, 1, &messages));
}

static void open_all(struct seeded *seeded)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer lines = BUFFER_EMPTY;
    struct event course = event_blank(EVENT_COURSE_SEEN), opened = event_blank(EVENT_SITTING_OPENED);
    char hash[33];
    setenv("TZ", "UTC", 1);
    tzset();
    home_make(&seeded->home);
    seeded->count = 0;
    seeded->bank = bank_open(BANK_FILE, false, &messages);
    seeded->record = record_open(seeded->home.record, RECORD_WRITE, &messages);
    cr_assert(seeded->bank && seeded->record && record_keep_content(seeded->record, "course", hash, &messages));
    record_course_lines(bank_course(seeded->bank), &lines);
    course.bank = opened.bank = bank_id(seeded->bank);
    course.text = buffer_text(&lines);
    course.content = hash;
    opened.text = bank_path(seeded->bank);
    course.at = opened.at = day_at(day_from_civil(2026, 10, 1), 16, 0);
    append(seeded, &course);
    append(seeded, &opened);
    seeded->sitting = opened.sequence;
    buffer_free(&lines);
}

/* One marked question of three marks on a topic, a day after the one before it. Gives its script. */
static int64_t answer(struct seeded *seeded, const char *topic, double got, const char *skills)
{
    struct messages messages = MESSAGES_EMPTY;
    struct event opened = event_blank(EVENT_QUESTION_OPENED), marked = event_blank(EVENT_QUESTION_MARKED);
    struct mark_row mark = {.part = "a", .item = "a.1", .topic = topic, .objective = "AO2", .word = "calculate",
                            .skills = skills, .got = got, .first = got, .maximum = 3};
    char hash[33];
    cr_assert(record_keep_content(seeded->record, "question", hash, &messages));
    opened.at = marked.at = day_at(day_from_civil(2026, 10, 1) + seeded->count++, 16, 10);
    opened.bank = bank_id(seeded->bank);
    opened.sitting = seeded->sitting;
    opened.item = "sum";
    opened.content = hash;
    opened.number = 0;
    append(seeded, &opened);
    marked.script = opened.sequence;
    marked.marks = &mark;
    marked.mark_count = 1;
    append(seeded, &marked);
    return opened.sequence;
}

static void set(struct seeded *seeded, const char *name, const char *value)
{
    struct event event = event_blank(EVENT_SETTING);
    event.bank = bank_id(seeded->bank);
    event.item = name;
    event.text = value;
    append(seeded, &event);
}

static void rate(struct seeded *seeded, const char *topic, double step)
{
    struct event event = event_blank(EVENT_TOPIC_RATED);
    event.bank = bank_id(seeded->bank);
    event.item = topic;
    event.number = step;
    event.at = day_at(day_from_civil(2026, 11, 20), 16, 0);
    append(seeded, &event);
}

static void moderate(struct seeded *seeded, int64_t script, double teacher)
{
    struct event event = event_blank(EVENT_MODERATED);
    event.script = script;
    event.part = "a";
    event.item = "a.1";
    event.number = teacher;
    append(seeded, &event);
}

/* What standing shows, spaces and line ends made one space each. */
static struct buffer shown(struct seeded *seeded, const char *const *more)
{
    const char *words[16] = {"standing", BANK_FILE, "--now", NOW, "--record", seeded->home.record};
    size_t count = 6;
    struct buffer output = BUFFER_EMPTY, flat = BUFFER_EMPTY;
    for (; *more; more++)
        words[count++] = *more;
    cr_assert_eq(program_run(&seeded->home, words, "", &output), 0, "%s", buffer_text(&output));
    for (size_t i = 0; i < output.length; i++)
        if (!strchr(" \n", output.text[i]))
            buffer_add_character(&flat, output.text[i]);
        else if (flat.length && flat.text[flat.length - 1] != ' ')
            buffer_add_character(&flat, ' ');
    buffer_free(&output);
    return flat;
}

/* words: the text, then further words of the command. */
static void expect(struct seeded *seeded, const char *const *words)
{
    struct buffer output = shown(seeded, words + 1);
    const char *text = words[0];
    cr_assert(strstr(buffer_text(&output), text), "not shown: \"%s\" in\n%s", text, buffer_text(&output));
    buffer_free(&output);
}
#define SHOWS(seeded, ...) expect(seeded, (const char *const[]){__VA_ARGS__, NULL})

static void expect_not(struct seeded *seeded, const char *const *words)
{
    struct buffer output = shown(seeded, words + 1);
    const char *text = words[0];
    cr_assert_not(strstr(buffer_text(&output), text), "shown: \"%s\" in\n%s", text, buffer_text(&output));
    buffer_free(&output);
}
#define SHOWS_NOT(seeded, ...) expect_not(seeded, (const char *const[]){__VA_ARGS__, NULL})

static void close_all(struct seeded *seeded)
{
    record_close(seeded->record);
    bank_close(seeded->bank);
    home_remove(&seeded->home);
}

/* "24 and 40" at that time, from the model. */
static void add_model_range(struct seeded *seeded, moment when, struct buffer *out)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct standing standing;
    cr_assert(standing_read(seeded->record, seeded->bank, arena, &standing, &messages));
    struct learner_total total = learner_paper(standing.learner, when, 60.0);
    buffer_print(out, "%ld and %ld", lround(total.low80 * 60), lround(total.high80 * 60));
    standing_release(&standing);
    arena_free(arena);
}

Test(standing, nothing_recorded_gives_no_figure_at_all)
{
    struct home home;
    struct buffer output = BUFFER_EMPTY;
    home_make(&home);
    EXPECT(&home, 0, "you have marked 0 so far", "standing", BANK_FILE, "--record", home.record);
    EXPECT(&home, 0, "Not met yet: Waves; Shore.", "standing", BANK_FILE, "--record", home.record);
    cr_assert_eq(RUN(&home, &output, "", "standing", BANK_FILE, "--record", home.record), 0);
    cr_assert_not(strstr(buffer_text(&output), "exam-date"), "there is nothing yet to set beside that day: %s", buffer_text(&output));
    buffer_clear(&output);
    cr_assert_eq(RUN(&home, &output, "", "standing", BANK_FILE, "--record", home.record, "--json"), 0);
    cr_assert(strstr(buffer_text(&output), "\"enough_evidence\":false,\"today\":null,\"then\":null,\"rating\":null"), "%s",
              buffer_text(&output));
    cr_assert(strstr(buffer_text(&output), "\"paper\":{\"marks\":60,\"today\":null,\"then\":null}"));
    cr_assert(strstr(buffer_text(&output), "\"never_met\":[\"waves\",\"shore\"]"));
    buffer_free(&output);
    home_remove(&home);
}

/* To send a student back to what the page has just called strong would contradict it. */
Test(standing, the_weakest_is_named_while_it_is_not_strong)
{
    struct seeded seeded;
    open_all(&seeded);
    for (int i = 0; i < 4; i++)
        answer(&seeded, "waves", 1, NULL);
    SHOWS(&seeded, "practise --topic waves: your weakest topic so far");
    SHOWS(&seeded, "AO2: Apply", "--by", "objective");
    for (int i = 0; i < 30; i++)
        answer(&seeded, "waves", 3, NULL);
    SHOWS(&seeded, "strong");
    SHOWS_NOT(&seeded, "your weakest topic");
    close_all(&seeded);
}

Test(standing, a_total_comes_with_the_twentieth_question_and_a_topic_with_three_marks)
{
    struct seeded seeded;
    struct buffer range = BUFFER_EMPTY, wanted = BUFFER_EMPTY;
    open_all(&seeded);
    for (int i = 0; i < 19; i++)
        answer(&seeded, "waves", 2, NULL);
    SHOWS(&seeded, "you have marked 19 so far");
    SHOWS_NOT(&seeded, "if the paper were today");
    SHOWS(&seeded, "Not met yet: Shore.");
    answer(&seeded, "waves", 2, NULL);
    add_model_range(&seeded, day_at(day_from_civil(2026, 11, 25), 18, 0), &range);
    buffer_print(&wanted, "Between %s of 60 marks if the paper were today. This is a practice figure, not a grade.",
                 buffer_text(&range));
    SHOWS(&seeded, buffer_text(&wanted));
    SHOWS_NOT(&seeded, "Shore 0");
    buffer_free(&range);
    buffer_free(&wanted);
    close_all(&seeded);
}

Test(standing, the_day_of_the_exam_stands_beside_today)
{
    struct seeded seeded;
    struct buffer then = BUFFER_EMPTY, wanted = BUFFER_EMPTY;
    open_all(&seeded);
    for (int i = 0; i < 20; i++)
        answer(&seeded, i % 2 ? "waves" : "shore", 2, NULL);
    SHOWS(&seeded, "'ownmark settings exam-date 2027-05-18', with the right day");
    set(&seeded, SETTING_EXAM_DATE, "2027-05-18");
    add_model_range(&seeded, day_at(day_from_civil(2027, 5, 18), 9, 0), &then);
    buffer_print(&wanted, "; between %s on 18 May 2027 if you practised nothing more until then", buffer_text(&then));
    SHOWS(&seeded, buffer_text(&wanted));
    SHOWS(&seeded, "Exam: Tuesday 18 May 2027, in 24 weeks");
    SHOWS(&seeded, "marks met today 18 May 2027 marks say");
    buffer_clear(&then);
    buffer_clear(&wanted);
    add_model_range(&seeded, day_at(day_from_civil(2026, 12, 1), 9, 0), &then);
    buffer_print(&wanted, "; between %s on 1 December if you", buffer_text(&then));
    SHOWS(&seeded, buffer_text(&wanted), "--on", "2026-12-01");
    SHOWS(&seeded, "\"then\":\"2027-05-18T09:00:00Z\",\"exam\":\"2027-05-18\"", "--json");
    set(&seeded, SETTING_EXAM_DATE, "2026-05-18");
    SHOWS(&seeded, "Monday 18 May 2026; it is over");
    SHOWS_NOT(&seeded, "until then");
    buffer_free(&then);
    buffer_free(&wanted);
    close_all(&seeded);
}

Test(standing, by_skill_tells_what_was_earned)
{
    struct seeded seeded;
    open_all(&seeded);
    answer(&seeded, "waves", 2, NULL);
    SHOWS(&seeded, "No evidence yet: Mathematics.", "--by", "skill");
    answer(&seeded, "waves", 2, "maths");
    answer(&seeded, "waves", 1, "maths");
    SHOWS(&seeded, "Mathematics 3 6 50 under way", "--by", "skill");
    SHOWS(&seeded, "practise --skill maths", "--by", "skill");
    SHOWS(&seeded, "\"marks_met\":6,\"enough_evidence\":true,\"marks_earned\":3", "--by", "skill", "--json");
    close_all(&seeded);
}

/* Sums by hand: own 3 + 3 of 6, the teacher's 2 + 1: 3 marks on 6 are 5.0 in ten. */
Test(standing, a_teachers_marks_are_set_beside_the_students_and_move_the_figures)
{
    struct seeded seeded;
    struct buffer before = BUFFER_EMPTY, after = BUFFER_EMPTY;
    moment now = day_at(day_from_civil(2026, 11, 25), 18, 0);
    open_all(&seeded);
    int64_t first = answer(&seeded, "waves", 3, NULL), second = answer(&seeded, "waves", 3, NULL);
    for (int i = 2; i < 20; i++)
        answer(&seeded, "waves", 3, NULL);
    SHOWS_NOT(&seeded, "A teacher marked");
    add_model_range(&seeded, now, &before);
    SHOWS(&seeded, buffer_text(&before));
    moderate(&seeded, first, 2);
    moderate(&seeded, second, 1);
    SHOWS(&seeded, "A teacher marked 2 points of yours: you had given yourself 6 of 6, the teacher gave 3, so yours were "
                   "5.0 marks in ten too many");
    add_model_range(&seeded, now, &after);
    cr_assert_str_neq(buffer_text(&before), buffer_text(&after));
    SHOWS(&seeded, buffer_text(&after));
    SHOWS(&seeded, "\"moderation\":{\"points\":2,\"own\":6,\"teacher\":3,\"maximum\":6}", "--json");
    SHOWS(&seeded, "Your first ticks give you 0.5 marks in ten too many");
    buffer_free(&before);
    buffer_free(&after);
    close_all(&seeded);
}

Test(standing, a_rating_stands_beside_the_marks)
{
    struct seeded seeded;
    open_all(&seeded);
    for (int i = 0; i < 8; i++)
        answer(&seeded, "waves", 0, NULL);
    SHOWS_NOT(&seeded, "you say");
    rate(&seeded, "waves", 1);
    SHOWS(&seeded, "weak lost");
    SHOWS_NOT(&seeded, "You feel surer");
    rate(&seeded, "waves", 4);
    rate(&seeded, "shore", 4);
    SHOWS(&seeded, "You feel surer than your marks say: Waves (you say: could teach it");
    SHOWS(&seeded, "\"rating\":{\"step\":4,\"word\":\"could teach it\",\"day\":\"2026-11-20\",\"against_marks\":\"higher\"}", "--json");
    SHOWS(&seeded, "\"against_marks\":\"too little evidence\"", "--json");
    close_all(&seeded);
}

/* ---- Asked in place -------------------------------------------------------------------------------- */

static void begin_on_pty(struct seeded *seeded, struct pty *pty)
{
    program_on_pty(pty, &seeded->home, (const char *const[]){"standing", BANK_FILE, "--now", NOW, NULL});
}

static void finish_pty(struct pty *pty)
{
    cr_assert_eq(pty_wait(pty), 0);
    pty_free(pty);
}

Test(standing, the_exam_date_is_asked_for_in_place_and_kept)
{
    struct seeded seeded;
    struct pty pty;
    open_all(&seeded);
    begin_on_pty(&seeded, &pty);
    pty_expect(&pty, "you have marked 0 so far");      /* nothing to forecast: not asked */
    finish_pty(&pty);
    answer(&seeded, "waves", 3, NULL);
    record_close(seeded.record);
    seeded.record = NULL;
    begin_on_pty(&seeded, &pty);
    pty_expect(&pty, "When is the exam?");
    pty_send(&pty, "soon\r");
    pty_expect(&pty, "write a date like");
    pty_expect(&pty, "When is the exam?");
    pty_send(&pty, "2025-05-18\r");
    pty_expect(&pty, "Is the year right?");
    pty_expect(&pty, "When is the exam?");
    pty_send(&pty, "2027-05-18\r");
    pty_expect(&pty, "Tuesday 18 May 2027");
    finish_pty(&pty);
    SHOWS(&seeded, "Exam: Tuesday 18 May 2027");
    close_all(&seeded);
}

Test(standing, the_exam_date_passed_over_is_not_asked_for_again)
{
    struct seeded seeded;
    struct pty pty;
    open_all(&seeded);
    answer(&seeded, "waves", 3, NULL);
    record_close(seeded.record);
    seeded.record = NULL;
    for (int i = 0; i < 2; i++) {       /* Ctrl-D puts it off, Enter passes it over */
        begin_on_pty(&seeded, &pty);
        pty_expect(&pty, "When is the exam?");
        pty_send(&pty, i == 0 ? "\x04" : "\r");
        pty_expect(&pty, "not known");
        finish_pty(&pty);
    }
    begin_on_pty(&seeded, &pty);
    pty_expect(&pty, "where you stand");     /* at once: a question would wait */
    pty_expect(&pty, "not known");
    finish_pty(&pty);
    close_all(&seeded);
}

/* The timetable cannot do without: it asks each time, and says what to do when it is passed over. */
Test(standing, the_timetable_asks_for_the_exam_date_in_place)
{
    struct home home;
    struct pty pty;
    const char *const words[] = {"timetable", BANK_FILE, "--now", NOW, NULL};
    home_make(&home);
    for (int i = 0; i < 2; i++) {
        program_on_pty(&pty, &home, words);
        pty_expect(&pty, "When is the exam?");
        pty_send(&pty, "\r");
        pty_expect(&pty, "a timetable needs");
        cr_assert_eq(pty_wait(&pty), 2);
        pty_free(&pty);
    }
    program_on_pty(&pty, &home, words);
    pty_expect(&pty, "When is the exam?");
    pty_send(&pty, "10 December 2026\r");
    pty_expect(&pty, "timetable to the exam on Thursday 10 December 2026");
    finish_pty(&pty);
    EXPECT(&home, 2, "needs the day of the examination", "timetable", "tests/data/look.xml", "--now", NOW, "--record", home.record);
    home_remove(&home);
}

/* A sitting in another window holds the record: what was typed serves this once, and the end says that it was not kept. */
Test(standing, an_exam_date_that_cannot_be_kept_still_serves)
{
    struct seeded seeded;
    struct pty pty;
    open_all(&seeded);
    answer(&seeded, "waves", 3, NULL);
    begin_on_pty(&seeded, &pty);
    pty_expect(&pty, "When is the exam?");
    pty_send(&pty, "2027-05-18\r");
    pty_expect(&pty, "Tuesday 18 May 2027");
    cr_assert_eq(pty_wait(&pty), 3);
    pty_free(&pty);
    close_all(&seeded);
}
