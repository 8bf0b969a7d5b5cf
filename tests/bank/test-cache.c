/* Opening: the second time from the cache, read again whenever the bank or the cache is not what it was. */
#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/bank.h"
#include "base/files.h"
#include "base/random.h"
#include "sample.h"
#include "trial.h"

static char *generated;

static void set_up(void)
{
    trial_begin();
    generated = trial_generated("100 7");
    trial_write("bank.xml", generated, strlen(generated));
}

static void tear_down(void)
{
    free(generated);
    trial_end();
}

static struct bank *open_bank(void)
{
    struct messages messages = MESSAGES_EMPTY;
    struct bank *bank = bank_open(trial_path("bank.xml"), true, &messages);
    cr_assert(bank, "%s", messages.count ? messages.items[0].text : "no reason given");
    messages_free(&messages);
    return bank;
}

/* The only file in the cache's folder. */
static const char *cache_file(void)
{
    static char path[512];
    DIR *folder = opendir(trial_path("cache/ownmark/banks"));
    cr_assert(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
        if (entry->d_name[0] != '.')
            snprintf(path, sizeof path, "%s/%s", trial_path("cache/ownmark/banks"), entry->d_name);
    closedir(folder);
    return path;
}

static void check_same(const struct bank *a, const struct bank *b)
{
    cr_assert_eq(bank_question_count(a), bank_question_count(b));
    cr_expect_str_eq(bank_id(a), bank_id(b));
    cr_expect_str_eq(bank_language(a), bank_language(b));
    cr_expect_str_eq(bank_course(a)->name, bank_course(b)->name);
    cr_expect_eq(bank_course(a)->topic_count, bank_course(b)->topic_count);
    for (size_t i = 0; i < bank_question_count(a); i++) {
        const struct question_summary *x = bank_summary(a, i), *y = bank_summary(b, i);
        cr_expect(strcmp(x->id, y->id) == 0 && x->topic == y->topic && x->demand == y->demand && x->marks == y->marks &&
                  x->minutes == y->minutes && x->varied == y->varied && x->has_numbers == y->has_numbers &&
                  x->offset == y->offset && x->length == y->length && x->fingerprint == y->fingerprint &&
                  x->part_count == y->part_count && x->enemy_count == y->enemy_count, "question %zu", i);
        for (size_t e = 0; e < x->enemy_count; e++)
            cr_expect_str_eq(x->enemies[e], y->enemies[e]);
        cr_assert_eq(x->idea_count, y->idea_count);
        for (size_t k = 0; k < x->idea_count; k++)
            cr_expect_str_eq(x->ideas[k], y->ideas[k]);
        for (size_t p = 0; p < x->part_count; p++)
            cr_expect(x->parts[p].objective == y->parts[p].objective && x->parts[p].word == y->parts[p].word &&
                      x->parts[p].marks == y->parts[p].marks && x->parts[p].skills == y->parts[p].skills);
    }
}

Test(bank, the_second_opening_comes_from_the_cache, .init = set_up, .fini = tear_down)
{
    struct bank *first = open_bank(), *second = open_bank();
    struct stat status;
    cr_expect(!bank_came_from_cache(first));
    cr_expect(bank_came_from_cache(second));
    cr_expect_eq(bank_question_count(second), 100);
    check_same(first, second);
    cr_expect_eq(bank_find(second, "q00042"), 42);
    cr_expect_eq(bank_find(second, "q00100"), -1);
    cr_expect_eq(stat(cache_file(), &status), 0);
    cr_expect_eq(status.st_mode & 0777, 0600);
    bank_close(first);
    bank_close(second);
    bank_close(NULL);
}

Test(bank, the_cache_keeps_language_and_enemies, .init = set_up, .fini = tear_down)
{
    char *every = trial_every_element(), *welsh = trial_replaced(every, "language=\"en\"", "language=\"cy\"", NULL);
    trial_write("bank.xml", welsh, strlen(welsh));
    struct bank *first = open_bank(), *second = open_bank();
    cr_expect(bank_came_from_cache(second));
    check_same(first, second);
    cr_expect_str_eq(bank_language(second), "cy");
    cr_assert_eq(bank_summary(second, 0)->enemy_count, 1);
    cr_expect_str_eq(bank_summary(second, 0)->enemies[0], "w02");
    cr_expect_eq(bank_summary(second, 1)->enemy_count, 0);
    bank_close(first);
    bank_close(second);
    free(every);
    free(welsh);
}

/* The ideas of every-element.xml, by hand: one, in its first question. */
Test(bank, ideas_are_known_with_and_without_the_cache, .init = set_up, .fini = tear_down)
{
    for (int round = 0; round < 2; round++) {
        struct messages messages = MESSAGES_EMPTY;
        struct bank *bank = bank_open(EVERY_ELEMENT, true, &messages);
        cr_assert(bank);
        cr_expect_eq(bank_came_from_cache(bank), round == 1);
        size_t found = 0;
        for (size_t i = 0; i < bank_question_count(bank); i++)
            found += bank_summary(bank, i)->idea_count;
        cr_expect_eq(found, 1);
        cr_assert_eq(bank_summary(bank, 0)->idea_count, 1);
        cr_expect_str_eq(bank_summary(bank, 0)->ideas[0], "power-unit");
        bank_close(bank);
    }
}

/* Each question's bytes, line and column, as found by plain searching. */
Test(bank, questions_are_read_on_demand_from_their_own_bytes, .init = set_up, .fini = tear_down)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    bank_close(open_bank());
    struct bank *bank = open_bank();
    const char *at = generated;
    for (size_t i = 0; i < bank_question_count(bank); i++) {
        unsigned long line, column;
        at = strstr(at, "<question");
        size_t length = (size_t)(strstr(at, "</question>") - at) + strlen("</question>");
        cr_expect_eq(bank_summary(bank, i)->offset, (uint64_t)(at - generated));
        cr_expect_eq(bank_summary(bank, i)->length, length);
        const struct question *question = bank_question(bank, i, arena, &messages);
        cr_assert(question);
        trial_place(generated, (size_t)(at - generated), &line, &column);
        cr_expect(question->line == line && question->column == column, "%lu:%lu", question->line, question->column);
        cr_expect_str_eq(question->id, bank_summary(bank, i)->id);
        cr_expect_eq(question->marks, bank_summary(bank, i)->marks);
        cr_expect_eq(question->part_count, bank_summary(bank, i)->part_count);
        struct buffer text = BUFFER_EMPTY;
        cr_expect(bank_question_text(bank, i, &text, &messages));
        cr_expect(text.length == length && memcmp(text.text, at, length) == 0);
        buffer_free(&text);
        arena_reset(arena);
        at += length;
    }
    cr_expect_eq(messages.count, 0);
    bank_close(bank);
    arena_free(arena);
}

