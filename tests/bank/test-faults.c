/* Each kind of fault: what is said, where, and about which question. The places are counted by the test in the changed
 * text; the sentences are our own. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "trial.h"

#define NAMESPACE "urn:ownmark:bank:1"
#define ID_WANTED "an id: a letter, then letters, digits, '.', '_' or '-', 64 at most in all"

struct fault {
    const char *from, *to;
    const char *at;         /* the fault is shown at the last place of this text up to the end of the change; or, after
                               a '>', at its first place behind that */
    const char *subject, *text;
};

static const struct fault faults[] = {
    /* values of attributes */
    {"demand=\"standard\"", "demand=\"hard\"", "demand=", "question w01",
     "the attribute 'demand' of 'question' is 'hard'; wanted low, standard or high"},
    {"id=\"w01\"", "id=\"0 1\"", "id=", "question 0 1", "the attribute 'id' of 'question' is '0 1'; wanted " ID_WANTED},
    {"also=\"waves.tides\"", "also=\"waves.tides 9x\"", "also=", "question w01",
     "the attribute 'also' of 'question' is '9x'; wanted " ID_WANTED},
    {"also=\"waves.tides\"", "also=\" \"", "also=", "question w01",
     "the attribute 'also' of 'question' is empty; wanted ids with spaces between them"},
    {"command=\"name\" marks=\"2\"", "command=\"name\" marks=\"two\"", "marks=", "question w02",
     "the attribute 'marks' of 'part' is 'two'; wanted a whole number of marks from 1 to 1000"},
    {"command=\"name\" marks=\"2\"", "command=\"name\" marks=\"0\"", "marks=", "question w02",
     "the attribute 'marks' of 'part' is '0'; wanted a whole number of marks from 1 to 1000"},
    {"<level marks=\"1-2\">", "<level marks=\"few\">", "marks=", "question w02",
     "the attribute 'marks' of 'level' is 'few'; wanted marks such as 3 or 3-4"},
    {"figures=\"2\"", "figures=\"16\"", "figures=", "question w01",
     "the attribute 'figures' of 'number' is '16'; wanted a number of significant figures from 1 to 15"},
    {"unit-penalty=\"no\"", "unit-penalty=\"never\"", "unit-penalty=", "question w01",
     "the attribute 'unit-penalty' of 'scheme' is 'never'; wanted yes or no"},
    {"choices=\"1.2 1.5 2.0\"", "choices=\"1.2 1,5\"", "choices=", "question w01",
     "the attribute 'choices' of 'given' is '1,5'; wanted a number such as 12, 0.50 or 6.4e6"},
    {"share=\"40\" kind=\"know\"", "share=\"140\" kind=\"know\"", "share=", "course",
     "the attribute 'share' of 'objective' is '140'; wanted a share in per cent, from 0 to 100"},
    /* attributes */
    {"marks=\"3\" skills", "mark=\"3\" skills", "mark=", "question w01",
     "'part' has no attribute 'mark'; did you mean 'marks'?"},
    {"demand=\"high\"", "demand=\"high\" colour=\"red\"", "colour=", "question w02",
     "'question' has no attribute 'colour'; take it out"},
    {"<trap>", "<trap xml:lang=\"en\">", "xml:lang=", "course", "'trap' has no attribute 'xml:lang'; take it out"},
    {" topic=\"shore\" demand", " demand", "<question", "question w02",
     "'question' lacks the attribute 'topic'; wanted " ID_WANTED},
    {"<question id=\"w02\"", "<question", "<question", "question number 2",
     "'question' lacks the attribute 'id'; wanted " ID_WANTED},
    /* elements */
    {"<caution>", "<warning>x</warning><caution>", "<warning>", "question w02",
     "'warning' may not stand here in 'question'; wanted <caution>, <given> or <part>"},
    {"<any take=\"2\">", "<any take=\"2\"><poimt>x</poimt>", "<poimt>", "question w02",
     "'poimt' is no element of a bank; did you mean 'point'? Here 'any' wants <point>, <all>, <any>, <list> or <routes>"},
    {"<ask><p>Name two molluscs.</p></ask>", "", "><scheme", "question w02",
     "'scheme' may not stand here in 'part'; wanted <ask>"},
    {"<strand name=\"Argument\"/>", "<strand name=\"Argument\"/><quality/>", "<quality/>", "question w02",
     "'quality' may not stand here in 'levels'; wanted <strand>, <cap> or <indicative>"},
    {"<item>The buoy floats freely.</item>\n        <item>The water is deep.</item>", "", "<list>", "question w01",
     "'list' is not complete; wanted <item> before its end"},
    {"<trap>The unit is left out.", "<trap>The <em>unit</em>.", "<em>", "course",
     "'em' may not stand in 'trap'; wanted text only"},
    {"<trap>The unit is left out.", "<trap> ", "<trap>", "course", "'trap' has no text; wanted some words"},
    {"<scheme working", "loose words <scheme working", "loose", "question w01",
     "the text 'loose words' may not stand here in 'part'; put it into one of its elements, or take it out"},
    {"height <value of=\"H\"/>", "height <value of=\"H\">x</value>", "<value", "question w01",
     "'value' holds something; wanted nothing between its tags"},
    {"<stem><p>Look", "<stem><include xmlns=\"http://www.w3.org/2001/XInclude\" href=\"/etc/passwd\"/><p>Look",
     "<include", "question w02", "'include' may not stand here in 'stem'; wanted <p>, <list>, <table>, <figure> or <source>"},
    /* what the schema cannot say of a question's form */
    {"<p>Name two molluscs.</p>", "<p> <em> </em></p>", "<em>", "question w02", "'em' has no text; wanted some words"},
    {"<p>Name two molluscs.</p>", "<p> <!-- later --> </p>", "<p>", "question w02", "'p' has no text; wanted some words"},
    {"<cell>Tuesday</cell>", "", "<row>", "question w01",
     "this row has 1 cells and the first row of the table 2; give every row the same number"},
    {" symbol=\"n\" value=\"12\"", " symbol=\"n\"", "<given", "question w01",
     "the given 'n' has no value; wanted one of value, choices, from with to and step, or formula with places"},
    {" symbol=\"n\" value=\"12\"", " symbol=\"n\" value=\"12\" formula=\"2*T\"", "<given", "question w01",
     "the given 'n' has more than one kind of value; wanted one of value, choices, from with to and step, or formula "
     "with places"},
    {" step=\"0.5\"", "", "<given", "question w01", "the given 'T' lacks 'step'; a range wants from, to and step"},
    {" places=\"0\"", "", "<given", "question w01",
     "the given 't' has a formula but no places; say to how many decimal places its value is shown"},
    {" symbol=\"n\" value=\"12\"", " symbol=\"n\" value=\"12\" places=\"1\"", "<given", "question w01",
     "the given 'n' has places but no formula; take places out"},
    {" figures=\"2\"/>", " figures=\"2\" places=\"1\"/>", "<number", "question w01",
     "'number' demands figures and places; keep one"},
    {" figures=\"2\"/>", " figures=\"2\" value=\"1\"/>", "<number", "question w01",
     "'number' has a value and a formula; keep one"},
    {"formula=\"P*50*60\" ", "", "<number", "question w01",
     "'number' has no value; wanted one of value, formula, or from and to"},
    {" to=\"20\"", "", "<number", "question w01", "'number' lacks 'to'; an interval wants from and to"},
    {"from=\"0\" to=\"20\"", "from=\"30\" to=\"20\"", "from=", "question w01",
     "the interval goes from 30 to 20; write the lower number first"},
    {"<key>whelk</key>", "<key> / </key>", "<key>", "question w02",
     "'key' has no word; wanted a word, or several with '/' between them"},
    {"<at level=\"2\">", "<at level=\"1\">", "level=", "question w02",
     "the strand 'Use of the data' describes level 1 twice; keep one"},
    {"<topic id=\"waves\" name", "<topic id=\"waves\" share=\"50\" name", "share=", "course",
     "the topic 'waves' has sub-topics, and its share is their sum; take its own share out"},
    {"name=\"Rocky-shore ecology\" share=\"50\"", "name=\"Rocky-shore ecology\"", "<topic", "course",
     "the topic 'shore' has neither a share nor sub-topics; give it its share of the marks in per cent"},
    {"<part id=\"b\" objective=\"AO2\" command=\"explain\"", "<part objective=\"AO2\" command=\"explain\"", "<part",
     "question w02", "part 2 has no id; give each part its own, such as \"b\""},
    /* XML itself; the parser names the place at which it gave up */
    {"Look at the shore", "Look&nbsp;at the shore", NULL, "question w02",
     "the entity '&nbsp;' is not known in XML; write the character itself or &#160;"},
    {"Look at the shore", "Look&mine;at the shore", NULL, "question w02",
     "the entity '&mine;' is not known; write the character itself or its number, such as &#160; for a no-break space"},
    {"Look at the shore", "R & D", NULL, "question w02",
     "a name is missing here; write &lt; for the character '<' and &amp; for '&'"},
    {"</caution>", "</cautio>", NULL, "question w02",
     "'caution' of line 124 is closed by '</cautio>'; close each element inside the one it stands in"},
    {"demand=\"high\"", "demand=\"high\" demand=\"low\"", NULL, NULL,
     "the attribute 'demand' stands twice in this tag; keep one"},
    {"demand=\"high\"", "demand=high", NULL, NULL, "a value without quotation marks; write name=\"value\""},
    {"demand=\"high\"", "demand", NULL, NULL, "the attribute 'demand' has no value; write name=\"value\""},
    {"Look at the shore", "Look &#27;[2J", NULL, "question w02",
     "a character that XML does not allow stands here; take it out"},
    {"Look at the shore", "Look \x1B[2J", NULL, "question w02",
     "a character that XML does not allow stands here; take it out"},
    {"Look at the shore", "Look ]]> there", NULL, "question w02", "']]>' in text; write ]]&gt; for it"},
    {"<!-- or rule=\"first\" -->", "<!-- or -- so -->", NULL, "question w02",
     "'--' inside a comment; XML does not allow it: write a dash or one hyphen"},
    {"<trap>", "<trap x:y=\"1\">", NULL, "course", "the prefix 'x' is not declared; write the name without a prefix"},
    {"</bank>", "", NULL, NULL, "the file ends before 'bank' is closed; the end is missing, or was not copied"},
    {"</bank>", "</bank><bank/>", NULL, NULL,
     "something stands behind the end of the bank; take it out, or look for an end tag that comes too early"},
    /* the root */
    {"<bank xmlns=\"" NAMESPACE "\"", "<bank", "<bank", NULL,
     "'bank' has no namespace; wanted <bank xmlns=\"" NAMESPACE "\" …>"},
    {"<bank xmlns=\"" NAMESPACE "\"", "<bank xmlns=\"urn:other\"", "<bank", NULL,
     "the namespace of 'bank' is 'urn:other'; wanted xmlns=\"" NAMESPACE "\""},
    {"<bank xmlns", "<quiz xmlns", "<quiz", NULL,
     "the file begins with 'quiz'; wanted <bank xmlns=\"" NAMESPACE "\" id=\"…\">"},
    {"<trap>", "<b:trap xmlns:b=\"" NAMESPACE "\">", "<b:trap", "course",
     "'b:trap' has a prefix; write the elements of a bank without one, under <bank xmlns=\"" NAMESPACE "\">"},
    {"<!-- One bank", "<!DOCTYPE bank [<!ENTITY deg \"&#176;\">]><!-- One bank", "<!DOCTYPE", NULL,
     "a DOCTYPE is not allowed; take it out and write out what its entities stand for"},
    {"encoding=\"UTF-8\"", "encoding=\"ISO-8859-1\"", "ISO", NULL,
     "the encoding is 'ISO-8859-1'; wanted UTF-8: save the file as UTF-8 and write encoding=\"UTF-8\""},
    {"<?xml version=\"1.0\"", "<?xml version=\"1.1\"", "1.1", NULL, "the XML version is '1.1'; wanted 1.0"},
};

