#include <math.h>
#include <stdio.h>
#include <string.h>

#include "folder.h"
#include "record/course-lines.h"
#include "record/kinds.h"
#include "record/map.h"

#define AT 1767225600

/* One event of each kind, every field that may be filled filled. */
static struct event full_event(enum event_kind kind, int64_t sitting, int64_t script, const char *hash)
{
    static const struct mark_row marks[] = {
        {"a", "a.1", "waves", "AO1", "explain", "shoaling", "maths practical", 0.25, 1, 0.5, 1.5, true, false},
        {"b", "b.1", "gone", "AO9", NULL, NULL, NULL, -3.5, 0, NAN, 2, false, true},
    };
    struct event event = event_blank(kind);
    event.at = AT + kind;
    event.day = 20454;
    event.bank = BANK;
    event.sitting = sitting;
    event.script = script;
    event.part = "a";
    event.item = "a.1";
    event.detail = kind == EVENT_SITTING_CLOSED ? "finished" : kind == EVENT_ANSWER_FINISHED ? "no-response" : "yes";
    event.text = kind == EVENT_COURSE_SEEN ? COURSE_LINES : "two lines\nand a tab\tand \xc2\xb2";
    event.content = hash;
    event.pass = PASS_FIRST;
    event.number = 1;
    if (kind == EVENT_QUESTION_MARKED) {
        event.marks = marks;
        event.mark_count = 2;
    }
    return event;
}

static void expect_same_mark(const struct mark_row *got, const struct mark_row *want)
{
    const char *const got_texts[] = {got->part, got->item, got->topic, got->objective, got->word, got->idea, got->skills};
    const char *const want_texts[] = {want->part, want->item, want->topic, want->objective, want->word, want->idea, want->skills};
    for (int i = 0; i < 7; i++)
        cr_assert(want_texts[i] ? got_texts[i] && strcmp(got_texts[i], want_texts[i]) == 0 : !got_texts[i]);
    cr_assert(got->difficulty == want->difficulty && got->got == want->got && got->maximum == want->maximum);
    cr_assert(got->first == want->first || (isnan(got->first) && isnan(want->first)));
    cr_assert(got->confident == want->confident && got->no_response == want->no_response);
}

static void expect_same(const struct event *got, const struct event *want)
{
    const char *const got_texts[] = {got->bank, got->part, got->item, got->detail, got->text, got->content};
    const char *const want_texts[] = {want->bank, want->part, want->item, want->detail, want->text, want->content};
    for (int i = 0; i < 6; i++)
        cr_assert_str_eq(got_texts[i], want_texts[i]);
    cr_assert(got->sequence == want->sequence && got->kind == want->kind && got->at == want->at &&
              got->day == want->day && got->sitting == want->sitting && got->script == want->script &&
              got->pass == want->pass && got->number == want->number, "event %d", (int)want->kind);
    cr_assert_eq(got->mark_count, want->mark_count);
    for (size_t i = 0; i < want->mark_count; i++)
        expect_same_mark(&got->marks[i], &want->marks[i]);
}

Test(record, every_kind_of_event_comes_back_as_it_went_in)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    char hash[33];
    keep(record, QUESTION_TEXT, hash);
    struct event events[EVENT_TOPIC_EXPLAINED + 1];
    size_t count = 0;
    struct event sitting = full_event(EVENT_SITTING_OPENED, 0, 0, hash);
    append_one(record, &sitting);
    struct event script = full_event(EVENT_QUESTION_OPENED, sitting.sequence, 0, hash);
    append_one(record, &script);
    /* The script must be marked before moderation and the sitting closes last. */
    static const enum event_kind last[] = {EVENT_MODERATED, EVENT_SITTING_CLOSED};
    for (int kind = 1; kind <= EVENT_TOPIC_EXPLAINED; kind++)
        if (kind != EVENT_SITTING_OPENED && kind != EVENT_QUESTION_OPENED && kind != EVENT_QUESTION_LEFT &&
            kind != EVENT_MODERATED && kind != EVENT_SITTING_CLOSED)
            events[count++] = full_event((enum event_kind)kind, sitting.sequence, script.sequence, hash);
    for (int i = 0; i < 2; i++)
        events[count++] = full_event(last[i], sitting.sequence, script.sequence, hash);
    struct messages messages = MESSAGES_EMPTY;
    bool done = record_append(record, events, count, &messages);
    messages_print(&messages);
    cr_assert(done);
    record_close(record);
    record = record_open(path, RECORD_READ, &messages);
    struct arena *arena = arena_new();
    struct event *found;
    size_t found_count;
    cr_assert(record_sitting_events(record, sitting.sequence, arena, &found, &found_count, &messages));
    cr_assert_eq(found_count, count + 2);
    expect_same(&found[0], &sitting);
    expect_same(&found[1], &script);
    for (size_t i = 0; i < count; i++)
        expect_same(&found[i + 2], &events[i]);
    cr_assert_eq(record_open_sitting(record, BANK), 0);
    arena_free(arena);
    record_close(record);
    expect_sound(path);
    folder_remove(&folder);
}

