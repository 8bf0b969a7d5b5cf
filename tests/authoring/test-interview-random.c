/* Whatever is typed, the program stands, the bank's file is sound and holds what it held, and what was written can be read.
 * The lines are drawn from a seed that a failure names. Common practice, no source. */
#include <stdlib.h>
#include <string.h>

#include "bank/check.h"
#include "base/random.h"
#include "talk.h"

enum { SESSIONS = 40, LINES_MOST = 100 };

static struct talk talk;

/* Answers that help it along, and answers that do not. */
static const char *const typed[] = {
    "", "", "", "", "", "y", "n", "-", "?", ".back", ".back", ".leave", ".edit", ".undo", ".", "save", "show", "part", "point", "point b",
    "drop 6", "drop 12", "drop 17", "drop", "1", "2", "3", "5", "9", "10", "11", "12", "13", "17", "20", "40", "99", "-1", "1e9", "waves",
    "Shore", "my-01", "one", "low", "high", "H = 1.2 1.5 [m] height", "T = 1 to 9 by 2 [s] period", "n = : H*T to 0 places", "H = ", "{H}",
    "A wave of {H}.", "{", "}", "{{}}", "_{2} ^{-3} *{so}", "*{", "State one thing.", "Calculate the speed.", "Evaluate a wall.", "Explain why.",
    "state", "calculate", "evaluate", "AO1", "AO3", "maths", "each", "any", "list", "levels", "method", "accuracy", "implied", "= H*T",
    "= 1/0", "= H*", "12.5", "1e400", "m/s", "Hzz", "2%", "0.5", "f", "a | b", "a | b / !c", "| / !", "<point>", "</bank>", "<!-- -->",
    "]]>", "&amp;", "\"quoted\", with commas", "=cmd()", "\u201ccurly\u201d", "\u00e9\u0301\u200b\u202e", "\x1b[31m", "\x07", "\xff\xfe", "\xc3",
    "a\tb", "level 1-2", "any 2", "indicative", "The wind blows over a longer distance.", "0", "41", "   ", "yes", "no",
};

static void expect_sound(uint64_t seed, const char *before)
{
    char *now = talk_read(talk.bank);
    size_t head = strlen(before) - strlen("</bank>\n");
    struct messages messages = MESSAGES_EMPTY;
    const struct bank_check check = bank_check_bytes(talk.bank, now, strlen(now), &messages);
    cr_assert(check.sound, "seed %lu: %s in\n%s", (unsigned long)seed, messages.count ? messages.items[0].text : "", now);
    cr_assert_eq(strncmp(now, before, head), 0, "seed %lu: what was there has changed", (unsigned long)seed);
    messages_free(&messages);
    free(now);
}

static bool enter(const char *line, bool pasted)
{
    enum practice_result result = interview_enter(talk.interview, line, pasted, &talk.messages);
    if (result == PRACTICE_EDIT)
        result = interview_edited(talk.interview, interview_edit_text(talk.interview), &talk.messages);
    return result == PRACTICE_ON;
}

/* False: it is to be begun again. */
static bool type_one(struct random_source *source, uint64_t seed)
{
    const char *line = typed[random_below(source, sizeof typed / sizeof *typed)];
    if (!interview_ask(talk.interview))
        return false;
    interview_screen(talk.interview);
    if (random_below(source, 40) == 0)
        return false;       /* killed */
    if (random_below(source, 40) == 0)
        cr_assert(interview_keep_draft(talk.interview, line, &talk.messages), "seed %lu", (unsigned long)seed);
    else
        cr_assert(enter(line, random_below(source, 20) == 0), "seed %lu, line '%s'", (unsigned long)seed, line);
    return true;
}

static void play(uint64_t seed)
{
    struct random_source source = {seed};
    talk_set_up(&talk, "tests/data/cycle.xml");
    char *before = talk_read(talk.bank);
    cr_assert(talk_begin(&talk, NULL));
    for (int i = 0; i < LINES_MOST; i++)
        if (!type_one(&source, seed))
            cr_assert(talk_begin(&talk, NULL), "seed %lu: %s", (unsigned long)seed, talk.messages.items[0].text);
    expect_sound(seed, before);
    free(before);
    talk_tear_down(&talk);
}

static void play_several(uint64_t first)
{
    for (uint64_t seed = first; seed < first + SESSIONS / 4; seed++)
        play(seed);
}

Test(interview, random_lines_leave_a_sound_bank)
{
    play_several(1);
}

Test(interview, other_random_lines_leave_a_sound_bank)
{
    play_several(1001);
}

/* A short way to a whole question, with any line of it swapped for another: some are written, none break anything. */
Test(interview, whole_questions_with_a_line_gone_wrong)
{
    static const char *const way[] = {"1", "", "", "", "", "State two things.", "", "", "", "2", "any", "first", "", "", "", "", "second",
                                      "", "", "", "", "", "First, second.", "", "", "", "save"};
    enum { STEPS = sizeof way / sizeof *way };
    size_t written = 0;
    for (uint64_t seed = 1; seed <= SESSIONS / 2; seed++) {
        struct random_source source = {seed};
        size_t wrong = random_below(&source, STEPS);
        const char *swapped = typed[random_below(&source, sizeof typed / sizeof *typed)];
        talk_set_up(&talk, "tests/data/cycle.xml");
        char *before = talk_read(talk.bank);
        cr_assert(talk_begin(&talk, NULL));
        for (size_t i = 0; i < STEPS && interview_ask(talk.interview); i++)
            cr_assert(enter(i == wrong ? swapped : way[i], false), "seed %lu", (unsigned long)seed);
        expect_sound(seed, before);
        char *now = talk_read(talk.bank);
        written += strlen(now) > strlen(before);
        free(now), free(before);
        talk_tear_down(&talk);
    }
    cr_expect_gt(written, SESSIONS / 8, "%zu of %d were written", written, SESSIONS / 2);
}