/* The last place where `wanted` starts before `end`. */
static size_t last_place(const char *text, size_t end, const char *wanted)
{
    for (size_t at = end + 1; at-- > 0;)
        if (strncmp(text + at, wanted, strlen(wanted)) == 0)
            return at;
    cr_assert_fail("'%s' is not in the changed bank", wanted);
    return 0;
}

static size_t place_of_fault(const struct fault *fault, const char *text, size_t position)
{
    if (fault->at[0] != '>')
        return last_place(text, position + strlen(fault->to), fault->at);
    const char *found = strstr(text + position, fault->at + 1);
    cr_assert(found);
    return (size_t)(found - text);
}

static void check_fault(const struct fault *fault)
{
    struct messages messages = MESSAGES_EMPTY;
    size_t position;
    char *before = trial_every_element();
    char *text = trial_replaced(before, fault->from, fault->to, &position);
    cr_expect(!trial_check(text, strlen(text), &messages), "sound: %s", fault->text);
    trial_one(&messages, fault->subject, fault->text);
    if (messages.count && fault->at) {
        unsigned long line, column;
        trial_place(text, place_of_fault(fault, text, position), &line, &column);
        const struct place *place = &messages.items[0].place;
        cr_expect(place->line == line && place->column == column, "%s: at %lu:%lu, want %lu:%lu", fault->text,
                  place->line, place->column, line, column);
        cr_expect_str_eq(place->file, trial_path("bank.xml"));
    }
    messages_free(&messages);
    free(text);
    free(before);
}

