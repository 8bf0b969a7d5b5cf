/* What is refused before or while it is parsed: both sides of every limit (bank.h), and bytes that are no text. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "bank/bank.h"
#include "bank/check.h"
#include "trial.h"

/* The words "Look at the shore." of the bank replaced by head, count times the middle, tail. */
static char *with_text(const char *head, const char *middle, size_t count, const char *tail)
{
    struct buffer text = BUFFER_EMPTY;
    char *before = trial_every_element();
    buffer_add(&text, head);
    buffer_add_repeated(&text, middle, count);
    buffer_add(&text, tail);
    char *after = trial_replaced(before, "Look at the shore.", buffer_text(&text), NULL);
    buffer_free(&text);
    free(before);
    return after;
}

static void check_bank(char *text, const char *wanted)
{
    struct messages messages = MESSAGES_EMPTY;
    bool sound = trial_check(text, strlen(text), &messages);
    cr_expect_eq(sound, wanted == NULL, "%s", wanted ? wanted : messages.items[0].text);
    if (wanted)
        trial_one(&messages, "question w02", wanted);
    messages_free(&messages);
    free(text);
}

Test(bank, text_of_a_megabyte_and_no_more, .init = trial_begin, .fini = trial_end)
{
    static const char wanted[] = "this text is longer than 1048576 bytes; divide it into paragraphs";
    check_bank(with_text("", "x", BANK_TEXT_LIMIT, ""), NULL);
    check_bank(with_text("", "x", BANK_TEXT_LIMIT + 1, ""), wanted);
    /* neither comments nor CDATA hide how much there is */
    check_bank(with_text("", "x", BANK_TEXT_LIMIT, "<!-- -->y"), wanted);
    check_bank(with_text("<![CDATA[", "x", BANK_TEXT_LIMIT - 12, "]]>"), NULL);
    check_bank(with_text("y<![CDATA[", "x", BANK_TEXT_LIMIT - 12, "]]>"), wanted);
    check_bank(with_text("x<!--", "x", BANK_TEXT_LIMIT - 7, "-->"), NULL);
    check_bank(with_text("x<!--", "x", BANK_TEXT_LIMIT - 6, "-->"),
               "this comment is longer than 1048576 bytes; shorten it, or look for its missing end");
}

Test(bank, sixty_four_attributes_and_no_more, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    for (int count = BANK_ATTRIBUTE_LIMIT; count <= BANK_ATTRIBUTE_LIMIT + 1; count++) {
        struct buffer text = BUFFER_EMPTY;
        for (int i = 0; i < count; i++)
            buffer_print(&text, " a%d='\">'", i);
        buffer_add(&text, ">");
        char *bank = with_text("x<em", buffer_text(&text), 1, "y</em>");
        cr_expect(!trial_check(bank, strlen(bank), &messages));
        if (count == BANK_ATTRIBUTE_LIMIT)  /* the parser is reached, and the schema knows none of them */
            cr_expect_eq(messages.count, BANK_ATTRIBUTE_LIMIT);
        else
            trial_one(&messages, "question w02", "this tag has more than 64 attributes; take some out");
        messages_free(&messages);
        free(bank);
        buffer_free(&text);
    }
}

Test(bank, tags_of_64_kilobytes_and_no_more, .init = trial_begin, .fini = trial_end)
{
    static const char wanted[] = "this tag is longer than 65536 bytes; shorten it, or look for a missing quotation mark or '>'";
    size_t rest = strlen("<em></em>") - strlen("</em>");
    check_bank(with_text("x<em", " ", BANK_TAG_LIMIT - rest, ">y</em>"), NULL);
    check_bank(with_text("x<em", " ", BANK_TAG_LIMIT - rest + 1, ">y</em>"), wanted);
    check_bank(with_text("x<em a=\"", "y", BANK_TAG_LIMIT, "\">y</em>"), wanted);
    check_bank(with_text("x<em>y</em", " ", BANK_TAG_LIMIT - 5, ">"), NULL);
    check_bank(with_text("x<em>y</em", " ", BANK_TAG_LIMIT - 4, ">"), wanted);
}

/* Inside the paragraph the depth is 4 (bank, question, stem, p). */
Test(bank, elements_64_deep_and_no_more, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    for (int depth = BANK_DEPTH_LIMIT; depth <= BANK_DEPTH_LIMIT + 1; depth++) {
        struct buffer ends = BUFFER_EMPTY;
        buffer_add_repeated(&ends, "</em>", (size_t)depth - 4);
        char *bank = with_text("x", "<em>", (size_t)depth - 4, buffer_text(&ends));
        cr_expect(!trial_check(bank, strlen(bank), &messages));
        const char *last = messages.count ? messages.items[messages.count - 1].text : "";
        bool too_deep = strcmp(last, "elements are nested more than 64 deep here; take some out") == 0;
        cr_expect_eq(too_deep, depth > BANK_DEPTH_LIMIT, "depth %d: %s", depth, last);
        messages_free(&messages);
        free(bank);
        buffer_free(&ends);
    }
}

