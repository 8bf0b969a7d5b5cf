/* Why a mark was lost, as far as the writing tells. */
#include "answer/slips.h"

#include <assert.h>
#include <string.h>

#include "answer/inside.h"

struct proposal {
    enum cause cause;
    const char *because;
};

static const struct proposal none = {CAUSE_NONE, NULL};

static const struct command_evidence *unmet(const struct evidence *evidence, enum command_need need)
{
    for (size_t i = 0; i < evidence->need_count; i++)
        if (evidence->needs[i].need == need && !evidence->needs[i].met)
            return &evidence->needs[i];
    return NULL;
}

static struct proposal for_unmet(const struct evidence *evidence, enum command_need need, enum cause cause)
{
    const struct command_evidence *found = unmet(evidence, need);
    return found ? (struct proposal){cause, found->reason} : none;
}

/* What the marking rules themselves say. */
static struct proposal by_reason(enum award_reason reason)
{
    switch (reason) {
    case REASON_UNIT_MISSING: return (struct proposal){CAUSE_UNIT, "the unit is left out"};
    case REASON_UNIT_WRONG: return (struct proposal){CAUSE_UNIT, "the unit is another one"};
    case REASON_FIGURES: return (struct proposal){CAUSE_UNIT, "the figures are not as asked"};
    case REASON_REJECTED: return (struct proposal){CAUSE_CONTRADICTION, "a wording that is not accepted stands in the answer"};
    case REASON_CONTRADICTED: return (struct proposal){CAUSE_CONTRADICTION, "the answer also says the opposite"};
    case REASON_LIST_CANCELLED: return (struct proposal){CAUSE_CONTRADICTION, "a wrong extra item cancels a right one"};
    case REASON_LIST_LATE: return (struct proposal){CAUSE_CONTRADICTION, "only the first items count"};
    case REASON_TOO_FEW: return (struct proposal){CAUSE_POINTS, "there are fewer points than the question asks for"};
    case REASON_UNSUPPORTED: return (struct proposal){CAUSE_COMMAND, "the working that the question demands is not there"};
    case REASON_NO_RESPONSE: return (struct proposal){CAUSE_BLANK, "nothing was written"};
    default: return none;
    }
}

static struct proposal for_number(const struct evidence_ask *ask, const struct evidence *evidence,
                                  const struct point_evidence *point, struct arena *arena)
{
    if (point->number->found && point->number->value == VALUE_WRONG) {
        struct slips slips = slips_find(ask, point->point, point->number, arena);
        return slips.count ? (struct proposal){CAUSE_SLIP, slips.count == 1 ? slips.items[0].sentence
                                                         : "either of two slips gives your number"} : none;
    }
    return for_unmet(evidence, NEED_VALUE, CAUSE_COMMAND);
}

static bool is_only_stem(const struct evidence *evidence)
{
    return evidence->stem_words > 0 && evidence->statements == 0;
}

static bool names_judgement(const struct words *text)
{
    static const char *const words[] = {"judgement", "judgment", "conclusion", "overall", "verdict", "decision"};
    for (size_t i = 0; i < text->count; i++)
        for (size_t k = 0; k < sizeof words / sizeof *words; k++)
            if (strcmp(text->items[i].folded, words[k]) == 0)
                return true;
    return false;
}

static bool any_number(const struct words *text)
{
    for (size_t i = 0; i < text->count; i++)
        if (text->items[i].number)
            return true;
    return false;
}

static bool any_link(const struct words *text)
{
    for (size_t i = 0; i < text->count; i++)
        if (word_links(&text->items[i]))
            return true;
    return false;
}

static struct proposal for_vague(const struct evidence *evidence, struct arena *arena)
{
    if (!evidence->vague_count)
        return none;
    const char *question = evidence->vague[0].question;
    return (struct proposal){CAUSE_VAGUE, arena_print(arena, "a word leaves open %.*s", (int)strcspn(question, "?"), question)};
}

/* What the command word asked for and this point is about. */
static struct proposal for_needs(const struct evidence *evidence, const struct words *text, bool some)
{
    struct proposal proposal = none;
    if (names_judgement(text))
        proposal = for_unmet(evidence, NEED_JUDGEMENT, CAUSE_NO_JUDGEMENT);
    if (!proposal.cause)
        proposal = for_unmet(evidence, NEED_BOTH_SIDES, CAUSE_ONE_SIDED);
    if (!proposal.cause)
        proposal = for_unmet(evidence, NEED_FOR_AND_AGAINST, CAUSE_ONE_SIDED);
    if (!proposal.cause && any_number(text))
        proposal = for_unmet(evidence, NEED_FIGURES, CAUSE_CONTEXT);
    if (!proposal.cause && (some || any_link(text)))
        proposal = for_unmet(evidence, NEED_LINK, CAUSE_UNLINKED);
    return proposal;
}

static struct proposal for_words(const struct evidence_ask *ask, const struct evidence *evidence,
                                 const struct point_evidence *point, struct arena *arena)
{
    switch (point->ground) {
    case GROUND_REJECTED: case GROUND_CONTRADICTED:
        return (struct proposal){CAUSE_CONTRADICTION, point->reason};
    case GROUND_OPPOSITE: case GROUND_NEGATED:
        return point->verdict == LOOKS_NOT_EARNED ? (struct proposal){CAUSE_KNOWLEDGE, point->reason} : none;
    case GROUND_NO_DIRECTION: case GROUND_IGNORED:
        return (struct proposal){CAUSE_VAGUE, point->reason};
    case GROUND_FROM_THE_ASK:
        return (struct proposal){CAUSE_STEM, point->reason};
    default:
        break;
    }
    if (is_only_stem(evidence))
        return (struct proposal){CAUSE_STEM, "the answer only repeats the question"};
    struct reading reading = {.ask = ask, .answer = "", .arena = arena};
    struct words text = reading_rich(&reading, &point->point->text);
    bool some = point->ground == GROUND_SOME_WORDS || point->ground == GROUND_FAR_APART;
    struct proposal proposal = for_needs(evidence, &text, some);
    if (!proposal.cause && some)
        proposal = for_vague(evidence, arena);
    if (!proposal.cause && evidence->too_few)
        proposal = (struct proposal){CAUSE_POINTS,
                                     arena_print(arena, "you make %zu of %d statements", evidence->statements, evidence->marks)};
    return proposal;
}

enum cause evidence_cause(const struct evidence_ask *ask, const struct evidence *evidence, size_t point,
                          enum award_reason reason, const char **because, struct arena *arena)
{
    assert(point < evidence->point_count);
    const struct point_evidence *found = &evidence->points[point];
    struct proposal proposal = by_reason(reason);
    if (!proposal.cause && evidence->blank)
        proposal = (struct proposal){CAUSE_BLANK, "nothing was written"};
    else if (!proposal.cause && found->number)
        proposal = for_number(ask, evidence, found, arena);
    else if (!proposal.cause)
        proposal = for_words(ask, evidence, found, arena);
    *because = proposal.because;
    return proposal.cause;
}