Test(bank, what_the_record_keeps_reads_back, .init = set_up, .fini = tear_down)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct bank *bank = open_bank();
    struct buffer course_text = BUFFER_EMPTY, text = BUFFER_EMPTY;
    const struct course *course;
    const struct question *question;
    bank_course_text(bank, &course_text);
    cr_assert(bank_question_text(bank, 5, &text, &messages));
    cr_assert(bank_from_text(course_text.text, text.text, arena, &course, &question, &messages));
    cr_expect_str_eq(course->name, "Coastal Science");
    cr_expect_str_eq(question->id, "q00005");
    cr_expect_eq(question->marks, bank_summary(bank, 5)->marks);

    /* Untrusted: cut, of another kind, or of no sense. */
    char *spoilt = trial_replaced(text.text, "marks=\"3\"", "marks=\"9\"", NULL);
    cr_expect(!bank_from_text(course_text.text, spoilt, arena, &course, &question, &messages));
    cr_expect(!bank_from_text(text.text, text.text, arena, &course, &question, &messages));
    text.text[text.length / 2] = '\0';
    cr_expect(!bank_from_text(course_text.text, text.text, arena, &course, &question, &messages));
    cr_expect(!bank_from_text("", "", arena, &course, &question, &messages));
    cr_expect_geq(messages.count, 4);
    free(spoilt);
    messages_free(&messages);
    buffer_free(&text);
    buffer_free(&course_text);
    bank_close(bank);
    arena_free(arena);
}

