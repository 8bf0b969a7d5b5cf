/* The answer as a whole: needs of the command word, the question handed back, statements, vague words, causes. What
 * each should be is common practice of markers, no source. */
#include "trial.h"

#include "answer/evidence.h"

static const struct node in_words[] = {POINT("the limpet dries out less", .id = "dry", KEYS(WORD("dry", "dries"))),
                                       POINT("a judgement with a reason", .id = "judgement", KEYS(WORD("judgement"))),
                                       POINT("the range is 4.8 m", .id = "range", KEYS(WORD("4.8")))};

struct asked {
    struct evidence_ask ask;
    struct part part;
    struct question question;
    const struct evidence *evidence;
};

static struct asked *answered(struct arena *arena, int word, const char *ask, bool table, const char *answer)
{
    struct asked *asked = arena_get(arena, sizeof *asked);
    struct run *run = arena_get(arena, sizeof *run);
    struct block *blocks = arena_get_array(arena, 2, sizeof *blocks);
    *run = (struct run){RUN_PLAIN, ask};
    blocks[0] = (struct block){.kind = BLOCK_PARAGRAPH, .text = {run, 1}};
    blocks[1] = (struct block){.kind = BLOCK_TABLE};
    asked->part = (struct part){.id = "a", .word = word, .marks = 3, .ask = {blocks, table ? 2 : 1},
                                .scheme.root = {.kind = NODE_ALL, .children = in_words, .child_count = 3}};
    asked->question = (struct question){.id = "q", .parts = &asked->part, .part_count = 1};
    asked->ask = (struct evidence_ask){&trial_course, &asked->question, &asked->part, NULL, NULL, NULL, 0};
    asked->evidence = evidence_of(&asked->ask, answer, arena);
    return asked;
}

/* '+' met, '-' not met, ' ' not asked. */
static char need_of(const struct evidence *evidence, enum command_need need)
{
    for (size_t i = 0; i < evidence->need_count; i++)
        if (evidence->needs[i].need == need)
            return evidence->needs[i].met ? '+' : '-';
    return ' ';
}

Test(answer, needs_of_the_command_word)
{
    static const char compare[] = "Compare the waves on an exposed shore with those on a sheltered shore.";
    static const char both_waves[] = "Compare constructive and destructive waves and what they do to a beach.";
    static const struct { int word; const char *ask; bool table; const char *answer; enum command_need need; char met; } cases[] = {
        {COMPARE, compare, false, "On the exposed shore they are higher than on the sheltered one", NEED_BOTH_SIDES, '+'},
        {COMPARE, compare, false, "On the exposed shore they are high", NEED_BOTH_SIDES, '-'},
        {COMPARE, compare, false, "On the exposed shore they are high", NEED_COMPARATIVE, '-'},
        {COMPARE, compare, false, "exposed high whereas sheltered low", NEED_COMPARATIVE, '+'},
        {COMPARE, "Compare limpets and mussels as food.", false, "limpets are chewy", NEED_BOTH_SIDES, '-'},
        {COMPARE, "Compare limpets and mussels as food.", false, "limpets chewy, mussel soft", NEED_BOTH_SIDES, '+'},
        {COMPARE, both_waves, false, "Constructive waves are lower and build the beach up.", NEED_BOTH_SIDES, '-'},
        {COMPARE, both_waves, false, "Constructive waves are lower than destructive waves.", NEED_BOTH_SIDES, '+'},
        {COMPARE, "Compare limpets and small mussels.", false, "limpets are chewier than mussels", NEED_BOTH_SIDES, '+'},
        {COMPARE, "Compare the height and speed of tides in spring with those in autumn.", false, "spring: higher", NEED_BOTH_SIDES, '-'},
        {COMPARE, "Compare the height and speed of tides in spring with those in autumn.", false, "spring higher than autumn",
         NEED_BOTH_SIDES, '+'},
        {COMPARE, "Compare them.", false, "both", NEED_BOTH_SIDES, ' '},
        {EVALUATE, "Evaluate the wall.", false, "It protects the road. However it costs habitat.", NEED_FOR_AND_AGAINST, '+'},
        {EVALUATE, "Evaluate the wall.", false, "It protects the road.", NEED_FOR_AND_AGAINST, '-'},
        {EVALUATE, "Evaluate the wall.", false, "It protects the road. However it costs habitat.", NEED_JUDGEMENT, '-'},
        {EVALUATE, "Evaluate the wall.", false, "Overall, build it.", NEED_JUDGEMENT, '+'},
        {TO_WHAT_EXTENT, "To what extent?", false, "to a large extent", NEED_JUDGEMENT, '+'},
        {EXPLAIN, "Explain it.", false, "air rises because it is warm", NEED_LINK, '+'},
        {EXPLAIN, "Explain it.", false, "air rises as it is warm", NEED_LINK, '+'},
        {EXPLAIN, "Explain it.", false, "air rises and it is warm", NEED_LINK, '-'},
        {STATE, "State it.", false, "air rises", NEED_LINK, ' '},
        {DESCRIBE, "Describe it.", true, "it rises", NEED_FIGURES, '-'},
        {DESCRIBE, "Describe it.", true, "it rises from 3 to 5 m", NEED_FIGURES, '+'},
        {DESCRIBE, "Describe it.", false, "it rises", NEED_FIGURES, ' '},
        {EXPLAIN, "Explain it.", false, "", NEED_LINK, ' '},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = answered(arena, cases[i].word, cases[i].ask, cases[i].table, cases[i].answer)->evidence;
        char met = need_of(evidence, cases[i].need);
        cr_expect_eq(met, cases[i].met, "'%s', need %d: '%c'", cases[i].answer, cases[i].need, met);
        arena_free(arena);
    }
}

