#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "trial.h"

/* Well-formedness: The Unicode Standard 15, table 3-7 (overlong forms, surrogates, past U+10FFFF). */
Test(base, text_valid)
{
    static const char *const good[] = {"", "a", "x²", "\u20ac", "\U0001f642", "\U0010ffff", "\xed\x9f\xbf", "\xee\x80\x80"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        cr_expect(text_is_valid(good[i], strlen(good[i])), "good %zu", i);
    static const char *const bad[] = {"\x80", "a\xff", "\xc0\x80", "\xc1\xbf", "\xe0\x9f\xbf", "\xed\xa0\x80",
                                      "\xf0\x8f\xbf\xbf", "\xf4\x90\x80\x80", "\xe2\x82", "\xf0\x9f\x99", "\xc3"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect(!text_is_valid(bad[i], strlen(bad[i])), "bad %zu", i);
    cr_expect(!text_is_valid("a\0b", 3));
    cr_expect(!text_is_valid("\0", 1));
    cr_expect(text_is_valid(NULL, 0));
    cr_expect(text_is_valid("x²", 1) && !text_is_valid("x²", 2), "the length decides, not the NUL");
}

/* Computed by Python wcwidth 0.7.0. */
Test(base, text_width_in_columns)
{
    static const struct { const char *text; size_t width; } known[] = {
        {"", 0}, {"beach", 5}, {"x²", 2}, {"日本語", 6}, {"é", 1}, {"e\u0301", 1}, {"🙂", 2}, {"한국어", 6},
        {"a\u00a0b", 3}, {"\u200b", 0}, {"ﾊ", 1}, {"–", 1}, {"⁻¹", 2}, {"Ω", 1}, {"\u0301", 0}};
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        cr_expect(text_width(known[i].text) == known[i].width, "'%s' is %zu wide", known[i].text,
                  text_width(known[i].text));
    cr_expect(text_width("a\tb\033c\x7f\n") == 3, "control characters count 0");
    cr_expect(text_width_bytes("日本語", 3) == 2 && text_width_bytes("abc", 0) == 0);
}

Test(base, text_fit_keeps_clusters_whole)
{
    cr_expect(text_fit("beach", 3) == 3 && text_fit("beach", 0) == 0 && text_fit("beach", 9) == 5);
    cr_expect(text_fit("", 5) == 0);
    cr_expect(text_fit("日本", 3) == 3 && text_fit("日本", 1) == 0 && text_fit("日本", 4) == 6);
    cr_expect(text_fit("ae\u0301\u0302z", 2) == 6, "the marks stay with their letter");
    cr_expect(text_fit("e\u0301", 0) == 0, "the mark does not go without its letter");
    cr_expect(text_fit_bytes("beach", 2, 9) == 2);
}

static void check_folded_space(const char *text, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    text_add_folded_space(&out, text);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

Test(base, text_white_space)
{
    check_folded_space("", "");
    check_folded_space("a  b\n\t c", "a b c");
    check_folded_space("\n a \n", " a ");
    check_folded_space(" \u2003\u3000\r\n\u2028x", " x");
    check_folded_space("10\u00a0 m\u202f\u2007s", "10\u00a0 m\u202f\u2007s");

    char text[] = " \t\u00a0 sand dune \u3000\n", blank[] = " \n\u2003", none[] = "", plain[] = "x";
    check_text(text_trim(text), "sand dune");
    check_text(text_trim(blank), "");
    check_text(text_trim(none), "");
    check_text(text_trim(plain), "x");
    char broken[] = " a\xff ";
    check_text(text_trim(broken), "a\xff");

    cr_expect(text_is_blank("") && text_is_blank(" \t\r\n\u00a0\u2003"));
    cr_expect(!text_is_blank("  . ") && !text_is_blank("\u200b"));
}

static void check_folded(const char *text, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    text_add_case_folded(&out, text);
    check_text(buffer_text(&out), expected);
    buffer_free(&out);
}

/* Computed by Python 3.11: unicodedata.normalize("NFC", text.casefold()). */
Test(base, text_case_folding)
{
    check_folded("", "");
    check_folded("Straße", "strasse");
    check_folded("ΟΔΟΣ", "οδοσ");
    check_folded("\u0130", "i\u0307");
    check_folded("X²", "x²");
    check_folded("CO₂", "co₂");
    check_folded("3½", "3½");
    check_folded("Å", "å");
    check_folded("A\u030a", "å");
    check_folded("ﬁ", "fi");
    check_folded("Kelvin \u212a", "kelvin k");
    check_folded("ÀÉ Ω ſ", "àé ω s");
    check_folded("NOT\xff" "UTF", "not\ufffdutf"); /* our rule */
}

Test(base, text_equality)
{
    cr_expect(text_equal_ignoring_case(" Salt Marsh\n", "salt marsh"));
    cr_expect(text_equal_ignoring_case("A\u030a", "å") && text_equal_ignoring_case("STRASSE", "straße"));
    cr_expect(text_equal_ignoring_case("", " \t"));
    cr_expect(!text_equal_ignoring_case("salt  marsh", "salt marsh"), "spaces within are not folded");
    cr_expect(!text_equal_ignoring_case("x²", "x2") && !text_equal_ignoring_case("é", "e"));
    cr_expect(text_equal(NULL, NULL) && !text_equal(NULL, "") && !text_equal("", NULL));
    cr_expect(text_equal("", "") && text_equal("ab", "ab") && !text_equal("ab", "Ab") && !text_equal("ab", "abc"));
    cr_expect(text_starts_with("--json", "--") && text_starts_with("x", "") && text_starts_with("", ""));
    cr_expect(!text_starts_with("-", "--") && !text_starts_with("Abc", "abc"));
}

Test(base, text_counts)
{
    check_text(text_count(1, "mark", "marks"), "1 mark");
    check_text(text_count(0, "mark", "marks"), "0 marks");
    check_text(text_count(3, "mark", "marks"), "3 marks");
    check_text(text_count(-1, "mark", "marks"), "-1 marks");
    const char *results[8];
    for (long i = 0; i < 8; i++)
        results[i] = text_count(i, "series", "series");
    check_text(results[0], "0 series");
    check_text(results[7], "7 series");
}

/* The rule is that of the schema of banks. */
Test(text, ids_are_those_of_the_schema)
{
    static const char *const ids[] = {"a", "Z9", "wav-e-03", "a.b_c"}, *const others[] = {"", "9a", "-a", "a b", "a\"b", "\u00e9", "a/b"};
    char longest[65];
    memset(longest, 'x', sizeof longest);
    for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
        cr_expect(text_is_id(ids[i], strlen(ids[i])), "%s", ids[i]);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        cr_expect_not(text_is_id(others[i], strlen(others[i])), "%s", others[i]);
    cr_expect(text_is_id(longest, 64));
    cr_expect_not(text_is_id(longest, 65));
    cr_expect_not(text_is_id("ab", 3), "a NUL inside");
}
