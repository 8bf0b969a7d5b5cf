/* Raised and lowered characters, against the compatibility decompositions of the Unicode Character Database as
 * libunistring 1.0 has them (uc_decomposition): <super> and <sub>. */
#include <criterion/criterion.h>
#include <string.h>
#include <uninorm.h>
#include <unistr.h>

#include "base/buffer.h"
#include "report/marked.h"

static void check_form(const char *plain, bool raised)
{
    struct buffer out = BUFFER_EMPTY;
    if (!script_add(&out, plain, raised))
        return;
    ucs4_t form, wanted, decomposed[UC_DECOMPOSITION_MAX_LENGTH];
    u8_mbtouc(&form, (const uint8_t *)out.text, out.length);
    u8_mbtouc(&wanted, (const uint8_t *)plain, strlen(plain));
    int tag, count = uc_decomposition(form, &tag, decomposed);
    cr_expect(count == 1 && tag == (raised ? UC_DECOMP_SUPER : UC_DECOMP_SUB), "form of %s", plain);
    if (strcmp(plain, "-") == 0)
        wanted = 0x2212; /* the hyphen stands for a minus */
    cr_expect(decomposed[0] == wanted, "form of %s", plain);
    buffer_free(&out);
}

Test(report, scripts_are_the_forms_unicode_gives)
{
    for (char character = '!'; character <= '~'; character++) {
        check_form((char[]){character, '\0'}, true);
        check_form((char[]){character, '\0'}, false);
    }
    check_form("\u2212", true);
    check_form("\u2212", false);
}

Test(report, scripts_know_digits_and_signs)
{
    struct buffer out = BUFFER_EMPTY;
    cr_expect(script_add(&out, "0123456789+-=()n", true));
    cr_expect(script_add(&out, "0123456789+-=()aeox", false));
    cr_expect(strcmp(buffer_text(&out), "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁼⁽⁾ⁿ₀₁₂₃₄₅₆₇₈₉₊₋₌₍₎ₐₑₒₓ") == 0);
    buffer_free(&out);
}