Test(bank, a_hundred_faults_and_no_more, .init = trial_begin, .fini = trial_end)
{
    static const size_t counts[] = {BANK_FAULT_LIMIT - 1, BANK_FAULT_LIMIT, BANK_FAULT_LIMIT + 1, 20000};
    struct messages messages = MESSAGES_EMPTY;
    for (size_t i = 0; i < 4; i++) {
        char *bank = with_text("x", "<em a=\"\">y</em>", counts[i], "");
        cr_expect(!trial_check(bank, strlen(bank), &messages));
        cr_expect_eq(messages.count, counts[i] < BANK_FAULT_LIMIT ? counts[i] : BANK_FAULT_LIMIT);
        cr_expect_eq(messages.dropped, counts[i] > BANK_FAULT_LIMIT ? 1 : 0, "the reading stops there");
        messages_free(&messages);
        free(bank);
    }
}

Test(bank, files_of_64_megabytes_and_no_more, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    trial_write("bank.xml", "", 0);
    cr_assert_eq(truncate(trial_path("bank.xml"), BANK_FILE_LIMIT + 1), 0);
    cr_expect(!bank_check(trial_path("bank.xml"), &messages, NULL, NULL).sound);
    cr_assert_eq(messages.count, 1);
    cr_expect(strstr(messages.items[0].text, "the most allowed is 67108864"), "%s", messages.items[0].text);
    messages_free(&messages);
    /* One byte less is read: a NUL is what it finds. */
    cr_assert_eq(truncate(trial_path("bank.xml"), BANK_FILE_LIMIT), 0);
    cr_expect(!bank_check(trial_path("bank.xml"), &messages, NULL, NULL).sound);
    trial_one(&messages, NULL, "a NUL byte stands here; a bank is text: take it out or copy the file again");
    messages_free(&messages);
}

Test(bank, only_regular_files_are_read, .init = trial_begin, .fini = trial_end, .timeout = 10)
{
    struct messages messages = MESSAGES_EMPTY;
    cr_assert_eq(mkfifo(trial_path("pipe"), 0600), 0);
    cr_expect(!bank_check(trial_path("pipe"), &messages, NULL, NULL).sound);
    cr_expect(!bank_check(trial_path("figures"), &messages, NULL, NULL).sound);
    cr_expect(!bank_check(trial_path("absent"), &messages, NULL, NULL).sound);
    cr_expect_null(bank_open("/dev/zero", true, &messages));
    cr_expect_eq(messages.count, 4);
    messages_free(&messages);
}

/* ---- Bytes ---- */

struct bytes {
    const char *bytes;
    size_t length;
    unsigned long line, column;
    const char *wanted;
};

#define BYTES(text) text, sizeof(text) - 1
#define HEAD "<?xml version=\"1.0\"?>\n"
#define NO_BANK "no element stands here; a bank begins with <bank xmlns=\"urn:ownmark:bank:1\" id=\"…\">"

/* Ill-formed sequences: Unicode 15, table 3-7 and the examples of section 3.9. */
static const struct bytes no_banks[] = {
    {BYTES(""), 1, 1, "the file is empty; a bank begins with <bank xmlns=\"urn:ownmark:bank:1\" id=\"…\">"},
    {BYTES("\xFF\xFE<\0b\0"), 1, 1, "this is no bank but UTF-16 text: save it as UTF-8"},
    {BYTES("\xFE\xFF\0<\0b"), 1, 1, "this is no bank but UTF-16 text: save it as UTF-8"},
    {BYTES("<\0b\0>\0"), 1, 1, "this is no bank but UTF-16 text: save it as UTF-8"},
    {BYTES("\0<\0b\0>"), 1, 1, "this is no bank but UTF-16 text: save it as UTF-8"},
    {BYTES("\x1F\x8B\x08\0"), 1, 1, "this is no bank but a compressed file (gzip): unpack it first"},
    {BYTES("PK\x03\x04rest"), 1, 1, "this is no bank but a ZIP archive or an office document: name an XML file"},
    {BYTES("SQLite format 3\0"), 1, 1, "this is no bank but a database: name an XML file"},
    {BYTES(HEAD "<bank>\xC3\xA9\0"), 2, 8, "a NUL byte stands here; a bank is text: take it out or copy the file again"},
    {BYTES(HEAD "<bank>\xE9t\xE9"), 2, 7, "the byte 0xE9 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xC0\xAF"), 2, 7, "the byte 0xC0 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xE0\x80\xAF"), 2, 7, "the byte 0xE0 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xED\xA0\x80"), 2, 7, "the byte 0xED is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xF4\x90\x80\x80"), 2, 7, "the byte 0xF4 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xF0\x8F\xBF\xBF"), 2, 7, "the byte 0xF0 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xF5\x80\x80\x80"), 2, 7, "the byte 0xF5 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES(HEAD "<bank>\xE2\x82"), 2, 7, "the byte 0xE2 is not valid UTF-8 here; save the file as UTF-8"},
    {BYTES("<?xml version=\"1.0\" encoding=\"UTF-7\"?><bank/>"), 1, 31,
     "the encoding is 'UTF-7'; wanted UTF-8: save the file as UTF-8 and write encoding=\"UTF-8\""},
    {BYTES("\xEF\xBB\xBF<?xml version=\"1.0\" encoding='UTF-16'?><bank/>"), 1, 32,
     "the encoding is 'UTF-16'; wanted UTF-8: save the file as UTF-8 and write encoding=\"UTF-8\""},
    {BYTES(" \n \n"), 0, 0, NO_BANK},
    {BYTES("just words"), 0, 0, NO_BANK},
};

