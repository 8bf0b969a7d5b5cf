/* Tables made to harm: whatever stands in one, the import takes it whole into a sound bank or leaves the bank's bytes alone, says where
 * the fault is without a control byte, and leaves no file behind. The attacks are those of common practice; no source. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "authoring/sheet.h"
#include "bank/check.h"
#include "base/files.h"
#include "base/random.h"
#include "talk.h"

#define HEADINGS "question,topic,ask,command,objective,marks,point,accept,key,model,group,givens,formula,unit,stem,kind,value\n"

enum { COLUMNS = 17, SEEDS = 150 };

static const char *const good[COLUMNS] = {"h1", "waves", "State one thing.", "state", "AO1", "1", "wind", "gale", "wind / gale", "The wind."};

/* Each of these is put into each cell. */
static const char *const hostile[] = {
    "\x1b[31mred\x1b[0m", "\x1b]52;c;aGk=\x07", "\x1b]0;title\x07", "\x9b" "31m", "\xc2\x9b" "31m", "\x08\x08\x7f", "\xe2\x80\xae" "evil", "\xe2\x81\xa6x",
    "\xff\xfe", "\xc0\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xc3", "\xef\xbb\xbfx", "\xc2\x85", "\xe2\x80\xa8", "\xe2\x80\x8b",
    "=cmd|'/c calc'!A1", "+1+1", "-1+1", "@SUM(A1)", "=HYPERLINK(\"\"x\"\")", "<point/>", "</point></scheme>", "<!-- x", "]]>", "<![CDATA[x]]>",
    "&amp;", "&lt;script&gt;", "&x;", "&#0;", "<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/hostname'>]>", "<?x y?>", "%s%n%d", "{", "}", "{x}", "{{}}",
    "_{", "^{a}{b}", "*{*{*{x}}}", "|", "| |", "/ / /", "!", "! | !", "../../etc/passwd", "/etc/passwd", "CON", "a b c", "\"\"", "\"\"\"\"",
    "any 0", "any 99", "any -1", "list 1e9", "level 1-0", "level 9999999999999", "route ", "cap x", "band", "indicative", "all", "(((", "1e400", "-0",
    "nan", "inf", "0x10", "1/0", "((((((((((1", "sqrt(-1)", "H = 1 to 1e9 by 1e-9 [m] x", "H = nan [m] x", "H = 1 [m] a | H = 2 [m] b", "H = : H to 0 places",
    "9223372036854775808", "-9223372036854775809", "1 mark", "\xe7\x95\x8c\xe7\x95\x8c", "\xf0\x9f\x98\x80", "a\xcc\x80\xcc\x80\xcc\x80\xcc\x80\xcc\x80\xcc\x80",
};

static struct talk talk;
static char table[96], *before;
static struct messages messages;

static void set_up(void)
{
    talk_set_up(&talk, "tests/data/cycle.xml");
    snprintf(table, sizeof table, "%s/table.csv", talk.folder);
    before = talk_read(talk.bank);
}

static void tear_down(void)
{
    free(before);
    messages_free(&messages);
    talk_tear_down(&talk);
}

#define HOSTILE(name) Test(hostile, name, .init = set_up, .fini = tear_down, .timeout = 120)

static void expect_no_control(const char *what)
{
    struct buffer said = BUFFER_EMPTY;
    messages_render(&messages, 0, &said);
    for (const unsigned char *at = (const unsigned char *)buffer_text(&said); *at; at++)
        cr_assert(*at == '\n' || (*at >= ' ' && *at != 0x7f), "%s: a control byte in:\n%s", what, buffer_text(&said));
    cr_assert(strstr(buffer_text(&said), "\xc2\x9b") == NULL && strstr(buffer_text(&said), "\xe2\x80\xae") == NULL, "%s", what);
    buffer_free(&said);
}

static void expect_only(size_t files)
{
    struct dirent *entry;
    DIR *folder = opendir(talk.folder);
    size_t found = 0;
    while ((entry = readdir(folder)) != NULL)
        found += entry->d_name[0] != '.' && strcmp(entry->d_name, "ownmark") != 0;
    closedir(folder);
    cr_assert_eq(found, files, "%zu files are left", found);
}

