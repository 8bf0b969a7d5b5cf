/* The file of a paper. Expected texts and refusals come from docs/paper-format.md, which is ours. */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "base/random.h"
#include "paper/file.h"

#define HASH "0123456789abcdef0123456789abcdef"

static const char good[] =
    "ownmark paper 1\n"
    "course: Coastal Science\n"
    "language: en\n"
    "marks: 10\n"
    "minutes: 12\n"
    "seed: 7\n"
    "made: 2026-05-18T13:30:00Z\n"
    "bank: coastal-science " HASH " ../my banks/coast.xml\n"
    "bank: other " HASH " /srv/other.xml\n"
    "question: 1 w04 3 18446744073709551615 " HASH "\n"
    "question: 2 w04 6 0 " HASH "\n"
    "question: 1 t.1 1 12 " HASH "\n"
    "end\n";

static bool parse(const char *bytes, size_t length, struct arena *arena, struct paper *paper, struct messages *messages)
{
    return paper_file_parse(bytes, length, "p.ownmark", arena, paper, messages);
}

Test(paper, a_file_is_read_as_it_was_written)
{
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct buffer again = BUFFER_EMPTY;
    struct paper paper;
    cr_assert(parse(good, strlen(good), arena, &paper, &messages), "%s", messages.count ? messages.items[0].text : "");
    cr_expect_str_eq(paper.course, "Coastal Science");
    cr_expect_str_eq(paper.language, "en");
    cr_expect(paper.marks == 10 && paper.minutes == 12 && paper.seed == 7 && paper.made == 1779111000);
    cr_assert(paper.bank_count == 2 && paper.question_count == 3);
    cr_expect_str_eq(paper.banks[0].path, "../my banks/coast.xml");
    cr_expect_str_eq(paper.banks[1].id, "other");
    cr_expect_str_eq(paper.banks[1].course_hash, HASH);
    cr_expect_eq(paper.questions[0].seed, UINT64_MAX);
    cr_expect_eq(paper.questions[1].bank, 1);
    cr_expect_str_eq(paper.questions[2].id, "t.1");
    cr_expect_str_eq(paper.questions[2].hash, HASH);
    paper_file_text(&paper, &again);
    cr_expect_str_eq(buffer_text(&again), good);
    buffer_free(&again);
    arena_free(arena);
}

struct refusal { const char *from, *to, *says; unsigned long line; };

static const struct refusal refusals[] = {
    {"ownmark paper 1", "ownmark paper 2", "wanted is 'ownmark paper 1'", 1},
    {"course: Coastal Science", "course: ", "wanted is a line 'course: …'", 2},
    {"language: en", "language: e n", "wanted is a language tag", 3},
    {"marks: 10", "marks: 0", "wanted is a whole number from 1 to 1000", 4},
    {"marks: 10", "marks: 010", "wanted is a whole number from 1 to 1000", 4},
    {"marks: 10", "marks: 1001", "wanted is a whole number from 1 to 1000", 4},
    {"marks: 10", "marks: -1", "wanted is a whole number from 1 to 1000", 4},
    {"marks: 10", "marks: 11", "the marks of the questions add up to 10, but the paper says 11", 0},
    {"minutes: 12", "minutes: 1441", "wanted is a whole number from 1 to 1440", 5},
    {"minutes: 12\n", "", "wanted is a line 'minutes: …'", 5},
    {"seed: 7", "seed: 18446744073709551616", "wanted is a whole number", 6},
    {"13:30:00Z", "13:30", "wanted is a date and time", 7},
    {"2026-05-18", "2026-02-30", "wanted is a date and time", 7},
    {"../my banks/coast.xml", "", "wanted is a bank's id", 8},
    {"bank: coastal-science", "bank: 1coast", "wanted is a bank's id", 8},
    {"bank: other", "bank: coastal-science", "the bank was named before", 9},
    {"question: 2 w04 6", "question: 3 w04 6", "wanted are the bank's number", 11},
    {"question: 2 w04 6", "question: 0 w04 6", "wanted are the bank's number", 11},
    {"question: 2 w04 6", "question: 1 w04 6", "the question was there before", 11},
    {"question: 1 t.1 1 12 ", "question: 1 t.1 1  ", "wanted are the bank's number", 12},
    {"question: 1 t.1 1 12 0", "question: 1 t.1 1 12 G", "wanted are the bank's number", 12},
    {"end\n", "", "wanted is 'end' as the last line", 13},
    {"end\n", "end", "wanted is 'end' as the last line", 13},
    {"end\n", "end\nmore\n", "wanted is 'end' as the last line", 13},
    {"Coastal", "\xff", "it is not UTF-8 text", 0},
};

