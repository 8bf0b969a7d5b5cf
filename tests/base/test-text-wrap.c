/* Where a line may break is UAX #14; the expected lines were set by hand from it and from the widths. */
#include <string.h>

#include "base/random.h"
#include "base/text.h"
#include "trial.h"

static void check_wrapped(const char *text, size_t columns, size_t indent, size_t first, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    text_add_wrapped(&out, text, columns, indent, first);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, wrap_fills_20_columns)
{
    check_wrapped("", 20, 2, 0, "");
    check_wrapped("short", 20, 2, 0, "short");
    check_wrapped("exactly twenty wide!", 20, 0, 0, "exactly twenty wide!");
    check_wrapped("exactly twenty wide!!", 20, 0, 0, "exactly twenty\nwide!!");
    check_wrapped("Waves break on the bar and lose energy.", 20, 2, 0,
                  "Waves break on the\n  bar and lose\n  energy.");
    check_wrapped("a well-known long-shore drift", 20, 0, 0, "a well-known long-\nshore drift");
}

Test(base, wrap_starts_at_the_first_column)
{
    check_wrapped("one two three", 10, 3, 3, "one two\n   three");
    check_wrapped("one two three", 10, 0, 8, "\none two\nthree");
    check_wrapped("one two three", 10, 0, 7, "one\ntwo three");
    check_wrapped("one two", 10, 4, 0, "one two");
    check_wrapped("one seventh", 10, 3, 0, "one\n   seventh");
    check_wrapped("ab longest", 8, 4, 0, "ab\n    long\n    est");
}

Test(base, wrap_keeps_newlines)
{
    check_wrapped("a\nb", 20, 2, 0, "a\n  b");
    check_wrapped("a\n\nb\n", 20, 2, 0, "a\n\n  b\n");
    check_wrapped("\n", 20, 2, 0, "\n");
    check_wrapped("a   \nb   ", 20, 0, 0, "a\nb");
    check_wrapped("a\n  set in", 20, 0, 0, "a\n  set in");
    check_wrapped("two  spaces", 20, 0, 0, "two  spaces");
}

Test(base, wrap_wide_and_combining)
{
    check_wrapped("日本語の文章を折り返す。テスト", 20, 2, 0, "日本語の文章を折り返\n  す。テスト");
    check_wrapped("日本", 3, 0, 0, "日\n本");
    /* 20 letters with their marks are 20 columns. */
    check_wrapped("e\u0301e\u0301e\u0301e\u0301e\u0301 e\u0301e\u0301e\u0301e\u0301e\u0301 "
                  "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301 x", 20, 0, 0,
                  "e\u0301e\u0301e\u0301e\u0301e\u0301 e\u0301e\u0301e\u0301e\u0301e\u0301 "
                  "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301\nx");
}

Test(base, wrap_honours_no_break_spaces)
{
    check_wrapped("The speed is 10⁸\u00a0m\u00a0/\u00a0s⁻¹ here", 20, 0, 0,
                  "The speed is\n10⁸\u00a0m\u00a0/\u00a0s⁻¹ here");
    check_wrapped("It is about 3.5\u00a0mol\u00a0dm⁻³", 20, 0, 0, "It is about\n3.5\u00a0mol\u00a0dm⁻³");
    check_wrapped("ten to the 6\u202f000 m", 15, 0, 0, "ten to the\n6\u202f000 m");
}

Test(base, wrap_breaks_a_word_longer_than_the_line)
{
    check_wrapped("abcdefghijklmnopqrstuvwxyz", 20, 2, 0, "abcdefghijklmnopqrst\n  uvwxyz");
    check_wrapped("the abcdefghijklmnopqrstuvwxyz end", 20, 2, 0,
                  "the\n  abcdefghijklmnopqr\n  stuvwxyz end");
    check_wrapped("e\u0301e\u0301e\u0301e\u0301e\u0301", 2, 0, 0, "e\u0301e\u0301\ne\u0301e\u0301\ne\u0301");
    check_wrapped("10⁸\u00a0m\u00a0/\u00a0s⁻¹", 6, 0, 0, "10⁸\u00a0m\u00a0\n/\u00a0s⁻¹");
}

/* UAX #14, LB13: no break before "/", ")" even after spaces; only when there is no room at all. */
/* Our own rule: a word that is an instruction is not parted from its full stop. */
Test(base, wrap_keeps_instructions_whole)
{
    check_wrapped("on to the next one; .list shows", 22, 0, 0, "on to the next one;\n.list shows");
    check_wrapped("it ends . Then", 9, 0, 0, "it ends .\nThen");
    check_wrapped("finishes it. (.edit opens", 16, 0, 0, "finishes it.\n(.edit opens");
}

