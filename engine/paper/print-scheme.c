/* The mark scheme: a table for each part, a row for each point. */
#include <string.h>

#include "bank/scheme.h"
#include "base/text.h"
#include "paper/print-inner.h"
#include "practice/show.h"
#include "report/html.h"

enum { DEEPEST = 3, SHORT = 8 };     /* a table of at most so many points is kept on one page */

/* A part on its way: points are numbered as they come, so that one can name another. */
struct rows {
    struct printing *printing;
    const struct part *part;
    int number;
};

/* ---- Points ------------------------------------------------------------------------------------------------- */

/* The letters are explained at the head of the scheme. */
static const char *letter_of(enum point_kind kind)
{
    switch (kind) {
    case POINT_METHOD: return "M";
    case POINT_ACCURACY: return "A";
    case POINT_INDEPENDENT: return "B";
    case POINT_IMPLIED: return "C";
    case POINT_PLAIN: break;
    }
    return "";
}

struct search { const char *id; int number; bool found; };

static bool count_up_to(const struct node *point, void *context)
{
    struct search *search = context;
    search->number++;
    search->found = strcmp(point->id, search->id) == 0;
    return !search->found;
}

/* "point 2", or "point 2 of part (a)"; nothing when there is no such point. */
static void print_place(struct rows *rows, const char *id)
{
    const struct question *question = rows->printing->question->question;
    for (size_t i = 0; i < question->part_count; i++) {
        struct search search = {id, 0, false};
        scheme_each_point(&question->parts[i].scheme.root, count_up_to, &search);
        if (!search.found)
            continue;
        print_tags(rows->printing, "point %d", search.number);
        if (&question->parts[i] != rows->part) {
            print_tags(rows->printing, " of part (");
            print_words(rows->printing, question->parts[i].id);
            print_tags(rows->printing, ")");
        }
        return;
    }
}

static void print_needs(struct rows *rows, const struct node *point)
{
    for (size_t i = 0; i < point->need_count; i++) {
        print_tags(rows->printing, "%s", i ? " and " : "<p>only with ");
        print_place(rows, point->needs[i]);
    }
    if (point->need_count)
        print_tags(rows->printing, "</p>\n");
    if (point->point_kind == POINT_ACCURACY && !point->need_count)
        print_tags(rows->printing, "<p>only with its method</p>\n");
    if (point->number && !point->follow)
        print_tags(rows->printing, "<p>correct answer only</p>\n");
}

static void print_essential(struct rows *rows, const struct node *point)
{
    for (size_t i = 0; i < point->key_count; i++) {
        if (!point->keys[i].essential)
            continue;
        print_tags(rows->printing, "<p>essential: ");
        for (size_t j = 0; j < point->keys[i].count; j++) {
            print_tags(rows->printing, "%s", j ? " / " : "");
            print_words(rows->printing, point->keys[i].alternatives[j]);
        }
        print_tags(rows->printing, "</p>\n");
    }
}

/* practice/show.h gives a point as a paragraph and labelled items: the value belongs to the answer, the rest beside it. */
static void print_labelled(struct rows *rows, const struct page *shown, bool value)
{
    for (size_t i = 1; i < shown->count; i++) {
        bool is_value = strcmp(shown->blocks[i].label, "value:") == 0;
        if (is_value != value)
            continue;
        print_tags(rows->printing, "<p>");
        if (!is_value) {
            print_words(rows->printing, shown->blocks[i].label);
            print_tags(rows->printing, " ");
        }
        html_add_text(rows->printing->out, &shown->blocks[i].text);
        print_tags(rows->printing, "</p>\n");
    }
}

static void print_mark_cells(struct rows *rows, const char *letter, int marks, int objective)
{
    const struct course *course = bank_course(rows->printing->question->bank);
    print_tags(rows->printing, "<td class=\"mark\">%s%d</td><td class=\"ao\">", letter, marks);
    print_words(rows->printing, course->objectives[objective].id);
    print_tags(rows->printing, "</td></tr>\n");
}

