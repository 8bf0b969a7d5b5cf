/* Writing notes line by line; the bank is tests/data/topics.xml. Sentences are our own. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "practice/condensing.h"
#include "report/text.h"

struct desk {
    char folder[64], path[96];
    struct bank *bank;
    struct record *record;
    struct arena *arena;
    struct topic_notes *notes;
    struct condensing *condensing;
    struct messages messages;
    struct buffer shown;
};

enum { WAVES = 0, SHORE = 1 };

static void show(struct desk *desk)
{
    const struct text_look look = {.width = 80};
    page_render_text(condensing_screen(desk->condensing), &look, &desk->shown);
}

static void open_stage(struct desk *desk, int topic, enum condense_stage stage)
{
    desk->arena = arena_new();
    desk->record = record_open(desk->path, RECORD_WRITE, &desk->messages);
    cr_assert(desk->record != NULL);
    cr_assert(notes_read(desk->record, desk->bank, desk->arena, &desk->notes, &desk->messages));
    desk->condensing = condensing_begin(desk->bank, desk->record, topic, stage, &desk->notes[topic], &desk->messages);
    cr_assert(desk->condensing != NULL);
    show(desk);
}

static void close_stage(struct desk *desk)
{
    condensing_free(desk->condensing);
    record_close(desk->record);
    arena_free(desk->arena);
}

/* As after a kill: everything is read again. */
static void again(struct desk *desk, int topic, enum condense_stage stage)
{
    close_stage(desk);
    buffer_clear(&desk->shown);
    open_stage(desk, topic, stage);
}

static void begin(struct desk *desk, int topic, enum condense_stage stage)
{
    moment now;
    *desk = (struct desk){.messages = MESSAGES_EMPTY};
    cr_assert(moment_parse("2027-01-10T16:00Z", &now));
    moment_set_now(now);
    snprintf(desk->folder, sizeof desk->folder, "/tmp/ownmark-desk-XXXXXX");
    cr_assert(mkdtemp(desk->folder) != NULL);
    snprintf(desk->path, sizeof desk->path, "%s/record.db", desk->folder);
    desk->bank = bank_open("tests/data/topics.xml", false, &desk->messages);
    cr_assert(desk->bank != NULL);
    open_stage(desk, topic, stage);
}

static void type(struct desk *desk, const char *line)
{
    cr_assert(condensing_ask(desk->condensing) != NULL, "over before \"%s\"", line);
    buffer_clear(&desk->shown);
    cr_assert_neq(condensing_enter(desk->condensing, line, false, &desk->messages), PRACTICE_FAILED);
    show(desk);
}

static void expect(struct desk *desk, const char *text)
{
    cr_assert(strstr(buffer_text(&desk->shown), text) != NULL, "not shown: \"%s\" in\n%s", text, buffer_text(&desk->shown));
}

static void expect_not(struct desk *desk, const char *text)
{
    cr_assert(strstr(buffer_text(&desk->shown), text) == NULL, "shown: \"%s\" in\n%s", text, buffer_text(&desk->shown));
}

/* What the record has of a stage, read afresh. */
static const char *kept(struct desk *desk, int topic, enum condense_stage stage)
{
    cr_assert(notes_read(desk->record, desk->bank, desk->arena, &desk->notes, &desk->messages));
    return desk->notes[topic].texts[stage];
}

static void end(struct desk *desk)
{
    static const char *const files[] = {"record.db", "record.db-wal", "record.db-shm", "record.db.lock"};
    close_stage(desk);
    bank_close(desk->bank);
    messages_free(&desk->messages);
    buffer_free(&desk->shown);
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
        char path[128];
        snprintf(path, sizeof path, "%s/%s", desk->folder, files[i]);
        unlink(path);
    }
    rmdir(desk->folder);
}

