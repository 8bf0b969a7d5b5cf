/* Telling pastes from keys. The brackets are xterm's (bracketed paste mode, private mode 2004). */
#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#include "base/random.h"
#include "terminal/keys.h"
#include "terminal/terminal.h"
#include "terminal/width.h"

static void feed(struct keys *keys, const char *bytes)
{
    keys_feed(keys, bytes, strlen(bytes));
}

/* The first event is this one; drops it. kind: t typed, p pasted, r refused. */
static void expect_event(struct keys *keys, char kind, const char *bytes)
{
    struct keys_event *event = keys_first(keys);
    cr_assert(event != NULL, "no event, wanted [%s]", bytes);
    cr_expect(event->kind == (kind == 't' ? KEYS_TYPED : kind == 'p' ? KEYS_PASTED : KEYS_REFUSED));
    cr_expect(strcmp(event->bytes, bytes) == 0, "got [%s], want [%s]", event->bytes, bytes);
    keys_drop(keys);
}

static void expect_nothing(struct keys *keys)
{
    cr_expect(keys_first(keys) == NULL, "got [%s]", keys_first(keys) ? keys_first(keys)->bytes : "");
}

Test(terminal, keys_typed_go_through)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "a");
    feed(&keys, "\033[A");
    feed(&keys, "y\rn\r");
    expect_event(&keys, 't', "a");
    expect_event(&keys, 't', "\033[A");
    expect_event(&keys, 't', "y\rn\r");
    expect_nothing(&keys);
    cr_expect(!keys_wait_for_silence(&keys));
    keys_free(&keys);
}

Test(terminal, keys_hold_back_what_may_begin_a_paste_until_silence)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "a\033");
    expect_event(&keys, 't', "a");
    expect_nothing(&keys);
    cr_expect(keys_wait_for_silence(&keys));
    keys_silence(&keys);
    expect_event(&keys, 't', "\033");
    feed(&keys, "\033[2");
    feed(&keys, "~");
    expect_event(&keys, 't', "\033[2~");
    expect_nothing(&keys);
    keys_free(&keys);
}

Test(terminal, keys_find_a_bracketed_paste_however_it_is_cut)
{
    static const char whole[] = "x\033[200~one\r\ntwo\rthree\033[201~\r";
    for (size_t cut = 1; cut < sizeof whole - 1; cut++) {
        struct keys keys = KEYS_EMPTY;
        keys_feed(&keys, whole, cut);
        keys_feed(&keys, whole + cut, sizeof whole - 1 - cut);
        expect_event(&keys, 't', "x");
        expect_event(&keys, 'p', "one\ntwo\nthree");
        expect_event(&keys, 't', "\r");
        expect_nothing(&keys);
        keys_free(&keys);
    }
}

Test(terminal, keys_leave_an_empty_paste_out)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "\033[200~\033[201~a");
    expect_event(&keys, 't', "a");
    expect_nothing(&keys);
    keys_free(&keys);
}

Test(terminal, keys_take_a_burst_of_lines_as_one_paste)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "the first line\rthe sec");
    feed(&keys, "ond\r");
    expect_nothing(&keys);
    cr_expect(keys_wait_for_silence(&keys));
    keys_silence(&keys);
    expect_event(&keys, 'p', "the first line\nthe second\n");
    expect_nothing(&keys);
    keys_free(&keys);
}

Test(terminal, keys_take_one_long_line_with_enter_as_typed_and_entered)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "a line that came at once\r");
    keys_silence(&keys);
    expect_event(&keys, 'p', "a line that came at once");
    expect_event(&keys, 't', "\r");
    expect_nothing(&keys);
    keys_free(&keys);
}

Test(terminal, keys_held_down_are_no_burst)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r");
    expect_event(&keys, 't', "\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r\r");
    feed(&keys, "\033[C\033[C\033[C\033[C\033[C\033[C");
    expect_event(&keys, 't', "\033[C\033[C\033[C\033[C\033[C\033[C");
    keys_free(&keys);
}

static void check_limit(size_t length, bool bracketed, char kind)
{
    struct keys keys = KEYS_EMPTY;
    char *words = malloc(length + 1);
    memset(words, 'w', length);
    words[length] = '\0';
    feed(&keys, bracketed ? "\033[200~" : "");
    for (size_t at = 0; at < length; at += 4000)
        keys_feed(&keys, words + at, length - at < 4000 ? length - at : 4000);
    feed(&keys, bracketed ? "\033[201~" : "");
    keys_silence(&keys);
    cr_expect(keys_first(&keys) && keys_first(&keys)->length == length);
    expect_event(&keys, kind, kind == 'p' ? words : "");
    expect_nothing(&keys);
    feed(&keys, "a"); /* and it goes on as usual */
    expect_event(&keys, 't', "a");
    free(words);
    keys_free(&keys);
}

Test(terminal, keys_refuse_a_paste_over_the_limit)
{
    check_limit(TERMINAL_ENTRY_LIMIT, true, 'p');
    check_limit(TERMINAL_ENTRY_LIMIT + 1, true, 'r');
    check_limit(1000000, true, 'r');
    check_limit(TERMINAL_ENTRY_LIMIT, false, 'p');
    check_limit(TERMINAL_ENTRY_LIMIT + 1, false, 'r');
    check_limit(1000000, false, 'r');
}

/* Property: whatever comes and however it is cut, nothing is lost but the brackets. */
Test(terminal, keys_lose_nothing)
{
    static const char *const pieces[] = {"\033[200~", "\033[201~", "\033", "[", "a", "\n", "some words that are long"};
    for (uint64_t seed = 1; seed <= 2000; seed++) {
        struct random_source source = {seed};
        struct keys keys = KEYS_EMPTY;
        size_t fed = 0, came = 0, brackets = 0;
        for (uint64_t n = random_below(&source, 20); n > 0; n--) {
            const char *piece = pieces[random_below(&source, 7)];
            brackets += strlen(piece) == 6;
            fed += strlen(piece);
            feed(&keys, piece);
            if (random_below(&source, 3) == 0)
                keys_silence(&keys);
        }
        feed(&keys, "\033[201~");
        keys_silence(&keys);
        for (; keys_first(&keys); keys_drop(&keys))
            came += keys_first(&keys)->length;
        cr_expect(came <= fed + 6 && came + 6 * (brackets + 1) >= fed + 6, "seed %llu: %zu of %zu",
                  (unsigned long long)seed, came, fed);
        keys_free(&keys);
    }
}

Test(terminal, keys_forget_everything)
{
    struct keys keys = KEYS_EMPTY;
    feed(&keys, "a\033[200~half a paste");
    keys_forget(&keys);
    expect_nothing(&keys);
    feed(&keys, "b");
    expect_event(&keys, 't', "b");
    keys_free(&keys);
}

Test(terminal, width_is_clamped)
{
    cr_expect(width_clamp(0) == 80);
    cr_expect(width_clamp(1) == 40);
    cr_expect(width_clamp(40) == 40);
    cr_expect(width_clamp(72) == 72);
    cr_expect(width_clamp(100) == 100);
    cr_expect(width_clamp(1000) == 100);
}