Test(record, what_is_not_given_comes_back_as_not_given)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    moment_set_now(AT);
    struct event sitting = event_blank(EVENT_SITTING_OPENED);
    sitting.bank = BANK;
    append_one(record, &sitting);
    cr_assert(sitting.at >= AT && sitting.at < AT + 60 && sitting.day == day_of(sitting.at), "filled in");
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct event *found;
    size_t count;
    cr_assert(record_sitting_events(record, sitting.sequence, arena, &found, &count, &messages));
    cr_assert_eq(count, 1);
    cr_assert(!found->part && !found->item && !found->detail && !found->text && !found->content);
    cr_assert(isnan(found->number) && found->pass == PASS_NONE && found->script == 0 && found->mark_count == 0);
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

Test(record, an_append_is_whole_or_not_at_all)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    int64_t sitting = begin_sitting(record, BANK, AT);
    int64_t script = begin_script(record, BANK, sitting, "w01", 0, AT);
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 1, 1);
    struct event good = marked(script, &mark, 1, AT), bad = marked(999, &mark, 1, AT);
    struct event both[] = {good, bad};
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(record_append(record, both, 2, &messages));
    expect_message(&messages, "does not fit");
    cr_assert_eq(both[0].sequence, 0);
    struct event twice[] = {good, good};
    cr_assert_not(record_append(record, twice, 2, &messages));
    expect_message(&messages, "closed already");
    append_one(record, &good);
    cr_assert_eq(good.sequence, script + 1, "nothing of the refused ones stayed");
    record_close(record);
    expect_sound(path);
    folder_remove(&folder);
}

/* What each kind must have, and what is never let in: the fault named, the log as long as before. */
Test(record, unsound_events_are_refused)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t sitting = begin_sitting(record, BANK, AT);
    int64_t script = begin_script(record, BANK, sitting, "w01", 0, AT);
    char hash[33];
    keep(record, QUESTION_TEXT, hash);
    struct messages messages = MESSAGES_EMPTY;