Test(bank, a_touched_or_edited_bank_is_read_again, .init = set_up, .fini = tear_down)
{
    static const struct timespec times[2] = {{1000, 0}, {1000, 0}};
    bank_close(open_bank());
    cr_assert_eq(utimensat(AT_FDCWD, trial_path("bank.xml"), times, 0), 0);
    struct bank *bank = open_bank();
    cr_expect(!bank_came_from_cache(bank), "touched");
    bank_close(bank);
    char *edited = trial_replaced(generated, "id=\"generated\"", "id=\"edited\"", NULL);
    trial_write("bank.xml", edited, strlen(edited));
    bank = open_bank();
    cr_expect(!bank_came_from_cache(bank), "edited");
    cr_expect_str_eq(bank_id(bank), "edited");
    bank_close(bank);
    struct messages messages = MESSAGES_EMPTY;
    bank = bank_open(trial_path("bank.xml"), false, &messages);
    cr_expect(bank && !bank_came_from_cache(bank), "not asked for");
    bank_close(bank);
    free(edited);
}

Test(bank, a_question_that_changed_is_refused, .init = set_up, .fini = tear_down)
{
    struct messages messages = MESSAGES_EMPTY;
    struct arena *arena = arena_new();
    struct buffer text = BUFFER_EMPTY;
    struct bank *bank = open_bank();
    /* One byte behind question 50 changes and all after it moves: those before it are still as they were. */
    char *at = strstr(generated, "<question id=\"q00050\""), *moved;
    cr_assert(at);
    *at = '\0';
    buffer_print(&text, "%s %c%s", generated, '<', at + 1);
    moved = buffer_take(&text);
    trial_write("bank.xml", moved, strlen(moved));
    cr_expect(bank_question(bank, 49, arena, &messages) != NULL);
    cr_expect_eq(messages.count, 0);
    cr_expect_null(bank_question(bank, 50, arena, &messages));
    trial_one(&messages, NULL, "the question 'q00050' is not where it was: the file has changed since it was opened; start "
              "again to use it as it is now");
    cr_expect(!bank_question_text(bank, 51, &text, &messages));
    cr_expect_eq(text.length, 0);
    cr_assert_eq(unlink(trial_path("bank.xml")), 0);
    cr_expect_null(bank_question(bank, 49, arena, &messages));
    cr_expect_eq(messages.count, 3);
    messages_free(&messages);
    bank_close(bank);
    arena_free(arena);
    free(moved);
}

/* Seeded: bytes changed, the end cut off, bytes added. Whatever is done to the cache, the bank opens and is right. */
Test(bank, a_damaged_cache_is_passed_over, .init = set_up, .fini = tear_down)
{
    struct buffer good = BUFFER_EMPTY;
    struct messages messages = MESSAGES_EMPTY;
    struct bank *whole = open_bank();
    uint64_t seed = sample_seed(20);
    struct random_source source = {seed};
    cr_assert(file_read(cache_file(), 1 << 24, &good, &messages));
    for (int i = 0; i < 60; i++) {
        struct buffer bad = BUFFER_EMPTY;
        buffer_add_bytes(&bad, good.text, good.length);
        size_t at = i < 48 ? (size_t)i * 4 + random_below(&source, 4) : (size_t)random_below(&source, good.length);
        if (i % 10 == 8)
            buffer_shorten(&bad, at);
        else if (i % 10 == 9)
            buffer_add(&bad, "more");
        else
            bad.text[at] = (char)(bad.text[at] ^ (1 << random_below(&source, 8)));
        FILE *file = fopen(cache_file(), "wb");
        cr_assert(file && fwrite(bad.text ? bad.text : "", 1, bad.length, file) == bad.length && fclose(file) == 0);
        struct bank *bank = open_bank();
        cr_expect(!bank_came_from_cache(bank), "seed %llu, change %d at %zu", (unsigned long long)seed, i, at);
        check_same(whole, bank);
        bank_close(bank);
        buffer_free(&bad);
    }
    buffer_free(&good);
    bank_close(whole);
}

Test(bank, without_a_place_for_the_cache_banks_open_too, .init = set_up, .fini = tear_down)
{
    trial_write("cache", "a file where the folder should be", 5);
    bank_close(open_bank());
    struct bank *bank = open_bank();
    cr_expect(!bank_came_from_cache(bank));
    bank_close(bank);
}
