/* Do banks together use all that the format offers, so that a teacher finds an example of everything? check-features BANK…
 *
 * Counts the command words that are built in and the features of schemes, numbers and givens over all the banks named, and
 * ends with 1 when one of them is used less than three times, or when an idea is asked for by one question only, so that
 * a missed point of it cannot come back through another. */
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <libxml/xpathInternals.h>

#include <stdio.h>
#include <stdlib.h>

#include "bank/commandwords.h"
#include "base/memory.h"
#include "report/page.h"
#include "report/text.h"

enum { LEAST = 3, PATH_ROOM = 200 };

#define BANK_NAMESPACE "urn:ownmark:bank:1"

struct feature {
    const char *name;
    const char *path;           /* XPath; b: is the namespace of banks */
};

static const struct feature features[] = {
    {"point", "//b:scheme//b:point"},
    {"plain point", "//b:scheme//b:point[not(@kind) or @kind='plain']"},
    {"method point", "//b:point[@kind='method']"},
    {"accuracy point", "//b:point[@kind='accuracy']"},
    {"independent point", "//b:point[@kind='independent']"},
    {"implied point", "//b:point[@kind='implied']"},
    {"id of a point", "//b:point/@id"},
    {"idea of a point", "//b:point/@idea"},
    {"objective of a point", "//b:point/@objective"},
    {"marks of a point", "//b:point[@marks > 1]"},
    {"needs", "//b:point/@needs"},
    {"correct answer only", "//b:point[@follow='no']"},
    {"accept", "//b:point/b:accept"},
    {"ignore", "//b:point/b:ignore"},
    {"reject", "//b:point/b:reject"},
    {"key", "//b:point/b:key"},
    {"key with alternatives", "//b:point/b:key[contains(., '/')]"},
    {"essential key", "//b:key[@essential='yes']"},
    {"number with a value", "//b:number[@value]"},
    {"number with a formula", "//b:number[@formula]"},
    {"number by an interval alone", "//b:number[@from and not(@value) and not(@formula)]"},
    {"interval round a number", "//b:number[@from and (@value or @formula)]"},
    {"interval without its end", "//b:number[@to-excluded='yes']"},
    {"unit of a number", "//b:number/@unit"},
    {"unit that is printed", "//b:number[@unit-printed='yes']"},
    {"tolerance in per cent", "//b:number[contains(@tolerance, '%')]"},
    {"tolerance as an amount", "//b:number[@tolerance and not(contains(@tolerance, '%'))]"},
    {"significant figures", "//b:number/@figures"},
    {"decimal places", "//b:number/@places"},
    {"symbol of a number", "//b:number/@symbol"},
    {"all", "//b:all"},
    {"all up to a maximum", "//b:all[@marks]"},
    {"any", "//b:any"},
    {"group in a group", "//b:any/b:all | //b:all/b:any | //b:all/b:all | //b:any/b:any"},
    {"list", "//b:scheme//b:list"},
    {"list: extras cancel", "//b:scheme//b:list[not(@rule) or @rule='cancel']"},
    {"list: the first ones", "//b:scheme//b:list[@rule='first']"},
    {"ignore of a list", "//b:list/b:ignore"},
    {"reject of a list", "//b:list/b:reject"},
    {"routes", "//b:routes"},
    {"levels", "//b:levels"},
    {"strand", "//b:strand"},
    {"strand without descriptors", "//b:strand[not(b:at)]"},
    {"descriptor of a strand", "//b:strand/b:at"},
    {"cap", "//b:cap"},
    {"indicative content", "//b:indicative"},
    {"quality", "//b:quality"},
    {"quality beside points", "//b:scheme[b:quality and not(b:levels)]"},
    {"working required", "//b:scheme[@working='required']"},
    {"no unit penalty", "//b:scheme[@unit-penalty='no']"},
    {"crossed-out work ignored", "//b:scheme[@crossed-out='ignored']"},
    {"given that is fixed", "//b:given[@value]"},
    {"given from choices", "//b:given[@choices]"},
    {"given from a range", "//b:given[@step]"},
    {"given by a formula", "//b:given[@formula]"},
    {"given of a part", "//b:part/b:given"},
    {"further topics", "//b:question/@also"},
    {"minutes of a question", "//b:question/@minutes"},
    {"enemies", "//b:question/@enemies"},
    {"caution", "//b:question/b:caution"},
    {"lines of a part", "//b:part/@lines"},
    {"figure", "//b:figure"},
    {"table", "//b:table"},
    {"source", "//b:source"},
    {"list in a text", "//b:item"},
};