static void print_point(struct rows *rows, const struct node *point, int depth)
{
    struct printing *printing = rows->printing;
    show_point(printing->scratch, point, &printing->question->values);
    print_tags(printing, "<tr><th scope=\"row\" class=\"points\">%d</th><td class=\"depth%d\"><p>", ++rows->number, depth);
    html_add_text(printing->out, &printing->scratch->blocks[0].text);
    print_tags(printing, "</p>\n");
    print_labelled(rows, printing->scratch, true);
    print_tags(printing, "</td><td>");
    print_labelled(rows, printing->scratch, false);
    page_clear(printing->scratch);
    print_essential(rows, point);
    print_needs(rows, point);
    print_tags(printing, "</td>");
    print_mark_cells(rows, letter_of(point->point_kind), point->marks, point->objective);
}

/* ---- What holds points together ----------------------------------------------------------------------------- */

static void print_node(struct rows *rows, const struct node *node, int depth);

static void open_group(struct rows *rows, int depth)
{
    print_tags(rows->printing, "<tr><td></td><td colspan=\"4\" class=\"group depth%d\">", depth);
}

static void close_group(struct rows *rows, const struct node *node)
{
    const struct wording *const wordings[] = {&node->accepts, &node->ignores, &node->rejects};
    static const char *const labels[] = {"accept", "ignore", "reject"};
    for (int i = 0; i < 3; i++) {
        for (size_t j = 0; j < wordings[i]->count; j++) {
            print_tags(rows->printing, j ? "; " : "<p>%s: ", labels[i]);
            print_words(rows->printing, wordings[i]->items[j]);
        }
        print_tags(rows->printing, "%s", wordings[i]->count ? "</p>" : "");
    }
    print_tags(rows->printing, "</td></tr>\n");
}

static void print_children(struct rows *rows, const struct node *node, int depth)
{
    for (size_t i = 0; i < node->child_count; i++)
        print_node(rows, &node->children[i], depth);
}

static void print_all(struct rows *rows, const struct node *node, int depth)
{
    if (node->marks) {
        open_group(rows, depth);
        print_tags(rows->printing, "at most %s from these:", text_count(node->marks, "mark", "marks"));
        close_group(rows, node);
    }
    print_children(rows, node, node->marks && depth < DEEPEST ? depth + 1 : depth);
}

static void print_some(struct rows *rows, const struct node *node, int depth)
{
    open_group(rows, depth);
    if (node->kind == NODE_ANY)
        print_tags(rows->printing, "any %d of these:", node->take);
    else
        print_tags(rows->printing, "a list of %d: %s", node->take, node->list_rule == LIST_CANCEL
                   ? "each wrong answer too many cancels a right one" : "only the first that are given count");
    close_group(rows, node);
    print_children(rows, node, depth < DEEPEST ? depth + 1 : depth);
}

static void print_routes(struct rows *rows, const struct node *node, int depth)
{
    for (size_t i = 0; i < node->child_count; i++) {
        open_group(rows, depth);
        print_tags(rows->printing, "%s: ", i ? "or" : "either");
        print_words(rows->printing, node->children[i].name ? node->children[i].name : "this way");
        close_group(rows, &node->children[i]);
        print_children(rows, &node->children[i], depth < DEEPEST ? depth + 1 : depth);
    }
}

/* ---- Levels ------------------------------------------------------------------------------------------------- */