/* Our own rule: a command is copied from the screen. */
Test(base, wrap_does_not_break_commands_at_hyphens)
{
    check_wrapped("then 'ownmark hand-in' and a long-shore drift", 18, 0, 0, "then 'ownmark\nhand-in' and a\nlong-shore drift");
    check_wrapped("then 'ownmark x' and long-shore", 26, 0, 0, "then 'ownmark x' and long-\nshore");
    check_wrapped("it's 'ownmark settings exam-date'", 29, 0, 0, "it's 'ownmark settings\nexam-date'");
}

Test(base, wrap_breaks_at_forbidden_spaces_in_need_only)
{
    check_wrapped("speed in m /s here", 10, 0, 0, "speed in\nm /s here");
    check_wrapped("estuary   /sea", 10, 2, 0, "estuary\n  /sea");
    check_wrapped("sea    )sand", 10, 2, 0, "sea\n  )sand");
    check_wrapped("estuary    )", 10, 2, 0, "estuary\n  )");
    check_wrapped("            )", 10, 2, 0, "\n  )");
}

Test(base, wrap_ends_however_narrow)
{
    check_wrapped("abc", 1, 0, 0, "a\nb\nc");
    check_wrapped("abc", 0, 0, 0, "a\nb\nc");
    check_wrapped("日本", 1, 0, 0, "日\n本");
    check_wrapped("abcdef gh", 6, 10, 0, "abcdef\n    gh");
    check_wrapped("abcd", 4, 4, 4, "\n  ab\n  cd");
    check_wrapped("abcd", 4, 0, 9, "\nabcd");
}

/* Drops newlines and spaces, which are all that filling may add or take away. */
static void add_ink(struct buffer *out, const char *text)
{
    for (; *text; text++)
        if (*text != ' ' && *text != '\n')
            buffer_add_character(out, *text);
}

static void add_random_text(struct random_source *source, struct buffer *text)
{
    static const char *const pieces[] = {"a", "sea", "estuary", "日", "e\u0301", "-", ".", "\u00a0", "🙂", "(x)", "10⁸", "/",
                                         " ", " ", " ", "  ", "\n", "sedimentologically"};
    for (uint64_t left = random_below(source, 60); left > 0; left--)
        buffer_add(text, pieces[random_below(source, sizeof pieces / sizeof *pieces)]);
}

/* Every line fits, starts with its indent, ends without a space; nothing but white space changed. */
static void check_lines(const char *wrapped, size_t columns, size_t indent, size_t first, uint64_t seed)
{
    bool first_line = true;
    for (const char *line = wrapped;; first_line = false) {
        size_t length = strcspn(line, "\n");
        size_t width = text_width_bytes(line, length) + (first_line ? first : 0);
        cr_assert(width <= columns, "seed %lu: %zu columns in [%s]", seed, width, wrapped);
        cr_assert(length == 0 || line[length - 1] != ' ', "seed %lu: [%s]", seed, wrapped);
        cr_assert(first_line || length == 0 || strspn(line, " ") >= indent, "seed %lu: [%s]", seed, wrapped);
        if (!line[length])
            return;
        line += length + 1;
    }
}

Test(base, wrap_property_lines_fit_and_nothing_is_lost)
{
    uint64_t seed = trial_seed(77);
    struct random_source source = {seed};
    for (int round = 0; round < 3000; round++) {
        struct buffer text = BUFFER_EMPTY, out = BUFFER_EMPTY, before = BUFFER_EMPTY, after = BUFFER_EMPTY;
        size_t columns = 6 + (size_t)random_below(&source, 30), indent = (size_t)random_below(&source, 5);
        size_t first = (size_t)random_below(&source, columns + 1);
        add_random_text(&source, &text);
        text_add_wrapped(&out, buffer_text(&text), columns, indent, first);
        check_lines(buffer_text(&out), columns, indent, first, seed);
        add_ink(&before, buffer_text(&text));
        add_ink(&after, buffer_text(&out));
        cr_assert(strcmp(buffer_text(&before), buffer_text(&after)) == 0, "seed %lu: [%s]", seed, buffer_text(&out));
        buffer_free(&text);
        buffer_free(&out);
        buffer_free(&before);
        buffer_free(&after);
    }
}