Test(answer, needs_of_a_calculation)
{
    const struct node value[] = {POINT("value", .id = "v", .number = KEY(.value = "23", .unit = "W", .tolerance = 0.5))};
    const struct part part = {.id = "a", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate the power."),
                                     .scheme.root = {.kind = NODE_ALL, .children = value, .child_count = 1}};
    const struct question question = {.id = "q", .parts = &part, .part_count = 1};
    static const struct { const char *answer; char working, value, unit; } cases[] = {
        {"46/2 = 23 W", '+', '+', '+'}, {"23 W", '-', '+', '+'}, {"46/2 = 23", '+', '+', '-'}, {"it is big", '-', '-', ' '},
        {"31 W", '-', '+', '+'},
    };
    struct evidence_ask ask = {&trial_course, &question, &part, NULL, NULL, NULL, 0};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = evidence_of(&ask, cases[i].answer, arena);
        char got[] = {need_of(evidence, NEED_WORKING), need_of(evidence, NEED_VALUE), need_of(evidence, NEED_UNIT), 0};
        cr_expect(got[0] == cases[i].working && got[1] == cases[i].value && got[2] == cases[i].unit, "'%s': %s", cases[i].answer, got);
        arena_free(arena);
    }
}

/* Nothing in "dunno" can be saying the point in other words. */
Test(answer, giving_up_earns_nothing)
{
    static const char *const given_up[] = {"dunno", "I don't know", "idk sorry", "No idea.", "can't remember"};
    for (size_t i = 0; i < sizeof given_up / sizeof *given_up; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = answered(arena, STATE, "State it.", false, given_up[i])->evidence;
        cr_expect(evidence->points[0].verdict == LOOKS_NOT_EARNED, "%s", given_up[i]);
        arena_free(arena);
    }
    struct arena *arena = arena_new();
    cr_expect(answered(arena, STATE, "State it.", false, "I am not sure, it shrivels")->evidence->points[0].verdict == CANT_TELL);
    arena_free(arena);
}

/* "rain, ice" is one sentence and two items: in a list, items are counted and not statements. */
Test(answer, a_list_has_items_and_no_statements)
{
    struct arena *arena = arena_new();
    struct asked *asked = answered(arena, NAME, "Name three.", false, "");
    struct node list = {.kind = NODE_LIST, .take = 3, .children = in_words, .child_count = 3};
    cr_expect(evidence_of(&asked->ask, "limpets rain ice", arena)->too_few);
    asked->part.scheme.root = (struct node){.kind = NODE_ALL, .children = &list, .child_count = 1};
    cr_expect_not(evidence_of(&asked->ask, "limpets rain ice", arena)->too_few);
    arena_free(arena);
}

/* ---- The question handed back and statements ------------------------------------------------------ */