static void print_level(struct rows *rows, const struct node *node, const struct level *level, size_t index)
{
    struct printing *printing = rows->printing;
    print_tags(printing, "<tr><th scope=\"row\" class=\"points\">level %d</th><td colspan=\"2\"><p>", level->number);
    print_words(printing, level->descriptor ? level->descriptor : "");
    print_tags(printing, "</p>\n");
    for (size_t i = 0; i < node->strand_count; i++) {
        const char *descriptor = node->strands[i].descriptors ? node->strands[i].descriptors[index] : NULL;
        if (!descriptor)
            continue;
        print_tags(printing, "<p><em>");
        print_words(printing, node->strands[i].name);
        print_tags(printing, ":</em> ");
        print_words(printing, descriptor);
        print_tags(printing, "</p>\n");
    }
    if (level->from == level->to)
        print_tags(printing, "</td><td class=\"mark\">%d</td>", level->from);
    else
        print_tags(printing, "</td><td class=\"mark\">%d–%d</td>", level->from, level->to);
    print_tags(printing, "<td class=\"ao\">");
    print_words(printing, bank_course(printing->question->bank)->objectives[rows->part->objective].id);
    print_tags(printing, "</td></tr>\n");
}

static void print_indicative(struct rows *rows, const struct node *node)
{
    struct printing *printing = rows->printing;
    if (!node->indicative_count)
        return;
    print_tags(printing, "<tr><td></td><td colspan=\"4\"><p>Content that may be there (not a checklist; other right content "
                         "counts):</p>\n<ul>\n");
    for (size_t i = 0; i < node->indicative_count; i++) {
        print_tags(printing, "<li>");
        print_rich(printing, &node->indicative[i].text);
        print_tags(printing, "</li>\n");
    }
    print_tags(printing, "</ul></td></tr>\n");
}

static void print_levels(struct rows *rows, const struct node *node)
{
    for (size_t i = node->level_count; i-- > 0;)
        print_level(rows, node, &node->levels[i], i);
    for (size_t i = 0; i < node->cap_count; i++) {
        open_group(rows, 0);
        print_words(rows->printing, node->caps[i].condition);
        print_tags(rows->printing, ": level %d at most", node->caps[i].level);
        print_tags(rows->printing, "</td></tr>\n");
    }
    print_indicative(rows, node);
}

static void print_quality(struct rows *rows, const struct node *node)
{
    open_group(rows, 0);
    print_tags(rows->printing, "quality of writing, where the rest has earned a mark:");
    close_group(rows, node);
    for (size_t i = 0; i < node->band_count; i++) {
        print_tags(rows->printing, "<tr><td></td><td colspan=\"2\">");
        print_words(rows->printing, node->bands[i].descriptor);
        print_tags(rows->printing, "</td><td class=\"mark\">%d</td><td></td></tr>\n", node->bands[i].marks);
    }
}

static void print_node(struct rows *rows, const struct node *node, int depth)
{
    switch (node->kind) {
    case NODE_POINT: print_point(rows, node, depth); break;
    case NODE_ALL: print_all(rows, node, depth); break;
    case NODE_ANY:
    case NODE_LIST: print_some(rows, node, depth); break;
    case NODE_ROUTES: print_routes(rows, node, depth); break;
    case NODE_LEVELS: print_levels(rows, node); break;
    case NODE_QUALITY: print_quality(rows, node); break;
    }
}

/* ---- Parts and questions ------------------------------------------------------------------------------------ */

static void print_rules(struct rows *rows)
{
    const struct scheme *scheme = &rows->part->scheme;
    const struct node *answer = scheme_answer_point(&scheme->root);
    bool asks_unit = answer && *answer->number->unit && !answer->number->unit_printed;
    if (scheme->working_required) {
        open_group(rows, 0);
        print_tags(rows->printing, "an answer without working earns nothing</td></tr>\n");
    } else if (asks_unit && scheme->unit_penalty) {
        open_group(rows, 0);
        print_tags(rows->printing, "a missing or wrong unit loses the final mark, once a question</td></tr>\n");
    }
}

static void open_part(struct printing *printing, const struct part *part)
{
    print_tags(printing, "<div%s>\n", scheme_point_count(&part->scheme.root) <= SHORT ? " class=\"short\"" : "");
}