Test(practice, full_notes_are_set_beside_the_key_points)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_FULL);
    expect(&desk, "Waves: full notes");
    expect(&desk, "at most 450 words");     /* 50 % of 3 topics: one and a half times the usual 300 */
    cr_assert(!condensing_ask(desk.condensing)->out_of_sight);
    cr_assert(condensing_ask(desk.condensing)->several_lines);
    type(&desk, "wind over the sea gives energy");
    cr_assert_null(kept(&desk, WAVES, CONDENSE_FULL), "a draft is not kept notes");
    type(&desk, ".");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_FULL), "wind over the sea gives energy");
    expect(&desk, "Kept: full notes, 6 words.");
    expect(&desk, "- A longer fetch gives higher waves.");
    expect(&desk, "- The sea bed slows the waves.");
    expect_not(&desk, "- Wind blowing");
    type(&desk, "fetch");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_FULL), "wind over the sea gives energy\nfetch");
    type(&desk, "");
    expect(&desk, "Next: summary. When it is due depends on the day of the exam: 'ownmark settings\nexam-date 2027-05-18'");
    cr_assert_null(condensing_ask(desk.condensing));
    end(&desk);
}

Test(practice, half_of_the_key_words_of_a_key_point_are_enough)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_FULL);
    type(&desk, "the sea bed");          /* two of sea, bed, slows, waves; one of wind, blowing, sea, energy */
    type(&desk, ".");
    expect(&desk, "- Wind blowing");
    expect_not(&desk, "- The sea bed");
    end(&desk);
}

Test(practice, a_line_for_another_stage_begins_a_draft_of_its_own)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_SUMMARY);
    type(&desk, "for the summary");
    again(&desk, WAVES, CONDENSE_OUTLINE);
    expect_not(&desk, "for the summary");
    type(&desk, "for the outline");
    again(&desk, WAVES, CONDENSE_OUTLINE);
    expect(&desk, "So far you wrote:\n      for the outline\n");
    expect_not(&desk, "for the summary");
    type(&desk, ".");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_OUTLINE), "for the outline");
    end(&desk);
}

Test(practice, a_topic_without_key_points_can_be_condensed)
{
    struct desk desk;
    begin(&desk, SHORE, CONDENSE_FULL);
    type(&desk, "limpets");
    type(&desk, ".");
    expect(&desk, "Read your notes against your book once");
    end(&desk);
}

Test(practice, a_later_stage_shows_the_earlier_one_only_afterwards)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_FULL);
    type(&desk, "Wind gives energy. The sea bed slows waves.");
    type(&desk, ".");
    again(&desk, WAVES, CONDENSE_OUTLINE);      /* the summary was passed over */
    expect_not(&desk, "sea bed");
    cr_assert(condensing_ask(desk.condensing)->out_of_sight);
    type(&desk, "wind -> energy, long fetch");
    expect_not(&desk, "sea bed");
    cr_assert(!condensing_ask(desk.condensing)->out_of_sight);
    type(&desk, ".notes");
    expect_not(&desk, "sea bed");
    type(&desk, ".");
    expect(&desk, "Your full notes of 10 January");
    expect(&desk, "sea bed slows waves");
    expect(&desk, "kept:  Wind, energy");
    expect(&desk, "lost:  sea, waves, bed, slows");
    expect(&desk, "added: fetch");
    end(&desk);
}

Test(practice, over_the_limit_it_says_by_how_many_and_waits)
{
    struct desk desk;
    begin(&desk, SHORE, CONDENSE_OUTLINE);      /* 20 % of 3 topics: 45 x 0.6 = 27, 25 in steps of five */
    type(&desk, "a1 a2 a3 a4 a5 a6 a7 a8 a9 b1 b2 b3 b4 b5 b6 b7 b8 b9 c1 c2 c3 c4 c5 c6 c7");
    type(&desk, "d1 d2 d3");
    type(&desk, ".");
    expect(&desk, "28 words, 3 too many");
    cr_assert_null(kept(&desk, SHORE, CONDENSE_OUTLINE));
    type(&desk, ".back");
    cr_assert_str_eq(condensing_ask(desk.condensing)->prefill, "d1 d2 d3");
    type(&desk, "d1");
    type(&desk, ".");
    expect(&desk, "26 words, 1 too many");      /* shorter, but said again */
    type(&desk, ".");
    expect(&desk, "Kept: outline, 26 words. That is 1 more");
    end(&desk);
}