struct banks {
    xmlXPathContextPtr *contexts;
    int count;
};

static long count_in(const struct banks *banks, const char *path)
{
    long count = 0;
    for (int i = 0; i < banks->count; i++) {
        xmlXPathObjectPtr found = xmlXPathEvalExpression((const xmlChar *)path, banks->contexts[i]);
        if (found && found->nodesetval)
            count += found->nodesetval->nodeNr;
        xmlXPathFreeObject(found);
    }
    return count;
}

static bool add_row(struct page *page, const char *name, long count)
{
    page_cell(page, "%s", name);
    page_cell(page, "%ld", count);
    page_cell(page, "%s", count < LEAST ? "FEW" : "");
    return count < LEAST;
}

static int show(const struct banks *banks, struct page *page)
{
    int few = 0;
    size_t word_count;
    const struct built_in_word *words = command_words_built_in(&word_count);
    page_table(page, "Command words", "lrl", false);
    for (size_t i = 0; i < word_count; i++) {
        char path[PATH_ROOM];
        snprintf(path, sizeof path, "//b:part[@command='%s']", words[i].word);
        few += add_row(page, words[i].word, count_in(banks, path));
    }
    page_table(page, "Features", "lrl", false);
    for (size_t i = 0; i < sizeof features / sizeof *features; i++)
        few += add_row(page, features[i].name, count_in(banks, features[i].path));
    return few;
}

/* Ideas of points that can be earned, that only one question of its bank has. */
static int show_lonely_ideas(const struct banks *banks, struct page *page)
{
    int lonely = 0;
    for (int i = 0; i < banks->count; i++) {
        const struct banks bank = {&banks->contexts[i], 1};
        xmlXPathObjectPtr ideas = xmlXPathEvalExpression((const xmlChar *)"//b:point[not(ancestor::b:indicative)]/@idea",
                                                         banks->contexts[i]);
        for (int k = 0; ideas && ideas->nodesetval && k < ideas->nodesetval->nodeNr; k++) {
            char path[PATH_ROOM];
            xmlChar *idea = xmlNodeGetContent(ideas->nodesetval->nodeTab[k]);
            snprintf(path, sizeof path, "//b:question[.//b:point[@idea='%s' and not(ancestor::b:indicative)]]",
                     (const char *)idea);
            if (count_in(&bank, path) < 2) {
                if (!lonely)
                    page_table(page, "Ideas of one question only", "lrl", false);
                lonely += add_row(page, (const char *)idea, 1);
            }
            xmlFree(idea);
        }
        xmlXPathFreeObject(ideas);
    }
    return lonely;
}

static bool open_banks(struct banks *banks, int count, char **paths)
{
    banks->contexts = memory_get_zeroed((size_t)count + 1, sizeof *banks->contexts);
    for (banks->count = 0; banks->count < count; banks->count++) {
        xmlDocPtr document = xmlReadFile(paths[banks->count], NULL, XML_PARSE_NONET);
        if (!document)
            return false;
        banks->contexts[banks->count] = xmlXPathNewContext(document);
        xmlXPathRegisterNs(banks->contexts[banks->count], (const xmlChar *)"b", (const xmlChar *)BANK_NAMESPACE);
    }
    return true;
}

static void close_banks(struct banks *banks)
{
    for (int i = 0; i < banks->count; i++) {
        xmlDocPtr document = banks->contexts[i]->doc;
        xmlXPathFreeContext(banks->contexts[i]);
        xmlFreeDoc(document);
    }
    free(banks->contexts);
    xmlCleanupParser();
}

int main(int count, char **paths)
{
    struct banks banks;
    if (!open_banks(&banks, count - 1, paths + 1)) {
        close_banks(&banks);
        return 2;
    }
    struct page *page = page_new();
    struct buffer out = BUFFER_EMPTY;
    const struct text_look look = {.width = 100};
    int few = show(&banks, page) + show_lonely_ideas(&banks, page);
    page_render_text(page, &look, &out);
    fputs(buffer_text(&out), stdout);
    buffer_free(&out);
    page_free(page);
    close_banks(&banks);
    return few > 0;
}
