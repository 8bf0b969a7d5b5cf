/* What 'ownmark paper' says. */
#include <inttypes.h>

#include "base/json.h"
#include "base/text.h"
#include "commands/paper.h"
#include "paper/explain.h"
#include "terminal/terminal.h"

/* The paper's own file comes last: who finds it finds the others. */
const char *const paper_file_names[PAPER_FILES] = {
    "question-paper.html", "question-paper-large.html", "mark-scheme.html", "mark-scheme-large.html", "paper.ownmark",
};

bool paper_has_choice(const struct choice *choice)
{
    return choice->outcome == SOLVE_BEST || choice->outcome == SOLVE_FOUND;
}

void paper_tell_misses(struct page *page, const struct paper_work *work)
{
    page_paragraph(page, "The nearest paper misses:");
    explain_misses(page, &work->gathered, &work->choice.verdict);
    explain_bars(page, &work->choice.verdict, &work->with_enemies, &work->with_all);
}

void paper_tell_written(struct page *page, const struct paper_work *work)
{
    const struct verdict *verdict = &work->choice.verdict;
    if (work->nearest)
        page_gap(page);
    page_heading(page, 1, "%s: a paper of %s in %s", work->gathered.course->name, text_count(verdict->marks, "mark", "marks"),
                 text_count(work->gathered.minutes, "minute", "minutes"));
    page_heading(page, 3, "Blueprint");
    explain_blueprint(page, &work->gathered, verdict);
    if (work->choice.outcome == SOLVE_FOUND && !work->nearest)
        page_paragraph(page, "It was stopped early: this paper meets every demand, but a better balanced one may exist, and the "
                             "same seed may find it another time.");
    page_paragraph(page, "Written into %s, seed %" PRIu64 ":", work->folder, work->wishes.seed);
    page_item(page, 0, "-", "%s and %s, to print on A4", paper_file_names[0], paper_file_names[2]);
    page_item(page, 0, "-", "%s and %s, the same at 18 point", paper_file_names[1], paper_file_names[3]);
    page_item(page, 0, "-", "%s, for 'ownmark mock' and 'ownmark paper --avoid'", paper_file_names[PAPER_FILES - 1]);
    page_paragraph(page, "%s", "");
    page_add(page, STYLE_QUIET, "Open the pages in a browser and print them at 100 %%, with its own headers and footers off.");
}

static void json_aims(struct json *json, const struct paper_work *work)
{
    static const char *const kinds[] = {"objective", "skill", "topic", "demand"};
    static const char *const demands[] = {"low", "standard", "high"};
    const struct course *course = work->gathered.course;
    json_array(json, "blueprint");
    for (size_t i = 0; i < work->gathered.blueprint.aim_count; i++) {
        const struct aim *aim = &work->gathered.blueprint.aims[i];
        json_object(json, NULL);
        json_text(json, "kind", kinds[aim->kind]);
        json_text(json, "id", aim->kind == AIM_OBJECTIVE ? course->objectives[aim->index].id
                            : aim->kind == AIM_SKILL ? course->skills[aim->index].id
                            : aim->kind == AIM_TOPIC ? course->topics[aim->index].id : demands[aim->index]);
        json_whole(json, "least", aim->least);
        json_whole(json, "most", aim->most);
        json_whole(json, "has", work->choice.verdict.given[i]);
        json_close_object(json);
    }
    json_close_array(json);
}

static void json_questions(struct json *json, const struct paper_work *work)
{
    size_t *order, count = gather_order(&work->gathered, work->choice.chosen, work->arena, &order);
    json_array(json, "questions");
    for (size_t i = 0; i < count; i++) {
        const struct question_summary *summary = gather_summary(&work->gathered, order[i]);
        json_object(json, NULL);
        json_text(json, "bank", bank_id(work->gathered.banks[work->gathered.places[order[i]].bank]));
        json_text(json, "id", summary->id);
        json_whole(json, "marks", summary->marks);
        json_close_object(json);
    }
    json_close_array(json);
}

void paper_show_json(const struct paper_work *work, bool written)
{
    struct buffer out = BUFFER_EMPTY;
    struct json json;
    json_begin(&json, &out);
    json_object(&json, NULL);
    json_text(&json, "course", work->gathered.course->name);
    json_truth(&json, "written", written);
    json_text(&json, "folder", written ? work->folder : NULL);
    json_truth(&json, "meets_all", work->choice.verdict.meets_all);
    json_truth(&json, "best", work->choice.outcome == SOLVE_BEST);
    json_whole(&json, "wanted_marks", work->wishes.marks);
    json_whole(&json, "marks", work->choice.verdict.marks);
    json_whole(&json, "minutes", work->gathered.minutes);
    json_whole(&json, "seconds_needed", work->choice.verdict.seconds);
    json_whole(&json, "seed", (int64_t)work->wishes.seed);
    json_questions(&json, work);
    json_aims(&json, work);
    json_close_object(&json);
    buffer_add(&out, "\n");
    terminal_write(buffer_text(&out), out.length);
    buffer_free(&out);
}

void paper_tell_none(struct page *page, const struct paper_work *work, enum solve_outcome strict, bool interrupted)
{
    const char *course = work->gathered.course->name;
    if (strict == SOLVE_NONE)
        page_heading(page, 1, "%s: no paper meets every demand", course);
    else if (interrupted)
        page_heading(page, 1, "%s: stopped before a paper that meets every demand was found", course);
    else
        page_heading(page, 1, "%s: no paper that meets every demand was found in %g seconds", course, work->seconds);
}
