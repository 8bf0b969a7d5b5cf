/* Locale encodings. Latin-1 bytes are those of ISO/IEC 8859-1; the ASCII neighbours are our own choice. */
#include <criterion/criterion.h>
#include <string.h>

#include "terminal/charset.h"

static void check_outward(const char *codeset, const char *text, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    charset_set(codeset);
    charset_add_outward(&out, text);
    cr_expect(strcmp(buffer_text(&out), expected) == 0, "%s: got [%s]", codeset, buffer_text(&out));
    buffer_free(&out);
    charset_set("UTF-8");
}

Test(terminal, charset_shows_what_the_locale_has)
{
    check_outward("UTF-8", "na\u00efve \u2265 \u2212\u00bd", "na\u00efve \u2265 \u2212\u00bd");
    check_outward("ISO-8859-1", "na\u00efve \u2265 \u2212\u00bd", "na\xefve <U+2265> -\xbd");
    check_outward("ANSI_X3.4-1968", "na\u00efve 5\u00a0m \u2018x\u2019\u2026", "na<U+00EF>ve 5 m 'x'...");
    check_outward("NO-SUCH-SET", "a\u2265b\n", "a<U+2265>b\n");
    check_outward("ANSI_X3.4-1968", "\U0001d6fc", "<U+1D6FC>");
}

static void check_inward(const char *codeset, const char *typed, const char *expected)
{
    struct buffer out = BUFFER_EMPTY;
    charset_set(codeset);
    buffer_add(&out, "kept:");
    bool good = charset_add_inward(&out, typed, strlen(typed));
    cr_expect(good == (expected != NULL), "%s", codeset);
    cr_expect(strcmp(buffer_text(&out) + 5, expected ? expected : "") == 0, "got [%s]", buffer_text(&out));
    buffer_free(&out);
    charset_set("UTF-8");
}

Test(terminal, charset_reads_what_was_typed)
{
    check_inward("UTF-8", "na\u00efve", "na\u00efve");
    check_inward("UTF-8", "\xff\xfe\x80", NULL);
    check_inward("UTF-8", "\xc3", NULL);
    check_inward("ISO-8859-1", "na\xefve", "na\u00efve");
    check_inward("ANSI_X3.4-1968", "na\u00efve", "na\u00efve");
    check_inward("ANSI_X3.4-1968", "\xef", NULL);
    check_inward("UTF-8", "", "");
}

Test(terminal, charset_reads_long_texts_of_the_locale)
{
    char typed[1001];
    struct buffer out = BUFFER_EMPTY;
    memset(typed, 0xe9, 1000);
    typed[1000] = '\0';
    charset_set("ISO-8859-1");
    cr_expect(charset_add_inward(&out, typed, 1000));
    cr_expect(out.length == 2000 && memcmp(out.text + 1998, "\u00e9", 2) == 0);
    buffer_free(&out);
    charset_set("UTF-8");
}