Test(bank, each_fault_is_told_once_with_its_place, .init = trial_begin, .fini = trial_end)
{
    for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
        check_fault(&faults[i]);
}

/* What the parser finds wrong: its line, and a column within the changed words. */
Test(bank, faults_of_xml_have_their_line_and_column, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    char *before = trial_every_element();
    size_t position;
    char *text = trial_replaced(before, "Look at the shore", "×××××××× Look&nbsp;at the shore", &position);
    unsigned long line, column;
    trial_place(text, position, &line, &column);
    trial_check(text, strlen(text), &messages);
    cr_assert_eq(messages.count, 1);
    cr_expect_eq(messages.items[0].place.line, line);
    cr_expect(messages.items[0].place.column > column && messages.items[0].place.column <= column + 20,
              "column %lu, the words start at %lu", messages.items[0].place.column, column);
    messages_free(&messages);
    free(text);
    free(before);
}

Test(bank, several_faults_are_told_in_one_run, .init = trial_begin, .fini = trial_end)
{
    struct messages messages = MESSAGES_EMPTY;
    struct buffer all = BUFFER_EMPTY;
    char *a = trial_every_element();
    char *b = trial_replaced(a, "demand=\"standard\"", "demand=\"hard\"", NULL);
    char *c = trial_replaced(b, "<caution>", "<hint/><caution>", NULL);
    char *d = trial_replaced(c, "essential=\"yes\"", "essential=\"ja\"", NULL);
    char *e = trial_replaced(d, "command=\"evaluate\"", "command=\"evalate\"", NULL);
    cr_expect(!trial_check(e, strlen(e), &messages));
    messages_render(&messages, 0, &all);
    cr_expect_eq(messages.count, 4, "%zu:\n%s", messages.count, buffer_text(&all));
    cr_expect(strstr(buffer_text(&all), "did you mean 'evaluate'"));
    cr_expect(strstr(buffer_text(&all), "'essential' of 'key' is 'ja'; wanted yes or no"));
    buffer_free(&all);
    messages_free(&messages);
    char *texts[] = {a, b, c, d, e};
    for (int i = 0; i < 5; i++)
        free(texts[i]);
}
