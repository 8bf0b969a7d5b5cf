/* Explaining aloud: the arithmetic, the checklist line by line, and what the record has of it afterwards. The steps of the rating and
 * the times are our own, no source. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "practice/aloud.h"
#include "report/text.h"

Test(practice, time_for_explaining_grows_with_the_key_points)
{
    cr_assert_float_eq(explain_seconds(5, 1), 180, 1e-9);
    cr_assert_float_eq(explain_seconds(5, 1.25), 225, 1e-9);
    cr_assert_float_eq(explain_seconds(1, 1), 60, 1e-9);
}

Test(practice, a_checklist_proposes_a_rating)
{
    static const struct { const char *ticks; int stumbles; enum topic_rating rating; } cases[] = {
        {"", 0, TOPIC_NOT_RATED},
        {"nnnnn", 0, TOPIC_LOST}, {"ynnn", 0, TOPIC_LOST}, {"hhnnn", 9, TOPIC_LOST},
        {"ynn", 0, TOPIC_FOLLOWING},            /* a third exactly */
        {"yhn", 0, TOPIC_FOLLOWING}, {"yynn", 0, TOPIC_FOLLOWING},
        {"yyn", 0, TOPIC_UNAIDED},              /* two thirds exactly */
        {"yyyyh", 0, TOPIC_UNAIDED}, {"yyyyy", 3, TOPIC_UNAIDED},
        {"yyyyy", 2, TOPIC_COULD_TEACH}, {"y", 0, TOPIC_COULD_TEACH},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_assert_eq(explain_rating(cases[i].ticks, cases[i].stumbles), cases[i].rating, "%s %d", cases[i].ticks, cases[i].stumbles);
    cr_assert_eq(explain_count("yhnyy", 'y'), 3);
    cr_assert(explain_is_decided("yhn"));
    cr_assert(!explain_is_decided("yh-"));
}

Test(practice, a_point_is_close_to_a_key_point_that_shares_most_of_its_words)
{
    static const char *const points[] = {"Wind blowing over the sea passes energy to it.", "The sea bed slows the waves.",
                                         "A longer fetch gives higher waves."};
    struct explained explained = {.points = points, .ticks = "ynh"};
    cr_assert_str_eq(explained_left_out(&explained, "the bed of the sea slows it"), points[1]);
    cr_assert_str_eq(explained_left_out(&explained, "waves are higher for a longer fetch"), points[2]);
    cr_assert_null(explained_left_out(&explained, "the wind passes energy to the sea"), "that one was covered");
    cr_assert_null(explained_left_out(&explained, "waves"), "one word is not enough");
    cr_assert_null(explained_left_out(&explained, "waves carry sand and shells along the shore to the sea wall"));
    cr_assert_null(explained_left_out(&explained, ""));
}

/* ---- With a record -------------------------------------------------------------------------------------- */

struct desk {
    char folder[64], path[96];
    struct bank *bank;
    struct record *record;
    struct arena *arena;
    struct explanations past;
    struct aloud *aloud;
    struct messages messages;
    struct buffer shown;
};

enum { WAVES = 0, SALT = 3 };

static void show(struct desk *desk)
{
    const struct text_look look = {.width = 80};
    page_render_text(aloud_screen(desk->aloud), &look, &desk->shown);
}

static void read_past(struct desk *desk)
{
    cr_assert(explanations_read(desk->record, desk->bank, desk->arena, &desk->past, &desk->messages));
}

static void open_desk(struct desk *desk)
{
    desk->arena = arena_new();
    desk->record = record_open(desk->path, RECORD_WRITE, &desk->messages);
    cr_assert(desk->record != NULL);
    read_past(desk);
    desk->aloud = aloud_begin(desk->bank, desk->record, WAVES, explanations_latest(&desk->past, WAVES, false), &desk->messages);
    cr_assert(desk->aloud != NULL);
    show(desk);
}

static void close_desk(struct desk *desk)
{
    aloud_free(desk->aloud);
    record_close(desk->record);
    arena_free(desk->arena);
}

static void begin(struct desk *desk)
{
    *desk = (struct desk){.messages = MESSAGES_EMPTY};
    snprintf(desk->folder, sizeof desk->folder, "/tmp/ownmark-desk-XXXXXX");
    cr_assert(mkdtemp(desk->folder) != NULL);
    snprintf(desk->path, sizeof desk->path, "%s/record.db", desk->folder);
    desk->bank = bank_open("tests/data/topics.xml", false, &desk->messages);
    cr_assert(desk->bank != NULL);
    open_desk(desk);
}

static void again(struct desk *desk)
{
    close_desk(desk);
    buffer_clear(&desk->shown);
    open_desk(desk);
}

static void type(struct desk *desk, const char *prompt, const char *line)
{
    const struct practice_ask *ask = aloud_ask(desk->aloud);
    cr_assert(ask != NULL, "over before \"%s\"", line);
    cr_assert_str_eq(ask->prompt, prompt);
    buffer_clear(&desk->shown);
    cr_assert_eq(aloud_enter(desk->aloud, line, &desk->messages), PRACTICE_ON);
    show(desk);
}

