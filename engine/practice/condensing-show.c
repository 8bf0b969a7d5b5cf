/* What condensing says: the beginning, the comparison, what comes next. */
#include "practice/condensing-inner.h"

#include "base/text.h"

bool condensing_one_line(const struct condensing *condensing)
{
    return condensing->stage == CONDENSE_LINE;
}

const char *condensing_text(const struct condensing *condensing)
{
    const struct topic_notes *notes = &condensing->notes;
    const char *text = condensing->place == CONDENSING_WRITING ? notes->draft : notes->texts[condensing->stage];
    return text ? text : "";
}

int condensing_words_over(const struct condensing *condensing)
{
    return (int)condense_word_count(condensing_text(condensing)) - condensing->limit;
}

/* ---- Beginning ------------------------------------------------------------------------------------------ */

void condensing_introduce(struct condensing *condensing)
{
    static const char *const kinds[] = {
        [CONDENSE_FULL] = "Write down all you know of this topic",
        [CONDENSE_SUMMARY] = "Say the topic in a few short sentences",
        [CONDENSE_OUTLINE] = "Headings and key words only, an arrow or \"so\" where one thing leads to another",
        [CONDENSE_LINE] = "One line that brings the rest back to you",
    };
    struct page *page = condensing->page;
    page_heading(page, 1, "%s: %s", condensing->topic->name, condense_name(condensing->stage));
    page_paragraph(page, "%s, in at most %d words. From memory: leave book and earlier notes closed. What comes without looking "
                         "is what you will have in the examination; gaps are filled afterwards.", kinds[condensing->stage],
                   condensing->limit);
    page_paragraph(page, "%s", condensing_one_line(condensing) ? "Enter finishes it."
                                                    : "Write as many lines as you like; a full stop alone on a line finishes.");
    page_add(page, STYLE_QUIET, "%s", " (.edit opens your editor, ? helps)");
    if (*condensing_text(condensing)) {
        page_paragraph(page, "So far you wrote:");
        page_verbatim(page, 1, condensing_text(condensing));
    }
}

/* ---- What comes next ------------------------------------------------------------------------------------ */

void condensing_say_next(struct page *page, const struct topic_notes *notes, day_number exam, day_number today)
{
    enum condense_stage next = condense_next(notes->kept);
    day_number due = exam == NO_DAY || exam < today ? NO_DAY : condense_due(notes->kept, exam);
    struct buffer when = BUFFER_EMPTY;
    if (next == CONDENSE_NONE) {
        page_paragraph(page, "The last stage is kept. Read the one line, and try to rebuild the rest from it in your head.");
    } else if (due == NO_DAY) {
        page_paragraph(page, "Next: %s. When it is due depends on the day of the exam%s: 'ownmark settings exam-date 2027-05-18', "
                             "with the right day, sets it.", condense_name(next),
                       exam == NO_DAY ? "" : ", and the one that is set is over");
    } else if (due <= today) {
        page_paragraph(page, "Next: %s, due now.", condense_name(next));
    } else {
        add_day_short(&when, due, today);
        buffer_add(&when, " (");
        add_day_relative(&when, due, today);
        page_paragraph(page, "Next: %s, due %s).", condense_name(next), buffer_text(&when));
    }
    buffer_free(&when);
}

/* ---- Comparing ------------------------------------------------------------------------------------------ */

static void show_list(struct page *page, const char *label, const struct key_word_list *list)
{
    page_fact(page, label, "%s", list->count ? "" : "none");
    for (size_t i = 0; i < list->count; i++)
        page_add(page, STYLE_PLAIN, "%s%s", i ? ", " : "", list->items[i]);
}

static void compare_with_earlier(struct condensing *condensing)
{
    struct page *page = condensing->page;
    enum condense_stage earlier = condensing->earlier;
    struct key_word_changes changes = key_words_compare(&condensing->words, condensing->notes.texts[earlier],
                                                        condensing_text(condensing), condensing->arena);
    struct buffer day = BUFFER_EMPTY;
    add_day_short(&day, condensing->notes.kept[earlier], day_of(moment_now()));
    page_heading(page, 3, "Your %s of %s", condense_name(earlier), buffer_text(&day));
    page_verbatim(page, 1, condensing->notes.texts[earlier]);
    page_heading(page, 3, "Key words");
    show_list(page, "kept", &changes.kept);
    show_list(page, "lost", &changes.lost);
    show_list(page, "added", &changes.added);
    page_paragraph(page, "%s", changes.lost.count ? "A shorter text has to lose some. Is one of the lost words something you could "
                                                    "not do without, or did not remember? Then put it in."
                                                  : "No key word was lost.");
    buffer_free(&day);
}

/* Fewer than half of a key point's words: too little to have been written about. */
static bool is_thin(const struct condensing *condensing, const char *point)
{
    struct key_words words = key_words_of_text(point, condensing->words.vocabulary, condensing->arena);
    return key_words_in(&words, condensing_text(condensing)) * 2 < words.count;
}

static void compare_with_key_points(struct condensing *condensing)
{
    const struct explain_prompt *explain = &condensing->topic->explain;
    struct page *page = condensing->page;
    size_t thin = 0;
    for (size_t i = 0; i < explain->point_count; i++) {
        if (!is_thin(condensing, explain->points[i]))
            continue;
        if (thin++ == 0)
            page_heading(page, 3, "Few words about these key points");
        page_item(page, 0, "-", "%s", explain->points[i]);
    }
    if (thin)
        page_paragraph(page, "Look them up now, in your book or your lesson notes, and add what was missing.");
    else if (explain->point_count)
        page_paragraph(page, "Every key point of the topic has left words in your notes. Read them against your book once, and add "
                             "what was missing.");
    else
        page_paragraph(page, "Read your notes against your book once, and add what was missing.");
}

void condensing_show_kept(struct condensing *condensing)
{
    struct page *page = condensing->page;
    int over = condensing_words_over(condensing);
    page_gap(page);
    page_paragraph(page, "Kept: %s, %s.", condense_name(condensing->stage),
                   text_count((long)condense_word_count(condensing_text(condensing)), "word", "words"));
    if (over > 0)
        page_add(page, STYLE_PLAIN, " That is %d more than the stage should have.", over);
    if (condensing->earlier != CONDENSE_NONE)
        compare_with_earlier(condensing);
    else
        compare_with_key_points(condensing);
    page_paragraph(page, "%s", condensing_one_line(condensing) ? "Type a better line to replace it; Enter alone ends."
                                                    : "Type a line to add it, .edit to change the whole; Enter alone ends.");
}