#define REFUSED(kind, change, part)                                            \
    do {                                                                       \
        struct event event = full_event(kind, sitting, script, hash);          \
        change;                                                                \
        cr_assert_not(append(record, event, &messages), "%s", part);           \
        expect_message(&messages, part);                                       \
    } while (0)
    REFUSED((enum event_kind)0, (void)0, "kind is unknown");
    REFUSED((enum event_kind)25, (void)0, "kind is unknown");
    REFUSED(EVENT_COURSE_SEEN, event.bank = NULL, "bank is missing");
    REFUSED(EVENT_COURSE_SEEN, event.text = NULL, "text is missing");
    REFUSED(EVENT_COURSE_SEEN, event.text = "topic\twaves\n", "description of the course");
    REFUSED(EVENT_COURSE_SEEN, event.content = NULL, "content is missing");
    REFUSED(EVENT_SITTING_CLOSED, event.sitting = 0, "sitting is missing");
    REFUSED(EVENT_SITTING_CLOSED, event.detail = "gone", "detail is not one");
    REFUSED(EVENT_SITTING_CLOSED, event.sitting = 1, "never opened");
    REFUSED(EVENT_QUESTION_OPENED, event.item = NULL, "item is missing");
    REFUSED(EVENT_QUESTION_OPENED, event.number = 0.5, "not whole");
    REFUSED(EVENT_QUESTION_OPENED, event.number = NAN, "not whole");
    REFUSED(EVENT_QUESTION_OPENED, event.number = 0x1p53, "outside its range");
    REFUSED(EVENT_QUESTION_OPENED, event.number = -1, "outside its range");
    REFUSED(EVENT_QUESTION_OPENED, event.content = "00000000000000000000000000000000", "does not fit");
    REFUSED(EVENT_QUESTION_OPENED, event.content = "not a hash", "content is not a hash");
    REFUSED(EVENT_POINT_TICKED, event.script = 0, "script is missing");
    REFUSED(EVENT_POINT_TICKED, event.part = NULL, "part is missing");
    REFUSED(EVENT_POINT_TICKED, event.detail = NULL, "detail is missing");
    REFUSED(EVENT_POINT_TICKED, event.item = "a\n1", "name is not text");
    REFUSED(EVENT_POINT_TICKED, event.pass = (enum pass)4, "the pass");
    REFUSED(EVENT_TEXT_SAVED, event.text = "bad \xff byte", "not valid UTF-8");
    REFUSED(EVENT_TEXT_SAVED, event.text = "surrogate \xed\xa0\x80", "not valid UTF-8");
    REFUSED(EVENT_ANSWER_FINISHED, event.detail = "perhaps", "detail is not one");
    REFUSED(EVENT_ANSWER_FINISHED, event.number = -1, "outside its range");
    REFUSED(EVENT_AWARDED, event.number = INFINITY, "too large");
    REFUSED(EVENT_TOPIC_RATED, event.number = 5, "outside its range");
    REFUSED(EVENT_TOPIC_RATED, event.number = 0, "outside its range");
    REFUSED(EVENT_MODERATED, event.number = NAN, "number is missing");
    REFUSED(EVENT_MODERATED, (void)0, "no marks for part");
    REFUSED(EVENT_SETTING, event.at = -1, "1970 to 9999");
    REFUSED(EVENT_SETTING, event.at = 253402300800, "1970 to 9999");
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 1, 1);
    REFUSED(EVENT_POINT_TICKED, (event.marks = &mark, event.mark_count = 1), "marked question only");
#define BAD_MARK(change, part) \
    REFUSED(EVENT_QUESTION_MARKED, \
            (mark = one_mark("a.1", "waves", "AO1", 1, 1), change, event.marks = &mark, event.mark_count = 1), part)
    BAD_MARK(mark.maximum = 0, "no maximum");
    BAD_MARK(mark.maximum = NAN, "no maximum");
    BAD_MARK(mark.got = 1.5, "outside 0");
    BAD_MARK(mark.got = NAN, "outside 0");
    BAD_MARK(mark.first = -1, "outside 0");
    BAD_MARK(mark.difficulty = INFINITY, "difficulty");
    BAD_MARK(mark.topic = NULL, "lacks");
    BAD_MARK(mark.word = "\x01", "not text");
    struct event next = full_event(EVENT_SETTING, 0, 0, NULL);
    append_one(record, &next);
    cr_assert_eq(next.sequence, script + 1);
    record_close(record);
    folder_remove(&folder);
}

Test(record, moderation_above_the_maximum_is_refused)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t script = begin_script(record, BANK, begin_sitting(record, BANK, AT), "w01", 0, AT);
    struct mark_row mark = one_mark("a.1", "waves", "AO1", 1, 2);
    struct event close = marked(script, &mark, 1, AT);
    append_one(record, &close);
    struct event moderated = event_blank(EVENT_MODERATED);
    moderated.script = script;
    moderated.part = "a";
    moderated.item = "a.1";
    moderated.number = 2.5;
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(append(record, moderated, &messages));
    expect_message(&messages, "more than the 2 on offer");
    moderated.number = 2;
    append_one(record, &moderated);
    record_close(record);
    folder_remove(&folder);
}