Test(practice, the_one_line_is_replaced_until_it_fits)
{
    struct desk desk;
    static const char longer[] = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
                                 "seventeen eighteen nineteen twenty more";
    begin(&desk, WAVES, CONDENSE_LINE);
    type(&desk, "");
    expect(&desk, "Nothing is written yet");
    type(&desk, longer);
    expect(&desk, "21 words, 1 too many");
    cr_assert_str_eq(condensing_ask(desk.condensing)->prefill, longer);
    type(&desk, "wind,  fetch ->\nenergy");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_LINE), "wind, fetch -> energy");
    type(&desk, "wind -> energy");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_LINE), "wind -> energy");
    type(&desk, ".");
    expect(&desk, "The last stage is kept.");
    end(&desk);
}

Test(practice, a_draft_survives_an_end_at_any_moment)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_SUMMARY);
    type(&desk, "first");
    type(&desk, "second");
    cr_assert(condensing_keep_draft(desk.condensing, "half a li", &desk.messages));
    again(&desk, WAVES, CONDENSE_SUMMARY);
    cr_assert_eq(desk.notes[WAVES].drafting, CONDENSE_SUMMARY);
    expect(&desk, "So far you wrote:\n      first\n      second\n");
    cr_assert_str_eq(condensing_ask(desk.condensing)->prefill, "half a li");
    type(&desk, "half a line");
    cr_assert_str_eq(condensing_edit_text(desk.condensing), "first\nsecond\nhalf a line");
    again(&desk, WAVES, CONDENSE_SUMMARY);
    cr_assert_null(condensing_ask(desk.condensing)->prefill);
    cr_assert(condensing_drop_draft(desk.bank, desk.record, WAVES, &desk.notes[WAVES], &desk.messages));
    again(&desk, WAVES, CONDENSE_SUMMARY);
    expect_not(&desk, "So far you wrote");
    end(&desk);
}

Test(practice, notes_edited_as_a_whole_and_taken_up_again_after_they_were_kept)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_SUMMARY);
    cr_assert_eq(condensing_enter(desk.condensing, ".edit", false, &desk.messages), PRACTICE_EDIT);
    cr_assert_eq(condensing_edited(desk.condensing, "wind\nfetch", &desk.messages), PRACTICE_ON);
    cr_assert_null(kept(&desk, WAVES, CONDENSE_SUMMARY));
    type(&desk, ".");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_SUMMARY), "wind\nfetch");
    cr_assert_eq(condensing_edited(desk.condensing, " \n", &desk.messages), PRACTICE_ON);
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_SUMMARY), "wind\nfetch", "empty notes are not kept");
    cr_assert_eq(condensing_edited(desk.condensing, "wind", &desk.messages), PRACTICE_ON);
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_SUMMARY), "wind");
    type(&desk, ".back");
    cr_assert_str_eq(condensing_ask(desk.condensing)->prefill, "wind");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_SUMMARY), "wind", "kept until the new text is finished");
    type(&desk, "wind and fetch");
    type(&desk, ".");
    cr_assert_str_eq(kept(&desk, WAVES, CONDENSE_SUMMARY), "wind and fetch");
    end(&desk);
}

Test(practice, a_pasted_text_holds_no_instruction)
{
    struct desk desk;
    begin(&desk, WAVES, CONDENSE_FULL);
    cr_assert_eq(condensing_enter(desk.condensing, ".leave", true, &desk.messages), PRACTICE_ON);
    cr_assert_not_null(condensing_ask(desk.condensing));
    cr_assert_str_eq(condensing_edit_text(desk.condensing), ".leave");
    type(&desk, "?");
    expect(&desk, "stop here; the draft is kept");
    type(&desk, ".leave");
    expect(&desk, "The draft is kept: 'ownmark condense waves' goes on");
    cr_assert_null(condensing_ask(desk.condensing));
    end(&desk);
}