Test(bank, bytes_that_are_no_bank, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    for (size_t i = 0; i < sizeof no_banks / sizeof *no_banks; i++) {
        const struct bytes *bytes = &no_banks[i];
        cr_expect(!trial_check(bytes->bytes, bytes->length, &messages));
        trial_one(&messages, NULL, bytes->wanted);
        if (messages.count && bytes->line) {
            cr_expect_eq(messages.items[0].place.line, bytes->line, "%s", bytes->wanted);
            cr_expect_eq(messages.items[0].place.column, bytes->column, "%s: %lu", bytes->wanted,
                         messages.items[0].place.column);
        }
        messages_free(&messages);
    }
}

/* Legal in XML 1.0 (fifth edition, 2.2), whatever a terminal would make of them: the rooms that show text see to it. */
Test(bank, what_is_legal_in_text_loads, .init = trial_begin, .fini = trial_end)
{
    check_bank(with_text("", "C1 \xC2\x9B, DEL \x7F, CR &#13;, bidi \xE2\x80\xAE, tags \xF3\xA0\x81\x81, RTL \xD7\xA9", 1, ""), NULL);
    check_bank(with_text("", "noncharacter \xEF\xBF\xBD \xF4\x8F\xBF\xBF %s%n", 1, ""), NULL);
    struct messages messages = MESSAGES_EMPTY;
    struct buffer text = BUFFER_EMPTY;
    char *bank = trial_every_element();
    buffer_add(&text, "\xEF\xBB\xBF");
    buffer_add(&text, bank);
    cr_expect(trial_check(text.text, text.length, &messages), "a byte order mark is no fault");
    buffer_free(&text);
    for (const char *at = bank; *at; at++)
        buffer_add(&text, *at == '\n' ? "\r\n" : (char[]){*at, '\0'});
    cr_expect(trial_check(text.text, text.length, &messages), "line ends with CR are no fault");
    buffer_free(&text);
    free(bank);
}

/* Line numbers of the XML library stop at 65535 in some of its parts; ours do not. */
Test(bank, faults_after_line_65535_have_their_line, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    char *bank = with_text("x", "\n", 70000, "<em a=\"\">y</em>");
    unsigned long line, column;
    trial_place(bank, (size_t)(strstr(bank, "a=\"\"") - bank), &line, &column);
    cr_assert_gt(line, 70000);
    cr_expect(!trial_check(bank, strlen(bank), &messages));
    trial_one(&messages, "question w02", "'em' has no attribute 'a'; take it out");
    cr_expect_eq(messages.items[0].place.line, line);
    cr_expect_eq(messages.items[0].place.column, column);
    messages_free(&messages);
    free(bank);
    bank = with_text("x", "\n", 70000, "&nbsp;");
    trial_place(bank, (size_t)(strstr(bank, "&nbsp;") - bank), &line, &column);
    trial_check(bank, strlen(bank), &messages);
    cr_assert_eq(messages.count, 1);
    cr_expect_eq(messages.items[0].place.line, line);
    messages_free(&messages);
    free(bank);
}

/* An editor's hint where the schema is must neither be followed nor be refused. */
Test(bank, schema_hints_are_passed_over, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    char *before = trial_every_element();
    char *bank = trial_replaced(before, "language=\"en\"", "language=\"en\" xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" "
                                "xsi:schemaLocation=\"urn:ownmark:bank:1 /nowhere.xsd\" xsi:type=\"marks\"", NULL);
    cr_expect(trial_check(bank, strlen(bank), &messages), "%s", messages.count ? messages.items[0].text : "");
    messages_free(&messages);
    free(bank);
    free(before);
}
