#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/memory.h"
#include "trial.h"

/* A sanitizer would otherwise end the program itself where malloc gives NULL. */
const char *__asan_default_options(void);
const char *__asan_default_options(void)
{
    return "allocator_may_return_null=1";
}

/* Not a constant, so that the compiler does not refuse the request before it is made. */
static volatile size_t too_much = SIZE_MAX / 2;

Test(base, memory_of_size_0_is_valid)
{
    char *plain = memory_get(0);
    char *zeroed = memory_get_zeroed(0, 7);
    cr_assert(plain && zeroed && plain != zeroed);
    plain = memory_resize(plain, 0);
    zeroed = memory_resize_array(zeroed, 3, 0);
    cr_assert(plain && zeroed);
    free(plain);
    free(zeroed);
}

Test(base, memory_zeroed_is_zero_and_resizing_keeps_content)
{
    int *numbers = memory_get_zeroed(100, sizeof *numbers);
    for (int i = 0; i < 100; i++)
        cr_assert(numbers[i] == 0);
    numbers[99] = 42;
    numbers = memory_resize_array(numbers, 5000, sizeof *numbers);
    cr_assert(numbers[99] == 42);
    free(numbers);

    char *copy = memory_copy_text("salt marsh");
    copy = memory_resize(copy, 4);
    cr_assert(memcmp(copy, "salt", 4) == 0);
    free(copy);
}

Test(base, memory_grows_by_doubling_and_only_when_full)
{
    int *items = NULL;
    size_t capacity = 0, moves = 0;
    for (size_t count = 0; count < 1000; count++) {
        size_t before = capacity;
        items = memory_grow(items, &capacity, count, sizeof *items);
        cr_assert(capacity > count);
        cr_assert(before == 0 || capacity == before || capacity == 2 * before);
        moves += capacity != before;
        items[count] = (int)count;
    }
    cr_assert(moves <= 11, "grew %zu times", moves);
    for (int i = 0; i < 1000; i++)
        cr_assert(items[i] == i);
    free(items);
}

static void put_terminal_back(void)
{
    ssize_t written = write(STDERR_FILENO, "[back]", 6);
    (void)written;
}

static void run_out_again(void)
{
    put_terminal_back();
    memory_exhausted();
}

static void run_out(void)
{
    memory_exhausted();
}

static void run_out_after_act(void)
{
    memory_set_last_act(put_terminal_back);
    memory_exhausted();
}

static void run_out_within_act(void)
{
    memory_set_last_act(run_out_again);
    memory_exhausted();
}

static void run_out_after_act_was_taken_away(void)
{
    memory_set_last_act(put_terminal_back);
    memory_set_last_act(NULL);
    memory_exhausted();
}

static void check_end(void (*act)(void), const char *start)
{
    struct buffer output = BUFFER_EMPTY;
    cr_expect(trial_in_child(act, &output) == 3);
    const char *text = buffer_text(&output);
    cr_expect(strncmp(text, start, strlen(start)) == 0, "got [%s]", text);
    cr_expect(strchr(text, '\n') == text + strlen(text) - 1, "one line, got [%s]", text);
    buffer_free(&output);
}

Test(base, memory_exhausted_says_so_in_one_line_and_ends_with_status_3)
{
    check_end(run_out, "ownmark: out of memory");
}

Test(base, memory_last_act_comes_first_and_once, .timeout = 10)
{
    check_end(run_out_after_act, "[back]ownmark: out of memory");
    check_end(run_out_within_act, "[back]ownmark: out of memory");
    check_end(run_out_after_act_was_taken_away, "ownmark: out of memory");
}

static void ask_too_much(void)
{
    free(memory_get(too_much));
}

static void ask_too_much_zeroed(void)
{
    free(memory_get_zeroed(too_much, 1));
}

static void ask_too_much_again(void)
{
    free(memory_resize(memory_get(1), too_much));
}

static void ask_for_a_product_that_overflows(void)
{
    free(memory_resize_array(NULL, too_much, 16));
}

static void grow_past_the_end(void)
{
    size_t capacity = SIZE_MAX / 2 + 1;
    free(memory_grow(NULL, &capacity, capacity, 1));
}

Test(base, memory_that_cannot_be_had_ends_the_program)
{
    void (*const acts[])(void) = {ask_too_much, ask_too_much_zeroed, ask_too_much_again,
                                  ask_for_a_product_that_overflows, grow_past_the_end};
    for (size_t i = 0; i < sizeof acts / sizeof *acts; i++) {
        struct buffer output = BUFFER_EMPTY;
        cr_expect(trial_in_child(acts[i], &output) == 3, "act %zu", i);
        cr_expect(strstr(buffer_text(&output), "ownmark: out of memory"), "act %zu", i);
        buffer_free(&output);
    }
}