/* Inside what open_part opened, which it closes. */
static void print_part_scheme(struct printing *printing, const struct question *question, const struct part *part)
{
    const struct course *course = bank_course(printing->question->bank);
    struct rows rows = {printing, part, 0};
    print_tags(printing, "<table class=\"scheme\">\n<caption>");
    if (question->part_count > 1) {
        print_tags(printing, "(");
        print_words(printing, part->id);
        print_tags(printing, ") ");
    }
    print_words(printing, course->words[part->word].word);
    print_tags(printing, " [%s]</caption>\n<thead><tr><th scope=\"col\" class=\"points\">No.</th><th scope=\"col\">Answer</th>"
               "<th scope=\"col\" class=\"more\">Further guidance</th><th scope=\"col\" class=\"mark\">Mark</th>"
               "<th scope=\"col\" class=\"ao\">AO</th></tr></thead>\n<tbody>\n", text_count(part->marks, "mark", "marks"));
    print_children(&rows, &part->scheme.root, 0);
    print_rules(&rows);
    print_tags(printing, "</tbody>\n</table>\n</div>\n");
    if (part->model.count) {
        print_tags(printing, "<div class=\"model\">\n<strong>A full answer:</strong>\n");
        print_blocks(printing, &part->model);
        print_tags(printing, "</div>\n");
    }
}

static void print_question_scheme(struct printing *printing, size_t number)
{
    static const char *const demands[] = {"low", "standard", "high"};
    const struct opened_question *opened = &printing->opened->questions[number];
    const struct question *question = opened->question;
    printing->question = opened;
    print_tags(printing, "<section class=\"scheme\">\n");
    open_part(printing, &question->parts[0]);       /* the heading stays with the first part */
    print_tags(printing, "<h2>Question %zu: ", number + 1);
    print_words(printing, bank_course(opened->bank)->topics[question->topic].name);
    print_tags(printing, ", %s</h2>\n<p class=\"quiet bank\">%s demand; question ", text_count(question->marks, "mark", "marks"),
               demands[question->demand]);
    print_words(printing, question->id);
    print_tags(printing, " of the bank ");
    print_words(printing, bank_id(opened->bank));
    print_tags(printing, "</p>\n");
    for (size_t i = 0; i < question->part_count; i++) {
        if (i)
            open_part(printing, &question->parts[i]);
        print_part_scheme(printing, question, &question->parts[i]);
    }
    print_tags(printing, "</section>\n");
}

static void print_guidance(struct printing *printing)
{
    print_tags(printing,
               "<ul>\n<li>Tick each point that is there, whatever the wording, and add up to the part's marks at most.</li>\n"
               "<li><em>accept</em> earns the point; <em>ignore</em> neither earns nor loses it; <em>reject</em> loses it even "
               "beside a right answer; <em>essential</em> words should be there.</li>\n"
               "<li>M: method. A: value, only with its method. B: independent. C: seen, or implied by a later mark.</li>\n"
               "<li>A value that is wrong only because an earlier one was wrong earns its mark, unless it says <em>correct "
               "answer only</em>.</li>\n</ul>\n"
               "<p>Numbers are those of paper %llu. Marks are practice figures, not grades; where an awarding body has its own "
               "scheme, that prevails.</p>\n", (unsigned long long)printing->opened->paper.seed);
}

void print_mark_scheme(const struct opened_paper *opened, const struct print_look *look, const struct page *blueprint,
                       struct buffer *out)
{
    struct printing printing = {.opened = opened, .look = look, .out = out, .small_points = 10};
    print_begin(&printing, "mark scheme");
    print_tags(&printing, "<section class=\"cover\">\n<p class=\"kind\">Mark scheme</p>\n<h1>");
    print_words(&printing, opened->paper.course);
    print_tags(&printing, "</h1>\n");
    print_guidance(&printing);
    print_tags(&printing, "</section>\n");
    for (size_t i = 0; i < opened->paper.question_count; i++)
        print_question_scheme(&printing, i);
    if (blueprint) {
        print_tags(&printing, "<section class=\"blueprint\">\n<h2>Blueprint</h2>\n");
        html_add_page(out, blueprint, 1);
        print_tags(&printing, "</section>\n");
    }
    print_end(&printing);
}