Test(record, contents_are_kept_once_and_checked)
{
    struct folder folder = folder_new();
    const char *path = path_in(&folder, "record.db");
    struct record *record = open_record(path);
    char one[33], two[33], other[33];
    keep(record, "alpha", one);
    keep(record, "alpha", two);
    keep(record, "beta", other);
    cr_assert_str_eq(one, two);
    cr_assert_str_neq(one, other);
    struct arena *arena = arena_new();
    cr_assert_str_eq(record_content(record, one, arena), "alpha");
    cr_assert_str_eq(record_content(record, other, arena), "beta");
    cr_assert_null(record_content(record, "0123456789abcdef0123456789abcdef", arena));
    record_close(record);
    run_sql(path, "UPDATE content SET text = 'alphb' WHERE text = 'alpha'");
    record = open_record(path);
    cr_assert_null(record_content(record, one, arena), "a changed text is not handed out");
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_not(record_check(record, &messages));
    expect_message(&messages, "is not what it was");
    record_close(record);
    arena_free(arena);
    folder_remove(&folder);
}

/* Damage that integrity_check cannot see: found when it is read, and by the check. */
Test(record, changed_values_are_noticed)
{
    static const char *const harm[] = {
        "UPDATE event SET kind = 99 WHERE kind = 10",
        "UPDATE event SET text = CAST(x'61ff62' AS TEXT) WHERE kind = 10",
        "UPDATE event SET text = CAST(x'610062' AS TEXT) WHERE kind = 10",
        "UPDATE event SET part = NULL WHERE kind = 10",
    };
    struct folder folder = folder_new();
    const char *good = path_in(&folder, "good.db");
    struct record *record = open_record(good);
    int64_t sitting = begin_sitting(record, BANK, AT);
    struct event tick = full_event(EVENT_POINT_TICKED, sitting, begin_script(record, BANK, sitting, "w01", 0, AT),
                                   NULL);
    append_one(record, &tick);
    record_close(record);
    for (size_t i = 0; i < sizeof harm / sizeof *harm; i++) {
        const char *path = path_in(&folder, "x.db");
        copy_file(good, path);
        run_sql(path, harm[i]);
        record = open_record(path);
        struct arena *arena = arena_new();
        struct messages messages = MESSAGES_EMPTY;
        struct event *events;
        size_t count;
        cr_assert_not(record_sitting_events(record, sitting, arena, &events, &count, &messages), "%s", harm[i]);
        expect_message(&messages, "damaged");
        cr_assert_not(record_check(record, &messages), "%s", harm[i]);
        expect_message(&messages, "damaged");
        struct buffer out = BUFFER_EMPTY;
        cr_assert_not(record_export(record, &out, &messages), "%s", harm[i]);
        cr_assert_eq(out.length, 0);
        buffer_free(&out);
        messages_free(&messages);
        arena_free(arena);
        record_close(record);
    }
    folder_remove(&folder);
}

Test(record, sittings_are_kept_apart)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    int64_t first = begin_sitting(record, BANK, AT), script = begin_script(record, BANK, first, "w01", 0, AT);
    int64_t second = begin_sitting(record, "other", AT);
    cr_assert_eq(record_open_sitting(record, NULL), second);
    cr_assert_eq(record_open_sitting(record, BANK), first);
    cr_assert_eq(record_open_sitting(record, "third"), 0);
    struct event close = event_blank(EVENT_SITTING_CLOSED);
    close.sitting = second;
    close.detail = "left";
    append_one(record, &close);
    cr_assert_eq(record_open_sitting(record, NULL), first);
    cr_assert_eq(record_open_sitting(record, "other"), 0);
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct event *events;
    size_t count;
    cr_assert(record_sitting_events(record, first, arena, &events, &count, &messages));
    cr_assert_eq(count, 2);
    cr_assert_eq(events[1].sequence, script);
    cr_assert(record_sitting_events(record, second, arena, &events, &count, &messages));
    cr_assert_eq(count, 2);
    cr_assert_eq(events[1].kind, EVENT_SITTING_CLOSED);
    cr_assert(record_sitting_events(record, 12345, arena, &events, &count, &messages));
    cr_assert_eq(count, 0);
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

