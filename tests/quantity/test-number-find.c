/* Numbers in prose. The sentences are our own. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "base/buffer.h"
#include "base/random.h"
#include "quantity/number.h"

/* The numbers found, as "a|b|c" of the pieces of text they stand on. */
static char *pieces(const char *text)
{
    struct number found[16];
    struct buffer out = BUFFER_EMPTY;
    size_t count = numbers_find(text, found, 16);
    for (size_t i = 0; i < count; i++) {
        buffer_add(&out, i > 0 ? "|" : "");
        buffer_add_bytes(&out, text + found[i].start, found[i].length);
    }
    buffer_add(&out, "");
    return buffer_take(&out);
}

static void expect_pieces(const char *text, const char *wanted)
{
    char *found = pieces(text);
    cr_expect_str_eq(found, wanted, "in \"%s\" found '%s', wanted '%s'", text, found, wanted);
    free(found);
}

Test(quantity, numbers_in_prose)
{
    static const struct { const char *text, *pieces; } cases[] = {
        {"", ""}, {"No number here.", ""},
        {"so P = 23 kW per metre", "23"},
        {"The wave is 2.5 m high and 120 m long.", "2.5|120"},
        {"It took 3.0 × 10⁻³ s, not 4.0e-3 s", "3.0 × 10⁻³|4.0e-3"},
        {"The answer is 5.", "5"}, {"The answer is 5, or 6.", "5|6"}, {"the cost was £3.50.", "£3.50"},
        {"between 3 and 5 metres", "between 3 and 5"}, {"a depth of 3 to 5 m", "3 to 5"}, {"rises from 3 to 5 m", "from 3 to 5"},
        {"falls from 5 to 3 m", "5|3"}, {"about 3–5 cm", "3–5"}, {"3-5 cm", "3-5"}, {"5 - 3 = 2", "5|3|2"}, {"5-3 = 2", "5|3|2"}, {"8−3 = 5", "8|3|5"},
        {"12 – 20 = −8", "12|20|−8"}, {"x = -4", "-4"}, {"(−4)", "−4"}, {"46/2 = 23", "46/2|23"}, {"4.6/2.0 = 2.3", "4.6|2.0|2.3"},
        {"2 × 3 = 6", "2|3|6"}, {"2x3 = 6", "2|3|6"}, {"2 x 10 = 20", "2|10|20"}, {"a rise of 12 %", "12 %"}, {"up 40 per cent", "40 per cent"},
        {"20 ± 0.5 cm", "20 ± 0.5"}, {"1,250 kg and 1 250 kg", "1,250|1 250"}, {"½ of it", "½"}, {"2½ hours", "2½"}, {"2 1/2 hours", "2 1/2"},
        {"~5.0 m", "~5.0"}, {"≈ 5.0 m", "≈ 5.0"}, {"a=9.81m/s2", "9.81"}, {"5kg and 7µm", "5|7"}, {"0.30 m, 0.45 m; 0.60 m", "0.30|0.45|0.60"},
        {"line one 5\nline two 6", "5|6"}, {"1 250 ", "1 250"}, {"… .5 m", ".5"}, {"speed...5 m/s", "5"}, {"10 m s^-1", "10"}, {"10 m s⁻¹", "10"},
        {"10 kg m-3", "10"}, {"E = 6.0 V", "6.0"}, {"- 5 m of rope", "5"}, {"20%-30% more", "20%-30%"}, {"£ 4 or € 5", "£ 4|€ 5"},
        {"twice 7", "7"}, {"at 14:30", "14|30"}, {"10⁵ Pa", "10⁵"}, {"1e5 Pa", "1e5"}, {"the sum 5+3", "5|3"},
        {"costs £1.2 million.", "£1.2 million"}, {"4.95 m/s (3 s.f.)", "4.95"}, {"4.9 to 2 sf", "4.9"}, {"1.25 to 3 significant figures or 2 d.p.", "1.25"}, {"over 10^-5 m", "10^-5"}, {"it is 0.125 3 times", "0.125|3"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        expect_pieces(cases[i].text, cases[i].pieces);
}

Test(quantity, digits_that_are_no_numbers)
{
    static const struct { const char *text, *pieces; } cases[] = {
        {"CO2 and H₂O and SO₄²⁻", ""}, {"Fe3+ is oxidised", ""}, {"carbon-14 decays", ""}, {"in part 2b", ""}, {"Part 3 asks", ""}, {"see Figure 3 and table 12", ""},
        {"Fig. 4 shows", ""}, {"AO2 and AO 3", ""}, {"the 2nd wave, the 1st and 4th", ""}, {"x2 + y_1 + z_{3}", ""}, {"m^2 and s^-1 and x^(2)", ""},
        {"5² and 3^2", ""}, {"a 3D model", ""}, {"2b or not", ""}, {"1.2.3 and 12,50,3", ""}, {"on 2026-05-18", ""}, {"3/5/2024", ""}, {"1/0", ""},
        {"1) erosion\n2) deposition", ""}, {"1. waves break\n2. sand moves", ""}, {"(1) one\n(2) two", ""}, {"1: waves", ""}, {" 2.  sand 5 m", "5"},
        {"1. 5 m\n2. 6 m", "5|6"}, {"23.5 m", "23.5"}, {"5.", "5"}, {"(5)", "5"}, {"2CO₂ + 3", "3"}, {"the value 1.2e", ""}, {"\xff 5 \xff", "5"},
        {"12345678901234567890123456789012345678901 m", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        expect_pieces(cases[i].text, cases[i].pieces);
}

Test(quantity, numbers_find_stops_at_the_limit)
{
    struct number found[2];
    cr_expect_eq(numbers_find("1.5 2.5 3.5 4.5", found, 2), 2);
    cr_expect_eq(found[1].approximate, 2.5);
    cr_expect_eq(numbers_find("1.5 2.5", found, 0), 0);
}

Test(quantity, numbers_in_prose_keep_their_parts)
{
    struct number found[4];
    cr_assert_eq(numbers_find("A pipe of 100. Then 1.20 × 10³ m, then 30 %.", found, 4), 3);
    cr_expect_eq(found[0].figures_low, 1, "the full stop is the sentence's");
    cr_expect_eq(found[1].figures_low, 3);
    cr_expect_eq(found[1].form, NUMBER_STANDARD_FORM);
    cr_expect_eq(found[2].form, NUMBER_PERCENT);
    cr_expect(found[2].percent);
}

/* Any text at all: pieces lie in the text, in order, without overlap. */
Test(quantity, pieces_are_ordered_for_any_text)
{
    static const char *const parts[] = {"1", "2,5", ".", ",", " ", "-", "–", "−", "×", "10", "^", "⁻", "³", "½", "/", "£", "%", "±", "to", "between",
                                        "and", "e", "E", "x", "kg", "m", "s", "CO", "\n", "(", ")", "~", "0", "00", "\xff", "µ", "_", "=", "th"};
    struct random_source source = {20260518};
    for (int round = 0; round < 3000; round++) {
        struct buffer text = BUFFER_EMPTY;
        for (uint64_t n = random_below(&source, 14) + 1; n > 0; n--)
            buffer_add(&text, parts[random_below(&source, sizeof parts / sizeof *parts)]);
        struct number found[16];
        size_t count = numbers_find(text.text, found, 16), reached = 0;
        for (size_t i = 0; i < count; i++) {
            bool inside = found[i].start >= reached && found[i].length > 0 && found[i].start + found[i].length <= text.length;
            cr_assert(inside, "seed 20260518: \"%s\"", text.text);
            reached = found[i].start + found[i].length;
        }
        buffer_free(&text);
    }
}