static void expect(struct desk *desk, const char *text)
{
    cr_assert(strstr(buffer_text(&desk->shown), text) != NULL, "not shown: \"%s\" in\n%s", text, buffer_text(&desk->shown));
}

static void end(struct desk *desk)
{
    static const char *const files[] = {"record.db", "record.db-wal", "record.db-shm", "record.db.lock"};
    close_desk(desk);
    bank_close(desk->bank);
    messages_free(&desk->messages);
    buffer_free(&desk->shown);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        char path[128];
        snprintf(path, sizeof path, "%s/%s", desk->folder, files[i]);
        unlink(path);
    }
    rmdir(desk->folder);
}

#define READY "Enter starts the clock"
#define POINT "covered? y h n b"

Test(practice, an_explanation_from_the_clock_to_the_rating)
{
    struct desk desk;
    begin(&desk);
    expect(&desk, "Explain to a friend how waves come about");
    cr_assert(strstr(buffer_text(&desk.shown), "fetch gives") == NULL, "key points stay hidden");
    cr_assert(!aloud_ask(desk.aloud)->clock);
    type(&desk, READY, "");
    cr_assert(aloud_ask(desk.aloud)->clock);
    cr_assert_float_eq(aloud_ask(desk.aloud)->allowed, 120, 1e-9);
    cr_assert_not_null(aloud_ask(desk.aloud)->notice);
    type(&desk, "speak", ".clock");
    cr_assert(!aloud_ask(desk.aloud)->clock);
    type(&desk, "speak", "x x");
    type(&desk, "stumbles (Enter: 2)", "-1");
    expect(&desk, "Type a number");
    type(&desk, "stumbles (Enter: 2)", "");
    expect(&desk, "Key point 1 of 3\nWind blowing");
    type(&desk, POINT, "Yes");
    type(&desk, POINT, "y");
    type(&desk, POINT, "back");
    expect(&desk, "Key point 2 of 3\nA longer fetch");
    type(&desk, POINT, "half");
    type(&desk, POINT, "n");
    expect(&desk, "covered:  1 of 3, and 1 half\nstumbles: 2\n");
    expect(&desk, "Left out\n- The sea bed slows the waves.");
    expect(&desk, "Half covered\n- A longer fetch");
    type(&desk, "how sure, 1 to 4 (Enter: 2 following)", "5");
    type(&desk, "how sure, 1 to 4 (Enter: 2 following)", "1");
    expect(&desk, "Kept: lost.");
    cr_assert_null(aloud_ask(desk.aloud));
    read_past(&desk);
    const struct explained *latest = explanations_latest(&desk.past, WAVES, true);
    cr_assert_eq(desk.past.count, 1);
    cr_assert_str_eq(latest->ticks, "yhn");
    cr_assert_eq(latest->stumbles, 2);
    cr_assert_float_eq(latest->seconds, 0, 60);
    cr_assert_str_eq(latest->points[1], "A longer fetch gives higher waves.");
    cr_assert_null(explanations_latest(&desk.past, WAVES, false));
    cr_assert_null(explanations_latest(&desk.past, SALT, true));
    struct event *rated;
    size_t count;
    cr_assert(record_latest_events(desk.record, "topics", EVENT_TOPIC_RATED, desk.arena, &rated, &count, &desk.messages));
    cr_assert_eq(count, 1);
    cr_assert_float_eq(rated[0].number, TOPIC_LOST, 0);
    end(&desk);
}

Test(practice, a_checklist_that_was_left_goes_on_at_its_place)
{
    struct desk desk;
    begin(&desk);
    type(&desk, READY, "");
    type(&desk, "speak", "x");
    again(&desk);
    type(&desk, "stumbles (Enter: 1)", "4");
    type(&desk, POINT, "n");
    again(&desk);
    expect(&desk, "Key point 2 of 3");
    type(&desk, POINT, ".leave");
    expect(&desk, "'ownmark explain waves' goes on with the checklist");
    again(&desk);
    type(&desk, POINT, "y");
    type(&desk, POINT, "y");
    read_past(&desk);
    cr_assert_eq(desk.past.count, 1, "one explanation, however often it was gone on with");
    cr_assert_str_eq(desk.past.items[0].ticks, "nyy");
    cr_assert_eq(desk.past.items[0].stumbles, 4);
    type(&desk, "how sure, 1 to 4 (Enter: 3 unaided)", "");
    again(&desk);
    type(&desk, READY, ".leave");
    expect(&desk, "nothing was kept");
    end(&desk);
}

Test(practice, explanations_that_do_not_fit_the_course_are_passed_over)
{
    struct desk desk;
    char hash[33];
    begin(&desk);
    cr_assert(record_keep_content(desk.record, "one\ntwo", hash, &desk.messages));
    static const struct { const char *item, *detail; } odd[] = {{"waves", "y"}, {"waves", "yx"}, {"gone", "yn"}, {"waves", NULL}};
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
        struct event event = event_blank(EVENT_TOPIC_EXPLAINED);
        event.bank = "topics";
        event.item = odd[i].item;
        event.detail = odd[i].detail;
        event.number = 0;
        event.content = hash;
        cr_assert(record_append(desk.record, &event, 1, &desk.messages));
    }
    read_past(&desk);
    cr_assert_eq(desk.past.count, 0);
    end(&desk);
}