static int64_t begin_with(struct record *record, const char *detail)
{
    struct event event = event_blank(EVENT_SITTING_OPENED);
    event.bank = BANK;
    event.detail = detail;
    append_one(record, &event);
    return event.sequence;
}

static void end_as(struct record *record, int64_t sitting, const char *how)
{
    struct event event = event_blank(EVENT_SITTING_CLOSED);
    event.sitting = sitting;
    event.detail = how;
    append_one(record, &event);
}

Test(record, sittings_are_found_by_what_was_asked_for)
{
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_OPEN), 0);
    int64_t first = begin_with(record, "mock=yes\nmarks=3\n"), other = begin_with(record, "minutes=30\n");
    int64_t none = begin_with(record, NULL), second = begin_with(record, "mock=yes\nmarks=4\n"), left = begin_with(record, "mock=yes\n");
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_OPEN), left);
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_FINISHED), 0);
    end_as(record, left, "left");
    end_as(record, first, "finished");
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_OPEN), second);
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_FINISHED), first);
    end_as(record, second, "finished");
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_OPEN), 0);
    cr_expect_eq(record_latest_sitting(record, "mock=yes\n", SITTING_IS_FINISHED), second);
    cr_expect_eq(record_latest_sitting(record, "minutes=", SITTING_IS_OPEN), other);
    cr_expect_eq(record_latest_sitting(record, "minutes=30\nx", SITTING_IS_OPEN), 0);
    cr_expect_eq(record_latest_sitting(record, "", SITTING_IS_OPEN), other, "one without a detail (%ld) has no start", (long)none);
    record_close(record);
    folder_remove(&folder);
}

Test(record, the_latest_note_of_each_topic)
{
    static const struct { const char *topic; int stage; const char *text; } notes[] = {
        {"waves", 1, "long"}, {"tides", 1, "tide"}, {"waves", 2, "short"}, {"waves", 3, "one line"}};
    struct folder folder = folder_new();
    struct record *record = open_record(path_in(&folder, "record.db"));
    for (int i = 0; i < 4; i++) {
        struct event note = event_blank(EVENT_NOTE_CONDENSED), rated = event_blank(EVENT_TOPIC_RATED);
        note.bank = rated.bank = BANK;
        note.item = rated.item = notes[i].topic;
        note.number = rated.number = notes[i].stage;
        note.text = notes[i].text;
        append_one(record, &note);
        append_one(record, &rated);
    }
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct event *events;
    size_t count;
    cr_assert(record_latest_events(record, BANK, EVENT_NOTE_CONDENSED, arena, &events, &count, &messages));
    cr_assert_eq(count, 2);
    cr_assert_str_eq(events[0].item, "tides");
    cr_assert_str_eq(events[1].text, "one line");
    cr_assert(record_latest_events(record, "other", EVENT_NOTE_CONDENSED, arena, &events, &count, &messages));
    cr_assert_eq(count, 0);
    cr_assert(record_topic_events(record, BANK, EVENT_NOTE_CONDENSED, arena, &events, &count, &messages));
    cr_assert_eq(count, 4);
    for (size_t i = 0; i < 4; i++)
        cr_assert_str_eq(events[i].text, notes[i].text);
    cr_assert(record_topic_events(record, "other", EVENT_TOPIC_RATED, arena, &events, &count, &messages));
    cr_assert_eq(count, 0);
    arena_free(arena);
    record_close(record);
    folder_remove(&folder);
}

/* ---- Small parts --------------------------------------------------------------------------------- */

Test(record, every_kind_has_a_name_of_its_own)
{
    for (int i = 1; i <= EVENT_TOPIC_EXPLAINED; i++)
        for (int j = 1; j < i; j++)
            cr_assert_str_neq(event_kind_name((enum event_kind)i), event_kind_name((enum event_kind)j));
    cr_assert_null(event_kind_name((enum event_kind)0));
    cr_assert_null(event_kind_name((enum event_kind)-1));
    cr_assert_null(event_kind_name((enum event_kind)(EVENT_TOPIC_EXPLAINED + 1)));
}

