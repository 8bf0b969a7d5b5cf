/* Banks laid out afresh say what they said, keep their comments, and are left alone the second time. The layout is the
 * program's own. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "bank/tidy.h"

static struct messages messages;
static struct buffer out;
static char path[] = "/tmp/ownmark-tidy-XXXXXX";

static void tear_down(void)
{
    buffer_free(&out);
    messages_free(&messages);
    unlink(path);
}

static void put(const char *text)
{
    FILE *file = strstr(path, "XXXXXX") ? fdopen(mkstemp(path), "w") : fopen(path, "w");
    cr_assert(file != NULL);
    fputs(text, file);
    fclose(file);
}

static const char *tidy_text(const char *text)
{
    buffer_clear(&out);
    put(text);
    bool tidied = bank_tidy(path, &out, &messages);
    messages_print(&messages);
    cr_assert(tidied);
    return buffer_text(&out);
}

#define COURSE "<course name='Coastal Science' paper-marks='60' paper-minutes='60'><objective kind='know' share='100' id='AO1'>Know" \
    "</objective><topic id='waves' name='Waves' share='100'/></course>"
#define QUESTION(id, inside) "<question topic='waves' id='" id "'><part marks='1' command='state' objective='AO1'><ask><p>State a" \
    "\n   fact.</p></ask><scheme>" inside "</scheme></part></question>"
#define BANK(inside) "<bank id='b' xmlns='urn:ownmark:bank:1'>" inside "</bank>"

#define EXPECT(words) cr_expect(strstr(buffer_text(&out), words), "[%s] is not in\n%s", words, buffer_text(&out))

Test(bank, tidy_lays_out_a_bank_on_one_line, .fini = tear_down)
{
    tidy_text(BANK(COURSE QUESTION("q", "<point>a fact</point>")));
    cr_expect_str_eq(buffer_text(&out),
                     "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<bank xmlns=\"urn:ownmark:bank:1\" id=\"b\">\n"
                     "  <course name=\"Coastal Science\" paper-marks=\"60\" paper-minutes=\"60\">\n"
                     "    <objective id=\"AO1\" share=\"100\" kind=\"know\">Know</objective>\n"
                     "    <topic id=\"waves\" name=\"Waves\" share=\"100\"/>\n"
                     "  </course>\n"
                     "\n"
                     "  <question id=\"q\" topic=\"waves\">\n"
                     "    <part objective=\"AO1\" command=\"state\" marks=\"1\">\n"
                     "      <ask><p>State a fact.</p></ask>\n"
                     "      <scheme>\n"
                     "        <point>a fact</point>\n"
                     "      </scheme>\n"
                     "    </part>\n"
                     "  </question>\n"
                     "</bank>\n");
}

Test(bank, tidy_keeps_comments_wherever_they_stand, .fini = tear_down)
{
    tidy_text("<!-- first --><?editor soft wrap?>" BANK(COURSE "<!-- over q\n     two lines -->"
              QUESTION("q", "<!-- in the scheme --><point>a <!-- in the point --> fact <key>fact</key></point>") "<!-- last -->")
              "<!-- behind -->");
    EXPECT("?>\n<!-- first -->\n<?editor soft wrap?>\n<bank");
    EXPECT("\n\n  <!-- over q\n     two lines -->\n  <question");
    EXPECT("        <!-- in the scheme -->\n");
    EXPECT("<!-- in the point -->");
    EXPECT("<!-- last -->\n</bank>\n<!-- behind -->\n");
    struct buffer first = BUFFER_EMPTY;
    buffer_add(&first, buffer_text(&out));
    cr_expect_str_eq(tidy_text(buffer_text(&first)), buffer_text(&first));
    buffer_free(&first);
}

Test(bank, tidy_keeps_comments_among_words, .fini = tear_down)
{
    tidy_text(BANK(COURSE "<question topic='waves' id='q'><stem><p>One<!-- here --> two <em>three</em>.</p></stem>"
              "<part marks='1' command='state' objective='AO1'><ask><p>State.</p></ask><scheme><point>x</point></scheme></part>"
              "</question>"));
    EXPECT("<stem><p>One<!-- here --> two <em>three</em>.</p></stem>");
    tidy_text(BANK(COURSE "<question topic='waves' id='q'><stem><p>One <em>th<!-- there -->ree</em>.</p></stem>"
              "<part marks='1' command='state' objective='AO1'><ask><p>State.</p></ask><scheme><point>x</point></scheme></part>"
              "</question>"));
    EXPECT("<stem><p>One <!-- there --><em>three</em>.</p></stem>");
}

Test(bank, tidy_reads_character_data_and_keeps_foreign_names, .fini = tear_down)
{
    tidy_text("<bank id='b' xmlns='urn:ownmark:bank:1' xmlns:x='urn:x'><course name='A &amp; B' paper-marks='60' paper-minutes='60'>"
              "<objective kind='know' share='100' id='AO1'>Know</objective><topic id='waves' name='Waves' share='100'/></course>"
              "<question topic='waves' id='q'><part marks='1' command='state' objective='AO1'><ask><p>1 <![CDATA[< 2 & 3]]></p>"
              "</ask><scheme><point>x</point></scheme></part></question></bank>");
    EXPECT("<bank xmlns=\"urn:ownmark:bank:1\" xmlns:x=\"urn:x\" id=\"b\">");
    EXPECT("name=\"A &amp; B\"");
    EXPECT("<p>1 &lt; 2 &amp; 3</p>");
}

static void expect_clean(const char *bank)
{
    buffer_clear(&out);
    cr_assert(bank_tidy(bank, &out, &messages), "%s", bank);
    cr_expect(strstr(buffer_text(&out), " \n") == NULL, "%s: blanks at the end of a line", bank);
    cr_expect_eq(out.text[out.length - 1], '\n');
}

Test(bank, tidy_takes_every_element, .fini = tear_down)
{
    expect_clean("tests/data/every-element.xml");
    expect_clean("tests/data/weak.xml");
}

Test(bank, tidy_refuses_what_is_no_sound_bank, .fini = tear_down)
{
    put(BANK(COURSE QUESTION("q", "")));
    cr_expect_not(bank_tidy(path, &out, &messages));
    cr_expect_geq(messages.errors, 1);
    put("<!DOCTYPE bank [<!ENTITY x 'y'>]>" BANK(COURSE QUESTION("q", "<point>&x;</point>")));
    cr_expect_not(bank_tidy(path, &out, &messages));
}