/* True: it was taken, and the bank was put back. */
static bool import(const char *bytes, size_t length, const char *what)
{
    struct sheet_result result;
    struct messages put = MESSAGES_EMPTY;
    cr_assert(file_write(table, bytes, length, 0600, true, &put));
    messages_free(&messages);
    messages = MESSAGES_EMPTY;
    bool taken = sheet_import(table, talk.bank, false, false, &result, &messages);
    char *now = talk_read(talk.bank);
    cr_assert_eq(taken, messages.errors == 0, "%s", what);
    if (taken)
        cr_assert(bank_check_bytes(talk.bank, now, strlen(now), &messages).sound, "%s", what);
    else
        cr_assert_str_eq(now, before, "%s", what);
    for (size_t i = 0; i < messages.count; i++)
        cr_assert(messages.items[i].place.file || messages.items[i].text, "%s", what);
    expect_no_control(what);
    if (strcmp(now, before) != 0)
        talk_write(talk.bank, before);
    free(now);
    return taken;
}

static void add_cell(struct buffer *out, const char *text, bool quoted, bool last)
{
    buffer_print(out, "%s%s%s%s", quoted ? "\"" : "", text, quoted ? "\"" : "", last ? "\n" : ",");
}

HOSTILE(every_attack_in_every_cell)
{
    for (size_t i = 0; i < sizeof hostile / sizeof *hostile; i++)
        for (size_t column = 0; column < COLUMNS; column++) {
            struct buffer text = BUFFER_EMPTY;
            buffer_add(&text, HEADINGS);
            for (size_t k = 0; k < COLUMNS; k++)
                add_cell(&text, k == column ? hostile[i] : good[k] ? good[k] : "", true, k + 1 == COLUMNS);
            import(buffer_text(&text), text.length, hostile[i]);
            buffer_free(&text);
        }
    expect_only(2);
}

/* Rows of any length, of good and bad cells, with quotes that need not close and NUL bytes. */
HOSTILE(tables_of_anything)
{
    size_t taken = 0;
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct random_source source = {seed};
        struct buffer text = BUFFER_EMPTY;
        char what[32];
        snprintf(what, sizeof what, "seed %lu", (unsigned long)seed);
        buffer_add(&text, random_below(&source, 10) ? HEADINGS : "question,question,\n");
        for (size_t rows = random_below(&source, 6); rows > 0; rows--) {
            size_t bad = random_below(&source, 3 * COLUMNS), cells = random_below(&source, 8) ? COLUMNS : random_below(&source, 40) + 1;
            for (size_t k = 0; k < cells; k++)
                add_cell(&text, k == bad ? hostile[random_below(&source, sizeof hostile / sizeof *hostile)] : k < COLUMNS && good[k] ? good[k] : "",
                         random_below(&source, 3) == 0, k + 1 == cells);
        }
        if (random_below(&source, 12) == 0)
            buffer_add_character(&text, random_below(&source, 2) ? '"' : '\0');
        taken += import(buffer_text(&text), text.length, what);
        buffer_free(&text);
    }
    cr_expect(taken > SEEDS / 20 && taken < SEEDS, "%zu of %d were taken", taken, SEEDS);
}

static void repeat(struct buffer *out, const char *text, size_t times)
{
    for (size_t i = 0; i < times; i++)
        buffer_add(out, text);
}

HOSTILE(tables_that_are_too_large)
{
    struct buffer text = BUFFER_EMPTY;
    buffer_add(&text, HEADINGS "h1,waves,");
    repeat(&text, "State one thing. ", 400000);
    buffer_add(&text, ",state,AO1,1,wind\n");
    cr_expect_not(import(buffer_text(&text), text.length, "a cell of 6 MB"));
    buffer_clear(&text);
    buffer_add(&text, HEADINGS "h1,waves,State.,state,AO1,1,wind\n");
    repeat(&text, "h1,,,,,,wind\n", 1000000);
    cr_expect_not(import(buffer_text(&text), text.length, "a million rows of one question"));
    buffer_clear(&text);
    repeat(&text, "question,", 200000);
    cr_expect_not(import(buffer_text(&text), text.length, "200,000 columns"));
    buffer_clear(&text);
    buffer_add(&text, HEADINGS);
    repeat(&text, "\"", 2000001);
    cr_expect_not(import(buffer_text(&text), text.length, "two million quotes"));
    buffer_clear(&text);
    buffer_add(&text, HEADINGS);
    repeat(&text, "\n", 2000000);
    import(buffer_text(&text), text.length, "two million empty rows");
    buffer_free(&text);
    expect_only(2);
}

HOSTILE(ten_thousand_questions_at_once)
{
    struct buffer text = BUFFER_EMPTY;
    buffer_add(&text, HEADINGS);
    for (int i = 0; i < 10000; i++)
        buffer_print(&text, "h%d,waves,State one thing.,state,AO1,1,wind\n", i);
    cr_expect(import(buffer_text(&text), text.length, "ten thousand questions"));
    buffer_free(&text);
}