Test(answer, numbers_of_the_question_hand_nothing_back)
{
    static const char ask[] = "Revenue is \u00a395000, cost of sales \u00a333440 and expenses \u00a347000. Calculate the operating profit margin.";
    static const struct { const char *answer; bool stem; } cases[] = {
        {"(95000-33440-47000)/95000*100 = 15.3%", false}, {"95000 33440 47000 95000", false},
        {"The revenue is 95000 and the cost of sales 33440, so", true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        cr_expect_eq(answered(arena, CALCULATE, ask, false, cases[i].answer)->evidence->stem_words > 0, cases[i].stem, "'%s'",
                     cases[i].answer);
        arena_free(arena);
    }
}

Test(answer, stem_and_statements)
{
    static const char ask[] = "Explain why limpets on the upper shore are exposed to the air for longer.";
    static const struct { const char *answer; size_t stem, statements; } cases[] = {
        {"Limpets on the upper shore are exposed because the tide is out", 7, 1},
        {"Limpets on the upper shore are exposed to the air for longer.", 12, 0},
        {"limpets", 0, 1}, {"limpets shore", 0, 1}, {"The tide leaves early", 0, 1},
        {"The tide leaves early. The sun dries rocks.", 0, 2}, {"The tide leaves early and the sun dries rocks", 0, 2},
        {"salt and sun", 0, 1}, {"tide; sun; wind", 0, 3}, {"tide, sun, wind", 0, 3}, {"the tide\nthe sun", 0, 2},
        {"However, the sun dries rocks", 0, 1}, {"", 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = answered(arena, EXPLAIN, ask, false, cases[i].answer)->evidence;
        cr_expect(evidence->stem_words == cases[i].stem && evidence->statements == cases[i].statements, "'%s': stem %zu, statements %zu",
                  cases[i].answer, evidence->stem_words, evidence->statements);
        cr_expect_eq(evidence->stem.length > 0, cases[i].stem > 0);
        cr_expect(evidence->blank || evidence->too_few == (cases[i].statements < 3));
        arena_free(arena);
    }
}

/* ---- Vague words --------------------------------------------------------------------------------- */

Test(answer, vague_words_quoted)
{
    static const struct { const char *answer, *vague; } cases[] = {
        {"It affects the shore", "It affects"}, {"The tide changes", "changes"}, {"The tide changes from 3 to 5 m", ""},
        {"Temperature changes less", ""}, {"a lot of things", "a lot|things"}, {"The amount of salt", "amount"},
        {"Limpets grip better, they hold", "better"}, {"Salinity rises", ""}, {"", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        const struct evidence *evidence = answered(arena, EXPLAIN, "Explain.", false, cases[i].answer)->evidence;
        struct buffer line = BUFFER_EMPTY;
        for (size_t k = 0; k < evidence->vague_count; k++) {
            struct quote at = evidence->vague[k].at;
            buffer_print(&line, "%s%.*s", !k ? "" : at.start == evidence->vague[k - 1].at.start + evidence->vague[k - 1].at.length + 1
                         && evidence->vague[k - 1].kind == VAGUE_POINTER ? " " : "|", (int)at.length, cases[i].answer + at.start);
            cr_expect(evidence->vague[k].question && evidence->vague[k].question[0]);
        }
        cr_expect_str_eq(buffer_text(&line), cases[i].vague, "'%s': %s", cases[i].answer, buffer_text(&line));
        buffer_free(&line);
        arena_free(arena);
    }
}

/* ---- Causes -------------------------------------------------------------------------------------- */

Test(answer, causes_proposed)
{
    static const char dry[] = "Explain why the limpets of the lower shore live there.";
    static const struct { int word; const char *ask; bool table; const char *answer; size_t point; enum award_reason reason; enum cause cause; } cases[] = {
        {EXPLAIN, dry, false, "", 0, REASON_NOT_SHOWN, CAUSE_BLANK},
        {EXPLAIN, dry, false, "", 0, REASON_NO_RESPONSE, CAUSE_BLANK},
        {EXPLAIN, dry, false, "anything", 0, REASON_UNIT_MISSING, CAUSE_UNIT},
        {EXPLAIN, dry, false, "anything", 0, REASON_REJECTED, CAUSE_CONTRADICTION},
        {EXPLAIN, dry, false, "anything", 0, REASON_TOO_FEW, CAUSE_POINTS},
        {EXPLAIN, dry, false, "Limpets of the lower shore live there", 0, REASON_NOT_SHOWN, CAUSE_STEM},
        {EXPLAIN, dry, false, "it dries", 0, REASON_NOT_SHOWN, CAUSE_VAGUE},
        {EXPLAIN, dry, false, "more dry", 0, REASON_NOT_SHOWN, CAUSE_KNOWLEDGE},
        {EXPLAIN, dry, false, "because waves break", 0, REASON_NOT_SHOWN, CAUSE_POINTS},
        {EVALUATE, "Evaluate the wall.", false, "It protects roads. But it costs money", 1, REASON_NOT_SHOWN, CAUSE_NO_JUDGEMENT},
        {EVALUATE, "Evaluate the wall.", false, "Overall it protects roads. That is good. Build the wall.", 0, REASON_NOT_SHOWN, CAUSE_ONE_SIDED},
        {DESCRIBE, "Describe the tide.", true, "The tide comes in. Then it leaves the harbour. Boats float again.", 2, REASON_NOT_SHOWN, CAUSE_CONTEXT},
        {STATE, "State it.", false, "Sea birds nest on cliffs. Seals rest on rocks. Crabs hide in pools.", 0, REASON_NOT_SHOWN, CAUSE_NONE},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct arena *arena = arena_new();
        struct asked *asked = answered(arena, cases[i].word, cases[i].ask, cases[i].table, cases[i].answer);
        const char *because;
        enum cause cause = evidence_cause(&asked->ask, asked->evidence, cases[i].point, cases[i].reason, &because, arena);
        cr_expect_eq(cause, cases[i].cause, "'%s': %s, %s", cases[i].answer, cause_text(cause)->label, because ? because : "-");
        cr_expect_eq(because == NULL, cause == CAUSE_NONE);
        cr_expect(!because || !strpbrk(because, "?."), "'%s' goes on as a sentence", because ? because : "");
        arena_free(arena);
    }
}

Test(answer, cause_of_a_wrong_number)
{
    const struct node value = POINT("value", .id = "v", .number = KEY(.value = "23", .unit = "W", .tolerance = 0.5));
    const struct part part = {.id = "a", .word = CALCULATE, .marks = 1, .ask = BLOCKS("Calculate."), .scheme.root = value};
    const struct question question = {.id = "q", .parts = &part, .part_count = 1};
    struct evidence_ask ask = {&trial_course, &question, &part, NULL, NULL, NULL, 0};
    struct arena *arena = arena_new();
    const char *because;
    cr_expect_eq(evidence_cause(&ask, evidence_of(&ask, "2.3 W", arena), 0, REASON_NOT_SHOWN, &because, arena), CAUSE_SLIP);
    cr_expect(because && strstr(because, "power of ten"));
    cr_expect_eq(evidence_cause(&ask, evidence_of(&ask, "31 W", arena), 0, REASON_NOT_SHOWN, &because, arena), CAUSE_NONE);
    cr_expect_eq(evidence_cause(&ask, evidence_of(&ask, "it is big", arena), 0, REASON_NOT_SHOWN, &because, arena), CAUSE_COMMAND);
    arena_free(arena);
}

Test(answer, indicative_content_touched)
{
    const struct node levels = {.kind = NODE_LEVELS, .indicative = in_words, .indicative_count = 3};
    const struct part part = {.id = "a", .word = EVALUATE, .marks = 6, .ask = BLOCKS("Evaluate."),
                                     .scheme.root = {.kind = NODE_ALL, .children = &levels, .child_count = 1}};
    const struct question question = {.id = "q", .parts = &part, .part_count = 1};
    struct evidence_ask ask = {&trial_course, &question, &part, NULL, NULL, NULL, 0};
    struct arena *arena = arena_new();
    size_t count;
    const struct point_evidence *points = evidence_indicative(&ask, "the limpet dries out less", &count, arena);
    cr_assert_eq(count, 3);
    cr_expect_eq(points[0].verdict, LOOKS_EARNED);
    cr_expect_neq(points[1].verdict, LOOKS_EARNED);
    points = evidence_indicative(&ask, NULL, &count, arena);
    cr_expect(count == 3 && points[2].ground == GROUND_BLANK);
    cr_expect_eq(evidence_of(&ask, "the limpet dries out less", arena)->point_count, 0);
    arena_free(arena);
}

/* Who names one side only has made no point about the other; common practice. */
static const struct node about[] = {POINT("mussels are softer than limpets", .id = "soft", KEYS(WORD("softer"))),
                                    POINT("limpets are chewy", .id = "chewy", KEYS(WORD("chewy")))};

Test(answer, a_side_that_is_not_named_has_no_points)
{
    struct arena *arena = arena_new();
    struct asked *asked = answered(arena, COMPARE, "Compare limpets and mussels as food.", false, "");
    asked->part.scheme.root = (struct node){.kind = NODE_ALL, .children = about, .child_count = 2};
    static const struct { const char *answer; enum evidence_verdict verdict; } cases[] = {
        {"Limpets grow on rocks where birds pick them off", LOOKS_NOT_EARNED},
        {"Limpets grow on rocks where birds pick them off, mussels grow on piers", CANT_TELL},
        {"They grow on rocks where birds pick them off", CANT_TELL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_eq(evidence_of(&asked->ask, cases[i].answer, arena)->points[0].verdict, cases[i].verdict, "%s", cases[i].answer);
    arena_free(arena);
}