static char *replaced(const struct refusal *refusal)
{
    const char *at = strstr(good, refusal->from);
    cr_assert(at, "%s", refusal->from);
    struct buffer out = BUFFER_EMPTY;
    buffer_add_bytes(&out, good, (size_t)(at - good));
    buffer_add(&out, refusal->to);
    buffer_add(&out, at + strlen(refusal->from));
    return buffer_take(&out);
}

Test(paper, a_file_that_is_not_right_is_refused_with_its_place)
{
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        struct arena *arena = arena_new();
        struct messages messages = MESSAGES_EMPTY;
        struct paper paper;
        char *text = replaced(&refusals[i]);
        cr_expect(!parse(text, strlen(text), arena, &paper, &messages), "%s", refusals[i].to);
        cr_assert_eq(messages.count, 1, "%s", refusals[i].to);
        cr_expect(strstr(messages.items[0].text, refusals[i].says), "%s: %s", refusals[i].to, messages.items[0].text);
        cr_expect_eq(messages.items[0].place.line, refusals[i].line, "%s: %lu", refusals[i].to, messages.items[0].place.line);
        messages_free(&messages);
        arena_free(arena);
        free(text);
    }
}

Test(paper, a_file_that_is_not_there_or_empty_is_refused)
{
    struct arena *arena = arena_new();
    struct messages messages = MESSAGES_EMPTY;
    struct paper paper;
    cr_expect(!paper_file_read("tests/data/none.ownmark", arena, &paper, &messages));
    cr_expect(!parse("", 0, arena, &paper, &messages));
    cr_expect(!parse("a\0b", 3, arena, &paper, &messages));
    cr_expect_eq(messages.count, 3);
    messages_free(&messages);
    arena_free(arena);
}

/* Whatever is in a file, it is refused with a message or reads back as it stands. */
Test(paper, a_damaged_file_is_refused_or_means_what_it_says)
{
    const char *given = getenv("OWNMARK_SEED");
    uint64_t seed = given ? strtoull(given, NULL, 10) : random_fresh_seed();
    cr_log_info("seed %llu", (unsigned long long)seed);
    struct random_source source = {seed};
    for (int round = 0; round < 3000; round++) {
        char text[sizeof good];
        memcpy(text, good, sizeof good);
        size_t length = strlen(good);
        for (uint64_t changes = 1 + random_below(&source, 3); changes; changes--)
            text[random_below(&source, length)] = "0123456789 \n:az\xc3\x1b"[random_below(&source, 17)];
        if (random_below(&source, 4) == 0)
            length = random_below(&source, length);
        struct arena *arena = arena_new();
        struct messages messages = MESSAGES_EMPTY;
        struct buffer again = BUFFER_EMPTY;
        struct paper paper;
        if (parse(text, length, arena, &paper, &messages)) {
            paper_file_text(&paper, &again);
            cr_assert(again.length == length && memcmp(again.text, text, length) == 0, "seed %llu",
                      (unsigned long long)seed);
        } else {
            cr_assert_eq(messages.count, 1);
        }
        buffer_free(&again);
        messages_free(&messages);
        arena_free(arena);
    }
}