Test(record, course_lines_come_back)
{
    struct topic topics[] = {{.id = "water", .parent = -1, .share = 80},
                             {.id = "waves", .parent = 0, .share = 80, .is_leaf = true},
                             {.id = "dunes", .parent = -1, .share = 20, .is_leaf = true}};
    struct objective objectives[] = {{.id = "AO1", .share = 100.0 / 3, .kind = OBJECTIVE_ANALYSE}};
    struct command_word words[] = {{.word = "to what extent"}};
    struct course course = {.topics = topics, .topic_count = 3, .objectives = objectives, .objective_count = 1,
                            .words = words, .word_count = 1};
    struct buffer text = BUFFER_EMPTY;
    record_course_lines(&course, &text);
    cr_assert_str_eq(buffer_text(&text), "topic\twaves\twater\t80\ntopic\tdunes\tdunes\t20\n"
                     "objective\tAO1\tanalyse\t33.333333333333336\nword\tto what extent\n");
    struct arena *arena = arena_new();
    struct course_lines lines;
    cr_assert_null(course_lines_read(&lines, buffer_text(&text), arena));
    cr_assert_eq(lines.count[LINE_UNIT], 2);
    cr_assert_eq(lines.count[LINE_TOPIC], 2);
    cr_assert_eq(lines.unit[1], 1);
    cr_assert_eq(lines.share[0], 0.8);
    cr_assert_eq(lines.mix[0], 100.0 / 3 / 100);
    cr_assert_eq(lines.kind[0], LEARNER_ANALYSE);
    cr_assert_eq(course_lines_find(&lines, LINE_WORD, "to what extent"), 0);
    cr_assert_eq(course_lines_find(&lines, LINE_WORD, "explain"), SIZE_MAX);
    course_lines_free(&lines);
    arena_free(arena);
    buffer_free(&text);
}

Test(record, wrong_course_lines_are_refused)
{
    static const char *const wrong[] = {
        "", "\n", "topic\ta\tu\t1\n", "objective\tA\tknow\t1\n", "topic\ta\tu\t1\nobjective\tA\tknow\t1",
        "topic\ta\tu\t1\ntopic\ta\tu\t1\nobjective\tA\tknow\t1\n", "topic\ta\tu\t-1\nobjective\tA\tknow\t1\n",
        "topic\ta\tu\tnan\nobjective\tA\tknow\t1\n", "topic\ta\tu\t1\nobjective\tA\tguess\t1\n",
        "topic\t\tu\t1\nobjective\tA\tknow\t1\n", "topic\ta\tu\t1\t2\nobjective\tA\tknow\t1\n",
        "topic\ta\tu\nobjective\tA\tknow\t1\n", "topic\ta\tu\t1x\nobjective\tA\tknow\t1\n",
        "skill\ta\ntopic\ta\tu\t1\nobjective\tA\tknow\t1\n", "topic\ta\tu\t1\nobjective\tA\tknow\t1\nword\tx\nword\tx\n"};
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        struct course_lines lines;
        cr_assert(course_lines_read(&lines, wrong[i], arena), "taken: %s", wrong[i]);
        course_lines_free(&lines);
    }
    arena_free(arena);
}

Test(record, a_map_finds_what_was_put_in)
{
    enum { MANY = 5000 };
    static char keys[MANY][16];
    struct map map = MAP_EMPTY;
    cr_assert_null(map_find(&map, "x"));
    for (int round = 0; round < 2; round++) {
        for (int i = 0; i < MANY; i++) {
            snprintf(keys[i], sizeof keys[i], "k%d", i);
            map_add(&map, keys[i], keys[i]);
        }
        for (int i = 0; i < MANY; i++) {
            char key[16];
            snprintf(key, sizeof key, "k%d", i);
            cr_assert_eq(map_find(&map, key), (void *)keys[i]);
        }
        cr_assert_null(map_find(&map, "k5000"));
        cr_assert_null(map_find(&map, ""));
        map_clear(&map);
        cr_assert_null(map_find(&map, "k1"));
    }
    map_free(&map);
}
